"""Meshes in single precision that stay closed: what STL, 3MF and GLB can hold."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ground.errors import BuildError
from models.solids.mesh_record import Mesh

Singles = NDArray[np.float32]
Doubles = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class SingleMesh:
    """A closed mesh of 32-bit floats: no two points alike, no triangle without a side."""

    points: Singles
    triangles: Indices


def single(mesh: Mesh, name: str, *, scale: float = 1.0) -> SingleMesh:
    """``mesh`` times ``scale`` in single precision, welded anew where rounding joins points.

    Raises:
        BuildError: it is not closed, or rounding leaves it open; names the part.
    """
    rounded = (np.asarray(mesh.points, np.float64) * scale).astype(np.float32) + np.float32(0.0)
    points, place = np.unique(rounded, axis=0, return_inverse=True)
    triangles = place.reshape(-1)[np.asarray(mesh.triangles, np.int64)]
    triangles = _without_flaps(triangles[_sound(triangles)])
    if not is_closed(triangles):
        raise BuildError(name, "mesh", "it is not closed in single precision")
    used, order = np.unique(triangles, return_inverse=True)
    return SingleMesh(points=points[used], triangles=order.reshape(-1, 3))


def _sound(triangles: Indices) -> NDArray[np.bool_]:
    a, b, c = triangles.T
    return np.asarray((a != b) & (b != c) & (c != a))


def _without_flaps(triangles: Indices) -> Indices:
    """``triangles`` less each pair on the same three corners: rounding left nothing between."""
    corners = np.sort(triangles, axis=1)
    _, which, count = np.unique(corners, axis=0, return_inverse=True, return_counts=True)
    return np.asarray(triangles[count[which.reshape(-1)] == 1])


def is_closed(triangles: Indices) -> bool:
    """Tell whether every side is run through once each way: closed, and turned one way."""
    if not len(triangles):
        return False
    starts, ends = triangles.reshape(-1), triangles[:, (1, 2, 0)].reshape(-1)
    top = int(triangles.max()) + 1
    there, back = np.sort(starts * top + ends), np.sort(ends * top + starts)
    return bool(np.all(there[1:] != there[:-1]) and np.array_equal(there, back))
