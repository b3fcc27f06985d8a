"""Cut lengths out of bars of one size, on as few bars as can be found (cutting stock).

Column generation gives a bound and patterns (Gilmore and Gomory, Operations Research 9, 1961);
rounding them down and solving again for what is left gives plans. Lengths are whole numbers with
the kerf added once, as everywhere in a search.
"""

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from planning.cutting.knapsack import Floats, Ints, best_fill
from planning.cutting.patterns import Master
from planning.cutting.usable_patterns import usable

SAFE: Final = 1e-6
COLUMNS: Final = 3000
"""Rounds of making columns for one program at most."""
EVERY: Final = 8
"""A whole-number program over the patterns at hand is solved after so many dives."""
NODES: Final = 200
"""Nodes of each of those programs."""
DECIDING: Final = 2000
"""Nodes of the program over all usable patterns."""
SHAKEN: Final = 0.4
"""How far chance may move the order in which patterns are fixed."""


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bars:
    """Patterns (how many of each length), one a bar; ``least`` is what no plan can be under."""

    patterns: tuple[tuple[int, ...], ...]
    least: int
    dives: int

    @property
    def proved(self) -> bool:
        """Tell whether no plan uses fewer bars."""
        return len(self.patterns) == self.least


@dataclass(slots=True, kw_only=True)
class _Run:
    """One run: bars of ``size``, ``length`` of each kind, how many are wanted."""

    size: int
    length: Ints
    demand: Ints
    over: Callable[[], bool]
    chance: random.Random
    master: Master = field(init=False)
    best: list[Ints] = field(default_factory=list)
    least: int = 0

    @property
    def done(self) -> bool:
        """Whether nothing is left to find, or to try."""
        return len(self.best) <= self.least or self.over()

    def keep(self, plan: list[Ints]) -> None:
        """Keep a plan that is better than the best."""
        if len(plan) < len(self.best):
            self.best = plan


