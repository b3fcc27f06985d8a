"""What a solid measures: volume, exact box, and its planes by name."""

import math
from collections.abc import Iterator

import cadquery as cq
import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.GeomAbs import GeomAbs_CurveType
from OCP.gp import gp_Circ, gp_Dir, gp_Elips, gp_Pnt
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp, TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape
from OCP.TopTools import TopTools_IndexedMapOfShape

from ground.errors import BuildError
from ground.vectors import Plane, Vec, dot
from models.parts.part import Part
from models.solids.base import spoken
from models.solids.planes import plane_of
from models.solids.records import Box, Measured, PlaneFace
from models.solids.tools import SECOND_OVERCUT, bench
from models.solids.walls import open_sides, walls

SAME_DIRECTION = 1e-7
"""Outward normals whose entries are closer than this are one plane's."""

SAME_HEIGHT = 1e-5
"""Planes of one direction closer than this are one plane (mm)."""

SAMPLES = 65
"""Places on a curve that is neither straight nor round, between which its extremes are sought."""

HALVINGS = 60
"""Narrowings by a third: 1e-10 of the space between two samples."""


def measure(solid: cq.Solid, part: Part) -> Measured:
    """Measure the solid of ``part``.

    Raises:
        BuildError: it shows a plane that no cut of the part leaves.
    """
    return Measured(volume=solid.Volume(), box=exact_box(solid.wrapped), faces=faces(solid, part))


def faces(solid: cq.Solid, part: Part) -> tuple[PlaneFace, ...]:
    """One record a plane and outward normal, in the order of the part's features.

    Raises:
        BuildError: a plane belongs to no cut.
    """
    expected = walls(part, bench(part).body)
    normals = np.array([wall.plane.normal for wall in expected])
    offsets = np.array([wall.plane.offset for wall in expected])
    found: dict[int, Plane] = {}
    for plane in flat(solid.wrapped):
        turned = np.abs(normals - plane.normal).max(axis=1)
        alike = (turned <= SAME_DIRECTION) & (np.abs(offsets - plane.offset) <= SAME_HEIGHT)
        if not alike.any():
            raise unexplained(plane, part)
        found.setdefault(int(np.flatnonzero(alike)[0]), plane)
    return tuple(
        PlaneFace(name=wall.name, plane=found[place], made_by=wall.made_by)
        for place, wall in enumerate(expected)
        if place in found
    )


def unexplained(plane: Plane, part: Part) -> BuildError:
    """Say which plane is too many, and which cut leaves wood where it says it is open."""
    x, y, z = plane.normal
    where = f"a face looking ({x:.4f}, {y:.4f}, {z:.4f}) at {plane.offset:.4f}"
    for name, side in open_sides(part):
        behind = side.offset - plane.offset
        if dot(side.normal, plane.normal) >= 1 - SAME_DIRECTION and 0 <= behind <= SECOND_OVERCUT:
            return BuildError(spoken(part), name, f"{where} stands behind its open side")
    return BuildError(spoken(part), "faces", f"{where} is left by no cut")


def flat(shape: TopoDS_Shape) -> Iterator[Plane]:
    """The plane of every flat face, normals outward."""
    explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE)
    while explorer.More():
        face = TopoDS.Face_s(explorer.Current())
        explorer.Next()
        plane = plane_of(face)
        if plane is not None:
            yield plane


def exact_box(shape: TopoDS_Shape) -> Box:
    """The box around a solid of planes, cylinders and cones: all of it lies between its edges."""
    points = [point for curve in curves(shape) for point in extremes(curve)]
    low = [min(point[axis] for point in points) + 0.0 for axis in range(3)]
    high = [max(point[axis] for point in points) + 0.0 for axis in range(3)]
    return ((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def curves(shape: TopoDS_Shape) -> Iterator[BRepAdaptor_Curve]:
    """Every edge's curve, once; points that stand for an edge left out."""
    edges = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(shape, TopAbs_ShapeEnum.TopAbs_EDGE, edges)
    for number in range(1, edges.Extent() + 1):
        curve = BRepAdaptor_Curve()
        curve.Initialize(TopoDS.Edge_s(edges.FindKey(number)))
        if curve.Is3DCurve():
            yield curve


def extremes(curve: BRepAdaptor_Curve) -> Iterator[Vec]:
    """The ends of a curve, and where it is highest and lowest along each axis in between."""
    first, last = curve.FirstParameter(), curve.LastParameter()
    yield triple(curve.Value(first))
    yield triple(curve.Value(last))
    match curve.GetType():
        case GeomAbs_CurveType.GeomAbs_Line:
            return
        case GeomAbs_CurveType.GeomAbs_Circle:
            circle = curve.Circle()
            turns = turning(circle, (circle.Radius(), circle.Radius()))
        case GeomAbs_CurveType.GeomAbs_Ellipse:
            ellipse = curve.Ellipse()
            turns = turning(ellipse, (ellipse.MajorRadius(), ellipse.MinorRadius()))
        case _:
            yield from sought(curve, first, last)
            return
    for turn in turns:
        at = first + (turn - first) % (2 * math.pi)
        if at < last:
            yield triple(curve.Value(at))


def sought(curve: BRepAdaptor_Curve, first: float, last: float) -> Iterator[Vec]:
    """The highest and the lowest point along each axis of any curve, by halving from samples."""
    places = np.linspace(first, last, SAMPLES)
    samples = np.array([triple(curve.Value(place)) for place in places])
    for axis in range(3):
        for sign in (1.0, -1.0):
            best = int(np.argmax(sign * samples[:, axis]))
            low, high = places[max(best - 1, 0)], places[min(best + 1, SAMPLES - 1)]
            for _ in range(HALVINGS):
                left, right = low + (high - low) / 3, high - (high - low) / 3
                rises = sign * (triple(curve.Value(right))[axis] - triple(curve.Value(left))[axis])
                low, high = (left, high) if rises > 0 else (low, right)
            yield triple(curve.Value((low + high) / 2))


def turning(conic: gp_Circ | gp_Elips, radii: tuple[float, float]) -> Iterator[float]:
    """The angles at which a circle or an ellipse turns back along each axis (radians)."""
    right, up = direction(conic.XAxis().Direction()), direction(conic.YAxis().Direction())
    for axis in range(3):
        angle = math.atan2(up[axis] * radii[1], right[axis] * radii[0])
        yield angle
        yield angle + math.pi


def triple(point: gp_Pnt) -> Vec:
    """Three plain floats."""
    return (point.X(), point.Y(), point.Z())


def direction(towards: gp_Dir) -> Vec:
    """Three plain floats."""
    return (towards.X(), towards.Y(), towards.Z())
