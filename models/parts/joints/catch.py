"""A latch or catch let into a block behind a door, and the plate that it meets, let into the door.

All sizes from memory, to be measured on the fitting in hand.
"""

from dataclasses import dataclass

from ground.vectors import Vec, along
from models.parts.features import Hole, HoleKind, Seat

PLATE = (12.0, 1.5)
"""A strike plate's diameter and thickness (mm). From memory."""
PLATE_PILOT = 1.5
"""Pilot hole of a plate's small screw, about 2 shank (mm). From memory."""
PLATE_SHARE = 0.3
"""A plate and its screw go no deeper into a door than this part of its thickness, so that they
meet no tenon in the middle. Common practice, no source."""
BALL_PLATE = (30.0, 8.0, 1.0)
"""Length, width and thickness of a ball catch's plate (mm). From memory."""
BALL_SCREWS = 20.0
"""Between the two screws of a ball catch's plate (mm). From memory."""
BALL_PILOT = (1.5, 8.0)
"""Diameter and depth of their pilot holes (mm). From memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strike:
    """Where a door's inside meets a latch or magnet: ``at`` on the inside face (piece axes).

    ``across`` lies in the face, ``into`` points into the door, ``door`` is its thickness (mm).
    """

    at: Vec
    across: Vec
    into: Vec
    door: float


def body_hole(at: Vec, across: Vec, into: Vec, size: tuple[float, float], made_by: str) -> Hole:
    """The hole of ``size`` (diameter, depth) that takes the fitting's body."""
    return Hole(
        kind=HoleKind.FITTING,
        seat=Seat(at, across, into),
        diameter=size[0],
        depth=size[1],
        made_by=made_by,
    )


def strike_holes(strike: Strike, *, made_by: str) -> tuple[Hole, Hole]:
    """The plate's bed, flush with the door's inside, and the pilot of its screw."""
    diameter, thick = PLATE
    return (
        Hole(
            kind=HoleKind.RECESS,
            seat=Seat(strike.at, strike.across, strike.into),
            diameter=diameter,
            depth=thick,
            made_by=made_by,
        ),
        Hole(
            kind=HoleKind.PILOT,
            seat=Seat(along(strike.at, strike.into, thick), strike.across, strike.into),
            diameter=PLATE_PILOT,
            depth=max(2.0, strike.door * PLATE_SHARE - thick),
            made_by=made_by,
        ),
    )


def ball_plate_holes(at: Vec, way: Vec, into: Vec, *, made_by: str) -> Hole:
    """Pilots of a ball catch's plate on the panel over (or under) the door's edge."""
    diameter, depth = BALL_PILOT
    return Hole(
        kind=HoleKind.PILOT,
        seat=Seat(along(at, way, -BALL_SCREWS / 2), way, into),
        diameter=diameter,
        depth=depth,
        made_by=made_by,
        count=2,
        pitch=BALL_SCREWS,
    )
