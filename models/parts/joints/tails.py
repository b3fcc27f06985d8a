"""Tails on a box's side in sockets of its end: half-blind and through dovetails, box joints.

Seen along the side's face, a tail is widest at its own end. Pins stand between the sockets, so a
pin is thinnest at the end's outer face, or at the lap of a half-blind dovetail.
"""

import math
from dataclasses import dataclass, replace

from ground.vectors import Plane, Vec
from models.parts.features import Waste, WasteKind
from models.parts.joints.box_corner import OVERCUT, BoxCorner, CornerFit, Span
from models.parts.joints.kit import Halves

CLEARANCE = 0.05
"""Glue room on each cheek (mm), square to it. Common practice, no source."""
LEAST_PIN = 3.0
"""No pin thinner than this (mm; check values 7.3)."""
LEAST_LAP = 3.0
"""No lap thinner than this (mm; check values 7.3)."""
LAP = 0.3
"""The lap as a part of the front: 1/4 to 1/3 (check values 7.3)."""
PIN = 1 / 3
"""A pin at its thinnest as a part of the end's thickness. Common practice, no source."""
TAIL = 1.75
"""A tail is about this many times as wide as the side is thick. Common practice, no source."""
GROOVE_MARGIN = 1.0
"""The bottom's groove stays this far inside a tail (mm). Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tails:
    """A row of tails up a corner ``height`` high (mm).

    ``tails`` are their spans at their widest, from the lower edge up; ``length`` is how far they
    reach into the end, ``slope`` the run of a cheek a length of one (1/7 for 1:7, 0 for a box
    joint), ``lap`` what hides them (0: through).
    """

    height: float
    length: float
    slope: float
    lap: float
    tails: tuple[Span, ...]

    @property
    def run(self) -> float:
        """How much a cheek leans over its whole length (mm)."""
        return self.length * self.slope

    @property
    def pins(self) -> tuple[float, ...]:
        """Thickness of every pin at its thinnest, the two half pins included (mm)."""
        edges = [0.0, *(edge for tail in self.tails for edge in tail), self.height]
        return tuple(edges[i + 1] - edges[i] for i in range(0, len(edges), 2))

    def holds(self, groove: Span | None) -> bool:
        """Tell whether a groove at these heights lies well inside one tail."""
        if groove is None:
            return True
        return any(
            low + self.run + GROOVE_MARGIN <= groove[0]
            and groove[1] <= high - self.run - GROOVE_MARGIN
            for low, high in self.tails
        )

    def glue_area(self, side: float) -> float:
        """Long-grain glue area of all cheeks, in a side so thick (mm2)."""
        return 2 * len(self.tails) * math.hypot(self.length, self.run) * side


def tails_fit(joint: Tails, *, side: float, end: float, groove: float) -> CornerFit:
    """Say what the joint means for the box's parts: the ends run over the sides (mm).

    Behind a lap the side's groove runs out through its tail into the socket; where the tails come
    through it stops in them.
    """
    return CornerFit(
        side_in=joint.lap,
        end_in=0.0,
        side_groove=joint.lap or end - groove,
        end_groove=side - groove,
        notch=side if joint.lap else 0.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TailRules:
    """What a maker settles: ``slope``, ``lap`` (0: through); ``pin`` and ``count`` where asked."""

    slope: float
    lap: float
    pin: float | None = None
    count: int | None = None


def dovetails(
    rules: TailRules, *, height: float, side: float, end: float, groove: Span | None
) -> Tails:
    """Lay out dovetails with a half pin at both edges and the bottom's ``groove`` inside a tail.

    The number of tails is the one nearest to the usual width that takes the groove; where none
    does, the usual one (``holds`` then tells). No tails at all: the corner is too low for one.
    """
    pin = max(LEAST_PIN, end * PIN) if rules.pin is None else rules.pin
    usual = max(1, round((height - pin) / (TAIL * side + pin)))
    tries = [usual, *(usual + sign * step for step in range(1, usual + 2) for sign in (-1, 1))]
    if rules.count is not None:
        tries = [rules.count]
    bare = Tails(height=height, length=end - rules.lap, slope=rules.slope, lap=rules.lap, tails=())
    made = [tails for count in tries if count >= 1 and (tails := _even(bare, count, pin)).tails]
    usable = [tails for tails in made if tails.holds(groove)]
    return next(iter(usable or made), bare)


def fingers(*, height: float, width: float, end: float) -> Tails:
    """Lay out a box joint: fingers about ``width`` wide, all alike, the end's at both edges."""
    count = max(1, round((height / width - 1) / 2))
    finger = height / (2 * count + 1)
    return Tails(
        height=height,
        length=end,
        slope=0.0,
        lap=0.0,
        tails=tuple((finger * (2 * i + 1), finger * (2 * i + 2)) for i in range(count)),
    )


