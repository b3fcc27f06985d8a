"""A linear program over whole sheets: how few there can be, and often a plan with that few.

Sheets are columns, made as they are needed (Gilmore and Gomory, Operations Research 13, 1965).
What every part is worth comes from the program. Sheets worth more than one are put together
quickly first, then listed one and all (``fronts.py``), and last sought by a relaxation
(``relaxed_sheet.py``). No sheet being worth more than so much, the sum of worths over that is a
bound, whether the program is solved to its end or not (Farley, Operations Research 38, 1990).

A plan on a number of sheets, sought in whole numbers, takes only columns that fall short of what
they cost by no more than all of that plan may (reduced-cost fixing).
"""

import math
import random
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from planning.cutting.compiled import (
    PLAIN_SHEETS,
    SheetKernel,
    can_compile,
    fast_sheets,
)
from planning.cutting.knapsack import Flags, Ints
from planning.cutting.patterns import Master
from planning.cutting.relaxed_sheet import SAFE, RelaxedSheet
from planning.cutting.rough_sheets import Filler, Lie
from planning.cutting.sheet_lists import SheetLists
from planning.cutting.task import Cell, Task

STILL: Final = 6
"""So many rounds without a better sheet, and all sheets are listed."""
SEED: Final = 7
STEPS: Final = 1000
"""Steps of the simplex method that a round of the relaxation may take, one with another."""
LISTED: Final = 125
"""Steps of listing for each round, one with another."""
ATTEMPTS: Final = 4
"""Each time at most this share of them is taken."""
NODES: Final = 2
"""Nodes of the whole-number program for each round."""
DIVE: Final = 20
"""So many rounds there are for each dive."""
RENEWED: Final = 2
"""So often sheets are made anew after each that a dive takes."""
NOISE: Final = 0.35
"""How far chance may change which sheet a dive takes."""


def never() -> bool:
    """Go on."""
    return False


def sheet_kernel() -> SheetKernel:
    """Compiled where that can be."""
    return fast_sheets() if can_compile() else PLAIN_SHEETS


