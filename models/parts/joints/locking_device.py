"""What locks a drawer to its undermount runners: a device under the bottom, behind the front.

All sizes from memory, to be measured on the device in hand.
"""

import math
from dataclasses import dataclass

from ground.vectors import Vec, add, scale
from models.parts.features import Hole, HoleKind, Seat
from models.parts.joints.box_corner import BoxCorner

ANGLE = 75.0
"""Its screws stand at this angle to the front's inside (degrees), up and forward: driven from
below and behind. From memory."""
UP = 5.0
"""Their mouths' height above the box's lower edge (mm). From memory."""
IN = (10.0, 30.0)
"""And their distance from the inside of the drawer's side (mm). From memory."""
PILOT = (2.5, 10.0)
"""Diameter and depth of their pilot holes (mm). From memory."""
LEFT_BEHIND = 3.0
"""Least wood before the hole's point (mm). Common practice, no source."""
BODY = (33.0, 40.0, 10.0)
"""The device's width, length and height (mm). From memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """The device in one front corner of a box: its pilots in the front, its body's two corners."""

    holes: tuple[Hole, ...]
    body: tuple[Vec, Vec]


def locking_device(corner: BoxCorner, *, below: float, made_by: str) -> Device:
    """Bore a box's front for the device; ``below`` is what is free under the bottom (mm)."""
    slant = math.radians(90.0 - ANGLE)
    into = add(scale(corner.deep, -math.cos(slant)), scale(corner.up, math.sin(slant)))
    diameter, deep = PILOT
    depth = min(deep, (corner.end - LEFT_BEHIND) / math.cos(slant))
    holes = tuple(
        Hole(
            kind=HoleKind.PILOT,
            seat=Seat(corner.point(corner.side + beside, corner.end, UP), corner.across, into),
            diameter=diameter,
            depth=depth,
            made_by=made_by,
            lead=diameter / 2 * math.tan(slant),
        )
        for beside in IN
    )
    wide, long, tall = BODY
    near = corner.point(corner.side + 1.0, corner.end, below - min(tall, below - 1.0))
    far = corner.point(corner.side + 1.0 + wide, corner.end + long, below)
    return Device(holes=holes, body=(near, far))
