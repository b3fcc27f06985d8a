"""The plan book's words and numbers as plain data, ready for the page: nothing is worked out there.

Whatever comes from the spec goes through ``plain`` and into JSON; the page shows strings as they
are, so nothing in a spec can become markup.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from exporters.book import tables
from exporters.names import plain
from exporters.stock_tables import money
from ground.findings import Finding, Severity
from ground.order import natural
from ground.quantities import Units, angle_text, mass_text, rise_in_100
from ground.vectors import Vec
from models.parts.assembly import Assembly
from models.parts.part import PartKind
from planning.cutting.records import Purchase
from planning.steps.records import Clamp, Measure, Step
from specs.spec import Spec

HEADS = {
    Severity.ERROR: "Errors: not to be made as it stands",
    Severity.WARNING: "Cautions: at a risk or a cost",
    Severity.NOTE: "Notes: worth knowing",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pages:
    """All that the book is made of.

    ``sums`` are worded already. ``pictures`` (steps by number, ``cover``) and ``sheets`` (title and
    picture, a part each) and ``layouts`` (name, material and picture of each sheet and board) are
    SVG. ``set_ups`` are the rows of each part's work at the saw.
    """

    spec: Spec
    assembly: Assembly
    findings: tuple[Finding, ...]
    steps: tuple[Step, ...]
    mass: float | None
    box: tuple[Vec, Vec] | None
    sums: tuple[tuple[str, str], ...] = ()
    set_ups: Mapping[str, tuple[tuple[str, ...], ...]] = field(default_factory=dict)
    buying: tuple[Purchase, ...] = ()
    layouts: tuple[tuple[str, str, str], ...] = ()
    pictures: Mapping[str, str] = field(default_factory=dict)
    sheets: tuple[tuple[str, str, tuple[float, float]], ...] = ()


def content(pages: Pages) -> dict[str, Any]:
    """Everything in the order of the book; what is not known is left out."""
    spec, assembly = pages.spec, pages.assembly
    return {
        "units": spec.units.value,
        "title": plain(spec.name),
        "cover": cover(pages),
        "findings": [
            {"head": HEADS[severity], "severity": severity.value, "rows": rows}
            for severity in Severity
            if (rows := finding_rows(pages.findings, severity))
        ],
        "openings": openings(spec, assembly) if assembly.openings else None,
        "sums": [[plain(subject), plain(line)] for subject, line in pages.sums],
        "needs": needs(pages),
        "cut": tables.cut_lists(spec, assembly),
        "hardware": tables.hardware(assembly.hardware) if assembly.hardware else None,
        "buying": buying(pages) if pages.buying else None,
        "layouts": [
            {"title": plain(f"{name}: {material}"), "picture": f"layout-{place}.svg"}
            for place, (name, material, _) in enumerate(pages.layouts, 1)
        ],
        "drilling": tables.drilling(spec, assembly),
        "set_ups": set_ups(pages),
        "steps": [step(one, pages) for one in pages.steps],
        "sheets": [
            {"title": plain(title), "picture": f"sheet-{place}.svg", "size": list(size)}
            for place, (title, _, size) in enumerate(pages.sheets, 1)
        ],
        "labels": labels(assembly),
    }


def cover(pages: Pages) -> dict[str, Any]:
    """The first page: how large it is, what it is made of, and whether it can be made."""
    units = pages.spec.units
    facts: list[list[str]] = []
    if pages.box is not None:
        low, high = pages.box
        names = ("length", "depth", "height")
        sizes = zip(names, low, high, strict=True)
        facts += [[name, with_unit(b - a, units)] for name, a, b in sizes]
    made = [part for part in pages.assembly.parts if part.made]
    pieces = sum(len(pages.assembly.copies_of(part.label)) for part in made)
    facts.append(["parts to make", f"{pieces}, of {len(made)} kinds"])
    if pages.mass:
        facts.append(["mass, about", mass_text(pages.mass, units)])
    surfaces = dict.fromkeys(tables.materials_told(pages.spec).values())
    count = {s: sum(f.severity is s for f in pages.findings) for s in Severity}
    errors = count[Severity.ERROR]
    asked = pages.spec.drawings
    return {
        "facts": facts,
        "materials": [plain(surface) for surface in surfaces],
        "error": f"Not ready to make: {errors} {'error' if errors == 1 else 'errors'}, overleaf."
        if errors
        else None,
        "cautions": count[Severity.WARNING],
        "picture": "cover.svg" if "cover" in pages.pictures else None,
        "number": plain(asked.number or ""),
        "creator": plain(asked.creator or ""),
        "owner": plain(asked.owner or ""),
        "date": "" if asked.date is None else str(asked.date),
    }


def with_unit(mm: float, units: Units) -> str:
    """A size for a line of text; inch sizes carry their mark and stand in mm as well."""
    if units is Units.MM:
        return f"{tables.size(mm, units)} mm"
    return f"{tables.size(mm, units)} ({tables.size(mm, Units.MM)} mm)"


def finding_rows(findings: Iterable[Finding], severity: Severity) -> list[list[str]]:
    """What there is to say at one severity: about what, what, the number and its limit."""
    return [
        [plain(found.subject), plain(found.message), plain(figures(found)), plain(found.code)]
        for found in findings
        if found.severity is severity
    ]


def figures(found: Finding) -> str:
    """The number, the limit and where the limit is from."""
    unit = f" {found.unit}" if found.unit else ""
    said = [
        f"{word} {value:.4g}{unit}"
        for word, value in (("value", found.value), ("limit", found.limit))
        if value is not None
    ]
    return ", ".join([*said, found.source]) if said else ""


def openings(spec: Spec, assembly: Assembly) -> dict[str, Any]:
    """The clear size of every opening."""
    columns = (
        tables.Column(head="opening"),
        tables.Column(head="holds", share=1.0),
        tables.Column(head="width", number=True),
        tables.Column(head="height", number=True),
        tables.Column(head="depth", number=True),
    )
    found = sorted(assembly.openings, key=lambda opening: natural(opening.id))
    rows = (
        [
            opening.id,
            opening.kind,
            *(
                tables.size(length, spec.units)
                for length in (opening.width, opening.height, opening.depth)
            ),
        ]
        for opening in found
    )
    return tables.table(columns, rows)


def needs(pages: Pages) -> dict[str, Any]:
    """What to have in the shop: materials by how much, loose pieces, clamps by length."""
    volumes: dict[str, float] = {}
    areas: dict[str, float] = {}
    for part in pages.assembly.parts:
        if part.made and part.material is not None:
            copies = len(pages.assembly.copies_of(part.label))
            length, width, thickness = part.blank.size
            volumes[part.material] = (
                volumes.get(part.material, 0.0) + copies * length * width * thickness
            )
            areas[part.material] = areas.get(part.material, 0.0) + copies * length * width
    told = tables.materials_told(pages.spec)
    columns = (
        tables.Column(head="material", share=1.0),
        tables.Column(head="what it is", share=1.6),
        tables.Column(head="net, without waste", number=True),
    )
    rows = (
        [key, told[key], net(key, volumes[key], areas[key], pages.spec)]
        for key in pages.spec.materials
        if key in volumes
    )
    loose: dict[str, int] = {}
    for name, count in tables.loose_kinds(pages.assembly):
        loose[name] = loose.get(name, 0) + count
    return {
        "materials": tables.table(columns, rows),
        "loose": tables.table(
            (tables.Column(head="no.", number=True), tables.Column(head="loose pieces", share=1.0)),
            ([str(loose[name]), name] for name in sorted(loose, key=natural)),
        )
        if loose
        else None,
        "clamps": clamp_table(pages),
    }


def net(key: str, volume: float, area: float, spec: Spec) -> str:
    """How much of a material is in the piece: square metres or feet of sheet, volume of lumber."""
    sheet = spec.materials[key].kind == "sheet"
    if spec.units is Units.MM:
        return f"{area / 1e6:.2f} m²" if sheet else f"{volume / 1e9:.4f} m³"
    foot = 12 * 25.4
    return f"{area / foot**2:.1f} sq ft" if sheet else f"{volume / (foot**2 * 25.4):.1f} board feet"


def clamp_table(pages: Pages) -> dict[str, Any] | None:
    """The most clamps of each length that any one step asks for."""
    most: dict[float, int] = {}
    for one in pages.steps:
        here: dict[float, int] = {}
        for clamp in one.clamps:
            here[clamp.opens] = here.get(clamp.opens, 0) + clamp.count
        for opens, count in here.items():
            most[opens] = max(most.get(opens, 0), count)
    if not most:
        return None
    columns = (
        tables.Column(head="no.", number=True),
        tables.Column(head="clamps that open to at least", share=1.0),
    )
    units = pages.spec.units
    return tables.table(
        columns, ([str(most[opens]), with_unit(opens, units)] for opens in sorted(most))
    )


def buying(pages: Pages) -> dict[str, Any]:
    """What to buy but fittings, with prices where they are known."""
    columns = (
        tables.Column(head="no.", number=True),
        tables.Column(head="unit"),
        tables.Column(head="item", share=1.2),
        tables.Column(head="material", share=1.0),
        tables.Column(head="size", share=1.0),
        tables.Column(head="cost", number=True),
        tables.Column(head="notes", share=1.4),
    )
    sign = f" {pages.spec.currency}" if pages.spec.currency else ""
    rows = (
        [
            f"{line.quantity.normalize():f}",
            line.unit,
            line.item,
            line.material,
            line.size,
            "" if line.total is None else f"{money(line.total)}{sign}",
            line.note,
        ]
        for line in pages.buying
    )
    return tables.table(columns, rows)


def set_ups(pages: Pages) -> list[dict[str, Any]]:
    """The work at the saw and the bench, part by part in its order."""
    columns = (
        tables.Column(head="no.", number=True),
        tables.Column(head="machine", share=0.8),
        tables.Column(head="work", share=1.3),
        tables.Column(head="set", share=1.7),
        tables.Column(head="measure afterwards", share=1.7),
    )
    names = {part.label: part.name for part in pages.assembly.parts}
    return [
        {"title": plain(f"{label} {names[label]}"), "table": tables.table(columns, rows)}
        for label, rows in pages.set_ups.items()
    ]


def step(one: Step, pages: Pages) -> dict[str, Any]:
    """One step of assembly."""
    units = pages.spec.units
    name = f"step-{one.order}"
    return {
        "number": one.order,
        "title": plain(one.title),
        "does": plain(one.does),
        "picture": f"{name}.svg" if name in pages.pictures else None,
        "clamps": [plain(clamp_words(clamp, units)) for clamp in one.clamps],
        "measures": [plain(measure_words(measure, units)) for measure in one.measures],
        "note": plain(one.note),
        "glued": one.glued,
    }


def clamp_words(clamp: Clamp, units: Units) -> str:
    """One setting: ``6 clamps that open to 1800 mm, along the length; flat cauls``."""
    many = f"{clamp.count} {'clamp' if clamp.count == 1 else 'clamps'}"
    sets = f", {clamp.sets} times over" if clamp.sets > 1 else ""
    wedge = (
        f" of {angle_text(clamp.wedge)}° (rise {rise_in_100(clamp.wedge):.1f} in 100)"
        if clamp.wedge
        else ""
    )
    caul = clamp.caul.replace("wedges", f"wedges{wedge}", 1)
    return f"{many} opening to {with_unit(clamp.opens, units)}, {clamp.along}{sets}; {caul}"


def measure_words(measure: Measure, units: Units) -> str:
    """What to measure and what it should be."""
    value, within = with_unit(measure.value, units), tables.size(measure.within, units)
    unit = " mm" if units is Units.MM else ""
    return f"{measure.what}: {value}, within {within}{unit}"


def labels(assembly: Assembly) -> list[list[str]]:
    """A label for every copy that is made, but loose pieces: label, name, which of how many."""
    made = [p for p in assembly.parts if p.made and p.kind is not PartKind.LOOSE]
    return [
        [part.label, plain(part.name), f"{place} of {len(copies)}" if len(copies) > 1 else ""]
        for part in sorted(made, key=lambda part: natural(part.label))
        for copies in (assembly.copies_of(part.label),)
        for place in range(1, len(copies) + 1)
    ]
