"""A part as one exact solid: a convex base, eased arrises, and everything else in one boolean.

Holes and mortises that meet nothing else are let in afterwards without any.

Tools are always handed over as separate arguments: a compound of tools that touch gave wrong
solids that called themselves valid. Nobody keeps "the largest" of several pieces.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import cadquery as cq
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopoDS import TopoDS_Shape
from OCP.TopTools import TopTools_ListOfShape

from ground.errors import BuildError
from ground.vectors import X
from models.parts.blank import Blank, Section
from models.parts.features import Feature
from models.parts.part import Part, PartKind
from models.solids.base import spoken
from models.solids.boring import bored
from models.solids.cutters import cutters_of
from models.solids.edges import grouped
from models.solids.kernel import KERNEL_FAILURES, KernelTrouble
from models.solids.pockets import Pocket
from models.solids.sewing import sewn
from models.solids.tools import OVERCUT, SECOND_OVERCUT, Bench, bench
from models.solids.wires import obround, prism, rod
from models.solids.witness import left_standing

NOISE = 1e-9
"""A volume may be off by this much of itself: the kernel integrates numerically."""


LEFT_STANDING = "the kernel left wood standing where this cut takes it away"


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """One way of asking the kernel.

    ``fuzz``: places closer than this (mm) count as one where arrises meet. ``let_in``: holes that
    stand free are let in without a boolean.
    """

    overcut: float
    fuzz: float = 0.0
    let_in: bool = True


ATTEMPTS = (
    Attempt(overcut=OVERCUT),
    # A round-over run all round a foot closes a ring whose quarter-rounds meet in points that the
    # kernel finds twice, 1e-7 apart, and then loses the last cut.
    Attempt(overcut=OVERCUT, fuzz=1e-6),
    Attempt(overcut=SECOND_OVERCUT, let_in=False),
    Attempt(overcut=SECOND_OVERCUT, fuzz=1e-5, let_in=False),
)
"""First to last."""


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
    for attempt in ATTEMPTS:
        try:
            return at_once(part, attempt)
        except KernelTrouble:
            continue
    return one_by_one(part)


def forget() -> None:
    """Let go of every solid made so far."""
    _of_shape.cache_clear()


def at_once(part: Part, attempt: Attempt = ATTEMPTS[0]) -> cq.Solid:
    """Take away arrises in few booleans, all the rest in one, and let in what stands free.

    Raises:
        KernelTrouble: the result is not one valid solid.
        BuildError: a cut makes no sense.
    """
    on = bench(part, attempt.overcut)
    cutters = cutters_of(part, on, let_in=attempt.let_in)
    body = stock(part, on)
    for group in grouped([edge for _, edge in cutters.edges]):
        body = less(body, [cutters.edges[place][1].solid for place in group], attempt.fuzz)
    body = less(body, [cutter for _, cutter in cutters.others])
    if cutters.edges or cutters.others:
        body = one_piece(body)
    made = sound(body, part, on)
    if left_standing(body, cutters.asked, on) is not None:
        raise KernelTrouble(LEFT_STANDING)
    return let_in(body, cutters.pockets) if cutters.pockets else made


def let_in(body: TopoDS_Shape, pockets: Sequence[Pocket]) -> cq.Solid:
    """Let free-standing holes and mortises into a sound solid, and see that its shell closes.

    Raises:
        KernelTrouble: it does not.
    """
    made = cq.Solid(bored(body, pockets))
    # their edges lie on their walls as they were made; that the rings fit is what can go wrong
    if not BRepCheck_Analyzer(made.wrapped, False).IsValid():
        reason = "the shell does not close round a hole"
        raise KernelTrouble(reason)
    return made


def one_by_one(part: Part) -> cq.Solid:
    """Cut feature after feature, to name the one that fails, or to do without one large boolean.

    Raises:
        BuildError: names the cut.
    """
    on = bench(part, SECOND_OVERCUT)
    cutters = cutters_of(part, on, let_in=False)
    steps = [(name, edge.solid) for name, edge in cutters.edges] + list(cutters.others)
    body = stock(part, on)
    made = cq.Solid(body)
    for name in dict.fromkeys(name for name, _ in steps):
        try:
            body = one_piece(less(body, [cutter for other, cutter in steps if other == name]))
            made = sound(body, part, on)
        except KernelTrouble as trouble:
            raise BuildError(spoken(part), name, trouble.reason) from trouble
    left = left_standing(body, cutters.asked, on)
    if left is not None:
        raise BuildError(spoken(part), left, LEFT_STANDING)
    return made


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
    boolean.SetCheckInverted(False)  # all are made here, right side out
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


def one_piece(body: TopoDS_Shape) -> TopoDS_Shape:
    """Join faces that lie in one plane, and see that there is exactly one solid.

    Raises:
        KernelTrouble: there is not.
    """
    unify = ShapeUpgrade_UnifySameDomain(body, True, True, True)
    unify.AllowInternalEdges(False)
    unify.Build()
    pieces = cq.Shape.cast(unify.Shape()).Solids()
    if len(pieces) != 1:
        raise KernelTrouble(falls_apart(pieces))
    return pieces[0].wrapped


def sound(body: TopoDS_Shape, part: Part, on: Bench) -> cq.Solid:
    """See that a solid is valid, without a hollow, and no larger than what it was cut from.

    Raises:
        KernelTrouble: it is not.
    """
    made = cq.Solid(body)
    if not BRepCheck_Analyzer(body).IsValid():
        reason = "the kernel's solid is not valid"
        raise KernelTrouble(reason)
    if len(made.Shells()) != 1:
        reason = "it leaves a hollow that nothing opens"
        raise KernelTrouble(reason)
    most = part.blank.volume if on.body is None else on.body.volume()
    volume = made.Volume()
    if not 0 < volume <= most * (1 + NOISE):
        reason = f"{volume:.3f} mm3 of wood are left of {most:.3f}"
        raise KernelTrouble(reason)
    return made


def falls_apart(pieces: Sequence[cq.Solid]) -> str:
    """Say what is left when that is not one piece."""
    if not pieces:
        return "nothing is left of the part"
    smallest = min(piece.Volume() for piece in pieces)
    return f"the part falls into {len(pieces)} pieces, the smallest of {smallest:.1f} mm3"
