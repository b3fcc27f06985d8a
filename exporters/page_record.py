"""What the page of a piece carries in numbers: lengths in mm, piece axes, plain texts, no costs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from exporters.apart import apart
from exporters.figure import Figured, figures
from exporters.json_text import direction, number, point, ratio
from exporters.looks import Look, is_wood, look
from exporters.masses import mass, surface
from exporters.names import plain
from exporters.stamp import version
from ground.findings import Finding
from ground.vectors import ORIGIN, Vec
from models.parts.assembly import Assembly, Copy, Mover, Opening
from models.parts.part import Part, PartKind
from models.solids.records import Measured
from planning.cutting.matching import matches
from planning.steps.records import Step
from specs.materials import Core, Cut, Lumber, Sheet
from specs.openings import Opening as Asked
from specs.spec import Spec

UNKNOWN_REACH = 1000.0
"""The longest side of a piece of which nothing could be made (mm)."""

PLIED = (Core.VENEER_PLYWOOD, Core.BIRCH_PLYWOOD, Core.SOFTWOOD_PLYWOOD, Core.BLOCKBOARD)
"""Cores that show plies on their edges."""

FRONT = "drawer front"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """All that a page shows; ``drawings`` are paths beside the page, by the parts' labels.

    ``steps`` are None where nobody has sought them yet: nothing comes apart then.
    """

    spec: Spec
    assembly: Assembly
    measured: Mapping[str, Measured]
    looks: Mapping[str, Look]
    bounds: tuple[Vec, Vec] | None
    findings: tuple[Finding, ...] = ()
    steps: tuple[Step, ...] | None = ()
    drawings: Mapping[str, str]


def page_record(shown: Shown) -> dict[str, Any]:
    """The record of a page; ``viewer/src/record.ts`` has the same shape."""
    assembly, bounds = shown.assembly, shown.bounds
    steps = shown.steps
    away = {} if steps is None else apart(assembly, steps, reach_of(bounds))
    runs = figures(assembly, matches(shown.spec, assembly))
    quartered = fronts_quartered(shown.spec.inside)
    return {
        "piece": plain(shown.spec.name),
        "units": shown.spec.units.value,
        "version": version(),
        "bounds": None if bounds is None else [point(corner) for corner in bounds],
        "materials": {plain(key): words(one) for key, one in shown.spec.materials.items()},
        "parts": [
            part_entry(part, shown, quartered=quartered and part.name.startswith(FRONT))
            for part in assembly.parts
        ],
        "copies": [
            copy_entry(copy, away.get(copy.id, ORIGIN), runs.get(copy.id))
            for copy in assembly.copies
        ],
        "movers": [mover_entry(mover) for mover in assembly.movers],
        "joints": joints(assembly),
        "openings": [opening_entry(opening) for opening in assembly.openings],
        "steps": [step_entry(step) for step in steps or ()],
        "findings": [finding_entry(finding) for finding in shown.findings],
    }


def reach_of(bounds: tuple[Vec, Vec] | None) -> float:
    """The longest side of the piece (mm)."""
    if bounds is None:
        return UNKNOWN_REACH
    return max(high - low for low, high in zip(*bounds, strict=True))


def words(material: Lumber | Sheet) -> str:
    """A material in a few words."""
    match material:
        case Lumber(species=species):
            return plain(f"{species}, lumber")
        case Sheet(core=core, face=face, thickness_used=thick):
            faced = f"{face} on " if face else ""
            return plain(f"{faced}{core.value}, {thick:g} mm")


def fronts_quartered(opening: Asked) -> bool:
    """Tell whether all drawer fronts of the piece are asked for quartered."""
    cuts = list(cuts_of_fronts(opening))
    return bool(cuts) and all(cut is Cut.QUARTERED for cut in cuts)


def cuts_of_fronts(opening: Asked) -> Iterator[Cut]:
    """How each stack of drawer fronts is sawn."""
    if opening.drawers is not None:
        yield opening.drawers.front.cut
    for inner in opening.into or ():
        yield from cuts_of_fronts(inner)


def part_entry(part: Part, shown: Shown, *, quartered: bool) -> dict[str, Any]:
    """A part: what it is made of, its sizes, its planar faces, its look."""
    found = shown.measured.get(part.label)
    weight = None if found is None else mass(part, found.volume, shown.spec.materials)
    faces = () if found is None else found.faces
    return {
        "label": plain(part.label),
        "name": plain(part.name),
        "kind": part.kind.value,
        "material": None if part.material is None else plain(part.material),
        "quantity": len(shown.assembly.copies_of(part.label)),
        "finished": None if found is None else point(found.size),
        "cut": point(part.blank.size) if part.made else None,
        "grain": part.blank.grain.value if part.made else None,
        "layers": part.blank.layers,
        "staves": part.blank.staves,
        "mass": None if weight is None else number(weight),
        "drawing": shown.drawings.get(part.label),
        "faces": [
            {
                "name": plain(face.name),
                "normal": direction(face.plane.normal),
                "offset": number(face.plane.offset),
            }
            for face in faces
        ],
        "surface": surface_entry(part, shown) | {"quartered": quartered},
    }


def surface_entry(part: Part, shown: Shown) -> dict[str, Any]:
    """How the part looks: sort of stuff, colours of its face and of its inside, figure or none."""
    seen = shown.looks[part.label]
    face = code(seen)
    material = shown.spec.materials[part.material] if part.material else None
    if part.kind is PartKind.HARDWARE:
        return {"sort": "metal", "face": face, "core": face, "figured": False}
    if isinstance(material, Sheet):
        core = code(look(PartKind.SHEET, material.core.value))
        plied = material.core in PLIED
        figured = is_wood(surface(material)) or (plied and material.face is None)
        sort = "plies" if plied and figured else "board"
        return {"sort": sort, "face": face, "core": core, "figured": figured}
    return {"sort": "wood", "face": face, "core": face, "figured": True}


def code(seen: Look) -> str:
    """A colour as pages write it."""
    red, green, blue = seen.octets
    return f"#{red:02x}{green:02x}{blue:02x}"


def copy_entry(copy: Copy, away: Vec, figure: Figured | None) -> dict[str, Any]:
    """A copy: where it stands, how it comes apart, where its figure runs on."""
    rows = copy.placement.matrix()[:3]
    figured = None
    if figure is not None:
        figured = [ratio(v) for row in figure.rows for v in row]
    return {
        "id": plain(copy.id),
        "label": plain(copy.label),
        "group": [plain(name) for name in copy.group],
        "mover": None if copy.mover is None else plain(copy.mover),
        "placement": [ratio(value) for row in rows for value in row],
        "apart": point(away),
        "run": None if figure is None else plain(figure.run),
        "figure": figured,
    }


def mover_entry(mover: Mover) -> dict[str, Any]:
    """A drawer or a door: how it moves."""
    return {
        "id": plain(mover.id),
        "kind": mover.kind.value,
        "axis": direction(mover.axis),
        "origin": point(mover.origin),
        "limit": number(mover.limit),
    }


def joints(assembly: Assembly) -> list[dict[str, Any]]:
    """Where parts meet."""
    return [
        {
            "id": plain(joint.id),
            "kind": plain(joint.kind),
            "parts": [plain(id_) for id_ in joint.parts],
            "loose": [plain(id_) for id_ in joint.loose],
        }
        for joint in assembly.joints
    ]


def opening_entry(opening: Opening) -> dict[str, Any]:
    """An opening: where it begins, how large it is, what it is for."""
    return {
        "id": plain(opening.id),
        "kind": plain(opening.kind),
        "corner": point(opening.corner),
        "width": number(opening.width),
        "height": number(opening.height),
        "depth": number(opening.depth),
    }


def step_entry(step: Step) -> dict[str, Any]:
    """A step of assembly: what it takes up, and which way each goes home."""
    return {
        "order": step.order,
        "title": plain(step.title),
        "does": plain(step.does),
        "note": plain(step.note),
        "copies": [plain(move.copy) for move in step.moves],
        "directions": [None if move.way is None else direction(move.way) for move in step.moves],
    }


def finding_entry(found: Finding) -> dict[str, Any]:
    """A finding, its number and its limit in words."""
    return {
        "code": found.code,
        "severity": found.severity.value,
        "subject": plain(found.subject),
        "message": plain(found.message),
        "copies": [plain(id_) for id_ in found.copies],
        "at": None if found.at is None else point(found.at),
        "facts": facts(found),
    }


def facts(found: Finding) -> str:
    """The number, the limit and where that comes from."""
    unit = f" {found.unit}" if found.unit else ""
    told = [
        f"{word} {value:.6g}{unit}"
        for word, value in (("value", found.value), ("limit", found.limit))
        if value is not None
    ]
    return plain(", ".join([*told, found.source])) if told else ""
