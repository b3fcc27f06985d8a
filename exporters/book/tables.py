"""The book's tables as plain data: heads, rows, which columns are numbers. Text only, no markup."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from exporters.names import plain
from exporters.tables import rounding
from ground.order import natural
from ground.quantities import Rounding, Units, length_text
from ground.vectors import Vec
from models.parts.assembly import Assembly, HardwareLine
from models.parts.features import Countersink, Hole
from models.parts.part import Part, PartKind
from specs.materials import Lumber, Sheet
from specs.spec import Spec

DIAMETER = "\N{LATIN CAPITAL LETTER O WITH STROKE}"
TIMES = " × "


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: its head, its share of the width (None: as wide as it needs), a number or not."""

    head: str
    share: float | None = None
    number: bool = False


def table(columns: Iterable[Column], rows: Iterable[Iterable[str]]) -> dict[str, Any]:
    """A table as the page takes it."""
    columns = tuple(columns)
    return {
        "head": [column.head for column in columns],
        "shares": [column.share for column in columns],
        "numbers": [column.number for column in columns],
        "rows": [[plain(cell) for cell in row] for row in rows],
    }


def size(mm: float, units: Units, way: Rounding = Rounding.NEAREST) -> str:
    """A length as it is printed: ``412.8``, or ``23-5/8"``."""
    text = length_text(mm, units, rounding=way)
    return f'{text}"' if units is Units.INCH else text


def sizes(lengths: Vec, units: Units, way: Rounding = Rounding.NEAREST) -> str:
    """Length, width and thickness."""
    return TIMES.join(size(length, units, way) for length in lengths)


def materials_told(spec: Spec) -> dict[str, str]:
    """Every material in a line: ``white oak lumber``, ``veneer plywood, face white oak, 18.6``."""
    said = {}
    for key, material in spec.materials.items():
        match material:
            case Lumber(species=species):
                said[key] = f"{species}, lumber"
            case Sheet():
                face = f", {material.face}" if material.face else ""
                thick = size(material.thickness_used, spec.units)
                unit = "" if spec.units is Units.INCH else " mm"
                said[key] = f"{material.core.value}{face}, {thick}{unit}"
    return said


CUT = (
    Column(head="label"),
    Column(head="part", share=1.0),
    Column(head="no."),
    Column(head="length", number=True),
    Column(head="width", number=True),
    Column(head="thick", number=True),
    Column(head="grain"),
    Column(head="when, edges, notes", share=1.6),
)


def cut_lists(spec: Spec, assembly: Assembly) -> list[dict[str, Any]]:
    """The cut list, material by material; sizes are those that the saw leaves."""
    told = materials_told(spec)
    made = sorted((p for p in assembly.parts if p.made), key=lambda part: natural(part.label))
    keys = [*spec.materials, None]
    return [
        {
            "title": "made from stock in hand" if key is None else f"{key}: {told[key]}",
            "table": table(CUT, (cut_row(part, spec, assembly) for part in parts)),
        }
        for key in keys
        if (parts := [part for part in made if part.material == key])
    ]


def cut_row(part: Part, spec: Spec, assembly: Assembly) -> list[str]:
    """One part of the cut list."""
    way = rounding(part)
    notes = [] if part.stage.value == "now" else [part.stage.value]
    if part.banded:
        notes.append(f"edging on {', '.join(part.banded)}")
    if part.note:
        notes.append(part.note)
    return [
        part.label,
        part.name,
        str(len(assembly.copies_of(part.label))),
        *(size(length, spec.units, way) for length in part.blank.size),
        {"length": "along", "width": "across", "none": ""}[part.blank.grain.value],
        "; ".join(notes),
    ]


def hardware(lines: Iterable[HardwareLine]) -> dict[str, Any]:
    """Everything to buy that is not wood."""
    columns = (
        Column(head="no.", number=True),
        Column(head="item", share=1.2),
        Column(head="size", share=0.8),
        Column(head="for", share=1.6),
        Column(head="notes", share=1.4),
    )
    found = sorted(lines, key=lambda line: (natural(line.name), natural(line.size)))
    rows = ([str(one.quantity), one.name, one.size, one.for_what, one.note] for one in found)
    return table(columns, rows)


def drilling(spec: Spec, assembly: Assembly) -> dict[str, Any]:
    """Every hole by what it is for, bit and depth: how many, and in which parts."""
    bits: dict[tuple[str, float, float | None], dict[str, int]] = {}
    for part in assembly.parts:
        copies = len(assembly.copies_of(part.label))
        for kind, diameter, depth, count in holes(part) if part.made else ():
            where = bits.setdefault((kind, diameter, depth), {})
            where[part.label] = where.get(part.label, 0) + count * copies
    columns = (
        Column(head="hole", share=1.0),
        Column(head="bit", number=True),
        Column(head="deep", number=True),
        Column(head="in all", number=True),
        Column(head="parts", share=2.4),
    )
    ordered = sorted(bits.items(), key=lambda item: (item[0][0], item[0][1], item[0][2] or 0.0))
    return table(columns, (drilling_row(key, where, spec.units) for key, where in ordered))


def holes(part: Part) -> Iterator[tuple[str, float, float | None, int]]:
    """The round holes of a part: kind, diameter, depth (None: through), how many."""
    for feature in part.features:
        match feature:
            case Hole():
                yield feature.kind.value, feature.diameter, feature.depth, feature.count
            case Countersink():
                yield f"countersink, {feature.angle:g}°", feature.diameter, 0.0, feature.count
            case _:
                continue


def drilling_row(
    key: tuple[str, float, float | None], where: Mapping[str, int], units: Units
) -> list[str]:
    """One bit and depth; bits are sold by the millimetre, so inch pieces have both."""
    kind, diameter, depth = key
    bit = f"{DIAMETER}{length_text(diameter, Units.MM)}"
    if units is Units.INCH:
        bit = f"{bit} mm ({size(diameter, units)})"
    deep = "through" if depth is None else "" if depth == 0 else size(depth, units)
    parts = ", ".join(f"{where[label]} in {label}" for label in sorted(where, key=natural))
    return [kind, bit, deep, str(sum(where.values())), parts]


def loose_kinds(assembly: Assembly) -> Iterator[tuple[str, int]]:
    """Loose pieces by name, with how many there are: for the list of what is needed."""
    for part in assembly.parts:
        if part.kind is PartKind.LOOSE:
            yield part.name, len(assembly.copies_of(part.label))
