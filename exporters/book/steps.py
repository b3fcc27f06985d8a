"""The steps of assembly in words: what is done, clamped with what, measured, minded."""

import re
from typing import Any

from exporters.book import tables
from exporters.book.pages import Pages
from exporters.names import plain
from ground.quantities import Rounding, Units, angle_text, rise_in_100
from planning.steps.closing_steps import DRY_FIT
from planning.steps.records import Clamp, Measure, Step

WIDE = re.compile(r'<svg [^>]*width="([0-9.]+)mm"')
ROOM = 84.0
"""Room for a picture (mm)."""
with_unit = tables.with_unit


def told(pages: Pages) -> list[dict[str, Any]]:
    """Every step; what is said of every glue-up stands once at the head."""
    return [step(one, pages) for one in pages.steps]


def step(one: Step, pages: Pages) -> dict[str, Any]:
    """One step of assembly."""
    units = pages.spec.units
    name = f"step-{one.order}"
    found = pages.pictures.get(name)
    return {
        "number": one.order,
        "title": plain(one.title),
        "does": plain(one.does),
        "picture": None if found is None else f"{name}.svg",
        "wide": 0.0 if found is None else wide(found),
        "clamps": [plain(clamp_words(clamp, units)) for clamp in one.clamps],
        "measures": [
            [plain(measure.what), *map(plain, measure_words(measure, units))]
            for measure in one.measures
        ],
        "note": plain(one.note.replace(DRY_FIT, "")),
        "glued": one.glued,
        "turned": one.turned,
    }


def wide(picture: str) -> float:
    """How wide a picture says it is (mm)."""
    found = WIDE.search(picture)
    return float(found[1]) if found is not None else ROOM


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
    opens = with_unit(clamp.opens, units, Rounding.UP)
    return f"{many} opening to {opens}, {clamp.along}{sets}; {caul}"


def measure_words(measure: Measure, units: Units) -> tuple[str, str]:
    """What it should be, and how far it may be off."""
    # what it may be off is never told larger than it is
    return (
        with_unit(measure.value, units),
        with_unit(measure.within, units, Rounding.DOWN),
    )