class WholeSheets:
    """The program for one task; zones in hand are not looked at, nor are levels of cutting.

    ``rounds`` go to each way of finding sheets, with as much work a round.
    """

    def __init__(
        self,
        task: Task,
        rounds: int,
        over: Callable[[], bool] = never,
        kernel: SheetKernel | None = None,
    ) -> None:
        """Start with a sheet for each item."""
        assert task.new is not None
        k = task.kerf
        size = (task.new.w + k, task.new.h + k)
        lie = _lying([(it.w + k, it.h + k, it.turns) for it in task.items], size)
        self._task = task
        self._items = np.unique(lie.part)
        self._lie = replace(lie, part=np.searchsorted(self._items, lie.part))
        self._rounds, self._over = rounds, over
        self._kernel = kernel or sheet_kernel()
        self._lists = SheetLists([task.items[i] for i in self._items], size, k, self._kernel)
        self._master = Master(np.ones(len(self._items)))
        self._filler = Filler(self._lie.coarse, self._kernel)
        self.exact = False
        for part in range(len(self._items)):
            self._add([part])

    def take(self, sheets: Iterable[Sequence[int]]) -> None:
        """Take the sheets of a plan up: which items lie in each."""
        for sheet in sheets:
            self._add(np.searchsorted(self._items, sheet))

    def _add(self, parts: Ints | Sequence[int]) -> bool:
        column = np.zeros(len(self._items), dtype=np.int64)
        column[parts] = 1
        return self._master.add(column)

    def promise(self) -> int:
        """The most that the bound can come to: the program's value only falls."""
        self._master.prices()
        return math.ceil(self._master.value() - SAFE)

    # ---- true sheets

    def look(self, known: int) -> int:
        """Find true sheets; a number that no plan can be under, ``known`` at least."""
        self._put_together()
        each = LISTED * self._rounds // ATTEMPTS
        steps = LISTED * self._rounds
        while steps > 0 and not self._over():
            worth = self._master.prices()
            best, sheets, left = self._lists.worthy(worth, each)
            added = [self._add(sheet) for sheet in sheets]
            if left > 0:
                known = max(known, math.ceil(float(worth.sum()) / max(best, 1.0) - SAFE))
            steps -= each - left
            self.exact = left > 0 and not any(added)
            if not any(added):
                break
        return known

    def _put_together(self) -> None:
        """Add sheets that are put together quickly, until they get no better."""
        chance = random.Random(SEED)  # noqa: S311 - for variety, no secret
        wanted = np.ones(len(self._items), dtype=np.bool_)
        still = 0
        for _ in range(self._rounds):
            still = 0 if self._fill_up(chance, wanted) else still + 1
            if still > STILL or self._over():
                return

    def _fill_up(self, chance: random.Random, wanted: Flags) -> bool:
        """Add sheets that are put together of what is ``wanted``; False: none is worth it."""
        worth = self._master.prices() * wanted
        added = False
        for held in self._filler.sheets(worth, chance):
            if worth[held].sum() > 1.0 + SAFE:
                added |= self._add(held)
        return added

    # ---- a plan

    def plan(self, sheets: int) -> list[Cell] | None:
        """A plan on so many sheets, or none; before ``bound``, whose columns are no true sheets."""
        if self.promise() > sheets:
            return None
        held = self._dived(sheets) or self._decided(sheets)
        return None if held is None else self._sawn(held)

    def _dived(self, sheets: int) -> list[Ints] | None:
        """Take sheet after sheet that the program has most of; more sheets are made on the way."""
        chance = random.Random(SEED)  # noqa: S311 - for variety, no secret
        try:
            for dive in range(max(1, self._rounds // DIVE)):
                held = self._dive(sheets, chance, NOISE if dive else 0.0)
                if held is not None or self._over():
                    return held
        finally:
            self._master.want(np.ones(len(self._items)))
        return None

    def _dive(self, sheets: int, chance: random.Random, noise: float) -> list[Ints] | None:
        """One try: the sheets taken, or nothing as soon as they are too many."""
        held: list[Ints] = []
        wanted = np.ones(len(self._items))
        while wanted.any():
            self._master.want(wanted)
            for _ in range(RENEWED if held else 0):
                if not self._fill_up(chance, wanted > 0):
                    break
            if len(held) + self.promise() > sheets:
                return None
            shares = np.minimum(self._master.shares(), 1.0)
            shaken = shares + noise * np.array([chance.random() for _ in shares])
            best = int(np.argmax(np.where(shares > SAFE, shaken, -1.0)))
            held.append(self._master.patterns[best])
            wanted[held[-1] > 0] = 0.0
        return held

    def _decided(self, sheets: int) -> list[Ints] | None:
        """The plan that a whole-number program finds in the sheets known."""
        worth = self._master.prices()
        short = sheets - float(worth.sum()) + SAFE
        if short < 0.0:
            return None
        return self._master.whole_of(
            lambda column: bool(1.0 - column @ worth <= short), sheets, NODES * self._rounds
        )

    def _sawn(self, held: Iterable[Ints]) -> list[Cell] | None:
        """How each sheet is sawn, every part out of the first that has it; None: not known."""
        cells: list[Cell] = []
        wanted = np.ones(len(self._items), dtype=np.bool_)
        for column in held:
            parts = np.flatnonzero((column > 0) & wanted)
            wanted[parts] = False
            cell = self._lists.cell([int(part) for part in parts]) if len(parts) else None
            if len(parts) and cell is None:
                return None
            if cell is not None:
                cells.append(numbered(cell, self._items))
        return cells

    # ---- relaxed sheets

    def bound(self, known: int, rounds: int) -> int:
        """A number that no plan can be under, from sheets at least as good as the best true one."""
        sheet = RelaxedSheet(self._lie, len(self._items), STEPS * rounds)
        for _ in range(0 if self.exact else rounds):
            if self._over() or sheet.spent() or self.promise() <= known:
                break
            worth = self._master.prices()
            most, held = sheet.best(worth, 1.0 + SAFE, self._over)
            known = max(known, math.ceil(float(worth.sum()) / max(most, 1.0) - SAFE))
            if not self._master.add(held):
                break
        return known


def numbered(cell: Cell, items: Ints) -> Cell:
    """The same cell with the items' own numbers."""
    inner = tuple(numbered(child, items) for child in cell.children)
    return replace(cell, item=None if cell.item is None else int(items[cell.item]), children=inner)


def _lying(items: Sequence[tuple[int, int, bool]], size: tuple[int, int]) -> Lie:
    """Every way that every item may lie; those too large for the sheet have none."""
    ways = [
        (w, h, part)
        for part, (a, b, turns) in enumerate(items)
        for w, h in ([(a, b), (b, a)] if turns and a != b else [(a, b)])
        if w <= size[0] and h <= size[1]
    ]
    table = np.array(ways, dtype=np.int64)
    return Lie(size=size, w=table[:, 0], h=table[:, 1], part=table[:, 2])
