"""Sections: a solid cut through by a plane, what is left of it seen square to the cut."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepTools import BRepTools_WireExplorer
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.GeomAbs import GeomAbs_CurveType
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopoDS import TopoDS_Wire

from ground.vectors import Plane, Vec, add, cross, dot, scale
from models.parts.views import LineView, Point, Region, SectionCut
from models.solids.views import WITHIN, line_view_along

FLAT = 1e-6
"""A face of the rest lies in the cutting plane when its corners do (mm)."""

FAR = 4.0
"""The cutter is so many diagonals of the solid wide: it leaves nothing of the near side."""


def sections(solid: cq.Solid, cuts: Iterable[SectionCut]) -> tuple[LineView, ...]:
    """Every section asked for."""
    return tuple(section(solid, cut) for cut in cuts)


def section(solid: cq.Shape, cut: SectionCut) -> LineView:
    """What lies beyond the plane as seen from its near side, and the outlines of the cut faces."""
    rest = beyond(solid, cut.plane)
    view = line_view_along(rest, cut.name, cut.right, cut.up)
    return replace(view, hidden=(), cut=tuple(cut_faces(rest, cut)))


def beyond(solid: cq.Shape, plane: Plane) -> cq.Shape:
    """What is left of a solid when all on the outside of ``plane`` is taken away."""
    box = solid.BoundingBox()
    wide = FAR * box.DiagonalLength
    centre = (box.center.x, box.center.y, box.center.z)
    foot = add(centre, scale(plane.normal, plane.offset - dot(centre, plane.normal)))
    across = _across(plane.normal)
    corner = add(foot, add(scale(across, -wide / 2), scale(cross(plane.normal, across), -wide / 2)))
    near = cq.Solid.makeBox(wide, wide, wide)
    where = cq.Plane(origin=corner, xDir=across, normal=plane.normal)
    return solid.cut(near.moved(cq.Location(where)))


def _across(normal: Vec) -> Vec:
    """Any unit vector square to ``normal``."""
    axes: tuple[Vec, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    least = min(axes, key=lambda axis: abs(dot(axis, normal)))
    found = cross(normal, least)
    return scale(found, 1.0 / dot(found, found) ** 0.5)


def cut_faces(rest: cq.Shape, cut: SectionCut) -> Iterator[Region]:
    """Every face in the cutting plane."""
    for face in rest.Faces():
        corners = [(v.X, v.Y, v.Z) for v in face.Vertices()]
        if face.geomType() != "PLANE" or not corners:
            continue
        if all(abs(cut.plane.height(corner)) <= FLAT for corner in corners):
            wires = (face.outerWire(), *face.innerWires())
            yield tuple(outline(wire.wrapped, cut.right, cut.up) for wire in wires)


def outline(wire: TopoDS_Wire, right: Vec, up: Vec) -> tuple[Point, ...]:
    """A closed wire as points on paper, arcs as short chords."""
    points: list[Point] = []
    explorer = BRepTools_WireExplorer(wire)
    while explorer.More():
        edge = explorer.Current()
        curve = BRepAdaptor_Curve(edge)
        first, last = curve.FirstParameter(), curve.LastParameter()
        if curve.GetType() == GeomAbs_CurveType.GeomAbs_Line:
            found = [curve.Value(first), curve.Value(last)]
        else:
            chain = GCPnts_QuasiUniformDeflection(curve, WITHIN, first, last)
            found = [chain.Value(place + 1) for place in range(chain.NbPoints())]
        if edge.Orientation() == TopAbs_Orientation.TopAbs_REVERSED:
            found.reverse()
        spots = [(p.X(), p.Y(), p.Z()) for p in found[:-1]]
        points += [(dot(spot, right), dot(spot, up)) for spot in spots]
        explorer.Next()
    return tuple(points)
