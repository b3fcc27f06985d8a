"""What planes cut through in the closed piece, copy by copy: the sections of a setting-out rod."""

from collections.abc import Iterable, Mapping

import cadquery as cq
from OCP.BRepAlgoAPI import BRepAlgoAPI_Section
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.gp import gp_Ax3, gp_Dir, gp_Pln, gp_Pnt, gp_Trsf
from OCP.TopoDS import TopoDS_Shape

from ground.errors import BuildError
from ground.vectors import Vec, cross, scale
from models.parts.assembly import Copy
from models.parts.scenes import Crossed
from models.parts.views import SectionCut, Stroke
from models.solids.clash import moved
from models.solids.kernel import KERNEL_FAILURES
from models.solids.measure import exact_box
from models.solids.strokes import tidy
from models.solids.views import strokes


def crossed(cut: SectionCut, copies: Iterable[Copy], solids: Mapping[str, cq.Solid]) -> Crossed:
    """The outlines of every copy that a plane meets; copies without a solid are left out.

    Raises:
        BuildError: the kernel cannot cut one.
    """
    lines: list[tuple[str, tuple[Stroke, ...]]] = []
    try:
        for copy in copies:
            if copy.label in solids:
                shape = moved(solids[copy.label].wrapped, copy.placement)
                if meets(cut, shape):
                    lines.append((copy.id, outline(cut, shape)))
    except KERNEL_FAILURES as failure:
        raise BuildError(cut.name, "section", str(failure)) from failure
    return Crossed(cut=cut, lines=tuple(lines))


def meets(cut: SectionCut, shape: TopoDS_Shape) -> bool:
    """Tell whether a plane goes through the box around a shape."""
    low, high = exact_box(shape)
    corners: list[Vec] = [
        (x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])
    ]
    heights = [cut.plane.height(corner) for corner in corners]
    return min(heights) < 0.0 < max(heights)


def outline(cut: SectionCut, shape: TopoDS_Shape) -> tuple[Stroke, ...]:
    """The lines in which a plane meets a shape, laid on paper."""
    foot = scale(cut.plane.normal, cut.plane.offset)
    axes = gp_Ax3(gp_Pnt(*foot), gp_Dir(*cut.plane.normal))
    section = BRepAlgoAPI_Section(shape, gp_Pln(axes), False)
    section.Approximation(False)
    section.Build()
    turn = gp_Trsf()
    paper = gp_Ax3(gp_Pnt(0, 0, 0), gp_Dir(*cross(cut.right, cut.up)), gp_Dir(*cut.right))
    turn.SetTransformation(paper)
    laid = BRepBuilderAPI_Transform(section.Shape(), turn, True).Shape()
    visible, _ = tidy(strokes((laid,)), ())
    return visible
