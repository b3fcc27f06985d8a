"""The cutters of a part: along arrises, for one boolean together, and those that need none."""

from dataclasses import dataclass

from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.gp import gp_Pnt
from OCP.TopoDS import TopoDS_Shape

from ground.errors import BuildError
from ground.tolerances import SAME_PLACE
from ground.vectors import Vec
from models.parts.blank import Section
from models.parts.cuts import Bore, Convex, Cut, Edge, Slot
from models.parts.features import Feature, Trim
from models.parts.part import Part
from models.solids.base import spoken
from models.solids.edges import EdgeTool, edge_tool
from models.solids.kernel import KERNEL_FAILURES
from models.solids.pockets import Pocket, pocket_of, standing_free
from models.solids.tools import Bench, Fitted, bench, fitted, tool

SENSELESS: tuple[type[Exception], ...] = (ValueError, ZeroDivisionError, *KERNEL_FAILURES)
"""What making a cutter throws when the cut itself makes no sense."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cutters:
    """The tools of a part beside the ids of their features.

    ``edges`` run along arrises, ``others`` go into one boolean, ``pockets`` stand free. ``asked``
    are the cuts that the booleans are asked for.
    """

    edges: tuple[tuple[str, EdgeTool], ...]
    others: tuple[tuple[str, TopoDS_Shape], ...]
    pockets: tuple[Pocket, ...]
    asked: tuple[tuple[str, Cut], ...]


def cutters_of(part: Part, on: Bench, *, let_in: bool) -> Cutters:
    """Make every tool that ``part`` asks for; ``let_in``: free pockets are kept out of the boolean.

    Raises:
        BuildError: a cut makes no sense, in its own words.
    """
    edges: list[tuple[str, EdgeTool]] = []
    bites: list[tuple[str, Fitted]] = []
    asked: list[tuple[str, Cut]] = []
    maybe: list[tuple[str, Cut, Pocket]] = []
    for feature, cut in cuts_left(part):
        pocket = free_pocket(cut, on) if let_in else None
        if pocket is not None:
            maybe.append((feature.id, cut, pocket))
            continue
        asked.append((feature.id, cut))
        try:
            if isinstance(cut, Edge):
                edges.append((feature.id, edge_cutter(cut, on)))
            elif (bite := fitted(cut, on)) is not None:
                bites.append((feature.id, bite))
        except SENSELESS as trouble:
            raise BuildError(spoken(part), feature.id, str(trouble)) from trouble
    hulls = [edge.hull for _, edge in edges] + [bite.hull for _, bite in bites]
    free = standing_free([pocket for *_, pocket in maybe], hulls)
    met = [(name, cut) for (name, cut, _), alone in zip(maybe, free, strict=True) if not alone]
    more = [(name, bite) for name, cut in met if (bite := tool(cut, on)) is not None]
    return Cutters(
        edges=tuple(edges),
        others=(*((name, bite.solid) for name, bite in bites), *more),
        pockets=tuple(pocket for (*_, pocket), alone in zip(maybe, free, strict=True) if alone),
        asked=(*asked, *met),
    )


def free_pocket(cut: Cut, on: Bench) -> Pocket | None:
    """See a cut as a pocket in a face of the base, where it is one."""
    if on.body is None or not isinstance(cut, Bore | Slot):
        return None
    return pocket_of(cut, on.body)


def cuts_at(part: Part, place: Vec) -> tuple[str, ...]:
    """The features whose cutters come to ``place``, to name what meets there."""
    cutters = cutters_of(part, bench(part), let_in=False)
    tools = [(name, edge.solid) for name, edge in cutters.edges] + list(cutters.others)
    point = BRepBuilderAPI_MakeVertex(gp_Pnt(*place)).Vertex()
    near = (
        name
        for name, cutter in tools
        if BRepExtrema_DistShapeShape(point, cutter).Value() <= SAME_PLACE
    )
    return tuple(dict.fromkeys(near))


def cuts_left(part: Part) -> tuple[tuple[Feature, Cut], ...]:
    """The cuts that the stock does not hold already: a squared blank's trims are in its base."""
    squared = part.blank.section is Section.SQUARED
    return tuple(
        (feature, sawn_off(feature) if isinstance(feature, Trim) else cut)
        for feature, cut in part.cuts()
        if not (squared and isinstance(feature, Trim))
    )


def sawn_off(trim: Trim) -> Convex:
    """A trim as a bite whose one plane is the wall that it leaves."""
    return Convex(planes=(("wall", trim.plane.flipped()),))


def edge_cutter(cut: Edge, on: Bench) -> EdgeTool:
    """Make the cutter for one arris.

    Raises:
        ValueError: there is no such arris.
    """
    if on.body is None:
        msg = "only squared stock has arrises to ease"
        raise ValueError(msg)
    return edge_tool(cut, on.body, on.overcut)
