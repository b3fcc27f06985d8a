"""Fill what the kernel's triangulation leaves out of a flat face.

On faces with many notches it can drop one flat piece, whatever its settings: the mesh then lacks
a few triangles within a ring of straight edges. Such rings are filled; anything else is not.
"""

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ground.tolerances import SAME_PLACE
from models.solids.hulls import cross
from models.solids.mesh_record import Mesh, Points, Triangles

Ring = list[int]


def open_edges(triangles: Triangles) -> Triangles:
    """Every directed edge (corner, corner) that has not exactly one partner the other way round."""
    edges = np.concatenate((triangles[:, (0, 1)], triangles[:, (1, 2)], triangles[:, (2, 0)]))
    size = int(triangles.max(initial=0)) + 1
    one_way, counts = np.unique(
        edges[:, 0].astype(np.int64) * size + edges[:, 1], return_counts=True
    )
    other_way = (one_way % size) * size + one_way // size
    bad = one_way[(counts > 1) | ~np.isin(other_way, one_way)]
    return np.stack((bad // size, bad % size), axis=1).astype(np.int32)


def patched(mesh: Mesh) -> Mesh:
    """``mesh`` with its flat gaps filled; as it was where a gap is not a flat ring by itself."""
    rings = rings_of(open_edges(mesh.triangles))
    if not rings or nested(mesh.points, rings):
        return mesh
    patches = [triangles for ring in rings for triangles in clipped(mesh.points, ring)]
    return Mesh(
        points=mesh.points,
        triangles=np.concatenate(
            (mesh.triangles, np.array(patches, dtype=np.int32).reshape(-1, 3))
        ),
    )


def rings_of(edges: Triangles) -> list[Ring]:
    """Chain open edges, turned round, to closed rings; none where they do not chain."""
    after = {int(end): int(start) for start, end in edges.tolist()}
    if len(after) != len(edges) or set(after) != set(after.values()):
        return []
    rings: list[Ring] = []
    while after:
        at = next(iter(after))
        ring: Ring = []
        while at in after:
            ring.append(at)
            at = after.pop(at)
        rings.append(ring)
    return rings


def nested(points: Points, rings: list[Ring]) -> bool:
    """Tell whether one ring may lie within another: then neither is filled."""
    boxes = [(points[ring].min(axis=0), points[ring].max(axis=0)) for ring in rings]
    return any(
        bool(np.all(low_a <= high_b) and np.all(low_b <= high_a))
        for (low_a, high_a), (low_b, high_b) in combinations(boxes, 2)
    )


def clipped(points: Points, ring: Ring) -> list[tuple[int, int, int]]:
    """Cut a flat ring into triangles, ear by ear; none where it is not flat."""
    corners = points[ring]
    doubled = cross(corners - corners[0], np.roll(corners, -1, axis=0) - corners[0]).sum(axis=0)
    length = float(np.sqrt(doubled @ doubled))
    if length == 0 or float(np.abs((corners - corners[0]) @ doubled).max()) > SAME_PLACE * length:
        return []
    normal = doubled / length
    left = list(ring)
    triangles: list[tuple[int, int, int]] = []
    while len(left) > 2:  # noqa: PLR2004  a triangle has three corners
        ear = next((n for n in range(len(left)) if is_ear(points, left, n, normal)), None)
        if ear is None:
            return []
        triangles.append((left[ear - 1], left[ear], left[(ear + 1) % len(left)]))
        del left[ear]
    return triangles


def is_ear(points: Points, ring: Ring, place: int, normal: NDArray[np.float64]) -> bool:
    """Tell whether a corner can be cut off: it turns left, and no other corner lies in it."""
    corners = ring[place - 1], ring[place], ring[(place + 1) % len(ring)]
    a, b, c = (points[corner] for corner in corners)
    if float(cross(b - a, c - b) @ normal) <= 0:
        return False
    others = points[[corner for corner in ring if corner not in corners]]
    if not len(others):
        return True
    sides = [cross(q - p, others - p) @ normal for p, q in ((a, b), (b, c), (c, a))]
    return not bool(np.any(np.min(sides, axis=0) >= 0))
