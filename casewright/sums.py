"""Sums as a maker writes them: ``20 + 3 + 350 + 39 = 412``, in whole steps of the rule."""

from itertools import groupby

from ground.quantities import Units, length_text, step
from models.parts.assembly import Sum

CLOSE = 1e-6


def worked(found: Sum, units: Units) -> str:
    """The sum in the piece's units, and in mm beside it for an inch piece."""
    line = in_units(found, units)
    return line if units is Units.MM else f"{line}  ({in_units(found, Units.MM)} mm)"


def in_units(found: Sum, units: Units) -> str:
    """The sum in ``units``, rounded so that it closes: the last term takes what rounding leaves."""
    size = step(units)
    steps = [round(value / size) for _, value in found.terms]
    whole = round(found.total / size)
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
