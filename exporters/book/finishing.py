"""The finish by surface and coats, and the hours: what is known is told, the rest left to fill in.

Areas and litres are worked out by ``checks.finish``; nothing is worked out here a second time.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from checks.finish import COVERS, OVER, Coated, Surface
from exporters.book import tables
from exporters.book.pages import Pages
from ground.quantities import MM_PER_FOOT, Units
from models.parts.part import PartKind
from planning.machines import SAWN, Tool
from planning.steps.closing_steps import FINISH_FIRST
from planning.steps.records import Step

FLUID_OUNCES = 33.8140227
"""US fluid ounces in a litre (NIST Handbook 44, appendix C: a fluid ounce is 29.573 53 ml)."""
JOINTING = frozenset({Tool.MORTISER, Tool.ROUTER, Tool.ROUTER_TABLE, Tool.HAND_SAW})
BORING = frozenset({Tool.DRILL, Tool.DRILL_PRESS})


def finish(pages: Pages) -> dict[str, Any] | None:
    """Each surface with its area, its coats, what a coat takes and what all of them take."""
    found, units = pages.finish, pages.spec.units
    if found is None or not found.surfaces:
        return None
    columns = (
        tables.Column(head="surface", share=1.4),
        tables.Column(head="area", number=True),
        tables.Column(head="coats", number=True),
        tables.Column(head="one coat", number=True),
        tables.Column(head="all coats", number=True),
        tables.Column(head="comes ready", number=True),
    )
    rows = [row(one, units) for one in found.surfaces]
    rows.append(
        [
            "all of it",
            area(found.area, units),
            "",
            "",
            litres(found.litres, units),
            area(found.faced, units) if found.faced > 0 else "",
        ]
    )
    return {
        "table": tables.table(columns, rows),
        "basis": f"Film finish at {covered(units)} a coat, {OVER:.0%} over for brush and pot: "
        "common practice, no source. Areas are those that the air reaches in the closed piece.",
        "coats": [[name(one, pages.steps), one.coats] for one in found.surfaces if one.area > 0],
    }


def name(one: Coated, steps: Iterable[Step]) -> str:
    """A surface, and the step that it is finished before."""
    if one.surface is not Surface.CASE_INSIDE:
        return one.surface.value
    first = next((step.order for step in steps if FINISH_FIRST in step.note), None)
    return one.surface.value if first is None else f"{one.surface.value} (before step {first})"


def row(one: Coated, units: Units) -> list[str]:
    """One surface."""
    faced = area(one.faced, units) if one.faced > 0 else ""
    if one.area <= 0:
        return [one.surface.value, "", "", "", "", faced]
    return [
        one.surface.value,
        area(one.area, units),
        str(one.coats),
        litres(one.coat, units),
        litres(one.litres, units),
        faced,
    ]


def area(square_metres: float, units: Units) -> str:
    """An area in square metres, or in square feet."""
    if units is Units.MM:
        return f"{square_metres:.2f} m²"
    return f"{square_metres * 1e6 / MM_PER_FOOT**2:.1f} sq ft"


def litres(volume: float, units: Units) -> str:
    """A volume in litres; on inch sheets in fluid ounces, litres beside them."""
    if units is Units.MM:
        return f"{volume:.2f} l"
    return f"{volume * FLUID_OUNCES:.1f} fl oz ({volume:.2f} l)"


def covered(units: Units) -> str:
    """How far finish goes."""
    if units is Units.MM:
        return f"{COVERS:g} m² a litre"
    square_feet = COVERS * 1e6 / MM_PER_FOOT**2
    return f"{square_feet / FLUID_OUNCES:.1f} sq ft a fluid ounce ({COVERS:g} m² a litre)"


def hours(pages: Pages) -> list[list[str]]:
    """The work by kind and how much there is of it; the hours are the maker's."""
    return [[name, said] for name, said in work(pages) if said]


def work(pages: Pages) -> Iterator[tuple[str, str]]:
    """Each kind of work in order."""
    copies = {
        part.label: len(pages.assembly.copies_of(part.label)) for part in pages.assembly.parts
    }
    wood = {part.label for part in pages.assembly.parts if part.kind is not PartKind.LOOSE}
    milled = {one.part for one in pages.set_ups if one.machine is Tool.PLANER} & wood
    yield "milling boards", many(sum(copies[label] for label in milled), "part")
    stock = pages.cuts.stock if pages.cuts is not None else ()
    cuts = sum(len(one.steps) for one in stock)
    yield "sawing up sheets and boards", listed(many(len(stock), "piece"), many(cuts, "cut"))
    yield "jigs", many(len(pages.jigs), "jig")
    for name, tools in (("sawing", SAWN), ("joints", JOINTING), ("drilling", BORING)):
        yield name, many(sum(one.machine in tools for one in pages.set_ups), "set-up")
    edged = [p for p in pages.assembly.parts if p.kind is PartKind.EDGING]
    yield "edging", many(sum(copies[part.label] for part in edged), "piece")
    glued = sum(step.glued for step in pages.steps)
    yield "assembly", listed(many(len(pages.steps), "step"), many(glued, "glue-up"))
    fitted = sum(line.quantity for line in pages.assembly.hardware)
    yield "hardware", many(fitted, "piece")
    if pages.finish is not None:
        coats = max((one.coats for one in pages.finish.surfaces), default=0)
        yield (
            "sanding and finish",
            f"{area(pages.finish.area, pages.spec.units)}, up to {many(coats, 'coat')}",
        )


def many(count: int, name: str) -> str:
    """``1 cut``, ``3 cuts``; nothing where there is none."""
    return "" if not count else f"{count} {name if count == 1 else f'{name}s'}"


def listed(*said: str) -> str:
    """What is said, with commas between."""
    return ", ".join(text for text in said if text)
