"""Straight and round edges, rods and prisms: the few kernel shapes that cutters are made of."""

from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeWire,
)
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Vec
from OCP.TopoDS import TopoDS_Edge, TopoDS_Shape

from ground.vectors import Vec, add, along, scale


def straight(start: Vec, end: Vec) -> TopoDS_Edge:
    """A straight edge."""
    return BRepBuilderAPI_MakeEdge(gp_Pnt(*start), gp_Pnt(*end)).Edge()


def arc(start: Vec, by: Vec, end: Vec) -> TopoDS_Edge:
    """A circular edge through three points."""
    curve = GC_MakeArcOfCircle(gp_Pnt(*start), gp_Pnt(*by), gp_Pnt(*end)).Value()
    return BRepBuilderAPI_MakeEdge(curve).Edge()


def prism(edges: tuple[TopoDS_Edge, ...], sweep: Vec) -> TopoDS_Shape:
    """The flat face inside a ring of edges, swept."""
    wire = BRepBuilderAPI_MakeWire()
    for edge in edges:
        wire.Add(edge)
    face = BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(*sweep)).Shape()


def rod(start: Vec, into: Vec, diameter: float, length: float) -> TopoDS_Shape:
    """A round rod from ``start`` along the unit vector ``into``."""
    axis = gp_Ax2(gp_Pnt(*start), gp_Dir(*into))
    return BRepPrimAPI_MakeCylinder(axis, diameter / 2, length).Solid()


def obround(
    centre: Vec, run: Vec, across: Vec, size: tuple[float, float]
) -> tuple[TopoDS_Edge, ...]:
    """A round-ended outline, ``size`` over all along the unit vectors ``run`` and ``across``."""
    length, width = size
    half, radius = (length - width) / 2, width / 2
    right, left = along(centre, run, half), along(centre, run, -half)
    up, down = scale(across, radius), scale(across, -radius)
    return (
        straight(add(left, down), add(right, down)),
        arc(add(right, down), along(right, run, radius), add(right, up)),
        straight(add(right, up), add(left, up)),
        arc(add(left, up), along(left, run, -radius), add(left, down)),
    )
