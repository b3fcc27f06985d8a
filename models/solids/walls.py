"""The planes that a part can show, by name: its blank's, its trims', and those of its cuts."""

from typing import assert_never

from ground.vectors import Plane, along, cross, neg
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Profile, Slot
from models.parts.features import Feature, Trim
from models.parts.part import Part
from models.solids.base import Polyhedron
from models.solids.edges import section
from models.solids.records import PlaneFace


def walls(part: Part, body: Polyhedron | None) -> tuple[PlaneFace, ...]:
    """Every plane that may be found on the solid, the blank's own first, normals outward.

    ``body`` is the convex base, None where the blank is not squared.
    """
    own = [
        PlaneFace(name=name, plane=plane, made_by=None)
        for name, plane in part.blank.planes().items()
    ]
    made = [
        PlaneFace(name=name, plane=plane, made_by=feature.made_by)
        for feature, cut in part.cuts()
        for name, plane in left_by(feature, cut, body)
    ]
    return (*own, *made)


def left_by(feature: Feature, cut: Cut, body: Polyhedron | None) -> tuple[tuple[str, Plane], ...]:
    """The flat walls that one cut leaves, named after its feature."""
    if isinstance(feature, Trim):
        return ((feature.id, feature.plane),)
    return tuple((f"{feature.id}.{name}", plane) for name, plane in flat_walls(cut, body))


def flat_walls(cut: Cut, body: Polyhedron | None) -> tuple[tuple[str, Plane], ...]:
    """The flat walls of one cut, normals out of the wood."""
    match cut:
        case Convex(planes=planes):
            return tuple((name, plane.flipped()) for name, plane in planes if name)
        case Bore():
            return (("floor", floor(cut)),)
        case Cone(tip_diameter=tip):
            return (("floor", floor(cut)),) if tip > 0 else ()
        case Slot():
            across = cross(cut.into, cut.along)
            side_a = along(cut.start, across, -cut.width / 2)
            side_b = along(cut.start, across, cut.width / 2)
            return (
                ("floor", floor(cut)),
                ("wall-a", Plane.through(side_a, across)),
                ("wall-b", Plane.through(side_b, neg(across))),
            )
        case Edge():
            return chamfered(cut, body)
    assert_never(cut)


def chamfered(cut: Edge, body: Polyhedron | None) -> tuple[tuple[str, Plane], ...]:
    """The flat of a chamfer; nothing for a round-over or a cove."""
    arris = None if body is None else body.arris(*cut.between)
    if cut.profile is not Profile.CHAMFER or arris is None or body is None:
        return ()
    corner = section(arris, body)
    point = along(corner.at, corner.into_a, cut.size)
    return (("wall", Plane.through(point, corner.bisector)),)


def floor(cut: Bore | Cone | Slot) -> Plane:
    """The flat end of a hole, looking back out of it."""
    return Plane.through(along(cut.start, cut.into, cut.depth), neg(cut.into))


def open_sides(part: Part) -> tuple[tuple[str, Plane], ...]:
    """Sides that a cut leaves open: a wall of this direction behind them is a fault."""
    return tuple(
        (feature.id, plane.flipped())
        for feature, cut in part.cuts()
        if isinstance(cut, Convex) and not isinstance(feature, Trim)
        for name, plane in cut.planes
        if not name
    ) + tuple(
        (feature.id, Plane.through(cut.start, cut.into))
        for feature, cut in part.cuts()
        if isinstance(cut, Bore | Cone | Slot)
    )
