"""Scenes: many solids seen at once by exact hidden-line removal, sorted by what moves.

What stands and what moves are two shapes, so that the lines of each can be asked for. The eye must
not look so that many edges fall on one another, as in isometric view: the sums then take a hundred
times as long.
"""

from collections.abc import Iterable, Mapping

import cadquery as cq
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.TopoDS import TopoDS_Shape

from ground.errors import BuildError
from ground.vectors import Frame, Vec, add, cross
from models.parts.assembly import Copy
from models.parts.scenes import Drawn, Scene
from models.parts.views import Stroke
from models.solids.clash import moved
from models.solids.kernel import KERNEL_FAILURES
from models.solids.views import strokes

STILL: Vec = (0.0, 0.0, 0.0)


def drawn(scene: Scene, copies: Iterable[Copy], solids: Mapping[str, cq.Solid]) -> Drawn:
    """Draw one scene; copies without a solid are left out.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    places = {copy.id: copy for copy in copies if copy.label in solids}
    away = dict(scene.away)

    def together(names: Iterable[str]) -> TopoDS_Shape | None:
        shapes = [
            cq.Shape.cast(placed(places[name], solids, away.get(name, STILL)))
            for name in names
            if name in places
        ]
        return cq.Compound.makeCompound(shapes).wrapped if shapes else None

    standing, moving = together(scene.standing), together(scene.moving)
    try:
        lines = lines_of(scene, [shape for shape in (standing, moving) if shape is not None])
        return Drawn(
            scene=scene,
            standing=seen(lines, standing),
            moving=seen(lines, moving),
            hidden=unseen(lines, moving),
        )
    except KERNEL_FAILURES as failure:
        raise BuildError(scene.name, "picture", str(failure)) from failure


def lines_of(scene: Scene, shapes: Iterable[TopoDS_Shape]) -> HLRBRep_HLRToShape:
    """Work out what is seen of shapes, each to be asked for by itself."""
    algorithm = HLRBRep_Algo()
    for shape in shapes:
        algorithm.Add(shape)
    axes = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*cross(scene.right, scene.up)), gp_Dir(*scene.right))
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    algorithm.Hide()
    return HLRBRep_HLRToShape(algorithm)


def placed(copy: Copy, solids: Mapping[str, cq.Solid], away: Vec) -> TopoDS_Shape:
    """A copy's solid where it is shown."""
    at = copy.placement
    return moved(solids[copy.label].wrapped, Frame(at.x, at.y, add(at.origin, away)))


def seen(lines: HLRBRep_HLRToShape, shape: TopoDS_Shape | None) -> tuple[Stroke, ...]:
    """What is seen of a shape: edges, and outlines of round faces."""
    if shape is None:
        return ()
    return tuple(strokes((lines.VCompound(shape), lines.OutLineVCompound(shape))))


def unseen(lines: HLRBRep_HLRToShape, shape: TopoDS_Shape | None) -> tuple[Stroke, ...]:
    """What is hidden of a shape."""
    return () if shape is None else tuple(strokes((lines.HCompound(shape),)))