def fewest_bars(
    size: int,
    lengths: Sequence[tuple[int, int]],
    *,
    dives: int = 40,
    over: Callable[[], bool] = _never,
    seed: int = 1,
) -> Bars:
    """Cut ``lengths`` (length, how many) out of bars of ``size``; ``dives`` plans are tried.

    Raises:
        ValueError: a length is longer than a bar.
    """
    if any(length > size for length, many in lengths if many):
        message = f"a length is longer than the bar of {size}"
        raise ValueError(message)
    length = np.array([pair[0] for pair in lengths], dtype=np.int64)
    demand = np.array([pair[1] for pair in lengths], dtype=np.int64)
    if not demand.sum():
        return Bars(patterns=(), least=0, dives=0)
    chance = random.Random(seed)  # noqa: S311 - for variety, no secret
    run = _Run(size=size, length=length, demand=demand, over=over, chance=chance)
    run.least = -(-int(length @ demand) // size)
    run.best = largest_first(size, length, demand)
    if not run.done:
        run.keep(fullest_first(size, length, demand))
    tried = 0 if run.done else _improve(run, dives)
    patterns = tuple(tuple(int(n) for n in pattern) for pattern in run.best)
    return Bars(patterns=patterns, least=run.least, dives=tried)


def largest_first(size: int, length: Ints, demand: Ints) -> list[Ints]:
    """The longest first, each into the first bar with room."""
    rooms: list[int] = []
    plan: list[Ints] = []
    for kind in np.argsort(-length, kind="stable"):
        for _ in range(int(demand[kind])):
            place = next((i for i, room in enumerate(rooms) if room >= length[kind]), None)
            if place is None:
                place = len(rooms)
                rooms.append(size)
                plan.append(np.zeros(len(length), dtype=np.int64))
            rooms[place] -= int(length[kind])
            plan[place][kind] += 1
    return plan


def fullest_first(size: int, length: Ints, demand: Ints) -> list[Ints]:
    """The longest that is left, and with it what fills the bar best.

    The idea is Gupta and Ho's (Production Planning & Control 10, 1999).
    """
    left = demand.copy()
    order = np.argsort(-length, kind="stable")
    plan: list[Ints] = []
    while left.any():
        first = next(int(kind) for kind in order if left[kind])
        left[first] -= 1
        room = size - int(length[first])
        _, filled = best_fill(room, length, length.astype(np.float64), left)
        left -= filled
        filled[first] += 1
        plan.append(filled)
    return plan


def _improve(run: _Run, dives: int) -> int:
    """Bound, then dive after dive; how many there were."""
    run.master = Master(run.demand.astype(np.float64))
    for pattern in run.best:
        run.master.add(pattern)
    value, shares = _generate(run, run.demand, bounding=True)
    for dive in range(dives):
        if run.done:
            return dive
        _dive(run, shares if dive == 0 else None, value)
        if dive == 0 and not run.done:
            _decide(run)
        if dive % EVERY == EVERY - 1 and not run.done:
            run.keep(_whole(run))
    return dives


def _decide(run: _Run) -> None:
    """Find a plan on as few bars as the bound says, or raise the bound: there is none.

    Where all patterns that such a plan could use are few, one whole-number program tells.
    """
    while not run.done:
        _generate(run, run.demand, bounding=True)
        price = run.master.prices()
        value, _ = best_fill(run.size, run.length, price, np.minimum(run.demand, run.size))
        held = price / max(value, 1.0)
        patterns = usable(run.size, run.length, run.demand, held, run.least)
        if patterns is None:
            return
        master = Master(run.demand.astype(np.float64))
        for pattern in patterns:
            master.add(pattern)
        numbers, bound = master.whole(DECIDING)
        run.keep(_planned(run, master, numbers))
        if bound <= run.least + SAFE:
            return
        run.least += 1


def _generate(run: _Run, demand: Ints, *, bounding: bool = False) -> tuple[float, Floats]:
    """Make patterns for ``demand`` until none would help; bars, and how many of each pattern."""
    run.master.want(demand.astype(np.float64))
    most = np.minimum(demand, run.size // run.length)
    for _ in range(COLUMNS):
        price = run.master.prices()
        value, pattern = best_fill(run.size, run.length, price, most)
        if bounding:  # it holds whether or not the program is solved to its end (Farley 1990)
            held = float(price @ demand) / max(value, 1.0)
            run.least = max(run.least, math.ceil(held - SAFE))
        if value <= 1.0 + SAFE or not run.master.add(pattern) or run.over():
            break
    return run.master.value(), run.master.shares()


def _dive(run: _Run, shares: Floats | None, value: float) -> None:
    """Fix patterns bit by bit, solving again for what is left each time."""
    left = run.demand.copy()
    plan: list[Ints] = []
    while left.any() and not run.over():
        if shares is None:
            value, shares = _generate(run, left)
        if len(plan) + math.ceil(value - SAFE) >= len(run.best):
            return
        before = len(plan)
        _fix_whole(run, shares, left, plan)
        run.keep([*plan, *largest_first(run.size, run.length, left)])
        if run.done:
            return
        if len(plan) == before or run.chance.random() < SHAKEN:
            _fix_largest(run, shares, left, plan)
        if len(plan) == before:  # the program was not solved: nothing can be read off it
            return
        shares = None


def _fix_whole(run: _Run, shares: Floats, left: Ints, plan: list[Ints]) -> None:
    """Fix the whole part of each pattern's number."""
    for place in np.flatnonzero(shares >= 1.0 - SAFE):
        for _ in range(int(shares[place] + SAFE)):
            _take(run.master.patterns[place], left, plan)


def _fix_largest(run: _Run, shares: Floats, left: Ints, plan: list[Ints]) -> None:
    """Fix one pattern more, the nearest to a whole number, give or take."""
    part = shares - np.floor(shares + SAFE)
    noise = np.array([run.chance.random() for _ in range(len(part))])
    for place in np.argsort(-part * (1.0 + SHAKEN * noise), kind="stable"):
        if _take(run.master.patterns[place], left, plan):
            return


def _take(pattern: Ints, left: Ints, plan: list[Ints]) -> bool:
    """Cut a bar by a pattern as far as there is something left to cut."""
    pattern = np.minimum(pattern, left)
    if not pattern.any():
        return False
    plan.append(pattern)
    left -= pattern
    return True


def _whole(run: _Run) -> list[Ints]:
    """A whole-number program over the patterns at hand."""
    run.master.want(run.demand.astype(np.float64))
    numbers, _ = run.master.whole(NODES)
    return _planned(run, run.master, numbers)


def _planned(run: _Run, master: Master, numbers: list[int]) -> list[Ints]:
    """So many bars by each pattern, as far as there is something to cut, and the rest by length."""
    left = run.demand.copy()
    plan: list[Ints] = []
    for pattern, many in zip(master.patterns, numbers, strict=False):
        for _ in range(many):
            _take(pattern, left, plan)
    return [*plan, *largest_first(run.size, run.length, left)]
