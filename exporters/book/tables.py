"""The book's tables as plain data: heads, rows, which columns are numbers. Text only, no markup."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from exporters.names import plain
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
PLACES = 1
"""Depths alike to 0.1 mm are one: as fine as they are printed."""


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


def with_unit(mm: float, units: Units, way: Rounding = Rounding.NEAREST) -> str:
    """A size for a line of text; inch sizes carry their mark and stand in mm as well."""
    if units is Units.MM:
        return f"{size(mm, units, way)} mm"
    return f"{size(mm, units, way)} ({size(mm, Units.MM, way)} mm)"


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
                depth = None if feature.depth is None else round(feature.depth, PLACES)
                yield feature.kind.value, feature.diameter, depth, feature.count
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
    deep = "through" if depth is None else "" if depth == 0 else deepness(depth, units)
    parts = ", ".join(f"{where[label]} in {label}" for label in sorted(where, key=natural))
    return [kind, bit, deep, str(sum(where.values())), parts]


def deepness(mm: float, units: Units) -> str:
    """A depth; the screw or fitting rules it, so inch pieces have mm beside it."""
    return size(mm, units) if units is Units.MM else with_unit(mm, units)


def loose_kinds(assembly: Assembly) -> Iterator[tuple[str, int]]:
    """Loose pieces by name, with how many there are: for the list of what is needed."""
    for part in assembly.parts:
        if part.kind is PartKind.LOOSE:
            yield part.name, len(assembly.copies_of(part.label))
