"""Hinges as simple bodies, closed: a cup with its arm and plate, and two leaves with a knuckle.

Sizes from memory, where the spec does not say: a picture is made of them, and nothing is cut.
"""

from dataclasses import dataclass

from ground.vectors import Plane, Vec, add, along, neg, scale
from models.parts.features import Waste, WasteKind
from models.parts.joints.cup_hinge import CupSize, HingeCorner

PLATE = (6.0, 36.0, 9.0)
"""A mounting plate: how thick it is, how deep in the case, how far it reaches beyond its screws
(mm). From memory."""
ARM = (16.0, 16.0, 1.0)
"""How far an arm stands from the panel, how wide it is, how far behind the door it begins (mm).
From memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A box between two opposite corners (piece axes), and what is taken off it."""

    ends: tuple[Vec, Vec]
    wastes: tuple[Waste, ...] = ()


def cup_middle(corner: HingeCorner, size: CupSize) -> Vec:
    """The middle of a cup's mouth, on the door's inside."""
    return along(corner.edge, corner.away, size.centre)


def plate_and_arm(corner: HingeCorner, size: CupSize) -> Body:
    """What is screwed to the panel: a plate across, and the arm that reaches behind the door."""
    thick, deep, beyond = PLATE
    out, wide, behind = ARM
    half = size.plate_spacing / 2 + beyond
    start = add(along(corner.panel, corner.deep, behind), scale(corner.up, -half))
    far = add(
        along(along(corner.panel, corner.away, out), corner.deep, size.line + deep / 2),
        scale(corner.up, half),
    )
    before = size.line - deep / 2

    def off(name: str, *planes: Plane) -> Waste:
        return Waste(
            kind=WasteKind.NOTCH,
            planes=tuple((name, plane) for plane in planes),
            made_by="doors.hinge",
        )

    wastes: list[Waste] = []
    for way in (corner.up, neg(corner.up)):
        beside = Plane.through(along(corner.panel, way, wide / 2), neg(way))
        over = Plane.through(along(corner.panel, corner.away, thick), neg(corner.away))
        ahead = Plane.through(along(corner.panel, corner.deep, before), corner.deep)
        wastes += [off("step", beside, over), off("shoulder", beside, ahead)]
    return Body(ends=(start, far), wastes=tuple(wastes))
