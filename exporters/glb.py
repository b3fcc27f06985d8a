"""GLB: the whole piece for viewers, as glTF 2.0 in one binary file (metres, Y up).

Every mesh stands in its part's own axes; a node carries it to its place. The turn from Z up to
Y up is part of each node's placement, so what a node's extras say of its motion holds in the
axes of its parent and of the scene alike.
"""

import json
from collections.abc import Mapping
from typing import Any

from numpy.typing import NDArray

from exporters.looks import Look
from exporters.meshes import single
from exporters.names import plain
from exporters.shading import ShadedMesh, shaded
from exporters.stamp import maker
from exporters.tree import Group, title, tree
from ground.vectors import Frame, Vec, scale
from models.parts.assembly import Assembly, Copy, Motion, Mover
from models.solids.mesh_record import Mesh

METRE = 0.001
"""Metres a millimetre."""
Y_UP = Frame((1.0, 0.0, 0.0), (0.0, 0.0, -1.0))
"""From the axes of a piece (Z up) to those of glTF (Y up, the front towards +Z)."""

_MAGIC, _VERSION, _JSON, _BINARY = b"glTF", 2, b"JSON", b"BIN\0"
_FLOAT, _SHORT, _INT = 5126, 5123, 5125
_POINTS, _INDICES = 34962, 34963
_SHORTEST_INT = 65535  # glTF 2.0, 3.7.2.1: the highest index of 16 bits restarts a primitive

Json = dict[str, Any]


def piece_glb(assembly: Assembly, meshes: Mapping[str, Mesh], looks: Mapping[str, Look]) -> bytes:
    """The closed piece; parts without a mesh are left out.

    A copy's node is named by its id and carries ``id, label, kind, group, moves`` in extras;
    ``moves`` is None, or the mover's ``id, kind, axis, origin, limit, unit`` with lengths in
    metres and a swing in degrees.

    Raises:
        BuildError: a mesh is not closed in single precision.
    """
    return _Scene(assembly, looks).file(meshes)