def _even(bare: Tails, count: int, pin: float) -> Tails:
    """``count`` equal tails with pins ``pin`` thin between them; as it was where none would be."""
    wide = (bare.height - (count + 1) * pin) / count
    if wide - 2 * bare.run < pin:
        return bare
    spans = tuple((pin + i * (wide + pin), (i + 1) * (wide + pin)) for i in range(count))
    return replace(bare, tails=spans)


def tailed(corner: BoxCorner, joint: Tails, *, kind: str) -> Halves:
    """Cut the sockets in the end (the first part), and the room for its pins out of the side."""
    box = kind == "box joint"
    sockets = tuple(
        Waste(
            kind=WasteKind.FINGER if box else WasteKind.SOCKET,
            planes=_socket(corner, joint, tail),
            made_by=corner.made_by,
        )
        for tail in joint.tails
    )
    edges = [-OVERCUT, *(edge for tail in joint.tails for edge in tail), joint.height + OVERCUT]
    rooms = tuple(
        Waste(
            kind=WasteKind.FINGER if box else WasteKind.NOTCH,
            planes=_room(corner, joint, (edges[i], edges[i + 1])),
            made_by=corner.made_by,
            note="" if box else "room for a pin",
        )
        for i in range(0, len(edges), 2)
    )
    return Halves(kind=kind, first=sockets, second=rooms, closes=corner.across)


def _socket(corner: BoxCorner, joint: Tails, tail: Span) -> tuple[tuple[str, Plane], ...]:
    floor = "floor" if joint.lap else ""
    return (
        ("", _wall(corner, (-OVERCUT, 0.0, 0.0), (-1.0, 0.0, 0.0))),
        ("end-a", _wall(corner, (corner.side, 0.0, 0.0), (1.0, 0.0, 0.0))),
        (floor, _wall(corner, (0.0, joint.lap - (not floor) * OVERCUT, 0.0), (0.0, -1.0, 0.0))),
        ("", _wall(corner, (0.0, corner.end + OVERCUT, 0.0), (0.0, 1.0, 0.0))),
        ("wall-a", _cheek(corner, joint, tail[0], upper=False)),
        ("wall-b", _cheek(corner, joint, tail[1], upper=True)),
    )


def _room(corner: BoxCorner, joint: Tails, between: Span) -> tuple[tuple[str, Plane], ...]:
    """What goes out of the side between two tails, or between a tail and an edge."""
    low, high = between
    walls: list[tuple[str, Plane]] = [
        ("", _wall(corner, (-OVERCUT, 0.0, 0.0), (-1.0, 0.0, 0.0))),
        ("", _wall(corner, (corner.side + OVERCUT, 0.0, 0.0), (1.0, 0.0, 0.0))),
        ("", _wall(corner, (0.0, joint.lap - OVERCUT, 0.0), (0.0, -1.0, 0.0))),
        ("floor", _wall(corner, (0.0, corner.end, 0.0), (0.0, 1.0, 0.0))),
    ]
    if low < 0.0:
        walls.append(("", _wall(corner, (0.0, 0.0, low), (0.0, 0.0, -1.0))))
    else:
        walls.append(("wall-a", _loosened(_cheek(corner, joint, low, upper=True).flipped())))
    if high > joint.height:
        walls.append(("", _wall(corner, (0.0, 0.0, high), (0.0, 0.0, 1.0))))
    else:
        walls.append(("wall-b", _loosened(_cheek(corner, joint, high, upper=False).flipped())))
    return tuple(walls)


def _wall(corner: BoxCorner, at: Vec, out: Vec) -> Plane:
    return Plane.through(corner.point(*at), corner.way(*out))


def _cheek(corner: BoxCorner, joint: Tails, at: float, *, upper: bool) -> Plane:
    """A tail's cheek that is at height ``at`` where the tail is widest; normal out of the tail."""
    sign = 1.0 if upper else -1.0
    return Plane.through(corner.point(0.0, joint.lap, at), corner.way(0.0, joint.slope, sign))


def _loosened(plane: Plane) -> Plane:
    return Plane(plane.normal, plane.offset + CLEARANCE)
