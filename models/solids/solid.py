"""A part as one exact solid: a convex base, eased arrises, and everything else in one boolean.

Tools are always handed over as separate arguments: a compound of tools that touch gave wrong
solids that called themselves valid. Nobody keeps "the largest" of several pieces.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import cadquery as cq
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.gp import gp_Pnt
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopoDS import TopoDS_Shape
from OCP.TopTools import TopTools_ListOfShape

from ground.errors import BuildError
from ground.tolerances import SAME_PLACE
from ground.vectors import Vec, X
from models.parts.blank import Blank, Section
from models.parts.cuts import Convex, Cut, Edge
from models.parts.features import Feature, Trim
from models.parts.part import Part, PartKind
from models.solids.base import spoken
from models.solids.edges import EdgeTool, edge_tool, grouped
from models.solids.kernel import KERNEL_FAILURES, KernelTrouble
from models.solids.sewing import sewn
from models.solids.tools import OVERCUT, SECOND_OVERCUT, Bench, bench, tool
from models.solids.wires import obround, prism, rod
from models.solids.witness import left_standing

NOISE = 1e-9
"""A volume may be off by this much of itself: the kernel integrates numerically."""


TRIES = ((OVERCUT, 0.0), (SECOND_OVERCUT, 0.0), (OVERCUT, 1e-6), (OVERCUT, 1e-5))
"""Overcut and fuzz (mm), first to last. A round-over run all round a foot closes a ring whose
quarter-rounds meet in points that the kernel finds twice, 1e-7 apart, and then loses the last cut.
"""

SENSELESS: tuple[type[Exception], ...] = (ValueError, ZeroDivisionError, *KERNEL_FAILURES)
"""What making a cutter throws when the cut itself makes no sense."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cutters:
    """The tools of a part beside the ids of their features; those along arrises apart."""

    edges: tuple[tuple[str, EdgeTool], ...]
    others: tuple[tuple[str, TopoDS_Shape], ...]


def solid(part: Part) -> cq.Solid:
    """Make the one valid solid that ``part`` is; parts of the same shape share it.

    Raises:
        BuildError: it cannot be made; names the part and the cut.
    """
    try:
        return _of_shape(part.shape)
    except BuildError as trouble:
        raise BuildError(spoken(part), trouble.cut, trouble.reason) from trouble


@lru_cache(maxsize=512)
def _of_shape(shape: tuple[Blank, tuple[Feature, ...]]) -> cq.Solid:
    """Make a solid that has no name yet."""
    blank, features = shape
    part = Part(
        label="", name="", kind=PartKind.LUMBER, material=None, blank=blank, features=features
    )
    for overcut, fuzz in TRIES:
        try:
            return at_once(part, overcut, fuzz)
        except KernelTrouble:
            continue
    return one_by_one(part)


def at_once(part: Part, overcut: float, fuzz: float = 0.0) -> cq.Solid:
    """Take away arrises in few booleans and all the rest in one.

    ``fuzz``: places closer than this (mm) count as one where arrises meet.

    Raises:
        KernelTrouble: the result is not one valid solid.
        BuildError: a cut makes no sense.
    """
    on = bench(part, overcut)
    cutters = cutters_of(part, on)
    body = stock(part, on)
    for group in grouped([edge for _, edge in cutters.edges]):
        body = less(body, [cutters.edges[place][1].solid for place in group], fuzz)
    body = less(body, [cutter for _, cutter in cutters.others])
    made = checked(body, part, on)
    left = left_standing(made.wrapped, part, on)
    if left is not None:
        reason = "the kernel left wood standing where this cut takes it away"
        raise KernelTrouble(reason)
    return made


def one_by_one(part: Part) -> cq.Solid:
    """Cut feature after feature, to name the one that fails, or to do without one large boolean.

    Raises:
        BuildError: names the cut.
    """
    on = bench(part, SECOND_OVERCUT)
    cutters = cutters_of(part, on)
    steps = [(name, edge.solid) for name, edge in cutters.edges] + list(cutters.others)
    body = stock(part, on)
    made = cq.Solid(body)
    for name in dict.fromkeys(name for name, _ in steps):
        try:
            body = less(body, [cutter for other, cutter in steps if other == name])
            made = checked(body, part, on)
        except KernelTrouble as trouble:
            raise BuildError(spoken(part), name, trouble.reason) from trouble
        body = made.wrapped
    left = left_standing(body, part, on)
    if left is not None:
        reason = "the kernel left wood standing where this cut takes it away"
        raise BuildError(spoken(part), left, reason)
    return made


