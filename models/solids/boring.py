"""Let free-standing holes and mortises into a solid without a boolean.

The walls and the floor of a pocket join the shell, and its rim becomes an inner ring of the face
that it opens. Only for pockets that ``models.solids.pockets`` has found to stand free.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from OCP.BRep import BRep_Builder
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeSolid
from OCP.BRepClass import BRepClass_FaceClassifier
from OCP.gp import gp_Pnt
from OCP.TopAbs import TopAbs_ShapeEnum, TopAbs_State
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import (
    TopoDS,
    TopoDS_Face,
    TopoDS_Iterator,
    TopoDS_Shape,
    TopoDS_Shell,
    TopoDS_Wire,
)

from ground.tolerances import LENGTH_EPS, SAME_PLACE
from ground.vectors import Plane, Vec, along, cross, dot, scale
from models.solids.kernel import KernelTrouble
from models.solids.planes import plane_of
from models.solids.pockets import Pocket
from models.solids.wires import obround, prism, rod


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Opening:
    """A face of a solid: its ``plane`` (None where it is not flat) and the rims let into it."""

    face: TopoDS_Face
    plane: Plane | None


def bored(body: TopoDS_Shape, pockets: Sequence[Pocket]) -> TopoDS_Shape:
    """``body`` with every pocket let in.

    Raises:
        KernelTrouble: a pocket finds no face to open.
    """
    faces = tuple(Opening(face=face, plane=plane_of(face)) for face in faces_of(body))
    rims: dict[int, list[TopoDS_Wire]] = defaultdict(list)
    walls: list[TopoDS_Face] = []
    for pocket in pockets:
        floor = along(pocket.start, pocket.into, pocket.depth)
        for face in faces_of(plug(pocket)):
            plane = plane_of(face)
            out = 0.0 if plane is None else dot(plane.normal, pocket.into)
            if out <= SAME_PLACE - 1:
                rims[opened(faces, pocket.start, scale(pocket.into, -1.0))].append(rim(face))
            elif out >= 1 - SAME_PLACE and pocket.out is not None:
                rims[opened(faces, floor, pocket.into)].append(rim(face))
            else:
                walls.append(TopoDS.Face_s(face.Reversed()))
    return closed(faces, rims, walls)


def plug(pocket: Pocket) -> TopoDS_Shape:
    """The wood that a pocket takes, to the face and no further."""
    if pocket.half <= LENGTH_EPS:
        return rod(pocket.start, pocket.into, 2 * pocket.radius, pocket.depth)
    across = cross(pocket.into, pocket.run)
    size = (2 * (pocket.half + pocket.radius), 2 * pocket.radius)
    return prism(obround(pocket.start, pocket.run, across, size), scale(pocket.into, pocket.depth))


def rim(face: TopoDS_Face) -> TopoDS_Wire:
    """The ring of one end of a plug, turned to bound what lies outside it."""
    wires = TopExp_Explorer(face, TopAbs_ShapeEnum.TopAbs_WIRE)
    return TopoDS.Wire_s(wires.Current().Reversed())


def opened(faces: Sequence[Opening], at: Vec, out: Vec) -> int:
    """Find the face that holds a place and looks ``out``.

    Raises:
        KernelTrouble: there is none.
    """
    level = [
        place
        for place, one in enumerate(faces)
        if one.plane is not None
        and dot(one.plane.normal, out) >= 1 - LENGTH_EPS
        and abs(one.plane.height(at)) <= SAME_PLACE
    ]
    if len(level) == 1:
        return level[0]
    point = gp_Pnt(*at)
    for place in level:
        side = BRepClass_FaceClassifier(faces[place].face, point, LENGTH_EPS)
        if side.State() == TopAbs_State.TopAbs_IN:
            return place
    reason = "no face is left at ({:.2f}, {:.2f}, {:.2f}) to be opened".format(*at)
    raise KernelTrouble(reason, at)


def closed(
    faces: Sequence[Opening], rims: dict[int, list[TopoDS_Wire]], walls: Sequence[TopoDS_Face]
) -> TopoDS_Shape:
    """One shell of the old faces, with their new rims, and the new walls."""
    builder = BRep_Builder()
    shell = TopoDS_Shell()
    builder.MakeShell(shell)
    for place, one in enumerate(faces):
        if place not in rims:
            builder.Add(shell, one.face)
            continue
        face = TopoDS.Face_s(one.face.EmptyCopied())
        rings = TopoDS_Iterator(one.face)
        while rings.More():
            builder.Add(face, rings.Value())
            rings.Next()
        for ring in rims[place]:
            builder.Add(face, ring)
        builder.Add(shell, face)
    for wall in walls:
        builder.Add(shell, wall)
    shell.Closed(True)
    return BRepBuilderAPI_MakeSolid(shell).Solid()


def faces_of(shape: TopoDS_Shape) -> Iterator[TopoDS_Face]:
    """Every face of a shape."""
    explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE)
    while explorer.More():
        yield TopoDS.Face_s(explorer.Current())
        explorer.Next()
