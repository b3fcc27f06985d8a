"""Is there wood at a point? Answered from blanks and cuts alone: no kernel, no mesh."""

from typing import assert_never

from ground.vectors import Vec, along, cross, dot, norm, sub
from models.parts.assembly import Assembly, Copy
from models.parts.blank import Section
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.parts.features import EasedEdge
from models.parts.part import Part


def in_part(part: Part, point: Vec) -> bool:
    """Tell whether ``part`` has wood at ``point`` (part axes); eased arrises count as wood."""
    if not all(plane.height(point) <= 0.0 for plane in part.blank.planes().values()):
        return False
    if part.blank.section is Section.ROUND and _from_axis(part, point) > part.blank.width / 2:
        return False
    return not any(
        removes(cut, point) for feature, cut in part.cuts() if not isinstance(feature, EasedEdge)
    )


def removes(cut: Cut, point: Vec) -> bool:
    """Tell whether ``cut`` takes the wood at ``point``."""
    match cut:
        case Convex(planes=planes):
            return all(plane.height(point) < 0.0 for _, plane in planes)
        case Bore(start=start, into=into):
            deep = dot(sub(point, start), into)
            return -cut.lead < deep < cut.depth and _off(point, start, into) < cut.diameter / 2
        case Cone(start=start, into=into):
            deep = dot(sub(point, start), into)
            if not 0.0 < deep < cut.depth:
                return False
            share = 1.0 - deep / cut.depth
            radius = (cut.tip_diameter + (cut.diameter - cut.tip_diameter) * share) / 2
            return _off(point, start, into) < radius
        case Slot(start=start, into=into):
            deep = dot(sub(point, start), into)
            straight = (cut.length - cut.width) / 2
            run = max(-straight, min(straight, dot(sub(point, start), cut.along)))
            nearest = along(start, cut.along, run)
            return 0.0 < deep < cut.depth and _off(point, nearest, into) < cut.width / 2
        case Edge():
            return False
    assert_never(cut)


def _from_axis(part: Part, point: Vec) -> float:
    middle = part.blank.centre
    return norm((0.0, point[1] - middle[1], point[2] - middle[2]))


def _off(point: Vec, start: Vec, axis: Vec) -> float:
    return norm(cross(sub(point, start), axis))


class Wood:
    """A closed piece that can be asked what is at a point of it."""

    def __init__(self, assembly: Assembly) -> None:
        self.assembly = assembly
        parts = {part.label: part for part in assembly.parts}
        self.placed = [
            (copy, parts[copy.label], copy.placement.inverse()) for copy in assembly.copies
        ]

    def at(self, point: Vec, *, but: str = "") -> Copy | None:
        """The copy that has wood at ``point`` (piece axes), the copy called ``but`` left out."""
        for copy, part, back in self.placed:
            if copy.id != but and in_part(part, back.point(point)):
                return copy
        return None
