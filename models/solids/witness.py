"""A kernel can leave a tool out and still hand over a valid solid: has every cut been made?"""

from collections.abc import Iterable
from typing import assert_never

import numpy as np
from numpy.typing import NDArray
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepClass3d import BRepClass3d_SolidClassifier
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.gp import gp_Pnt
from OCP.TopAbs import TopAbs_ShapeEnum, TopAbs_State
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape

from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec, add, along, scale
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.solids.base import convex, vec
from models.solids.edges import section
from models.solids.hulls import cross
from models.solids.tools import Bench

Array = NDArray[np.float64]


def left_standing(body: TopoDS_Shape, asked: Iterable[tuple[str, Cut]], on: Bench) -> str | None:
    """Name a feature whose cut still holds wood in its middle; None where all are made."""
    walls = round_walls(body)
    inside = BRepClass3d_SolidClassifier(body)
    for name, cut in asked:
        if isinstance(cut, Bore) and has_wall(cut, walls):
            continue
        probe = middle(cut, on)
        if probe is None:
            continue
        inside.Perform(gp_Pnt(*probe), LENGTH_EPS)
        if inside.State() == TopAbs_State.TopAbs_IN:
            return name
    return None


def round_walls(body: TopoDS_Shape) -> Array:
    """Every cylindrical face as a row: a point of its axis, the axis, the radius."""
    rows: list[tuple[float, ...]] = []
    faces = TopExp_Explorer(body, TopAbs_ShapeEnum.TopAbs_FACE)
    while faces.More():
        surface = BRepAdaptor_Surface(TopoDS.Face_s(faces.Current()), False)
        if surface.GetType() == GeomAbs_SurfaceType.GeomAbs_Cylinder:
            wall = surface.Cylinder()
            at, axis = wall.Axis().Location(), wall.Axis().Direction()
            rows.append((at.X(), at.Y(), at.Z(), axis.X(), axis.Y(), axis.Z(), wall.Radius()))
        faces.Next()
    return np.array(rows).reshape(-1, 7)


def has_wall(cut: Bore, walls: Array) -> bool:
    """Tell whether one of ``walls`` is the wall that ``cut`` leaves."""
    alike = walls[np.abs(walls[:, 6] - cut.diameter / 2) <= LENGTH_EPS]
    arms = cross(alike[:, :3] - cut.start, np.array(cut.into))
    turns = cross(alike[:, 3:6], np.array(cut.into))
    near = (np.abs(arms).max(axis=1, initial=0.0) <= LENGTH_EPS) & (
        np.abs(turns).max(axis=1, initial=0.0) <= LENGTH_EPS
    )
    return bool(near.any())


def middle(cut: Cut, on: Bench) -> Vec | None:
    """A point well inside what ``cut`` takes from the base; None where it takes nothing."""
    match cut:
        case Bore(start=start, into=into, depth=depth):
            return along(start, into, min(depth, on.beyond(start, into)) / 2)
        case Cone(start=start, into=into, depth=depth):
            return along(start, into, depth / 2)
        case Slot(start=start, into=into, depth=depth):
            return along(start, into, min(depth, on.beyond(start, into)) / 2)
        case Convex(planes=planes):
            bite = convex(
                on.bounds | {f"{place} {name}": p for place, (name, p) in enumerate(planes)}
            )
            return None if bite is None else vec(bite.points.mean(axis=0))
        case Edge():
            return middle_of_arris(cut, on)
    assert_never(cut)


def middle_of_arris(cut: Edge, on: Bench) -> Vec | None:
    """Half way into what comes off the middle of an arris."""
    arris = None if on.body is None else on.body.arris(*cut.between)
    if arris is None or on.body is None:
        return None
    corner = section(arris, on.body)
    half_way = scale(add(arris.start, arris.end), 0.5)
    return along(half_way, corner.bisector, -corner.bite(cut) / 2)
