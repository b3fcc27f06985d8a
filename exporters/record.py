"""build.json: everything a build knows, in numbers, the same bytes for the same spec."""

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from importlib.resources import files
from typing import Any, TypeVar

from pydantic import BaseModel

from exporters import feature_record, set_ups_record, steps_record
from exporters.json_text import direction, number, point, ratio, text
from exporters.masses import mass
from exporters.package import FORMAT, Listed
from exporters.stock_record import staves, stock_entries, stock_totals
from ground.findings import Finding
from ground.order import natural
from ground.vectors import Vec
from models.parts.assembly import Assembly, Copy, Joint, Mover, Opening
from models.parts.part import Part
from models.solids.records import Measured, PlaneFace
from planning.cutting.records import CutPlan
from planning.saw.records import SetUp
from planning.steps.records import Step
from specs.materials import Lumber, Sheet
from specs.spec import Spec

Named = TypeVar("Named", Copy, Joint, Mover, Opening)

KINDS_OF_FILE = ("step", "stl", "3mf", "dxf", "drawing")
"""The files a part may have, in the record's order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """All that goes into the record.

    ``measured`` and ``files`` (kind of file to path) go by the parts' labels; a part that could
    not be made is in neither. ``bounds`` is None when no part could be made.
    """

    version: str
    spec: Spec
    assembly: Assembly
    measured: Mapping[str, Measured]
    files: Mapping[str, Mapping[str, str]]
    bounds: tuple[Vec, Vec] | None
    findings: tuple[Finding, ...]
    listed: tuple[Listed, ...]
    set_ups: tuple[SetUp, ...] | None = None
    steps: tuple[Step, ...] | None = None
    cuts: CutPlan | None = None


def schema() -> dict[str, Any]:
    """The JSON Schema of the record, as it is shipped."""
    shipped = files("exporters").joinpath("schemas", "build.schema.json")
    content: dict[str, Any] = json.loads(shipped.read_text(encoding="utf-8"))
    return content


def record(built: Built) -> bytes:
    """Write the record, keys in the contract's order."""
    assembly = built.assembly
    parts = [part_entry(part, built) for part in by_label(assembly)]
    content: dict[str, Any] = {
        "format": FORMAT,
        "casewright": built.version,
        "piece": built.spec.name,
        "units": built.spec.units.value,
    }
    if built.spec.currency is not None:
        content["currency"] = built.spec.currency
    content |= {
        "bounds": None if built.bounds is None else [point(corner) for corner in built.bounds],
        "materials": {
            key: material_entry(material) for key, material in built.spec.materials.items()
        },
        "openings": [opening_entry(opening) for opening in sorted_by_id(assembly.openings)],
        "parts": parts,
        "movers": [mover_entry(mover) for mover in sorted_by_id(assembly.movers)],
        "joints": [joint_entry(joint) for joint in sorted_by_id(assembly.joints)],
        **({} if built.cuts is None else {"stock": stock_entries(built.cuts)}),
        **set_ups_entry(built),
        **steps_entry(built),
        "findings": [feature_record.finding(found) for found in built.findings],
        "totals": totals(parts) | ({} if built.cuts is None else stock_totals(built.cuts)),
        "files": [
            {"path": file.path, "bytes": file.bytes, "sha256": file.sha256}
            for file in sorted(built.listed, key=lambda file: natural(file.path))
        ],
    }
    return text(content).encode()


def by_label(assembly: Assembly) -> list[Part]:
    """Every part in natural order."""
    return sorted(assembly.parts, key=lambda part: natural(part.label))


def sorted_by_id(things: tuple[Named, ...]) -> list[Named]:
    """Things with an id in natural order."""
    return sorted(things, key=lambda thing: natural(thing.id))


def material_entry(material: Lumber | Sheet) -> dict[str, Any]:
    """A material as read, in mm, and the thickness that everything was worked from."""
    content = {key: value for key, value in plain(material).items() if value is not None}
    used = material.thickness_used if isinstance(material, Sheet) else None
    return content | {"thickness_used": None if used is None else number(used)}


def plain(value: Any) -> Any:
    """A value of the spec as JSON knows it."""
    match value:
        case BaseModel():
            found = {key: getattr(value, key) for key in type(value).model_fields}
            return {key: plain(item) for key, item in found.items() if item != ()}
        case Enum():
            return value.value
        case Decimal() | float():
            return number(float(value))
        case tuple():
            return [plain(item) for item in value]
        case _:
            return value


