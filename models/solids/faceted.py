"""A part as a faceted body, without the CAD kernel: quick enough for a picture that follows a text.

Flat walls are exact. A round wall is a few flat strips that hold the area of its circle, so that a
hole standing free takes its true volume. Only pictures come from here, and each is held against
the exact solid, which is shown in its place where the two measure differently.
"""

import contextlib
import math
import os
from dataclasses import dataclass
from functools import cache
from typing import assert_never

import numpy as np
from manifold3d import Error, Manifold, OpType
from numpy.typing import NDArray

from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec, along, cross, neg
from models.parts.cuts import Bore, Cone, Convex, Edge, Slot
from models.parts.part import Part
from models.solids.cutters import cuts_left
from models.solids.mesh_record import Mesh
from models.solids.pockets import square_to
from models.solids.records import Measured, PlaneFace
from models.solids.tools import Bench, bench, moved_out, reach
from models.solids.walls import walls

Array = NDArray[np.float64]

SAG = 0.2
"""About so far a chord leaves its arc (mm): no eye sees it in a picture."""

LEAST = 16
"""Strips that the smallest round wall has: as many as any hole up to 20 mm has for its sag, so that
a countersink and its hole meet strip on strip. Strips meet at 23 degrees, which shading takes for
one surface (``exporters.shading.ARRIS``)."""

NARROW = 0.85
"""A strip is this wide at most, measured by its length: shading takes wider ones for flats."""

MOST = 64
"""Strips that a wall has for the sake of its shading at most: a shallow mark may look flat."""

ON_PLANE = 1e-5
"""A corner this close to a plane lies on it (mm)."""

