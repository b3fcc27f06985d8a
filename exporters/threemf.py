"""3MF: a part or the whole piece as coloured, named meshes in mm (3MF core, materials, production).

The library has no build for some machines: ask ``available`` first, ``why_not`` says the rest.
"""

from collections.abc import Mapping
from functools import cache
from typing import Any
from uuid import NAMESPACE_OID, uuid5

import numpy as np

from exporters.looks import Look
from exporters.meshes import SingleMesh, single
from exporters.names import plain
from exporters.stamp import PROGRAM, maker
from exporters.tree import Group, title, tree
from ground.vectors import Frame
from models.parts.assembly import Assembly
from models.solids.mesh_record import Mesh

_DIGITS = 6
"""Decimals of a coordinate: meshes are welded at 0.00001 mm, and with more the library's own
rounding turns 18 into 17.999998976."""


@cache
def _library() -> tuple[Any, str | None]:
    """The library, or None and why there is none."""
    try:
        import lib3mf

        lib3mf.get_wrapper()
    except (ImportError, OSError) as trouble:
        return None, f"the 3MF library does not load here ({trouble})"
    return lib3mf, None


def available() -> bool:
    """Tell whether 3MF can be written on this machine."""
    return _library()[0] is not None


def why_not() -> str | None:
    """Why 3MF cannot be written on this machine, None where it can."""
    return _library()[1]


def part_3mf(mesh: Mesh, name: str, look: Look) -> bytes:
    """One part in its own axes.

    Raises:
        BuildError: the mesh is not closed in single precision.
        RuntimeError: the library is missing; ask ``available`` first.
    """
    document = _Document(name)
    document.stand(document.mesh(name, name, single(mesh, name), look), Frame(), name)
    return document.file()


def piece_3mf(assembly: Assembly, meshes: Mapping[str, Mesh], looks: Mapping[str, Look]) -> bytes:
    """The closed piece: one mesh a distinct part, a component a copy; no mesh, no copy.

    Raises:
        BuildError: a mesh is not closed in single precision.
        RuntimeError: the library is missing; ask ``available`` first.
    """
    document = _Document(assembly.name)
    stood = {copy.label for copy in assembly.copies}
    objects = {}
    for part in assembly.parts:
        if part.label in meshes and part.label in stood:
            name = title(part.label, part.name)
            shape = single(meshes[part.label], name)
            objects[part.label] = document.mesh(part.label, name, shape, looks[part.label])
    root = document.group(tree(assembly, objects), objects)
    if root is not None:
        document.stand(root, Frame(), assembly.name)
    return document.file()


class _Document:
    """A model of the library, with names for ids so that every run gives the same bytes."""

    def __init__(self, name: str) -> None:
        self.kit, reason = _library()
        if reason:
            raise RuntimeError(reason)
        self.wrapper = self.kit.get_wrapper()
        self.model = self.wrapper.CreateModel()
        self.model.SetUnit(self.kit.ModelUnit.MilliMeter)
        self.model.SetBuildUUID(_uuid("build"))
        about = self.model.GetMetaDataGroup()
        about.AddMetaData("", "Title", plain(name), "xs:string", True)  # noqa: FBT003 - the library's
        about.AddMetaData("", "Application", maker(), "xs:string", True)  # noqa: FBT003
        self.materials: Any = None
        self.material_of: dict[Look, int] = {}

    def mesh(self, key: str, name: str, shape: SingleMesh, look: Look) -> Any:
        """Add one part's mesh and return its object."""
        positions = np.ascontiguousarray(shape.points, np.float32)
        triangles = np.ascontiguousarray(shape.triangles, np.uint32)
        made = self.model.AddMeshObject()
        made.SetGeometry(
            (self.kit.Position * len(positions)).from_buffer_copy(positions),
            (self.kit.Triangle * len(triangles)).from_buffer_copy(triangles),
        )
        made.SetName(plain(name))
        made.SetUUID(_uuid("part", key))
        property_id = self.material(look)
        made.SetObjectLevelProperty(self.materials.GetResourceID(), property_id)
        return made

    def material(self, look: Look) -> int:
        """Add a look that is not there yet, and return its property's id."""
        if self.materials is None:
            self.materials = self.model.AddBaseMaterialGroup()
        if look not in self.material_of:
            red, green, blue = look.octets
            colour = self.wrapper.RGBAToColor(red, green, blue, 255)
            self.material_of[look] = self.materials.AddMaterial(plain(look.name), colour)
        return self.material_of[look]

    def group(self, group: Group, objects: Mapping[str, Any]) -> Any:
        """Add a group's object after all that stands in it; None where nothing does."""
        inner = [(held.path, self.group(held, objects)) for held in group.groups]
        if not inner and not group.copies:
            return None
        made = self.model.AddComponentsObject()
        made.SetName(plain(group.name))
        made.SetUUID(_uuid("group", *group.path))
        for path, held in inner:
            component = made.AddComponent(held, self.place(Frame()))
            component.SetUUID(_uuid("place", *path))
        for copy in group.copies:
            component = made.AddComponent(objects[copy.label], self.place(copy.placement))
            component.SetUUID(_uuid("copy", copy.id))
        return made

    def stand(self, made: Any, frame: Frame, name: str) -> None:
        """Put an object on the build plate."""
        item = self.model.AddBuildItem(made, self.place(frame))
        item.SetUUID(_uuid("item"))
        item.SetPartNumber(plain(name))

    def place(self, frame: Frame) -> Any:
        """The library's transform: rows are the images of the axes, then the origin (mm)."""
        transform = self.kit.Transform()
        for row, vector in enumerate((frame.x, frame.y, frame.z, frame.origin)):
            for column, value in enumerate(vector):
                transform.Fields[row][column] = value
        return transform

    def file(self) -> bytes:
        """The whole file's bytes."""
        writer = self.model.QueryWriter("3mf")
        writer.SetDecimalPrecision(_DIGITS)
        return bytes(writer.WriteToBuffer())


def _uuid(*words: str) -> str:
    """An id that is the same in every run: the hash of what it stands for."""
    return str(uuid5(NAMESPACE_OID, "\n".join((PROGRAM, *words))))
