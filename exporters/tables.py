"""cut-list.csv and hardware.csv: what a maker carries to the saw and to the shop.

RFC 4180, UTF-8. Lengths are in the piece's own units as a rule shows them; an inch piece has them
in millimetres beside that. Inches carry their mark, or a spreadsheet makes a date of 3/4.
"""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping

from exporters.names import csv_cell
from ground.order import natural
from ground.quantities import Rounding, Units, length_text
from ground.vectors import Vec
from models.parts.assembly import Assembly, HardwareLine
from models.parts.part import Part
from planning.cutting.cut_sizes import CutSizes, cut_sizes
from specs.spec import Spec

SIDES = ("length", "width", "thickness")
SIZES = ("rough", "milled", "cut", "finished")

FRONTS = "F"
"""The letter of the labels of fronts and doors."""

Row = dict[str, str]


def cut_list(
    spec: Spec,
    assembly: Assembly,
    finished: Mapping[str, Vec],
    stock: Mapping[str, tuple[str, ...]] | None = None,
) -> bytes:
    """Every part that is made, with its four sizes; ``finished`` boxes (mm) by label.

    ``stock`` names the sheets and boards that each comes out of.
    """
    from_ = stock or {}
    head = ["label", "name", "quantity", "kind", "material", "grain", "layers", "staves"]
    sizes = [name for size in SIZES for name in size_heads(size, spec.units)]
    made = sorted((p for p in assembly.parts if p.made), key=lambda part: natural(part.label))
    rows = (
        cut_row(part, spec, assembly, finished.get(part.label))
        | {"stock": ", ".join(from_.get(part.label, ()))}
        for part in made
    )
    return table([*head, *sizes, "stock", "stage", "edges banded", "notes"], rows)


def cut_row(part: Part, spec: Spec, assembly: Assembly, finished: Vec | None) -> Row:
    """One part of the cut list."""
    material = None if part.material is None else spec.materials[part.material]
    sizes = cut_sizes(part, material, spec.shop, finished)
    return {
        "label": part.label,
        "name": part.name,
        "quantity": str(len(assembly.copies_of(part.label))),
        "kind": part.kind.value,
        "material": part.material or "",
        "grain": part.blank.grain.value,
        "layers": str(part.blank.layers),
        "staves": str(part.blank.staves),
        **size_cells(sizes, spec.units, rounding(part)),
        "stage": part.stage.value,
        "edges banded": ", ".join(part.banded),
        "notes": part.note,
    }


def rounding(part: Part) -> Rounding:
    """Which way a size may be off: a front never upward, or it does not go in."""
    return Rounding.DOWN if part.label.startswith(FRONTS) else Rounding.NEAREST


def size_heads(size: str, units: Units) -> Iterator[str]:
    """The columns of one size: in the piece's units, then in mm if those are others."""
    for unit in dict.fromkeys((units, Units.MM)):
        for side in SIDES:
            yield f"{size} {side} ({unit.value})"


def size_cells(sizes: CutSizes, units: Units, way: Rounding) -> Row:
    """The cells of all four sizes."""
    cells: Row = {}
    for size in SIZES:
        lengths: Vec | None = getattr(sizes, size)
        heads = list(size_heads(size, units))
        for place, head in enumerate(heads):
            unit = units if place < len(SIDES) else Units.MM
            if lengths is None:
                cells[head] = ""
            else:
                cells[head] = marked(lengths[place % len(SIDES)], unit, way)
    return cells


def marked(length: float, units: Units, way: Rounding) -> str:
    """A length for a cell: ``412.8``, or ``23-5/8"``."""
    text = length_text(length, units, rounding=way)
    return f'{text}"' if units is Units.INCH else text


def hardware_list(lines: Iterable[HardwareLine]) -> bytes:
    """Everything to buy that is not wood, in natural order of its name and size."""
    rows = (
        {
            "item": line.name,
            "quantity": str(line.quantity),
            "size": line.size,
            "for": line.for_what,
            "notes": line.note,
        }
        for line in sorted(lines, key=lambda line: (natural(line.name), natural(line.size)))
    )
    return table(["item", "quantity", "size", "for", "notes"], rows)


def table(head: list[str], rows: Iterable[Row]) -> bytes:
    """Lay rows out under ``head``; no cell can become a formula."""
    page = io.StringIO(newline="")
    writer = csv.DictWriter(page, head, lineterminator="\r\n")
    writer.writeheader()
    for row in rows:
        writer.writerow({key: csv_cell(cell) for key, cell in row.items()})
    return page.getvalue().encode()
