"""Cuts as kernel solids to be taken away.

Wood is kept on the far side only: a cutter may stand out into the air by ``OVERCUT`` at an open
mouth, and wherever one of its walls lies on a face of the base with nothing but air beyond. So
drawings stay exact and no boolean has to tell two faces apart that lie on one another.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import assert_never

import numpy as np
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCone
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.TopoDS import TopoDS_Shape

from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, Vec, along, cross, dot, scale
from models.parts.blank import FACES, Blank, Section
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.parts.part import Part
from models.solids.base import Polyhedron, convex, convex_base
from models.solids.edges import edge_tool
from models.solids.hulls import Hull
from models.solids.pockets import around
from models.solids.sewing import sewn
from models.solids.wires import obround, prism, rod

OVERCUT = 1.0
"""How far cutters stand out into the air at open mouths (mm)."""

SECOND_OVERCUT = 2.0
"""The same when the kernel failed on the first try (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bench:
    """What cutters are fitted to, and how far they overshoot.

    ``planes`` are the flat faces of the stock, ``bounds`` close a body that holds all of it,
    ``around`` is a larger box that no cutter reaches beyond, ``body`` the base of a squared blank.
    """

    planes: tuple[Plane, ...]
    bounds: dict[str, Plane]
    corners: tuple[Vec, ...]
    around: dict[str, Plane]
    body: Polyhedron | None
    overcut: float

    def beyond(self, point: Vec, direction: Vec) -> float:
        """How far the base reaches from ``point`` in ``direction``."""
        start = dot(point, direction)
        return max(dot(corner, direction) - start for corner in self.corners)

    def ends_in_air(self, plane: Plane) -> bool:
        """Tell whether a face of the base lies on ``plane`` or behind it, looking the same way."""
        return any(
            max(abs(p - q) for p, q in zip(plane.normal, face.normal, strict=True)) <= LENGTH_EPS
            and plane.offset >= face.offset - LENGTH_EPS
            for face in self.planes
        )


def bench(part: Part, overcut: float = OVERCUT) -> Bench:
    """Lay out what the cutters of ``part`` are fitted to.

    Raises:
        BuildError: nothing is left of the part's base.
    """
    around = box_around(part.blank, 2 * SECOND_OVERCUT)
    if part.blank.section is Section.SQUARED:
        body = convex_base(part)
        return Bench(
            planes=tuple(body.planes.values()),
            bounds=body.planes,
            corners=tuple((x, y, z) for x, y, z in body.points.tolist()),
            around=around,
            body=body,
            overcut=overcut,
        )
    length, width, thickness = part.blank.size
    return Bench(
        planes=tuple(part.blank.planes().values()),
        bounds=box_around(part.blank, 0.0),
        corners=tuple(
            (x, y, z) for x in (0.0, length) for y in (0.0, width) for z in (0.0, thickness)
        ),
        around=around,
        body=None,
        overcut=overcut,
    )


def box_around(blank: Blank, margin: float) -> dict[str, Plane]:
    """The blank's box made larger by ``margin`` all round: no cutter needs to reach beyond it."""
    far = {"top": blank.thickness, "back": blank.width, "right": blank.length}
    return {
        f"around-{name}": Plane(normal, far.get(name, 0.0) + margin)
        for name, normal in FACES.items()
    }


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fitted:
    """A cutter, and the hull that tells it apart from others."""

    solid: TopoDS_Shape
    hull: Hull


def tool(cut: Cut, on: Bench) -> TopoDS_Shape | None:
    """Make the cutter for one cut; None where it removes nothing of the base's box.

    Raises:
        ValueError: the cut itself makes no sense; the message says why.
    """
    made = fitted(cut, on)
    return None if made is None else made.solid


def fitted(cut: Cut, on: Bench) -> Fitted | None:
    """Make the cutter for one cut with its hull; None where it removes nothing.

    Raises:
        ValueError: the cut itself makes no sense; the message says why.
    """
    match cut:
        case Convex():
            body = convex_bite(cut, on)
            return None if body is None else Fitted(solid=sewn(body), hull=hull_of(body))
        case Bore():
            return Fitted(solid=bore_tool(cut, on), hull=hull_around(cut, on))
        case Cone():
            return Fitted(solid=cone_tool(cut, on), hull=hull_around(cut, on))
        case Slot():
            return Fitted(solid=slot_tool(cut, on), hull=hull_around(cut, on))
        case Edge():
            if on.body is None:
                msg = "only squared stock has arrises to ease"
                raise ValueError(msg)
            edge = edge_tool(cut, on.body, on.overcut)
            return Fitted(solid=edge.solid, hull=edge.hull)
    assert_never(cut)


def convex_bite(cut: Convex, on: Bench) -> Polyhedron | None:
    """All inside the planes, as far as the blank reaches; open sides moved out into the air."""
    planes = dict(on.around)
    for place, (name, plane) in enumerate(moved_out(cut, on)):
        planes[f"{place} {name}"] = plane
    return convex(planes)


def moved_out(cut: Convex, on: Bench) -> Iterator[tuple[str, Plane]]:
    """The planes of a bite, open sides and walls in the air moved out further."""
    for name, plane in cut.planes:
        open_side = not name or on.ends_in_air(plane)
        offset = plane.offset + on.overcut if open_side else plane.offset
        yield name, Plane(plane.normal, offset)


def hull_of(body: Polyhedron) -> Hull:
    """The hull of a convex cutter is itself."""
    return Hull(
        corners=body.points, axes=np.array([plane.normal for plane in body.planes.values()])
    )


def hull_around(cut: Bore | Cone | Slot, on: Bench) -> Hull:
    """The box around a cutter, out to its mouth's overshoot and down to where it ends."""
    back = cut.lead + on.overcut if isinstance(cut, Bore) else on.overcut
    return around(cut, back, reach(cut.start, cut.into, cut.depth, on))


def bore_tool(cut: Bore, on: Bench) -> TopoDS_Shape:
    """A cylinder from behind its mouth to its floor, or out into the air where it goes through."""
    back = cut.lead + on.overcut
    depth = reach(cut.start, cut.into, cut.depth, on)
    return rod(along(cut.start, cut.into, -back), cut.into, cut.diameter, back + depth)


def cone_tool(cut: Cone, on: Bench) -> TopoDS_Shape:
    """A cone that goes on widening behind its mouth."""
    widening = (cut.diameter - cut.tip_diameter) / 2 / cut.depth
    mouth = cut.diameter / 2 + widening * on.overcut
    axis = gp_Ax2(gp_Pnt(*along(cut.start, cut.into, -on.overcut)), gp_Dir(*cut.into))
    return BRepPrimAPI_MakeCone(axis, mouth, cut.tip_diameter / 2, cut.depth + on.overcut).Solid()


def slot_tool(cut: Slot, on: Bench) -> TopoDS_Shape:
    """A round-ended prism from behind its mouth to its floor.

    Raises:
        ValueError: the slot is shorter than it is wide.
    """
    straight = cut.length - cut.width
    if straight < -LENGTH_EPS:
        msg = f"a round-ended slot {cut.width:g} wide cannot be {cut.length:g} long"
        raise ValueError(msg)
    depth = reach(cut.start, cut.into, cut.depth, on)
    start = along(cut.start, cut.into, -on.overcut)
    if straight <= LENGTH_EPS:
        return rod(start, cut.into, cut.width, on.overcut + depth)
    across = cross(cut.into, cut.along)
    outline = obround(start, cut.along, across, (cut.length, cut.width))
    return prism(outline, scale(cut.into, on.overcut + depth))


def reach(start: Vec, into: Vec, depth: float, on: Bench) -> float:
    """How deep a cutter goes: its depth, or out of the wood where that is through."""
    floor = Plane.through(along(start, into, depth), into)
    through = on.beyond(start, into) + on.overcut
    return through if depth >= through or on.ends_in_air(floor) else depth
