"""Line views of a solid by exact hidden-line removal, as plain strokes."""

import math
from collections.abc import Iterable, Iterator

import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepLib import BRepLib
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.GeomAbs import GeomAbs_CurveType
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape

from ground.vectors import Vec, X, Y, Z, cross, neg
from models.parts.views import Arc, Curve, Line, LineView, Point, Stroke
from models.solids.strokes import tidy

WITHIN = 0.01
"""Points of a curve that is no arc follow it within this (mm)."""

SQUARE_ON = 1 - 1e-9
"""A circle is seen as a circle when its axis is this near to the line of sight (cosine)."""

VIEWS: dict[str, tuple[Vec, Vec]] = {
    "top": (X, Y),
    "front": (X, Z),
    "right": (Y, Z),
    "bottom": (X, neg(Y)),
    "back": (neg(X), Z),
    "left": (neg(Y), Z),
}
"""What is to the right and what is up on paper, looking at each face of a part."""

USUAL = ("top", "front", "right")
"""The views of a part that are made unless others are asked for."""


def line_views(solid: cq.Solid, names: Iterable[str] = USUAL) -> tuple[LineView, ...]:
    """Draw a solid as seen looking at each of its faces in ``names``."""
    return tuple(line_view(solid, name) for name in names)


def line_view(solid: cq.Shape, name: str) -> LineView:
    """Draw a solid as seen looking at one face."""
    return line_view_along(solid, name, *VIEWS[name])


def line_view_along(solid: cq.Shape, name: str, right: Vec, up: Vec) -> LineView:
    """Draw a solid as seen looking against ``right`` cross ``up``."""
    algorithm = HLRBRep_Algo()
    algorithm.Add(solid.wrapped)
    towards = cross(right, up)
    axes = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*towards), gp_Dir(*right))
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    algorithm.Hide()
    lines = HLRBRep_HLRToShape(algorithm)
    visible, hidden = tidy(
        strokes((lines.VCompound(), lines.OutLineVCompound())),
        strokes((lines.HCompound(), lines.OutLineHCompound())),
    )
    return LineView(name=name, right=right, up=up, visible=visible, hidden=hidden)


def strokes(compounds: Iterable[TopoDS_Shape]) -> Iterator[Stroke]:
    """Every edge of flat kernel shapes as a stroke; there may be no shape at all."""
    for compound in compounds:
        if compound is None or compound.IsNull():
            continue
        BRepLib.BuildCurves3d_s(compound)
        explorer = TopExp_Explorer(compound, TopAbs_ShapeEnum.TopAbs_EDGE)
        while explorer.More():
            yield stroke(BRepAdaptor_Curve(TopoDS.Edge_s(explorer.Current())))
            explorer.Next()


def stroke(curve: BRepAdaptor_Curve) -> Stroke:
    """One flat edge: a line, a true arc, or else a chain of points."""
    first, last = curve.FirstParameter(), curve.LastParameter()
    kind = curve.GetType()
    if kind == GeomAbs_CurveType.GeomAbs_Line:
        return Line(flat(curve.Value(first)), flat(curve.Value(last)))
    if kind == GeomAbs_CurveType.GeomAbs_Circle and round_on_paper(curve):
        return arc(curve, first, last)
    chain = GCPnts_QuasiUniformDeflection(curve, WITHIN, first, last)
    return Curve(tuple(flat(chain.Value(place + 1)) for place in range(chain.NbPoints())))


def round_on_paper(curve: BRepAdaptor_Curve) -> bool:
    """Tell whether a circle is seen square on."""
    return bool(abs(curve.Circle().Axis().Direction().Z()) >= SQUARE_ON)


def arc(curve: BRepAdaptor_Curve, first: float, last: float) -> Arc:
    """A circular edge, counter-clockwise on paper."""
    circle = curve.Circle()
    centre = flat(circle.Location())
    anticlockwise = circle.Axis().Direction().Z() > 0
    begin = flat(curve.Value(first if anticlockwise else last))
    start = math.degrees(math.atan2(begin[1] - centre[1], begin[0] - centre[0]))
    return Arc(centre, circle.Radius(), start, start + math.degrees(last - first))


def flat(point: gp_Pnt) -> Point:
    """A point on paper."""
    return (point.X(), point.Y())
