"""Whether a body on feet tips: moments about an edge of what it stands on.

Masses in kg, lengths in mm, forces in N, tilt in degrees. Nothing here knows furniture.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ground.vectors import Vec

Spot = tuple[float, float]
"""A place on the floor (x, y)."""

GRAVITY = 9.80665


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A mass ``out`` mm beyond an edge (negative: behind it) and ``up`` mm above the floor."""

    kg: float
    out: float
    up: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Moments:
    """What holds a body up and what tips it (kg mm)."""

    restoring: float
    overturning: float

    @property
    def ratio(self) -> float:
        """Restoring over overturning: under 1 it tips; infinite where nothing tips it."""
        if self.overturning <= 0:
            return math.inf
        return max(self.restoring, 0.0) / self.overturning


def moments(
    loads: Iterable[Load], *, tilt: float = 0.0, push: float = 0.0, height: float = 0.0
) -> Moments:
    """Moments about the edge, the floor tilted towards it by ``tilt``.

    ``push`` is a level force outward, ``height`` mm above the floor.
    """
    cos, sin = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))
    restoring, overturning = 0.0, push / GRAVITY * height * cos
    for load in loads:
        arm = load.out * cos + load.up * sin
        if arm > 0:
            overturning += load.kg * arm
        else:
            restoring -= load.kg * arm
    return Moments(restoring=restoring, overturning=overturning)


def ballast(found: Moments, behind: float, up: float, *, tilt: float, wanted: float) -> float:
    """Mass (kg) to fix ``behind`` mm from the edge, ``up`` mm high, for a ratio of ``wanted``."""
    arm = behind * math.cos(math.radians(tilt)) - up * math.sin(math.radians(tilt))
    short = wanted * found.overturning - found.restoring
    return max(short, 0.0) / arm if arm > 0 else math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """One side of the ground that a body stands on; ``out`` points away from it, on the floor."""

    start: Spot
    end: Spot
    out: Spot

    def load(self, kg: float, at: Vec) -> Load:
        """A mass at a place, seen from this edge."""
        x, y = at[0] - self.start[0], at[1] - self.start[1]
        return Load(kg=kg, out=x * self.out[0] + y * self.out[1], up=at[2])

    @property
    def name(self) -> str:
        """The side of the piece that it lies on."""
        if abs(self.out[1]) >= abs(self.out[0]):
            return "front" if self.out[1] < 0 else "back"
        return "left" if self.out[0] < 0 else "right"


def edges(feet: Sequence[Spot]) -> tuple[Edge, ...]:
    """The edges of the smallest convex ground that holds every foot; none where there is none."""
    corners = hull(feet)
    if len(corners) < 3:  # noqa: PLR2004 - no ground to stand on
        return ()
    found: list[Edge] = []
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        long = math.hypot(b[0] - a[0], b[1] - a[1])
        out = ((b[1] - a[1]) / long, (a[0] - b[0]) / long)
        found.append(Edge(start=a, end=b, out=out))
    return tuple(found)


def hull(points: Sequence[Spot]) -> tuple[Spot, ...]:
    """Corners of the convex hull, counter-clockwise; none on a straight side."""
    ordered = sorted({(round(x, 6), round(y, 6)) for x, y in points})
    if len(ordered) < 3:  # noqa: PLR2004 - no ground to stand on
        return tuple(ordered)
    return (*_chain(ordered)[:-1], *_chain(ordered[::-1])[:-1])


def _chain(ordered: Sequence[Spot]) -> list[Spot]:
    chain: list[Spot] = []
    for p in ordered:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 0:
            chain.pop()
        chain.append(p)
    return chain


def _turn(a: Spot, b: Spot, c: Spot) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
