"""Sheets put together quickly for what their parts are worth: strips, and parts stacked in them.

They are the patterns that a linear program over sheets starts from (see ``sheet_bound.py``).
"""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from planning.cutting.knapsack import Floats, Ints

FINEST: Final = 500
"""Sheets are put together in at most so many units a side."""
NOISES: Final = (0.0, 0.1, 0.3)
"""How far chance may change what parts are worth, one sheet after the other."""
SPLITS: Final = 4
"""So many ways to cut a sheet in two first are tried."""
LITTLE: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """How parts may lie in a sheet of ``size``: a width, a height and whose they are, each way."""

    size: tuple[int, int]
    w: Ints
    h: Ints
    part: Ints

    @property
    def turned(self) -> "Lie":
        """The same with the sheet turned."""
        return Lie(size=(self.size[1], self.size[0]), w=self.h, h=self.w, part=self.part)

    @property
    def coarse(self) -> "Lie":
        """The same in units few enough to count through; parts get no smaller by it."""
        w, wide = _coarse(self.w, self.size[0])
        h, high = _coarse(self.h, self.size[1])
        return Lie(size=(wide, high), w=w, h=h, part=self.part)


def _coarse(sides: Ints, size: int) -> tuple[Ints, int]:
    if size <= FINEST:
        return sides, size
    return -(-sides * FINEST // size), FINEST


def rough_sheets(lie: Lie, worth: Floats, chance: random.Random) -> Iterator[list[int]]:
    """Sheets (which parts lie in each) that are worth much; ``worth`` is by part."""
    for way in (lie, lie.turned):
        for noise in NOISES:
            shaken = worth * (1.0 + noise * np.array([chance.random() for _ in worth]))
            yield filled(way, shaken, way.size[1], ())
        heights = sorted({int(h) for h in way.h})
        for height in chance.sample(heights, min(SPLITS, len(heights))):
            for first in (height, way.size[1] - height):
                held = filled(way, worth, first, ())
                yield [*held, *filled(way, worth, way.size[1] - first, held)]


def filled(lie: Lie, worth: Floats, high: int, used: Sequence[int]) -> list[int]:
    """Fill a sheet ``high`` with strips upright, the best for its width first."""
    taken = set(used)
    held: list[int] = []
    room = lie.size[0]
    while True:
        strips = _Strips(lie, worth, (room, high), taken)
        best = strips.best()
        if best is None:
            return held
        members = strips.members(best)
        held += dict.fromkeys(int(lie.part[way]) for way in members)
        taken.update(held)
        room -= max(int(lie.w[way]) for way in members)


class _Strips:
    """The best stack of parts for a strip of every width, up to some room."""

    def __init__(self, lie: Lie, worth: Floats, room: tuple[int, int], taken: "set[int]") -> None:
        """Stack what is not ``taken``, narrow parts first, so that each width knows its best."""
        self.lie, self.room = lie, room
        value = worth[lie.part]
        fit = (lie.w <= room[0]) & (lie.h <= room[1]) & (value > LITTLE)
        ways = [int(way) for way in np.flatnonzero(fit) if int(lie.part[way]) not in taken]
        self.ways = sorted(ways, key=lambda way: (int(lie.w[way]), way))
        self.steps: list[NDArray[np.bool_]] = []
        self.value: list[float] = []
        best = np.zeros(room[1] + 1)
        for way in self.ways:
            high = int(lie.h[way])
            with_it = best[: len(best) - high] + value[way]
            better = with_it > best[high:] + LITTLE
            best[high:] = np.where(better, with_it, best[high:])
            self.steps.append(better)
            self.value.append(float(best[-1]))

    def best(self) -> int | None:
        """The strip to take: of those that fill the room best, the one worth most for its width.

        The number is how many ways, narrow ones first, may lie in it.
        """
        if not self.ways:
            return None
        widths = np.array([int(self.lie.w[way]) for way in self.ways])
        last = np.append(widths[1:] != widths[:-1], [True])
        ends = np.flatnonzero(last)
        chosen = _shares(widths[ends], np.array(self.value)[ends], self.room[0])
        place = max(chosen, key=lambda k: (self.value[ends[k]] / widths[ends[k]], k))
        return int(ends[place]) + 1

    def members(self, many: int) -> list[int]:
        """The ways that lie in a strip that the first ``many`` of them may lie in."""
        found: list[int] = []
        left = self.room[1]
        for place in range(many - 1, -1, -1):
            high = int(self.lie.h[self.ways[place]])
            if left >= high and self.steps[place][left - high]:
                found.append(self.ways[place])
                left -= high
        return found


def _shares(widths: Ints, values: Floats, room: int) -> list[int]:
    """Which widths fill the room best, each as often as may be."""
    best = np.zeros(room + 1)
    which = np.full(room + 1, -1)
    for c in range(1, room + 1):
        best[c], which[c] = best[c - 1], -1
        fit = np.flatnonzero(widths <= c)
        if len(fit):
            worth = values[fit] + best[c - widths[fit]]
            k = int(worth.argmax())
            if worth[k] > best[c] + LITTLE:
                best[c], which[c] = worth[k], fit[k]
    chosen: list[int] = []
    c = room
    while c > 0:
        if which[c] >= 0:
            chosen.append(int(which[c]))
            c -= int(widths[which[c]])
        else:
            c -= 1
    return chosen
