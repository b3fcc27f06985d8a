"""STL: one part as bare triangles in mm (binary; the format itself holds no unit)."""

import numpy as np

from exporters.meshes import Doubles, SingleMesh, single
from exporters.names import latin, plain
from exporters.stamp import maker
from models.solids.mesh_record import Mesh

_HEADER = 80
_FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def stl(mesh: Mesh, name: str) -> bytes:
    """``mesh`` as binary STL; the header names maker, part and unit.

    Raises:
        BuildError: the mesh is not closed in single precision.
    """
    closed = single(mesh, name)
    facets = np.zeros(len(closed.triangles), _FACET)
    facets["corners"] = closed.points[closed.triangles]
    facets["normal"] = _normals(closed)
    # Readers take a file that starts with "solid" for the other, written kind of STL.
    header = latin(f"{maker()}: {plain(name)}, mm").encode("ascii")[:_HEADER].ljust(_HEADER, b"\0")
    return header + len(facets).to_bytes(4, "little") + facets.tobytes()


def _normals(mesh: SingleMesh) -> Doubles:
    """Each triangle's unit normal, none where it has no area."""
    a, b, c = (mesh.points[mesh.triangles[:, corner]].astype(np.float64) for corner in range(3))
    product = np.cross(b - a, c - a)
    length = np.linalg.norm(product, axis=1, keepdims=True)
    return np.asarray(np.divide(product, length, out=np.zeros_like(product), where=length > 0))
