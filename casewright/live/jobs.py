"""What the live view has done in its worker: the picture of a piece, its drawings one by one.

Everything here runs in a process of its own, where the shapes of late stay made, so that an edit
costs no more than the parts that it changes.
"""

import json
from collections import OrderedDict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from ground.errors import BuildError
from ground.findings import Finding, Severity
from ground.vectors import Vec
from models.parts.assembly import Assembly
from models.parts.blank import Blank
from models.parts.features import Feature
from models.parts.part import Part
from specs.spec import Spec

if TYPE_CHECKING:
    from models.solids.shown import Shown

Shape = tuple[Blank, tuple[Feature, ...]]

PIECES_OF_LATE = 3
"""So many pieces' worth of shapes are kept, so that taking an edit back costs nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictured:
    """The picture of a piece: its record, the meshes that were not known yet, what failed."""

    record: bytes
    bounds: tuple[Vec, Vec] | None
    meshes: Mapping[str, bytes]
    names: frozenset[str]
    made: int
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A shape that is made, its mesh as the browser gets it, and what that is called."""

    shown: "Shown"
    content: bytes
    name: str


_kept: OrderedDict[Shape, Kept] = OrderedDict()
"""What this process has made of late, the latest last."""


def prepare() -> None:
    """Load the kernel and what works with it.

    Raises:
        ImportError: it cannot be loaded here.
    """
    for module in ("models.solids.shown", "exporters.packed_mesh", "exporters.page_record"):
        import_module(module)


def picture(spec: Spec, assembly: Assembly, known: frozenset[str]) -> Pictured:
    """Make what of ``assembly`` is not made yet; ``known`` are meshes that need not be sent."""
    from models.solids.shown import bounds

    found: dict[str, Kept] = {}
    failed: list[Finding] = []
    made = 0
    for part in assembly.parts:
        made += part.shape not in _kept
        try:
            found[part.label] = kept(part)
        except BuildError as trouble:
            failed.append(not_made(assembly, part, trouble))
    forget(PIECES_OF_LATE * len(assembly.parts))
    standing = {part.label: found[part.label].shown for part in stand(assembly, found)}
    box = bounds(assembly.copies, standing)
    return Pictured(
        record=recorded(spec, assembly, found, box),
        bounds=box,
        meshes={one.name: one.content for one in found.values() if one.name not in known},
        names=frozenset(one.name for one in found.values()),
        made=made,
        findings=tuple(failed),
    )


def kept(part: Part) -> Kept:
    """The shape of ``part``, made where it is not yet.

    Raises:
        BuildError: it cannot be made.
    """
    from exporters.packed_mesh import mesh_name, packed_mesh
    from models.solids.shown import shown

    if part.shape not in _kept:
        one = shown(part)
        content = packed_mesh(one.mesh, f"{part.label} {part.name}")
        _kept[part.shape] = Kept(shown=one, content=content, name=mesh_name(content))
    _kept.move_to_end(part.shape)
    return _kept[part.shape]


def forget(most: int) -> None:
    """Let go of the shapes that were not used for longest, and of all that a build would keep."""
    from models.solids.shown import let_go

    let_go()
    while len(_kept) > most:
        _kept.popitem(last=False)


def stand(assembly: Assembly, found: Mapping[str, Kept]) -> Iterable[Part]:
    """The parts that count in the outside size."""
    from casewright.building import stands

    return [part for part in assembly.parts if part.label in found and stands(part)]


def not_made(assembly: Assembly, part: Part, trouble: BuildError) -> Finding:
    """Say that a part is missing from the picture."""
    cut = f" at {trouble.cut}" if trouble.cut else ""
    return Finding(
        code="make.solid",
        severity=Severity.ERROR,
        subject=f"{part.label} {part.name}",
        message=f"the solid cannot be made{cut}: {trouble.reason}; the picture is without it",
        copies=tuple(copy.id for copy in assembly.copies_of(part.label)),
        source="the solid itself",
    )


def recorded(
    spec: Spec, assembly: Assembly, found: Mapping[str, Kept], box: tuple[Vec, Vec] | None
) -> bytes:
    """The record of the picture; each part says what its mesh is called."""
    from exporters.looks import looks
    from exporters.masses import surface
    from exporters.page_record import Shown, page_record

    seen = {key: surface(material) for key, material in spec.materials.items()}
    drawn = {part.label: f"drawings#{part.label}" for part in assembly.parts if part.made}
    record = page_record(
        Shown(
            spec=spec,
            assembly=assembly,
            measured={label: one.shown.measured for label, one in found.items()},
            looks=looks(assembly, seen),
            bounds=box,
            drawings=drawn,
        )
    )
    for part, entry in zip(assembly.parts, record["parts"], strict=True):
        entry["mesh"] = found[part.label].name if part.label in found else None
    return json.dumps(record, ensure_ascii=False, separators=(",", ":")).encode()


def sheet(number: int, spec: Spec, assembly: Assembly, path: str) -> bytes:
    """One drawing of piece ``number`` as SVG.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    from casewright.live.sheets import sheet_svg

    return sheet_svg(number, spec, assembly, path)
