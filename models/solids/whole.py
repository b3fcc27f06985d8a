"""The closed piece as line views: what a drawing of the assembly shows."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

import cadquery as cq

from ground.errors import BuildError
from ground.vectors import Frame, Vec
from models.parts.assembly import Copy
from models.parts.views import LineView, Region, SectionCut
from models.solids.clash import moved
from models.solids.kernel import KERNEL_FAILURES
from models.solids.measure import exact_box
from models.solids.pictures import Standing, isometric, seen
from models.solids.sections import beyond, cut_faces
from models.solids.views import VIEWS

PIECE = "the piece"
NAMES = ("front", "right", "top")


def piece_views(
    copies: Iterable[Copy], solids: Mapping[str, cq.Solid], names: Iterable[str] = NAMES
) -> tuple[LineView, ...]:
    """What is seen of the closed piece from each side in ``names``; nothing hidden is drawn.

    By triangulation: the exact way takes ten times as long. Copies without a solid are left out.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    whole = cq.Compound.makeCompound(_standing(copies, solids))
    try:
        return tuple(seen(whole, name, *VIEWS[name]) for name in names)
    except KERNEL_FAILURES as failure:
        raise BuildError(PIECE, "views", str(failure)) from failure


def piece_picture(
    copies: Iterable[Copy],
    solids: Mapping[str, cq.Solid],
    name: str,
    away: Mapping[str, Vec] | None = None,
) -> LineView:
    """The piece in isometric view; ``away`` says how far each copy (by id) is moved off (mm).

    Raises:
        BuildError: the kernel cannot draw it.
    """
    still = (0.0, 0.0, 0.0)
    return isometric(
        (
            Standing(
                solid=solids[copy.label],
                placement=copy.placement,
                away=(away or {}).get(copy.id, still),
            )
            for copy in copies
            if copy.label in solids
        ),
        name,
    )


def piece_front(copies: Iterable[Copy], solids: Mapping[str, cq.Solid], name: str) -> LineView:
    """Copies seen from the front, by their triangulation.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    whole = cq.Compound.makeCompound(_standing(copies, solids))
    try:
        return seen(whole, name, *VIEWS["front"])
    except KERNEL_FAILURES as failure:
        raise BuildError(PIECE, name, str(failure)) from failure


def piece_section(
    copies: Iterable[Copy], solids: Mapping[str, cq.Solid], cut: SectionCut
) -> LineView:
    """The closed piece cut through: what is left of it, and every cut face copy by copy.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    try:
        left: list[cq.Shape] = []
        faces: list[Region] = []
        for shape in _standing(copies, solids):
            low, high = _reach(shape, cut)
            if low >= 0.0:
                continue
            if high > 0.0:
                shape = beyond(shape, cut.plane)  # noqa: PLW2901 - what is left of it
                faces += cut_faces(shape, cut)
            left.append(shape)
        view = seen(cq.Compound.makeCompound(left), cut.name, cut.right, cut.up)
    except KERNEL_FAILURES as failure:
        raise BuildError(PIECE, cut.name, str(failure)) from failure
    return replace(view, cut=tuple(faces))


def _standing(copies: Iterable[Copy], solids: Mapping[str, cq.Solid]) -> list[cq.Shape]:
    """Every copy that has a solid, in its place."""
    return [_placed(solids[copy.label], copy.placement) for copy in copies if copy.label in solids]


def _placed(solid: cq.Solid, frame: Frame) -> cq.Shape:
    return cq.Shape.cast(moved(solid.wrapped, frame))


def _reach(shape: cq.Shape, cut: SectionCut) -> tuple[float, float]:
    """How far a shape's box reaches from behind the plane to before it (mm)."""
    box = exact_box(shape.wrapped)
    corners = [(x, y, z) for x in _ends(box, 0) for y in _ends(box, 1) for z in _ends(box, 2)]
    heights = [cut.plane.height(corner) for corner in corners]
    return min(heights), max(heights)


def _ends(box: tuple[Vec, Vec], axis: int) -> tuple[float, float]:
    return box[0][axis], box[1][axis]