def opening_entry(opening: Opening) -> dict[str, Any]:
    """An opening: where its lower front left corner is, how large, what it holds."""
    x, y, z = point(opening.corner)
    return {
        "id": opening.id,
        "kind": opening.kind,
        "x": x,
        "y": y,
        "z": z,
        "width": number(opening.width),
        "height": number(opening.height),
        "depth": number(opening.depth),
        "contents": sorted(opening.contents, key=natural),
    }


def part_entry(part: Part, built: Built) -> dict[str, Any]:
    """A part: what it is made of, its sizes, its copies, features, faces and files."""
    copies = sorted_by_id(built.assembly.copies_of(part.label))
    found = built.measured.get(part.label)
    finished = None if found is None else point(found.size)
    weight = None if found is None else mass(part, found.volume, built.spec.materials)
    files = built.files.get(part.label)
    glued = {} if built.cuts is None else staves(built.cuts)
    return {
        "label": part.label,
        "name": part.name,
        "kind": part.kind.value,
        "made": part.made,
        "material": part.material,
        "quantity": len(copies),
        "finished": finished,
        "edged": finished if part.edged is None else point(part.edged),
        "cut": point(part.blank.size) if part.made else None,
        "layers": part.blank.layers,
        "staves": max(part.blank.staves, glued.get(part.label, 1)),
        "grain": part.blank.grain.value if part.made else None,
        "volume": None if found is None else number(found.volume),
        "mass": None if weight is None else number(weight),
        "copies": [copy_entry(copy) for copy in copies],
        "features": [
            feature_record.entry(feature, part)
            for feature in sorted(part.features, key=lambda feature: natural(feature.id))
        ],
        "faces": [] if found is None else [face_entry(face) for face in sorted_faces(found)],
        "files": None if not files else {kind: files.get(kind) for kind in KINDS_OF_FILE},
    }


def copy_entry(copy: Copy) -> dict[str, Any]:
    """A copy: its place in the closed piece, 4 x 4, row by row."""
    rows = [
        [ratio(value) for value in row[:3]] + [number(row[3])] for row in copy.placement.matrix()
    ]
    return {"id": copy.id, "group": list(copy.group), "placement": rows, "mover": copy.mover}


def sorted_faces(found: Measured) -> list[PlaneFace]:
    """The faces of a part in natural order; one name may stand for several."""
    return sorted(
        found.faces, key=lambda face: (natural(face.name), face.plane.normal, face.plane.offset)
    )


def face_entry(face: PlaneFace) -> dict[str, Any]:
    """A planar face of a part, in its own axes."""
    return {
        "name": face.name,
        "normal": direction(face.plane.normal),
        "offset": number(face.plane.offset),
        "made_by": face.made_by,
    }


def mover_entry(mover: Mover) -> dict[str, Any]:
    """A drawer or a door: how it moves, in piece axes."""
    return {
        "id": mover.id,
        "kind": mover.kind.value,
        "axis": direction(mover.axis),
        "origin": point(mover.origin),
        "limit": number(mover.limit),
        "copies": sorted(mover.copies, key=natural),
    }


def joint_entry(joint: Joint) -> dict[str, Any]:
    """Where parts meet, and which way they close."""
    closes = joint.closes if isinstance(joint.closes, str) else direction(joint.closes)
    return {
        "id": joint.id,
        "kind": joint.kind,
        "parts": list(joint.parts),
        "loose": list(joint.loose),
        "closes": closes,
    }


def steps_entry(built: Built) -> dict[str, Any]:
    """The steps of assembly, where they were found."""
    return {} if built.steps is None else {"steps": steps_record.entries(built.steps)}


def set_ups_entry(built: Built) -> dict[str, Any]:
    """The saw set-ups, where they are planned."""
    return {} if built.set_ups is None else {"set_ups": set_ups_record.entries(built.set_ups)}


def totals(parts: list[dict[str, Any]]) -> dict[str, Any]:
    """What it comes to: pieces, mm3 and kg, of what is known."""
    return {
        "parts": sum(part["quantity"] for part in parts),
        "volume": number(total(parts, "volume")),
        "mass": number(total(parts, "mass")),
    }


def total(parts: list[dict[str, Any]], key: str) -> float:
    """The sum over every copy of what is known."""
    return math.fsum((part[key] or 0.0) * part["quantity"] for part in parts)