def cutters_of(part: Part, on: Bench) -> Cutters:
    """Make every tool that ``part`` asks for.

    Raises:
        BuildError: a cut makes no sense, in its own words.
    """
    edges: list[tuple[str, EdgeTool]] = []
    others: list[tuple[str, TopoDS_Shape]] = []
    for feature, cut in cuts_left(part):
        try:
            if isinstance(cut, Edge):
                edges.append((feature.id, edge_cutter(cut, on)))
                continue
            cutter = tool(cut, on)
        except SENSELESS as trouble:
            raise BuildError(spoken(part), feature.id, str(trouble)) from trouble
        if cutter is not None:
            others.append((feature.id, cutter))
    return Cutters(edges=tuple(edges), others=tuple(others))


def cuts_at(part: Part, place: Vec) -> tuple[str, ...]:
    """The features whose cutters come to ``place``, to name what meets there."""
    cutters = cutters_of(part, bench(part))
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


def stock(part: Part, on: Bench) -> TopoDS_Shape:
    """What cutting begins with: the convex base, a rod, or a strip with rounded edges."""
    if on.body is not None:
        return sewn(on.body)
    length, width, thickness = part.blank.size
    centre = (0.0, width / 2, thickness / 2)
    if part.blank.section is Section.ROUND:
        return rod(centre, X, width, length)
    outline = obround(centre, (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (width, thickness))
    return prism(outline, (length, 0.0, 0.0))


def less(body: TopoDS_Shape, tools: Sequence[TopoDS_Shape], fuzz: float = 0.0) -> TopoDS_Shape:
    """``body`` without what every one of ``tools`` covers, in one boolean.

    Raises:
        KernelTrouble: the kernel gave up.
    """
    if not tools:
        return body
    arguments, cutters = TopTools_ListOfShape(), TopTools_ListOfShape()
    arguments.Append(body)
    for cutter in tools:
        cutters.Append(cutter)
    boolean = BRepAlgoAPI_Cut()
    boolean.SetArguments(arguments)
    boolean.SetTools(cutters)
    boolean.SetToFillHistory(False)
    if fuzz:
        boolean.SetFuzzyValue(fuzz)
    try:
        boolean.Build()
    except KERNEL_FAILURES as failure:
        raise KernelTrouble(str(failure)) from failure
    if not boolean.IsDone():
        reason = "the kernel gave this cut up"
        raise KernelTrouble(reason)
    return boolean.Shape()


def checked(body: TopoDS_Shape, part: Part, on: Bench) -> cq.Solid:
    """Join faces that lie in one plane, and see that there is exactly one sound solid.

    Raises:
        KernelTrouble: there is not.
    """
    unify = ShapeUpgrade_UnifySameDomain(body, True, True, True)
    unify.AllowInternalEdges(False)
    unify.Build()
    pieces = cq.Shape.cast(unify.Shape()).Solids()
    if len(pieces) != 1:
        raise KernelTrouble(falls_apart(pieces))
    made = pieces[0]
    if not BRepCheck_Analyzer(made.wrapped).IsValid():
        reason = "the kernel's solid is not valid"
        raise KernelTrouble(reason)
    if len(made.Shells()) != 1:
        reason = "it leaves a hollow that nothing opens"
        raise KernelTrouble(reason)
    most = part.blank.volume if on.body is None else on.body.volume()
    if not 0 < made.Volume() <= most * (1 + NOISE):
        reason = f"{made.Volume():.3f} mm3 of wood are left of {most:.3f}"
        raise KernelTrouble(reason)
    return made


def falls_apart(pieces: Sequence[cq.Solid]) -> str:
    """Say what is left when that is not one piece."""
    if not pieces:
        return "nothing is left of the part"
    smallest = min(piece.Volume() for piece in pieces)
    return f"the part falls into {len(pieces)} pieces, the smallest of {smallest:.1f} mm3"
