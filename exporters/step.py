"""STEP (ISO 10303-242): exact solids with names, colours and the tree of groups, in mm.

The kernel's own writer makes the file. It loses long names, writes others in an encoding that
ISO 10303-21 does not allow, so that every name goes in as a short mark and is put in its place,
rightly encoded, in the text that comes out. It also numbers occurrences on from file to file and
writes colours in the order of addresses in memory, so that both are set here.
"""

import errno
import io
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import cadquery as cq
from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.gp import gp_Trsf
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_Static
from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPConstruct import STEPConstruct_Styles
from OCP.STEPControl import STEPControl_Controller, STEPControl_StepModelType
from OCP.StepRepr import StepRepr_HArray1OfRepresentationItem, StepRepr_NextAssemblyUsageOccurrence
from OCP.StepVisual import StepVisual_MechanicalDesignGeometricPresentationRepresentation
from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFApp import XCAFApp_Application
from OCP.XCAFDoc import XCAFDoc_DocumentTool

from exporters.looks import RGB
from exporters.names import plain
from exporters.stamp import iso_date, maker
from exporters.tree import Group, title, tree
from ground.vectors import Frame
from models.parts.assembly import Assembly

_AP242 = "5"
_METRES_A_UNIT = 0.001
_PLANE_OF_SIXTEEN_BITS = 0x10000
_MARK = re.compile(r"(PRODUCT\(\s*)'@(\d+)@',\s*'@\2@'|'@(\d+)@'")
"""A mark as it comes out: twice in a product, for its id and its name, once elsewhere."""


def part_step(solid: bytes | cq.Shape, *, name: str, colour: RGB, path: Path) -> None:
    """Write one solid in its own axes; ``solid`` may be the kernel's binary form of it.

    Raises:
        OSError: ``path`` cannot be written.
    """
    document = _Document()
    document.part(_shape(solid), ident=name, name=name, colour=colour)
    document.write(path, name)


def piece_step(
    assembly: Assembly,
    breps: Mapping[str, bytes | cq.Shape],
    colours: Mapping[str, RGB],
    *,
    path: Path,
    name: str,
) -> None:
    """Write the closed piece: one shape a distinct part, an occurrence a copy, a product a group.

    Copies of parts that are not in ``breps`` are left out.

    Raises:
        OSError: ``path`` cannot be written.
    """
    document = _Document()
    stood = {copy.label for copy in assembly.copies}
    labels = {}
    for part in assembly.parts:
        if part.label in breps and part.label in stood:
            labels[part.label] = document.part(
                _shape(breps[part.label]),
                ident=part.label,
                name=title(part.label, part.name),
                colour=colours[part.label],
            )
    document.group(tree(assembly, labels), labels)
    document.write(path, name)


def _shape(solid: bytes | cq.Shape) -> cq.Solid:
    shape = cq.Shape.importBin(io.BytesIO(solid)) if isinstance(solid, bytes) else solid
    (one,) = shape.Solids()
    return one


