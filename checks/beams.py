"""Sag of boards on edge or on the flat: beams of one span, of several, and composite sections.

Lengths in mm, forces in N, stiffness in MPa; loads along a beam in N/mm. Sag is positive downward.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

SHEAR_STIFFNESS = 1 / 16
"""Shear modulus as a share of E along the grain (from memory: Wood Handbook Table 5-1)."""

TERMS = 8
"""Odd terms of a series, each way: four figures are right by then."""

STATIONS = 48
"""Places in each span where the sag of a continuous beam is worked."""


class Loading(Enum):
    """Ways to load one span: the constants k_b and k_s of Wood Handbook FPL-GTR-190 Table 9-1."""

    UNIFORM = (5 / 384, 1 / 8)
    UNIFORM_CLAMPED = (1 / 384, 1 / 8)
    MIDSPAN = (1 / 48, 1 / 4)
    MIDSPAN_CLAMPED = (1 / 192, 1 / 4)
    QUARTER_POINTS = (11 / 768, 1 / 8)
    """Two equal forces at the outer quarter points; the sag at midspan."""
    QUARTER_POINTS_AT_LOAD = (1 / 96, 1 / 8)
    """The same; the sag under a force."""
    CANTILEVER = (1 / 8, 1 / 2)
    CANTILEVER_END = (1 / 3, 1.0)

    @property
    def bending(self) -> float:
        """k_b."""
        return self.value[0]

    @property
    def shear(self) -> float:
        """k_s."""
        return self.value[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """What bends: ``bending`` is E I (N mm2), ``shear`` G A' (N), ``inertia`` mm4 of its E."""

    bending: float
    shear: float
    inertia: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One rectangle of a section: ``wide`` mm level, ``high`` mm plumb, its middle ``down`` mm."""

    wide: float
    high: float
    down: float
    stiffness: float

    @property
    def area(self) -> float:
        """Square mm."""
        return self.wide * self.high


def rectangle(wide: float, high: float, stiffness: float, shear: float | None = None) -> Section:
    """A plain rectangular section; ``shear`` is G in MPa, else a sixteenth of ``stiffness``."""
    strip = Strip(wide=wide, high=high, down=high / 2, stiffness=stiffness)
    return composite((strip,), shear)


def composite(strips: Sequence[Strip], shear: float | None = None) -> Section:
    """Strips glued to one another: the transformed section, in terms of the first one's E.

    A lip on one edge only also twists a shelf; this is the average of its bending.
    """
    first = strips[0].stiffness
    weights = [strip.stiffness / first * strip.area for strip in strips]
    middle = sum(w * s.down for w, s in zip(weights, strips, strict=True)) / sum(weights)
    inertia = sum(
        s.stiffness / first * s.wide * s.high**3 / 12 + w * (s.down - middle) ** 2
        for w, s in zip(weights, strips, strict=True)
    )
    modulus = first * SHEAR_STIFFNESS if shear is None else shear
    return Section(bending=first * inertia, shear=modulus * sum(weights) * 5 / 6, inertia=inertia)


def sag(loading: Loading, load: float, span: float, section: Section) -> float:
    """Sag under a total ``load`` in N, shear counted (Wood Handbook FPL-GTR-190 Eq. 9-2)."""
    bent = loading.bending * load * span**3 / section.bending
    return bent + loading.shear * load * span / section.shear


def point_sag(load: float, at: float, span: float, section: Section) -> float:
    """Greatest sag under a force ``at`` mm from one end, simply supported, by bending alone.

    Standard statics (from memory): P b (L^2 - b^2)^1.5 / (9 sqrt(3) E I L), b the shorter side.
    """
    short = min(at, span - at)
    top = load * short * (span**2 - short**2) ** 1.5
    return float(top / (9 * 3**0.5 * section.bending * span))


def support_moments(spans: Sequence[float], load: float) -> list[float]:
    """Moments (N mm, sagging positive) over the supports of a continuous beam, ends free to turn.

    ``load`` is uniform, N/mm. Clapeyron's equation of three moments, one stiffness throughout.
    """
    inner = len(spans) - 1
    if inner < 1:
        return [0.0] * (len(spans) + 1)
    lower, middle, upper, right = [], [], [], []
    for one, two in pairwise(spans):
        lower.append(one)
        middle.append(2 * (one + two))
        upper.append(two)
        right.append(-load * (one**3 + two**3) / 4)
    for row in range(1, inner):
        factor = lower[row] / middle[row - 1]
        middle[row] -= factor * upper[row - 1]
        right[row] -= factor * right[row - 1]
    moments = [0.0] * inner
    for row in reversed(range(inner)):
        after = upper[row] * moments[row + 1] if row + 1 < inner else 0.0
        moments[row] = (right[row] - after) / middle[row]
    return [0.0, *moments, 0.0]


def continuous_sag(spans: Sequence[float], load: float, section: Section) -> tuple[float, ...]:
    """Greatest sag in each span of a continuous beam under a uniform ``load`` (N/mm).

    Shear is added as for single spans: on the safe side.
    """
    moments = support_moments(spans, load)
    worst: list[float] = []
    for span, left, right in zip(spans, moments[:-1], moments[1:], strict=True):
        bent = max(
            _between(place * span / STATIONS, span, load, (left, right))
            for place in range(STATIONS + 1)
        )
        worst.append(bent / section.bending + load * span**2 / 8 / section.shear)
    return tuple(worst)


def _between(x: float, span: float, load: float, ends: tuple[float, float]) -> float:
    """E I times the sag at ``x``: the load's own, less what the moments at the ends take up."""
    left, right = ends
    own = load * x * (span**3 - 2 * span * x**2 + x**3) / 24
    y = span - x
    taken = (left * y * (span**2 - y**2) + right * x * (span**2 - x**2)) / (6 * span)
    return own + taken


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A plate on four edges that are free to turn: sides in mm, stiffness in N mm.

    ``along`` bends over ``long``, ``across`` over ``wide``; ``twist`` is 2 H of the plate equation.
    """

    long: float
    wide: float
    along: float
    across: float
    twist: float

    def sag(self, pressure: float) -> float:
        """Sag in the middle under a uniform ``pressure`` (N/mm2).

        Navier's series (from memory: Timoshenko and Woinowsky-Krieger, Theory of Plates and
        Shells, orthotropic plates).
        """
        total = 0.0
        for m in range(1, 2 * TERMS, 2):
            for n in range(1, 2 * TERMS, 2):
                x, y = (m / self.long) ** 2, (n / self.wide) ** 2
                held = self.along * x**2 + self.twist * x * y + self.across * y**2
                sign = -1 if (m + n) // 2 % 2 == 0 else 1
                total += sign * 16 * pressure / (math.pi**6 * m * n * held)
        return total


def plate(sides: tuple[float, float], thickness: float, moduli: tuple[float, float]) -> Plate:
    """A plate with its sides and moduli of elasticity in the same order, along and across."""
    cube = thickness**3 / 12
    shear = max(moduli) * SHEAR_STIFFNESS
    return Plate(
        long=sides[0],
        wide=sides[1],
        along=moduli[0] * cube,
        across=moduli[1] * cube,
        twist=4 * shear * cube,
    )
