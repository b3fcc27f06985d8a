"""Which face of a part a cut is worked from: where the tool goes in."""

from typing import assert_never

from drawings import polyhedron
from drawings.bites import LEVEL, SQUARE, depth_of, goes_through, lean_of
from drawings.polyhedron import Body, Facet
from ground.vectors import Plane, Vec, dot
from models.parts.blank import FACES, Blank
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.parts.features import Channel, Feature, Trim
from models.parts.part import Part


def seat_of(part: Part, body: Body, feature: Feature, cut: Cut) -> str:
    """Name the face that a cut is worked from; "" for what belongs to no face (trims, arrises)."""
    match cut:
        case Bore(start=start, into=into) | Cone(start=start, into=into):
            return _entered(part, start, into)
        case Slot(start=start, into=into):
            return _entered(part, start, into)
        case Edge():
            return ""
        case Convex():
            if isinstance(feature, Trim):
                return ""
            if isinstance(feature, Channel):
                return _entered(part, feature.seat.origin, feature.seat.into)
            return _open_side(body, cut)
    assert_never(cut)


def _entered(part: Part, start: Vec, into: Vec) -> str:
    """The plane that a tool goes in by: the first one met on the way back out of the wood.

    A hole may begin on the floor of another. Where two planes meet at the mouth, the one that the
    tool stands most square to.
    """
    planes = {**_blank_planes(part.blank), **part.base_planes()}
    facing = {name: plane for name, plane in planes.items() if dot(plane.normal, into) < -LEVEL}

    def rank(name: str) -> tuple[float, float, bool]:
        plane = facing[name]
        square = dot(plane.normal, into)
        return (round(abs(plane.height(start) / square), 6), round(square, 6), name not in FACES)

    return min(facing, key=rank)


def _blank_planes(blank: Blank) -> dict[str, Plane]:
    """All six sides, round stock taken as squared."""
    return {facet.name: facet.plane for facet in polyhedron.block(blank)}


def _open_side(body: Body, cut: Convex) -> str:
    """The side of the base on which a convex bite is best worked.

    Square walls before slanted ones, straight through from a broad face before anything else,
    then the side from which it is shallowest.
    """
    bite = polyhedron.bitten(body, cut.planes)
    mouths = [facet for facet in bite if not facet.wall and _is_side(facet, body)]
    if not mouths:
        return ""

    def rank(facet: Facet) -> tuple[bool, bool, bool, float, int]:
        depth = depth_of(bite, facet.plane)
        through = goes_through(bite, facet.plane)
        flat = facet.name in {"top", "bottom"}
        names = [f.name for f in body]
        return (
            lean_of(bite, facet.plane.normal) > SQUARE,
            facet.name not in FACES,
            not (flat and through),
            round(depth, 6),
            names.index(facet.name),
        )

    return min(mouths, key=rank).name


def _is_side(facet: Facet, body: Body) -> bool:
    """Tell whether a facet of a bite is a piece of one of the base's sides."""
    return any(facet.name == side.name and facet.plane == side.plane for side in body)


def face_plane(part: Part, body: Body, name: str) -> Plane:
    """The plane of a face, whether or not any of it is left."""
    for facet in body:
        if facet.name == name:
            return facet.plane
    return {**_blank_planes(part.blank), **part.base_planes()}[name]
