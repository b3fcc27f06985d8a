"""What the yard sells and how it counts: thicknesses, widths, lengths, board feet, litres."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, ROUND_UP, Decimal
from typing import Final

from ground.quantities import MM_PER_FOOT, MM_PER_INCH, Units
from specs.materials import Lumber

QUARTERS: Final = tuple(q * MM_PER_INCH / 4 for q in (4, 5, 6, 7, 8, 10, 12, 16))
"""Rough thicknesses in quarters of an inch: 4/4 ... 16/4 (check values 9: standard thicknesses)."""
MILLIMETRES: Final = (20.0, 27.0, 34.0, 41.0, 52.0, 65.0, 80.0, 100.0)
"""Rough thicknesses of sawn hardwood in millimetres. Common practice, no source."""

WIDTH: Final = {Units.MM: 200.0, Units.INCH: 8 * MM_PER_INCH}
"""A usual width of boards. Common practice, no source."""
LENGTHS: Final = {
    Units.MM: (2000.0, 2500.0, 3000.0, 3500.0),
    Units.INCH: tuple(feet * MM_PER_FOOT for feet in (6, 8, 10, 12)),
}
"""Lengths of boards. Common practice, no source."""

CUBIC_METRE: Final = Decimal(1_000_000_000)
VOLUME_STEP: Final = Decimal("0.001")
"""A yard sells litres at the least, rounded up. Common practice, no source."""

WASTE: Final = Decimal("0.3")
"""Bought over what the plan needs, for what the boards turn out to be: 20-40 % for the better
grades (check values 9; common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Yard:
    """Boards on sale (mm)."""

    thicknesses: tuple[float, ...]
    width: float
    lengths: tuple[float, ...]


def yard(lumber: Lumber, units: Units) -> Yard:
    """What is on sale of ``lumber``: as the spec says, or as is usual in its units."""
    usual = MILLIMETRES if units is Units.MM else QUARTERS
    sold = lumber.sold
    thicknesses = sold.thicknesses if sold and sold.thicknesses else usual
    lengths = sold.lengths if sold and sold.lengths else LENGTHS[units]
    width = sold.width if sold and sold.width else WIDTH[units]
    return Yard(thicknesses=tuple(sorted(thicknesses)), width=width, lengths=tuple(sorted(lengths)))


def nearest(thicknesses: Iterable[float], needed: float) -> float | None:
    """The thinnest that is thick enough; None: nothing is."""
    return min((t for t in thicknesses if t >= needed - 1e-6), default=None)


def board_feet(thickness: float, width: float, length: float) -> float:
    """Board feet of a board in mm: T x W x L in inches over 144, thinner than 1 in as 1 in.

    1 x 6 x 96 in is 4; 2 x 6 x 60 in is 5; 5/4 x 7-1/2 in x 10 ft is 7.8125.
    """
    t, w, l = (value / MM_PER_INCH for value in (thickness, width, length))  # noqa: E741
    return max(t, 1.0) * w * l / 144.0


def tallied(boards: Iterable[tuple[float, float, float]]) -> Decimal:
    """Board feet as a yard tallies them, from thickness, width and length of each board (mm).

    Surface measure: width in inches x whole feet / 12, to the nearest whole foot, exact halves in
    turn up and down; times the thickness, 1 in at least (NHLA tally, check values 9, from memory).
    5/4 x 7-1/2 in x 10 ft: 6.25 is 6, times 1-1/4 is 7.5 against 7.8125 exact.
    """
    total = Decimal(0)
    up = True
    for thickness, width, length in boards:
        feet = math.floor(length / MM_PER_FOOT + 1e-6)
        surface = Decimal(round(width / MM_PER_INCH * feet, 6)) / 12
        whole = surface.to_integral_value(ROUND_HALF_EVEN)
        if surface % 1 == Decimal("0.5"):
            whole = surface.to_integral_value(ROUND_UP) if up else Decimal(int(surface))
            up = not up
        inches = max(Decimal(1), Decimal(str(round(thickness / MM_PER_INCH, 4))))
        total += whole * inches
    return total.quantize(Decimal("0.01"))


def cubic_metres(boards: Iterable[tuple[float, float, float]]) -> Decimal:
    """Cubic metres of boards in mm, up to the next litre."""
    volume = sum((Decimal(t * w * l) for t, w, l in boards), Decimal(0)) / CUBIC_METRE  # noqa: E741
    return (volume - Decimal("1e-9")).quantize(VOLUME_STEP, ROUND_UP)
