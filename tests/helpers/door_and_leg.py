"""A small made-up piece whose every number is known: two boards, a splayed leg, a dowel."""

import math
from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold
from manifold3d import Mesh as ManifoldMesh

from exporters.looks import Look, looks
from ground.vectors import Frame, Plane, meet
from models.parts.assembly import Assembly, Copy, Motion, Mover
from models.parts.blank import Blank, Section
from models.parts.part import Part, PartKind
from models.solids.mesh_record import Mesh

BORE, BORE_AT, GROOVE = 35.0, (22.5, 100.0), (60.0, 6.0, 8.0)
"""A cup's bore through the door; a groove across it: from x on, wide, deep (mm)."""
DOOR, LEG_HEIGHT, DOWEL = (600.0, 397.25, 18.6), 190.0, (40.0, 8.0)

HUNG = Frame((0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (12.0, 2.0, 190.0))
"""The door upright: its length plumb, its width along the piece."""
_TILT = math.radians(30.0)
LEANT = Frame((math.cos(_TILT), math.sin(_TILT), 0.0), (0.0, 0.0, 1.0), (100.0, 50.0, 20.0))

DOOR_PART = Part(
    label="F1",
    name="Tür, links / 'große'",
    kind=PartKind.SHEET,
    material="panel",
    blank=Blank(length=DOOR[0], width=DOOR[1], thickness=DOOR[2]),
)
LEG_PART = Part(
    label="B1",
    name="leg <front> & left",
    kind=PartKind.LUMBER,
    material="oak",
    blank=Blank(length=LEG_HEIGHT, width=58.0, thickness=58.0),
)
DOWEL_PART = Part(
    label="L1",
    name="dowel",
    kind=PartKind.LOOSE,
    material=None,
    blank=Blank(length=DOWEL[0], width=DOWEL[1], thickness=DOWEL[1], section=Section.ROUND),
)

PIECE = Assembly(
    name="Kästchen 棚",
    parts=(LEG_PART, DOOR_PART, DOWEL_PART),
    copies=(
        Copy(id="B1.1", label="B1", group=("base",), placement=Frame()),
        Copy(id="F1.1", label="F1", group=("doors", "left"), placement=HUNG, mover="door 1"),
        Copy(id="F1.2", label="F1", group=("doors", "right"), placement=LEANT, mover="drawer 1"),
        Copy(id="L1.1", label="L1", group=(), placement=LEANT),
    ),
    movers=(
        Mover(
            id="door 1",
            kind=Motion.TURNS,
            axis=(0.0, 0.0, 1.0),
            origin=(12.0, 2.0, 190.0),
            limit=110.0,
            copies=("F1.1",),
        ),
        Mover(
            id="drawer 1",
            kind=Motion.SLIDES,
            axis=(0.0, -1.0, 0.0),
            origin=(0.0, 0.0, 0.0),
            limit=350.0,
            copies=("F1.2",),
        ),
    ),
)
SEEN = {"oak": "white oak", "panel": "linoleum"}
LOOKS: dict[str, Look] = looks(PIECE, SEEN)


@dataclass(frozen=True, slots=True)
class Known:
    """A part's mesh and what it must measure (mm3)."""

    mesh: Mesh
    volume: float


def leg_planes() -> tuple[Plane, ...]:
    """A leg tapered from 58 to 30 at the foot and splayed by 9 and 4 degrees; x up from the foot.

    The foot stands centred under the middle of the top, moved out by the splay.
    """
    out = (LEG_HEIGHT * math.tan(math.radians(9.0)), LEG_HEIGHT * math.tan(math.radians(4.0)))
    planes = [Plane((-1.0, 0.0, 0.0), 0.0), Plane((1.0, 0.0, 0.0), LEG_HEIGHT)]
    for axis, moved in zip((1, 2), out, strict=True):
        for sign in (-1.0, 1.0):
            top, foot = sign * 29.0, sign * 15.0 + moved
            normal = [0.0, 0.0, 0.0]
            normal[0], normal[axis] = sign * (foot - top) / LEG_HEIGHT, sign
            point = [LEG_HEIGHT, 0.0, 0.0]
            point[axis] = top
            planes.append(
                Plane.through((point[0], point[1], point[2]), (normal[0], normal[1], normal[2]))
            )
    return tuple(planes)


def leg_corners() -> list[tuple[float, float, float]]:
    """The eight corners of the leg."""
    ends, fronts, sides = leg_planes()[:2], leg_planes()[2:4], leg_planes()[4:]
    return [meet(end, front, side) for end in ends for front in fronts for side in sides]


def mesh_of(solid: Manifold) -> Mesh:
    """A manifold's mesh as ours."""
    found: ManifoldMesh = solid.to_mesh()
    points = np.asarray(found.vert_properties, np.float64)[:, :3]
    return Mesh(points=points, triangles=np.asarray(found.tri_verts, np.int32))


def rod(length: float, diameter: float, facets: int) -> Manifold:
    """A rod along z from the origin."""
    return Manifold.cylinder(length, diameter / 2, circular_segments=facets)


def known_meshes() -> dict[str, Known]:
    """Every part's mesh beside its volume, worked without a kernel."""
    at, wide, deep = GROOVE
    door = Manifold.cube(DOOR)
    door -= rod(DOOR[2] + 2, BORE, 32).translate((*BORE_AT, -1.0))
    # The groove is cut clear of the bore: its volume is its own three sizes.
    door -= Manifold.cube((wide, DOOR[1] + 2, deep + 1)).translate((at, -1.0, DOOR[2] - deep))
    bore = 32 * BORE**2 / 8 * math.sin(math.tau / 32) * DOOR[2]
    leg = Manifold.hull_points(leg_corners())
    # Prismatoid: ends 58 x 58 and 30 x 30, mid section 44 x 44.
    leg_volume = LEG_HEIGHT / 6 * (58**2 + 30**2 + 4 * 44**2)
    dowel = rod(DOWEL[0], DOWEL[1], 16).rotate((0.0, 90.0, 0.0)).translate((0.0, 4.0, 4.0))
    dowel_volume = 16 * DOWEL[1] ** 2 / 8 * math.sin(math.tau / 16) * DOWEL[0]
    return {
        "F1": Known(mesh_of(door), math.prod(DOOR) - bore - wide * deep * DOOR[1]),
        "B1": Known(mesh_of(leg), leg_volume),
        "L1": Known(mesh_of(dowel), dowel_volume),
    }


def meshes() -> dict[str, Mesh]:
    """Every part's mesh by label."""
    return {label: known.mesh for label, known in known_meshes().items()}
