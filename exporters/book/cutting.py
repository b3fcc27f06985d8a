"""The cut list, material by material: what is sawn out rough, and the size that the saw leaves."""

from typing import Any

from exporters.book import tables
from exporters.book.pages import Pages
from exporters.book.tables import TIMES, size
from exporters.names import plain
from exporters.tables import rounding
from ground.order import natural
from ground.quantities import Units
from models.parts.part import Part, Stage
from planning.cutting.cut_sizes import cut_sizes
from planning.cutting.records import CutPlan, leaves

COLUMNS = (
    tables.Column(head="label"),
    tables.Column(head="part", share=1.0),
    tables.Column(head="no.", number=True),
    tables.Column(head="rough out", number=True),
    tables.Column(head="length", number=True),
    tables.Column(head="width", number=True),
    tables.Column(head="thick", number=True),
    tables.Column(head="out of"),
    tables.Column(head="when, edges, notes", share=1.5),
)
ALIKE = 0.05
"""A rough size nearer to the blank than this is the blank (mm)."""


def lists(pages: Pages) -> list[dict[str, Any]]:
    """The cut list, material by material."""
    spec = pages.spec
    told = tables.materials_told(spec)
    made = [part for part in pages.assembly.parts if part.made]
    out_of = stocks(pages.cuts)
    return [
        {
            "title": plain("made from stock in hand" if key is None else f"{key}: {told[key]}"),
            "table": tables.table(COLUMNS, (row(part, pages, out_of) for part in parts)),
        }
        for key in (*spec.materials, None)
        if (
            parts := sorted(
                (part for part in made if part.material == key),
                key=lambda part: natural(part.label),
            )
        )
    ]


def stocks(cuts: CutPlan | None) -> dict[str, list[str]]:
    """The sheets and boards that each part comes out of, by label."""
    found: dict[str, list[str]] = {}
    for stock in () if cuts is None else cuts.stock:
        labels = {leaf.placed.label for leaf in leaves(stock.root) if leaf.placed is not None}
        for label in labels:
            found.setdefault(label, []).append(stock.id)
    return found


def row(part: Part, pages: Pages, out_of: dict[str, list[str]]) -> list[str]:
    """One part of the cut list."""
    units = pages.spec.units
    way = rounding(part)
    return [
        part.label,
        part.name,
        str(len(pages.assembly.copies_of(part.label))),
        rough(part, pages),
        *(size(length, units, way) for length in part.blank.size),
        ", ".join(sorted(out_of.get(part.label, ()), key=natural)),
        "; ".join(notes(part, units)),
    ]


def rough(part: Part, pages: Pages) -> str:
    """One piece as it leaves the board or the sheet, where that is larger than the blank."""
    if part.material is None:
        return ""
    spec = pages.spec
    found = cut_sizes(part, spec.materials[part.material], spec.shop, None)
    if max(abs(a - b) for a, b in zip(found.rough, found.cut, strict=True)) < ALIKE:
        return ""
    return TIMES.join(size(length, spec.units) for length in found.rough)


def notes(part: Part, units: Units) -> list[str]:
    """When it is cut, which way its grain runs, what is edged; mm where fittings rule its size."""
    found = [] if part.stage is Stage.NOW else [part.stage.value]
    if part.blank.grain.value == "width":
        found.append("grain across")
    if any(part.over):
        left = TIMES.join(
            size(a + b, units) for a, b in zip(part.blank.size, part.over, strict=True)
        )
        found.append(f"left {left} until then")
    if units is Units.INCH and part.stage is Stage.FROM_HARDWARE:
        found.append(f"{TIMES.join(size(one, Units.MM) for one in part.blank.size)} mm")
    if part.banded:
        found.append(f"edging on {', '.join(part.banded)}")
    if part.note:
        found.append(part.note)
    return found
