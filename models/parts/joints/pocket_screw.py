"""Pocket screws: slanted through one part's face and out of its end, into the other part.

Check values section 7.3 (common practice): 15 degrees, a 9.5 mm step drill, a 32 mm screw for
stock about 19 thick, no more than 50 mm from the ends and 150 to 200 apart.
"""

import math
from dataclasses import dataclass

from ground.vectors import Vec, add, along, neg, scale
from models.parts.assembly import HardwareLine
from models.parts.features import Hole, HoleKind, Seat
from models.parts.joints.kit import Halves
from models.parts.joints.rows import Row

SLANT = 15.0
POCKET = 9.5
CLEARANCE_HOLE = 4.0
"""The step drill's thin end (mm)."""
LEFT_BEHIND = 4.0
"""The screw's point stops this far short of the other part's far face (mm)."""

LENGTHS = ((12.0, 25.0), (19.0, 32.0), (25.0, 38.0), (38.0, 64.0))
"""Stock up to this thickness (mm) takes a screw this long (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketSide:
    """The part that is bored.

    ``face`` is the outward normal of the face with the pockets, ``into`` points from the joint
    into the part, ``thickness`` is the part's own (mm).
    """

    face: Vec
    into: Vec
    thickness: float


def screw_length(thickness: float) -> float:
    """The screw for stock of ``thickness`` (mm)."""
    return next((long for stock, long in LENGTHS if thickness <= stock + 1.0), LENGTHS[-1][1])


def pocket_screwed(
    row: Row, side: PocketSide, *, other: float, for_what: str, made_by: str
) -> Halves:
    """Pocket holes along ``row``, which lies in the joint at mid-thickness of the bored part.

    The first half is the bored part, the second, ``other`` thick, takes the screws unbored.
    """
    slant = math.radians(SLANT)
    travel = add(scale(side.into, -math.cos(slant)), scale(side.face, -math.sin(slant)))
    to_face = side.thickness / 2 / math.sin(slant)
    length = screw_length(side.thickness)
    bite = min(other - LEFT_BEHIND, length * 0.45) / math.cos(slant)
    shoulder = length - bite
    mouth = along(row.start, neg(travel), to_face)
    pocket = Hole(
        kind=HoleKind.POCKET,
        seat=Seat(mouth, row.way, travel),
        diameter=POCKET,
        depth=to_face - shoulder,
        made_by=made_by,
        count=row.count,
        pitch=row.pitch,
        lead=POCKET / 2 / math.tan(slant) + 1.0,
    )
    clearance = Hole(
        kind=HoleKind.CLEARANCE,
        seat=Seat(along(row.start, neg(travel), shoulder), row.way, travel),
        diameter=CLEARANCE_HOLE,
        depth=shoulder + CLEARANCE_HOLE,
        made_by=made_by,
        count=row.count,
        pitch=row.pitch,
    )
    return Halves(
        kind="pocket screw",
        first=(pocket, clearance),
        second=(),
        closes=neg(side.into),
        hardware=(
            HardwareLine(
                name="pocket screw",
                quantity=row.count,
                size=f"{length:g} mm",
                for_what=for_what,
                note="self-drilling: no pilot in the second part",
            ),
        ),
    )
