"""Walls and sizes that make a joint weak, as numbers against limits."""

from collections.abc import Iterable
from dataclasses import dataclass

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.tolerances import LENGTH_EPS

MORTISE_WALL = 3.0
"""Least wood beside a mortise or a dowel (mm; check values 7.3: 3 mm wall minimum)."""
BEHIND_MORTISE = 5.0
"""Least wood behind a blind mortise (mm; check values 7.3)."""
BEHIND_DOWEL = 3.0
"""Least wood behind a dowel's hole (mm). Common practice, no source."""
MOST_OF_PANEL = 0.5
"""A dado takes no more of its panel (check values 7.3: never over 1/2)."""
MOST_OF_RABBET = 2 / 3
"""A rabbet takes no more of its panel (check values 7.3: 1/2 to 2/3)."""
DIAMETERS_TO_EDGE = 1.5
"""A screw in the end of a board stands this many shanks from its faces (check values 10)."""
BETWEEN = 3.0
"""Least wood between two holes of one row (mm). Common practice, no source."""
CHECK_7_3 = "common practice (joint proportions), no source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Wood that is ``left`` where ``least`` should be (mm); ``mend`` says what would help.

    Nothing left at all: it cannot be made.
    """

    code: str
    what: str
    left: float
    least: float
    mend: str
    source: str = COMMON_PRACTICE

    @property
    def enough(self) -> bool:
        """Whether it is as it should be."""
        return self.left >= self.least - LENGTH_EPS

    @property
    def impossible(self) -> bool:
        """Whether it cannot be made."""
        return self.left <= LENGTH_EPS


def findings(rooms: Iterable[Room], subject: str, copies: tuple[str, ...]) -> tuple[Finding, ...]:
    """A finding for every room that is too small."""
    return tuple(
        Finding(
            code=room.code,
            severity=Severity.ERROR if room.impossible else Severity.WARNING,
            subject=subject,
            message=f"{room.what}: {room.left:.1f} mm, {room.least:.1f} mm at least; {room.mend}",
            copies=copies,
            value=round(room.left, 6),
            limit=round(room.least, 6),
            unit="mm",
            source=room.source,
        )
        for room in rooms
        if not room.enough
    )


def beside(what: str, stock: float, size: float) -> Room:
    """The wall on either side of a mortise or hole ``size`` wide in the end of ``stock``."""
    return Room(
        code="joint.thin_wall",
        what=f"wood beside {what}",
        left=(stock - size) / 2,
        least=MORTISE_WALL,
        mend="make it thinner, or the part thicker",
        source=CHECK_7_3,
    )


def behind(what: str, stock: float, depth: float, least: float) -> Room:
    """The wood behind the floor of a hole ``depth`` deep in a face of ``stock``."""
    return Room(
        code="joint.thin_floor",
        what=f"wood behind {what}",
        left=stock - depth,
        least=least,
        mend="go less deep, or make the part thicker",
        source=CHECK_7_3,
    )


def housing(what: str, stock: float, depth: float) -> Room:
    """What a dado or groove ``depth`` deep leaves of ``stock``."""
    return Room(
        code="joint.deep_dado",
        what=f"left of the panel under {what}",
        left=stock - depth,
        least=stock * (1 - MOST_OF_PANEL),
        mend="make it no deeper than half the panel",
        source=CHECK_7_3,
    )


def rabbet(what: str, stock: float, depth: float) -> Room:
    """What a rabbet ``depth`` deep leaves of ``stock``."""
    return Room(
        code="joint.deep_rabbet",
        what=f"left of the panel under {what}",
        left=stock - depth,
        least=stock * (1 - MOST_OF_RABBET),
        mend="make it no deeper than two thirds of the panel",
        source=CHECK_7_3,
    )


def in_row(what: str, pitch: float, size: float) -> Room:
    """The wood between two neighbours of a row."""
    return Room(
        code="joint.crowded",
        what=f"wood between two neighbouring {what}",
        left=pitch - size,
        least=BETWEEN,
        mend="make fewer, or smaller ones",
    )


def from_end(what: str, margin: float, size: float) -> Room:
    """The wood between the last of a row and the end of the joint."""
    return Room(
        code="joint.thin_end",
        what=f"wood between the outermost {what} and the end of the joint",
        left=margin - size / 2,
        least=BETWEEN,
        mend="make fewer, or smaller ones",
    )
