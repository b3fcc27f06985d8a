"""Sums as a maker writes them: ``20 + 3 + 350 + 39 = 412``, in whole steps of the rule."""

import math
from itertools import groupby

from ground.quantities import Units, length_text, step
from models.parts.assembly import Sum

SLACK = 1e-6
"""Parts of a step: halves that binary numbers miss by a hair still go up."""


def worked(found: Sum, units: Units) -> str:
    """The sum in the piece's units, and in mm beside it for an inch piece."""
    line = in_units(found, units)
    return line if units is Units.MM else f"{line}  ({in_units(found, Units.MM)} mm)"


def in_units(found: Sum, units: Units) -> str:
    """The sum in ``units``, rounded so that it closes: the last term takes what rounding leaves."""
    size = step(units)
    steps = [whole_steps(value / size) for _, value in found.terms]
    whole = whole_steps(found.total / size)
    steps[-1] += whole - sum(steps)
    pieces: list[str] = []
    for value, same in groupby(steps):
        many = len(list(same))
        text = length_text(abs(value) * size, units)
        if many > 1:
            text = f"{many} x {text}"
        sign = "-" if value < 0 else "+"
        pieces.append(f"{sign} {text}" if pieces or value < 0 else text)
    return f"{' '.join(pieces)} = {length_text(whole * size, units)}"


def whole_steps(steps: float) -> int:
    """The nearest whole number of steps, halves up."""
    return math.floor(steps + 0.5 + SLACK)
