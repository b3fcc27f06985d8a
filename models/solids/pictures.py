"""Pictures of many solids at once, in isometric view: lines seen, nothing hidden, no size to take.

The exact way of ``views`` takes half a minute for an assembly seen aslant; this one works on the
kernel's triangulation, a few tenths of a second, and arcs come out as chords.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import cadquery as cq
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_PolyAlgo, HLRBRep_PolyHLRToShape

from ground.errors import BuildError
from ground.vectors import Frame, Vec, add, cross
from models.parts.views import ISOMETRIC_RIGHT, ISOMETRIC_UP, LineView
from models.solids.clash import moved
from models.solids.kernel import KERNEL_FAILURES
from models.solids.strokes import tidy
from models.solids.views import strokes

CHORD = 1.0
"""No chord leaves its arc by more (mm): on paper a tenth of that."""

TURN = 0.4
"""Nor turns by more from one to the next (radians)."""

PIECE = "the piece"


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A solid, where it stands, and how far it is moved away from there (mm)."""

    solid: cq.Solid
    placement: Frame
    away: Vec = (0.0, 0.0, 0.0)

    def shape(self) -> cq.Shape:
        """The solid in its place."""
        at = self.placement
        place = Frame(at.x, at.y, add(at.origin, self.away))
        return cq.Shape.cast(moved(self.solid.wrapped, place))


def isometric(standing: Iterable[Standing], name: str) -> LineView:
    """What is seen of all of them together from the front, the right and above.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    whole = cq.Compound.makeCompound([one.shape() for one in standing])
    try:
        return seen(whole, name, ISOMETRIC_RIGHT, ISOMETRIC_UP)
    except KERNEL_FAILURES as failure:
        raise BuildError(PIECE, name, str(failure)) from failure


def seen(whole: cq.Shape, name: str, right: Vec, up: Vec) -> LineView:
    """What is seen of a shape by its triangulation, looking against ``right`` cross ``up``."""
    BRepMesh_IncrementalMesh(whole.wrapped, CHORD, False, TURN)
    algorithm = HLRBRep_PolyAlgo()
    algorithm.Load(whole.wrapped)
    axes = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*cross(right, up)), gp_Dir(*right))
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    lines = HLRBRep_PolyHLRToShape()
    lines.Update(algorithm)
    visible, _ = tidy(strokes((lines.VCompound(), lines.OutLineVCompound())), ())
    return LineView(name=name, right=right, up=up, visible=visible)
