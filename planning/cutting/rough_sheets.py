"""Sheets put together quickly for what their parts are worth: strips, and parts stacked in them.

They are the patterns that a linear program over sheets starts from (see ``sheet_bound.py``).
"""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from planning.cutting.compiled import SheetKernel, as_given
from planning.cutting.filling import Slate, Ways
from planning.cutting.knapsack import Floats, Ints

FINEST: Final = 500
"""Sheets are put together in at most so many units a side."""
NOISES: Final = (0.0, 0.1, 0.3)
"""How far chance may change what parts are worth, one sheet after the other."""
SPLITS: Final = 4
"""So many ways to cut a sheet in two first are tried."""


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


class Filler:
    """Fills sheets that parts lie in one way, and those that are turned."""

    def __init__(self, lie: Lie, kernel: SheetKernel) -> None:
        """Sort the ways, narrow ones first, so that each width knows its best stack."""
        self._ways = tuple(_Sorted(way, kernel) for way in (lie, lie.turned))

    def sheets(self, worth: Floats, chance: random.Random) -> Iterator[list[int]]:
        """Sheets (which parts lie in each) that are worth much; ``worth`` is by part."""
        for way in self._ways:
            for noise in NOISES:
                shaken = worth * (1.0 + noise * np.array([chance.random() for _ in worth]))
                yield way.filled(shaken, way.high, ())
            for height in chance.sample(way.heights, min(SPLITS, len(way.heights))):
                for first in (height, way.high - height):
                    held = way.filled(worth, first, ())
                    yield [*held, *way.filled(worth, way.high - first, held)]


class _Sorted:
    """The ways that parts lie in a sheet, as the kernel takes them."""

    def __init__(self, lie: Lie, kernel: SheetKernel) -> None:
        self._kernel = kernel
        self._wide, self.high = lie.size
        self.heights = sorted({int(h) for h in lie.h})
        order = np.lexsort((np.arange(len(lie.w)), lie.w))
        self._part = lie.part[order]
        columns = (lie.w[order], lie.h[order], self._part)
        self._ways = Ways(*(as_given(column, kernel) for column in columns))
        many, long = len(order), max(lie.size) + 1
        none = np.int64
        self._slate = Slate(
            best=as_given(np.zeros(long), kernel),
            last=as_given(np.zeros(long, none), kernel),
            strip=as_given(np.zeros(many), kernel),
            better=as_given(np.zeros(many * long, none), kernel),
            held=as_given(np.zeros(many, none), kernel),
        )

    def filled(self, worth: Floats, high: int, used: Sequence[int]) -> list[int]:
        """Fill a sheet ``high`` with parts that are not ``used``."""
        taken = np.zeros(len(worth), np.int64)
        taken[list(used)] = 1
        given = as_given(worth, self._kernel), as_given(taken, self._kernel)
        many = self._kernel.fill(self._ways, *given, self._slate, self._wide, high)
        return [int(self._part[self._slate.held[place]]) for place in range(many)]
