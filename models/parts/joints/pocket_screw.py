"""Pocket screws: slanted through one part's face and out of its end, into the other part.

Check values section 7.3 (common practice): 15 degrees, a 9.5 mm step drill, a 32 mm screw for
stock about 19 thick, no more than 50 mm from the ends and 150 to 200 apart.
"""

import math
from dataclasses import dataclass, replace

from ground.vectors import Vec, add, along, neg, scale
from models.parts.assembly import HardwareLine
from models.parts.features import HoleKind
from models.parts.joints.kit import Halves
from models.parts.joints.rows import Drill, Row, bored

SLANT = 15.0
POCKET = 9.5
CLEARANCE_HOLE = 4.0
"""The step drill's thin end (mm): a shank of 3.5 and 0.5 of play. Common practice, no source."""
PLAY = 0.5
LEAST_POCKET = 3.0
"""A pocket shallower than this gives a screw's head no seat (mm). Common practice, no source."""
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

    @property
    def to_face(self) -> float:
        """From the middle of the joint to the face, along a screw (mm)."""
        return self.thickness / 2 / math.sin(math.radians(SLANT))


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketScrew:
    """A pocket screw ``length`` long that goes ``bite`` into the other part, along itself (mm).

    ``hole`` is the diameter of its clearance hole.
    """

    length: float
    bite: float
    hole: float = CLEARANCE_HOLE

    @property
    def shoulder(self) -> float:
        """From the joint back to the seat of the head, along the screw (mm)."""
        return self.length - self.bite


def pocket_screw(side: PocketSide, *, other: float, length: float | None = None) -> PocketScrew:
    """The screw for the bored ``side`` and a second part ``other`` thick (mm)."""
    long = screw_length(side.thickness) if length is None else length
    deep = min(other - LEFT_BEHIND, long * 0.45)
    return PocketScrew(length=long, bite=deep / math.cos(math.radians(SLANT)))


def screw_length(thickness: float) -> float:
    """The screw for stock of ``thickness`` (mm)."""
    return next((long for stock, long in LENGTHS if thickness <= stock + 1.0), LENGTHS[-1][1])


def pocket_screwed(
    row: Row, side: PocketSide, screw: PocketScrew, *, for_what: str, made_by: str
) -> Halves:
    """Pocket holes along ``row``, which lies in the joint at mid-thickness of the bored part.

    The first half is the bored part, the second takes the screws unbored.
    """
    slant = math.radians(SLANT)
    travel = add(scale(side.into, -math.cos(slant)), scale(side.face, -math.sin(slant)))
    shoulder = screw.shoulder
    mouth = along(row.start, neg(travel), side.to_face)
    pocket = Drill(
        into=travel,
        diameter=POCKET,
        depth=side.to_face - shoulder,
        lead=POCKET / 2 / math.tan(slant) + 1.0,
    )
    clearance = Drill(into=travel, diameter=screw.hole, depth=shoulder + screw.hole)
    seats = replace(row, start=along(row.start, neg(travel), shoulder))
    return Halves(
        kind="pocket screw",
        first=(
            bored(HoleKind.POCKET, replace(row, start=mouth), pocket, made_by=made_by),
            bored(HoleKind.CLEARANCE, seats, clearance, made_by=made_by),
        ),
        second=(),
        closes=neg(side.into),
        hardware=(
            HardwareLine(
                name="pocket screw",
                quantity=row.count,
                size=f"{screw.length:g} mm",
                for_what=for_what,
                note="self-drilling: no pilot in the second part",
            ),
        ),
    )
