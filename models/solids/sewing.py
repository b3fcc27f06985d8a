"""A convex body as a kernel solid: faces that share their edges, without a boolean."""

from OCP.BRep import BRep_Builder
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeSolid,
    BRepBuilderAPI_MakeVertex,
)
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopoDS import TopoDS_Edge, TopoDS_Face, TopoDS_Shape, TopoDS_Shell, TopoDS_Wire

from ground.vectors import Plane, Vec
from models.solids.base import Polyhedron, pairs, vec

Edges = dict[tuple[int, int], TopoDS_Edge]


def sewn(body: Polyhedron) -> TopoDS_Shape:
    """Make the solid whose faces are the loops of ``body``."""
    builder = BRep_Builder()
    shell = TopoDS_Shell()
    builder.MakeShell(shell)
    edges = edges_of(body)
    for name, loop in body.loops.items():
        start = vec(body.points[loop[0]])
        builder.Add(shell, face(body.planes[name], start, loop, edges))
    shell.Closed(True)
    return BRepBuilderAPI_MakeSolid(shell).Solid()


def edges_of(body: Polyhedron) -> Edges:
    """One straight edge for every side that two loops share, keyed from low to high corner."""
    corners = [BRepBuilderAPI_MakeVertex(gp_Pnt(*point)).Vertex() for point in body.points.tolist()]
    return {
        (i, j): BRepBuilderAPI_MakeEdge(corners[i], corners[j]).Edge()
        for loop in body.loops.values()
        for i, j in pairs(loop)
        if i < j
    }


def face(plane: Plane, start: Vec, loop: tuple[int, ...], edges: Edges) -> TopoDS_Face:
    """One flat face, its outward normal the plane's."""
    builder = BRep_Builder()
    wire = TopoDS_Wire()
    builder.MakeWire(wire)
    for i, j in pairs(loop):
        if i < j:
            builder.Add(wire, edges[i, j].Oriented(TopAbs_Orientation.TopAbs_FORWARD))
        else:
            builder.Add(wire, edges[j, i].Oriented(TopAbs_Orientation.TopAbs_REVERSED))
    wire.Closed(True)
    return BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(*start), gp_Dir(*plane.normal)), wire, True).Face()