class _Scene:
    """The document while it is being written: each list of glTF, and the buffer."""

    def __init__(self, assembly: Assembly, looks: Mapping[str, Look]) -> None:
        self.assembly = assembly
        self.looks = looks
        self.parts = {part.label: part for part in assembly.parts}
        self.movers = {mover.id: mover for mover in assembly.movers}
        self.nodes: list[Json] = []
        self.meshes: list[Json] = []
        self.materials: list[Json] = []
        self.accessors: list[Json] = []
        self.views: list[Json] = []
        self.buffer = bytearray()
        self.mesh_of: dict[str, int] = {}
        self.material_of: dict[Look, int] = {}

    def file(self, meshes: Mapping[str, Mesh]) -> bytes:
        """The whole file's bytes."""
        stood = {copy.label for copy in self.assembly.copies}
        for part in self.assembly.parts:
            if part.label in meshes and part.label in stood:
                self.mesh_of[part.label] = self.mesh(part.label, meshes[part.label])
        root = self.group(tree(self.assembly, self.mesh_of))
        document: Json = {
            "asset": {"version": "2.0", "generator": maker()},
            "scene": 0,
            "scenes": [{"name": plain(self.assembly.name), "nodes": [root]}],
            "nodes": self.nodes,
        }
        if self.meshes:
            document |= {
                "meshes": self.meshes,
                "materials": self.materials,
                "accessors": self.accessors,
                "bufferViews": self.views,
                "buffers": [{"byteLength": len(self.buffer)}],
            }
        return _container(document, bytes(self.buffer))

    def group(self, group: Group) -> int:
        """Add a group's node after all that stands in it, and say its place."""
        children = [self.group(inner) for inner in group.groups]
        children += [self.copy(copy) for copy in group.copies]
        extras = {
            "id": None,
            "label": None,
            "kind": "group" if group.path else "piece",
            "group": [plain(name) for name in group.path],
            "moves": None,
        }
        node: Json = {"name": plain(group.name), "extras": extras}
        if children:
            node["children"] = children
        self.nodes.append(node)
        return len(self.nodes) - 1

    def copy(self, copy: Copy) -> int:
        """Add the node of one copy, and say its place."""
        place = copy.placement.then(Y_UP)
        mover = self.movers[copy.mover] if copy.mover else None
        extras = {
            "id": plain(copy.id),
            "label": plain(copy.label),
            "kind": str(self.parts[copy.label].kind),
            "group": [plain(name) for name in copy.group],
            "moves": _moves(mover) if mover else None,
        }
        node = {
            "name": plain(copy.id),
            "translation": _row(scale(place.origin, METRE)),
            "rotation": _quaternion(place),
            "mesh": self.mesh_of[copy.label],
            "extras": extras,
        }
        self.nodes.append(node)
        return len(self.nodes) - 1

    def mesh(self, label: str, mesh: Mesh) -> int:
        """Add the mesh of one part with its look, and say its place."""
        part = self.parts[label]
        shape = shaded(single(mesh, title(label, part.name), scale=METRE))
        primitive = {
            "attributes": {
                "POSITION": self.points(shape),
                "NORMAL": self.accessor(shape.normals.astype("<f4"), "VEC3", _FLOAT, _POINTS),
            },
            "indices": self.indices(shape),
            "material": self.material(self.looks[label]),
        }
        self.meshes.append({"name": plain(title(label, part.name)), "primitives": [primitive]})
        return len(self.meshes) - 1

    def points(self, shape: ShadedMesh) -> int:
        """Add the points with their box, and say their place."""
        place = self.accessor(shape.points.astype("<f4"), "VEC3", _FLOAT, _POINTS)
        self.accessors[place]["min"] = [float(value) for value in shape.points.min(axis=0)]
        self.accessors[place]["max"] = [float(value) for value in shape.points.max(axis=0)]
        return place

    def indices(self, shape: ShadedMesh) -> int:
        """Add the triangles in the shortest integers that hold them, and say their place."""
        flat = shape.triangles.reshape(-1)
        if len(shape.points) <= _SHORTEST_INT:
            return self.accessor(flat.astype("<u2"), "SCALAR", _SHORT, _INDICES)
        return self.accessor(flat.astype("<u4"), "SCALAR", _INT, _INDICES)

    def accessor(self, values: NDArray[Any], kind: str, component: int, target: int) -> int:
        """Add numbers to the buffer, from a multiple of four bytes on, and say their place."""
        self.buffer += bytes(-len(self.buffer) % 4)
        data = values.tobytes()
        view = {
            "buffer": 0,
            "byteOffset": len(self.buffer),
            "byteLength": len(data),
            "target": target,
        }
        self.buffer += data
        self.views.append(view)
        self.accessors.append(
            {
                "bufferView": len(self.views) - 1,
                "componentType": component,
                "count": len(values),
                "type": kind,
            }
        )
        return len(self.accessors) - 1

    def material(self, look: Look) -> int:
        """Add a look that is not there yet, and say its place."""
        if look not in self.material_of:
            surface = {
                "baseColorFactor": [*_row(look.linear), 1.0],
                "metallicFactor": look.metalness,
                "roughnessFactor": look.roughness,
            }
            self.materials.append({"name": plain(look.name), "pbrMetallicRoughness": surface})
            self.material_of[look] = len(self.materials) - 1
        return self.material_of[look]


def _container(document: Json, binary: bytes) -> bytes:
    """The chunks of a GLB file, each filled up to a multiple of four bytes."""
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":")).encode()
    chunks = _chunk(_JSON, text + b" " * (-len(text) % 4))
    if binary:
        chunks += _chunk(_BINARY, binary + bytes(-len(binary) % 4))
    return _MAGIC + _word(_VERSION) + _word(12 + len(chunks)) + chunks


def _chunk(kind: bytes, data: bytes) -> bytes:
    return _word(len(data)) + kind + data


def _word(number: int) -> bytes:
    return number.to_bytes(4, "little")


def _row(vector: Vec) -> list[float]:
    """A vector as JSON, short and without negative zeros."""
    return [round(value, 12) + 0.0 for value in vector]


def _moves(mover: Mover) -> Json:
    """How a mover moves, in the axes of glTF."""
    slides = mover.kind is Motion.SLIDES
    return {
        "id": plain(mover.id),
        "kind": str(mover.kind),
        "axis": _row(Y_UP.direction(mover.axis)),
        "origin": _row(scale(Y_UP.point(mover.origin), METRE)),
        "limit": round(mover.limit * METRE if slides else mover.limit, 12),
        "unit": "m" if slides else "deg",
    }


def _quaternion(frame: Frame) -> list[float]:
    """The frame's turn as ``x y z w``, from the largest entry so that no digit is lost."""
    (a, d, g), (b, e, h), (c, f, i) = frame.x, frame.y, frame.z
    fourfold = (
        (1 + a - e - i, b + d, g + c, h - f),
        (b + d, 1 - a + e - i, f + h, c - g),
        (g + c, f + h, 1 - a - e + i, d - b),
        (h - f, c - g, d - b, 1 + a + e + i),
    )
    best = max(fourfold, key=max)
    length = sum(value**2 for value in best) ** 0.5
    return [round(value / length, 12) + 0.0 for value in best]
