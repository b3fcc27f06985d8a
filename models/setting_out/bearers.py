"""The upper edges that a case lies on, and where fasteners have room along them."""

from dataclasses import dataclass

from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, Vec, Z, meet

Stretch = tuple[float, float]
"""From and to along a bearer (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearer:
    """An apron or plinth board that carries the case, piece axes.

    ``run`` is its level length, to the right as seen from outside, ``up`` the way up its face,
    ``out`` level through it away from the room. ``inner`` is its inner face, normal into the room;
    ``span`` its ends and ``taken`` what is not free, both along ``run`` (mm).
    """

    key: str
    run: Vec
    up: Vec
    out: Vec
    inner: Plane
    thickness: float
    low: float
    high: float
    span: Stretch
    taken: tuple[Stretch, ...] = ()

    @property
    def length(self) -> float:
        """Between its ends (mm)."""
        return self.span[1] - self.span[0]

    def edge(self, at: float) -> Vec:
        """The point of its inner upper arris ``at`` mm along."""
        return meet(self.inner, Plane(Z, self.high), Plane(self.run, at))


def shared(count: int, bearers: tuple[Bearer, ...]) -> tuple[int, ...]:
    """How many of ``count`` fasteners each bearer gets: front, back, left, right.

    By length, the same on both of a pair, and one at least on each where there are four. An odd
    one goes to the front.
    """
    long, side = bearers[0].length, bearers[2].length
    half = count // 2
    sides = round(half * side / (long + side))
    if half > 1:
        sides = min(half - 1, max(1, sides))
    fronts = half - sides
    return (fronts + count % 2, fronts, sides, sides)


def places(bearer: Bearer, count: int, half: float) -> tuple[float, ...] | None:
    """Where ``count`` fasteners that need ``half`` either way stand; None if there is no room.

    Evenly, each in the middle of its share of the length, moved to the nearest free place.
    """
    lo, hi = bearer.span
    found: list[float] = []
    taken = [(a - half, b + half) for a, b in bearer.taken]
    for number in range(count):
        wanted = lo + (hi - lo) * (2 * number + 1) / (2 * count)
        place = _nearest(wanted, taken, (lo + half, hi - half))
        if place is None:
            return None
        found.append(place)
        taken.append((place - 2 * half, place + 2 * half))
    return tuple(sorted(found))


def _nearest(wanted: float, taken: list[Stretch], within: Stretch) -> float | None:
    edges = (edge for stretch in taken for edge in stretch)
    free = [
        place
        for place in (wanted, *edges)
        if within[0] - LENGTH_EPS <= place <= within[1] + LENGTH_EPS
        and not any(a + LENGTH_EPS < place < b - LENGTH_EPS for a, b in taken)
    ]
    return min(free, key=lambda place: (round(abs(place - wanted), 6), place)) if free else None
