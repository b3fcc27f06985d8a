"""A mitre between two panels of one thickness, with a spline across it.

The spline stands square to the mitre, nearer the heel than the toe, where the wood behind it is
thickest. Common practice, no source, for every proportion in this file.
"""

import math
from dataclasses import dataclass, replace

from ground.vectors import Plane, Vec, along, neg
from models.parts.features import Trim, TrimKind
from models.parts.joints.kit import Halves
from models.parts.joints.spline import (
    CLEARANCE,
    END_CLEARANCE,
    SlotLine,
    SplineSize,
    slots,
    spline,
)

WALL_AT_TOE = 4.0
"""Least wood between a slot's floor and the outer face (mm): less, and the toe breaks off."""
WALL_AT_HEEL = 3.0
"""Least wood between a slot and the inner face (mm)."""
SPLINES = ((15.0, 4.0), (0.0, 3.0))
"""From this panel on (mm), a spline is this thick."""
LEAST_DEPTH = 4.0
"""A spline that goes in less than this holds nothing (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MitreLine:
    """Where two panels meet at a mitre, in piece axes.

    ``heel`` is a point of the inner corner line, ``way`` the direction of that line, ``toe`` the
    unit vector in the mitre's face from heel to toe, ``into_first`` square to that face into the
    first part. ``thickness`` is both panels'.
    """

    heel: Vec
    way: Vec
    toe: Vec
    into_first: Vec
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SplineSeat:
    """A spline and its slots (mm).

    ``thickness`` is the spline's, ``depth`` that of its slot in either half; the slot's middle is
    ``up`` the mitre from the heel. ``clearance`` is what the slot is wider than the spline.
    """

    thickness: float
    depth: float
    up: float
    clearance: float = CLEARANCE

    def toe(self, panel: float) -> float:
        """The wood between the slot's floor and the outer face of a ``panel`` thick (mm)."""
        return panel - (self.up + self.depth + (self.thickness + self.clearance) / 2) / math.sqrt(2)


def spline_seat(panel: float, *, thickness: float | None = None) -> SplineSeat | None:
    """The deepest sound slot for a spline in a mitre of ``panel`` thick; None if none is sound."""
    spline = thickness or next(thin for least, thin in SPLINES if panel >= least)
    seat = seat_in(panel, spline, 8.0 + END_CLEARANCE)
    return None if seat.depth < LEAST_DEPTH else seat


def seat_in(
    panel: float,
    thickness: float,
    depth: float,
    *,
    asked: bool = False,
    clearance: float = CLEARANCE,
) -> SplineSeat:
    """Where a slot ``depth`` deep sits in a mitre of ``panel`` thick, no deeper than is sound.

    A point ``up`` the mitre and ``depth`` behind it lies (up + depth) / sqrt 2 from the inner
    face, as the mitre stands at 45 degrees. A depth that is ``asked`` for is kept, sound or not.
    """
    width = thickness + clearance
    lowest = WALL_AT_HEEL * math.sqrt(2) + width / 2
    deepest = (panel - WALL_AT_TOE) * math.sqrt(2) - width / 2 - lowest
    kept = depth if asked else min(depth, deepest)
    return SplineSeat(
        thickness=thickness,
        depth=kept,
        up=lowest + max(0.0, deepest - kept) / 2,
        clearance=clearance,
    )


def splined(
    line: MitreLine,
    seat: SplineSeat,
    *,
    span: tuple[float, float],
    material: str | None,
    made_by: str,
) -> Halves:
    """Mitre both parts and slot them for a spline from ``span[0]`` to ``span[1]`` along the line.

    The two close square to the mitre, as a group with the other corners of the case.
    """
    slot = SlotLine(
        start=along(along(line.heel, line.toe, seat.up), line.way, span[0]),
        way=line.way,
        length=span[1] - span[0],
        into_first=line.into_first,
    )
    size = SplineSize(
        thickness=seat.thickness, depths=(seat.depth, seat.depth), clearance=seat.clearance
    )
    bare = plain(line, made_by=made_by)
    first, second = slots(slot, size, made_by=made_by)
    return replace(
        bare,
        kind="mitre with spline",
        first=(*bare.first, first),
        second=(*bare.second, second),
        loose=(spline(slot, size, material=material),),
    )


def plain(line: MitreLine, *, made_by: str) -> Halves:
    """Mitre both parts and nothing more: glue alone, or what another joint adds."""
    return Halves(
        kind="mitre",
        first=(
            Trim(
                kind=TrimKind.MITRE,
                plane=Plane.through(line.heel, neg(line.into_first)),
                made_by=made_by,
            ),
        ),
        second=(
            Trim(
                kind=TrimKind.MITRE,
                plane=Plane.through(line.heel, line.into_first),
                made_by=made_by,
            ),
        ),
        closes="case",
        each=(neg(line.into_first), line.into_first),
    )
