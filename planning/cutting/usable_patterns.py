"""All patterns that a plan on a given number of bars could use: few, where that number is tight.

Prices that no pattern is worth more than one bar at let each pattern's shortfall be seen. The
shortfalls of a whole plan together are its bars less what everything wanted is worth, so no single
pattern falls short by more (reduced-cost fixing, as in Belov and Scheithauer, European Journal of
Operational Research 171, 2006, from memory); and none wastes more than all of the plan's bars may.
"""

from dataclasses import dataclass, field

import numpy as np

from planning.cutting.knapsack import Floats, Ints

SAFE = 1e-7
"""A price is not known closer."""
LISTED = 20_000
"""So many patterns are listed at most."""
CELLS = 20_000_000
"""The table of what is still to be had (kinds times room) is not made larger."""


@dataclass(slots=True, kw_only=True)
class _Search:
    """Kinds from the longest; ``most`` of each, ``price`` a piece.

    ``still`` is the most worth that kinds from a place on give in a room. A pattern is worth
    ``need`` at least and leaves ``waste`` at most.
    """

    length: Ints
    most: Ints
    price: Floats
    need: float
    waste: int
    still: list[Floats]
    taken: list[int] = field(init=False)
    found: list[tuple[int, ...]] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Start with an empty bar."""
        self.taken = [0] * len(self.length)

    def full(self, room: int) -> bool:
        """Tell whether nothing that is left over fits any more."""
        return not any(
            self.length[kind] <= room and self.taken[kind] < self.most[kind]
            for kind in range(len(self.length) - 1, -1, -1)
        )

    def fill(self, first: int, room: int, worth: float) -> None:
        """List what can be made of the bar with kinds from ``first`` on."""
        if worth >= self.need and room <= self.waste and self.full(room):
            self.found.append(tuple(self.taken))
        for kind in range(first, len(self.length)):
            if len(self.found) > LISTED or worth + self.still[kind][room] < self.need:
                return
            each, price = int(self.length[kind]), float(self.price[kind])
            for many in range(1, min(int(self.most[kind]), room // each) + 1):
                self.taken[kind] = many
                self.fill(kind + 1, room - many * each, worth + many * price)
            self.taken[kind] = 0


def usable(size: int, length: Ints, demand: Ints, price: Floats, bars: int) -> list[Ints] | None:
    """Every full pattern that a plan on so many bars of ``size`` could use; None: too many.

    ``price`` is what one of each length is worth in bars; no pattern may be worth more than one.
    A full pattern holds nothing more of what is wanted: some plan has only such ones, cutting more
    than is wanted here and there.
    """
    if size * len(length) > CELLS:
        return None
    order = np.argsort(-length, kind="stable")
    most = np.minimum(demand, size // length)[order]
    search = _Search(
        length=length[order],
        most=most,
        price=price[order],
        need=1.0 - (bars - float(price @ demand)) - SAFE,
        waste=bars * size - int(length @ demand),
        still=_still(size, length[order], most, price[order]),
    )
    search.fill(0, size, 0.0)
    if len(search.found) > LISTED:
        return None
    back = np.argsort(order, kind="stable")
    return [np.array(taken, dtype=np.int64)[back] for taken in search.found]


def _still(size: int, length: Ints, most: Ints, price: Floats) -> list[Floats]:
    """For each place the most worth of kinds from there on, for every room."""
    found = [np.zeros(size + 1)]
    for kind in range(len(length) - 1, -1, -1):
        without, best = found[-1], found[-1].copy()
        for many in range(1, int(most[kind]) + 1):
            weight = many * int(length[kind])
            with_it = without[: size + 1 - weight] + many * price[kind]
            best[weight:] = np.maximum(best[weight:], with_it)
        found.append(best)
    return found[::-1]
