"""The steps of assembly as build.json has them.

``copies`` are those that a step takes up, in order; ``directions`` has the way that each goes home
(unit vector, piece axes), null for what stands and waits.
"""

from collections.abc import Iterable
from typing import Any

from exporters.json_text import direction, number
from planning.steps.records import Clamp, Measure, Step

ANGLE_PLACES = 9
"""Angles are rounded to 1e-9 degrees."""


def entries(found: Iterable[Step]) -> list[dict[str, Any]]:
    """Every step in its order."""
    return [entry(one) for one in found]


def entry(one: Step) -> dict[str, Any]:
    """One step, keys in the contract's order, those of its own after them."""
    return {
        "order": one.order,
        "does": one.does,
        "copies": list(one.copies),
        "group": one.group,
        "directions": [None if move.way is None else direction(move.way) for move in one.moves],
        "clamps": [clamp(found) for found in one.clamps],
        "measure": [measure(found) for found in one.measures],
        "note": one.note,
        "title": one.title,
        "glued": one.glued,
        "standing": list(one.standing),
        "joints": list(one.joints),
        "upside_down": one.turned,
        "clear": one.swept,
    }


def clamp(found: Clamp) -> dict[str, Any]:
    """One setting of clamps."""
    return {
        "count": found.count,
        "opens": number(found.opens),
        "along": found.along,
        "caul": found.caul,
        "wedge": round(found.wedge, ANGLE_PLACES),
        "sets": found.sets,
    }


def measure(found: Measure) -> dict[str, Any]:
    """One thing to measure."""
    return {
        "what": found.what,
        "value": number(found.value),
        "within": number(found.within),
    }