SEEN = 1e-6
"""A triangle smaller than this shows nothing of its plane (mm2)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Faceted:
    """A closed mesh, and what it measures: volume, box, and the flat faces that it shows."""

    mesh: Mesh
    measured: Measured


def faceted(part: Part) -> Faceted | None:
    """Make ``part`` of flat facets; None where only the solid will do.

    That is a part with a rounded section or an eased arris, and one of which nothing or more than
    one piece is left: the solid then says why.

    Raises:
        BuildError: nothing is left of the part's base.
    """
    on = bench(part)
    if on.body is None:
        return None
    bodies = [Manifold.hull_points(on.body.points)]
    for _, cut in cuts_left(part):
        if isinstance(cut, Edge):
            return None
        try:
            bodies.append(bite(cut, on))
        except (ValueError, ZeroDivisionError):  # a senseless cut: the solid names it
            return None
    left = Manifold.batch_boolean(bodies, OpType.Subtract)
    if left.status() != Error.NoError or len(left.decompose()) != 1:
        return None
    net = left.to_mesh64()
    mesh = Mesh(
        points=np.array(net.vert_properties[:, :3], dtype=np.float64) + 0.0,
        triangles=np.array(net.tri_verts, dtype=np.int32),
    )
    measured = Measured(volume=left.volume(), box=mesh.box(), faces=flat_faces(mesh, part, on))
    return Faceted(mesh=mesh, measured=measured)


def stay_on_one_core() -> None:
    """Have the mesh library start no threads in this process: others have work for the other cores.

    It looks once, at its first boolean, how many cores the process may have. Where the system
    cannot be told, it takes all.
    """
    if not hasattr(os, "sched_setaffinity"):
        return
    every = os.sched_getaffinity(0)
    with contextlib.suppress(OSError):
        try:
            os.sched_setaffinity(0, {min(every)})
            (Manifold.cube((1.0, 1.0, 1.0)) - Manifold.cube((0.5, 0.5, 0.5))).num_vert()
        finally:
            os.sched_setaffinity(0, every)


def bite(cut: Convex | Bore | Cone | Slot, on: Bench) -> Manifold:
    """What one cut takes away, out into the air where it is open.

    Raises:
        ValueError: there is no such bite.
        ZeroDivisionError: a cone without a depth.
    """
    match cut:
        case Convex():
            return wedge(cut, on)
        case Bore(start=start, into=into):
            back = cut.lead + on.overcut
            deep = reach(start, into, cut.depth, on)
            ring = circle(cut.diameter / 2, deep)
            depth = back + deep
            return swept(along(start, into, -back), (square_to(into), into), (ring, ring), depth)
        case Cone(start=start, into=into):
            widening = (cut.diameter - cut.tip_diameter) / 2 / cut.depth * on.overcut
            ring = circle(cut.diameter / 2, cut.depth)
            ends = (
                ring * (1 + 2 * widening / cut.diameter),
                ring * cut.tip_diameter / cut.diameter,
            )
            mouth = along(start, into, -on.overcut)
            return swept(mouth, (square_to(into), into), ends, cut.depth + on.overcut)
        case Slot(start=start, into=into):
            deep = reach(start, into, cut.depth, on)
            ring = round_ended(cut.length, cut.width, deep)
            mouth = along(start, into, -on.overcut)
            return swept(mouth, (cut.along, into), (ring, ring), on.overcut + deep)
    assert_never(cut)


def wedge(cut: Convex, on: Bench) -> Manifold:
    """All inside the planes, as far as a box around the blank reaches."""
    low, high = np.min(on.corners, axis=0), np.max(on.corners, axis=0)
    margin = 4 * on.overcut
    body = Manifold.cube(tuple(high - low + 2 * margin)).translate(tuple(low - margin))
    for _, plane in moved_out(cut, on):
        body = body.trim_by_plane(neg(plane.normal), -plane.offset)
    return body


def swept(start: Vec, way: tuple[Vec, Vec], ends: tuple[Array, Array], depth: float) -> Manifold:
    """A prism or a cone between two outlines, ``way`` their first axis and the way down."""
    run, into = way
    axes = np.array((run, cross(into, run)))
    near = np.array(start) + ends[0] @ axes
    far = np.array(along(start, into, depth)) + ends[1] @ axes
    return Manifold.hull_points(np.vstack((near, far)))


def circle(radius: float, depth: float) -> Array:
    """Corners of a regular outline that holds a circle's area, ``depth`` deep (n, 2).

    Raises:
        ValueError: there is no such circle.
    """
    ring = upright_ring(strips(radius, depth))
    turn = 2 * math.pi / len(ring)
    return ring * radius * math.sqrt(turn / math.sin(turn))


def round_ended(length: float, width: float, depth: float) -> Array:
    """Corners of a round-ended outline that holds its true area, its straight sides exact (n, 2).

    Raises:
        ValueError: it is shorter than it is wide.
    """
    radius, straight = width / 2, length - width
    if straight < -LENGTH_EPS:
        msg = f"a round-ended slot {width:g} wide cannot be {length:g} long"
        raise ValueError(msg)
    count = strips(radius, depth)
    ring = upright_ring(count)[np.arange(-(count // 4), count // 4 + 1)]
    # Half a circle's area, pi r^2 / 2, in count / 2 triangles about its middle: the first and the
    # last between r, where the straight sides begin, and a wider radius, the others between two
    # of those.
    inner = count // 2 - 2
    wider = (math.sqrt(1 + inner * math.pi / math.sin(2 * math.pi / count)) - 1) / inner
    ring[1:-1] *= wider
    end = ring * radius + (straight / 2, 0.0)
    return np.vstack((end, -end))


def strips(radius: float, depth: float) -> int:
    """How many strips a round wall so deep has: a multiple of four.

    Raises:
        ValueError: there is no such wall.
    """
    if radius <= 0 or depth <= 0:
        msg = f"a hole cannot be {2 * radius:g} across and {depth:g} deep"
        raise ValueError(msg)
    for_sag = math.pi / math.acos(1 - SAG / radius) if radius > SAG else 0.0
    for_shading = 2 * math.pi * radius / (NARROW * depth)
    return max(LEAST, 4 * math.ceil(for_sag / 4), min(4 * math.ceil(for_shading / 4), MOST))


@cache
def upright_ring(count: int) -> Array:
    """``count`` places round the unit circle (n, 2), among them those on both axes."""
    turns = np.arange(count) * (2 * math.pi / count)
    return np.column_stack((np.cos(turns), np.sin(turns)))


def flat_faces(mesh: Mesh, part: Part, on: Bench) -> tuple[PlaneFace, ...]:
    """Every plane that the part can show and does show, in the order of its features."""
    expected = walls(part, on.body)
    normals = np.array([wall.plane.normal for wall in expected])
    offsets = np.array([wall.plane.offset for wall in expected])
    near = np.abs(mesh.points @ normals.T - offsets) <= ON_PLANE
    a, b, c = mesh.triangles.T
    doubled = np.cross(mesh.points[b] - mesh.points[a], mesh.points[c] - mesh.points[a])
    lies_on = near[a] & near[b] & near[c] & (doubled @ normals.T > 2 * SEEN)
    first = np.argmax(lies_on, axis=1)[lies_on.any(axis=1)]
    return tuple(expected[place] for place in np.unique(first).tolist())
