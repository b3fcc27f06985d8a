"""The mesh of one part for the live view: plain numbers that a browser reads without copying.

Little-endian: the number of points and of triangle corners (32 bits each), then x y z of every
point (mm), x y z of every normal, all 32-bit floats, then the corners (32 bits each).
"""

import hashlib

import numpy as np

from exporters.meshes import single
from exporters.shading import shaded
from models.solids.mesh_record import Mesh

NAME_LENGTH = 24
"""Hexadecimal digits of a mesh's name: two meshes of one name will not be met."""


def packed_mesh(mesh: Mesh, part: str) -> bytes:
    """``mesh`` with a normal at every point.

    Raises:
        BuildError: it is not closed in single precision; names the ``part``.
    """
    shape = shaded(single(mesh, part))
    counts = np.array((len(shape.points), shape.triangles.size), "<u4")
    rows = (counts, shape.points.astype("<f4"), shape.normals.astype("<f4"))
    return b"".join(row.tobytes() for row in (*rows, shape.triangles.astype("<u4")))


def mesh_name(content: bytes) -> str:
    """What a packed mesh is asked for by: the same for the same mesh."""
    return hashlib.sha256(content).hexdigest()[:NAME_LENGTH]