class _Document:
    """A document of the kernel on its way to a file, and what its marks stand for."""

    def __init__(self) -> None:
        # First of all, or the settings do not exist yet.
        STEPControl_Controller.Init_s()
        Interface_Static.SetCVal_s("write.step.schema", _AP242)
        Interface_Static.SetCVal_s("write.step.unit", "MM")
        Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
        self.marks: list[tuple[str, str]] = []
        self.document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
        XCAFApp_Application.GetApplication_s().InitDocument(self.document)
        XCAFDoc_DocumentTool.SetLengthUnit_s(self.document, _METRES_A_UNIT)
        self.shapes = XCAFDoc_DocumentTool.ShapeTool_s(self.document.Main())
        self.tinted: list[tuple[cq.Shape, RGB]] = []

    def part(self, shape: cq.Shape, *, ident: str, name: str, colour: RGB) -> TDF_Label:
        """Add one distinct part and return its label."""
        label = self.shapes.AddShape(shape.wrapped, False)  # noqa: FBT003 - the kernel's
        self.call(label, ident, name)
        self.tinted.append((shape, colour))
        return label

    def group(self, group: Group, parts: Mapping[str, TDF_Label]) -> TDF_Label:
        """Add a group as a product of its own with all that stands in it."""
        made = self.shapes.NewShape()
        self.call(made, " / ".join(group.path) or group.name, group.name)
        for inner in group.groups:
            held = self.group(inner, parts)
            place = self.shapes.AddComponent(made, held, TopLoc_Location())
            self.call(place, inner.name, inner.name)
        for copy in group.copies:
            place = self.shapes.AddComponent(made, parts[copy.label], _location(copy.placement))
            self.call(place, copy.id, copy.id)
        return made

    def call(self, label: TDF_Label, ident: str, name: str) -> None:
        """Name a label by a mark that stands for its id and its name."""
        mark = f"@{len(self.marks)}@"
        self.marks.append((ident, name))
        TDataStd_Name.Set_s(label, TCollection_ExtendedString(mark))

    def write(self, path: Path, name: str) -> None:
        """Write the file, always the same bytes for the same document."""
        self.shapes.UpdateAssemblies()
        writer = STEPCAFControl_Writer()
        # The writer's own colours come in the order of addresses in memory.
        writer.SetColorMode(False)  # noqa: FBT003 - the kernel's
        writer.SetNameMode(True)  # noqa: FBT003
        writer.Transfer(self.document, STEPControl_StepModelType.STEPControl_AsIs)
        model = writer.ChangeWriter().Model()
        for shape, colour in self.tinted:
            _tint(writer.ChangeWriter().WS(), model, shape, colour)
        _renumber(model)
        self.marks.append((name, name))
        header = APIHeaderSection_MakeHeader(model)
        header.SetName(_ascii(f"@{len(self.marks) - 1}@"))
        header.SetTimeStamp(_ascii(iso_date()))
        header.SetOriginatingSystem(_ascii(maker()))
        header.SetAuthorValue(1, _ascii(""))
        header.SetOrganizationValue(1, _ascii(""))
        header.SetAuthorisation(_ascii(""))
        header.SetDescriptionValue(1, _ascii("solid model of a piece of furniture"))
        done = writer.Write(str(path))
        if done != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise OSError(errno.EIO, "the solid could not be written", str(path))
        path.write_bytes(self.named(path.read_text("ascii")).encode("ascii"))

    def named(self, text: str) -> str:
        """The file's text with every mark replaced by what it stands for."""

        def named(mark: re.Match[str]) -> str:
            ident, name = (part21(word) for word in self.marks[int(mark[2] or mark[3])])
            return f"{mark[1]}{ident},{name}" if mark[1] else name

        return _MARK.sub(named, text)


def part21(text: str) -> str:
    r"""``text`` as a string of ISO 10303-21: quoted, ``\X2\`` and ``\X4\`` beyond ASCII."""
    line = plain(text).replace("\\", "\\\\").replace("'", "''")
    return f"'{re.sub(r'[^ -~]+', _coded, line)}'"


def _coded(run: re.Match[str]) -> str:
    wide = any(ord(char) >= _PLANE_OF_SIXTEEN_BITS for char in run[0])
    code, encoding = ("X4", "utf-32-be") if wide else ("X2", "utf-16-be")
    return f"\\{code}\\{run[0].encode(encoding).hex().upper()}\\X0\\"


def _tint(session: Any, model: Any, shape: cq.Shape, colour: RGB) -> None:
    """Give a solid that is in the model its colour."""
    styles = STEPConstruct_Styles(session)
    code = STEPConstruct_Styles.EncodeColor_s(Quantity_Color(*colour, Quantity_TOC_sRGB))
    worn: Any = styles.MakeColorPSA(None, code, None, None, 0.0)
    styled = styles.AddStyle(shape.wrapped, worn, None)
    items = StepRepr_HArray1OfRepresentationItem(1, 1)
    items.SetValue(1, styled)
    seen = StepVisual_MechanicalDesignGeometricPresentationRepresentation()
    seen.Init(_ascii(""), items, styles.FindContext(shape.wrapped))
    model.AddWithRefs(seen)


def _renumber(model: Any) -> None:
    """Number the occurrences from one: the kernel runs on from the file before."""
    count = 0
    for place in range(1, model.NbEntities() + 1):
        entity = model.Value(place)
        if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            count += 1
            entity.SetId(_ascii(str(count)))


def _ascii(text: str) -> TCollection_HAsciiString:
    return TCollection_HAsciiString(text)


def _location(frame: Frame) -> TopLoc_Location:
    motion = gp_Trsf()
    motion.SetValues(*(value for row in frame.matrix()[:3] for value in row))
    return TopLoc_Location(motion)
