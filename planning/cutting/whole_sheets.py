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
from planning.cutting.knapsack import Floats, Ints
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
INERTIA: Final = 0.6
"""What the mean worth of before counts in the new one."""
CRAWL, LITTLE = 20, 0.003
"""In so many rounds the program's value has to fall by so many sheets, or that is all."""
FEW: Final = 4
"""What a dive leaves over is sought on so many sheets at most."""
DIVE: Final = 20
"""So many rounds there are for each dive."""
BACK: Final = 2
"""So many of the sheets that a dive took last are given up, one after the other."""
USABLE: Final = 200
"""So many sheets are decided on at most."""
RENEWED, RENEWED_MOST = 1, 8
"""So often sheets are made anew after each that a dive takes; the most where it would end."""
NOISE: Final = 0.1
"""How far chance may change which sheet a dive takes."""


Rest = Callable[[Task, int], Sequence[Cell] | None]
"""Places the items of a task on so many new zones at most, or nothing."""


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
        if task.new is None:
            message = "there are no new zones"
            raise ValueError(message)
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
        self._exact = False
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

    def put_together(self) -> None:
        """Add sheets that are put together quickly, until they hardly get better.

        What parts are worth jumps from one solution to the next: it is taken as the mean of all,
        the last ones most (Wentges, International Transactions in Operational Research 4, 1997,
        from memory), and at first as their areas.
        """
        chance = random.Random(SEED)  # noqa: S311 - for variety, no secret
        items = [self._task.items[i] for i in self._items]
        mean = np.array([float(item.w) * item.h for item in items])
        mean /= max(1.0, float(self._lie.size[0]) * self._lie.size[1])
        values: list[float] = []
        still = 0
        for _ in range(self._rounds):
            worth = self._master.prices()
            values.append(self._master.value())
            mean = worth if still > STILL // 2 else INERTIA * mean + (1.0 - INERTIA) * worth
            still = 0 if self._fill_up(chance, worth, mean) else still + 1
            crawls = len(values) > CRAWL and values[-CRAWL] - values[-1] < LITTLE
            if still > STILL or crawls or self._over():
                return

    def listed(self, known: int) -> int:
        """Add sheets from lists of all; a number that no plan can be under, ``known`` at least."""
        steps = LISTED * self._rounds
        each = steps // ATTEMPTS
        while steps > 0 and not self._over():
            worth = self._master.prices()
            best, sheets, left = self._lists.worthy(worth, each)
            added = [self._add(sheet) for sheet in sheets]
            if left > 0:
                known = max(known, math.ceil(float(worth.sum()) / max(best, 1.0) - SAFE))
            steps -= each - left
            self._exact = left > 0 and not any(added)
            if not any(added):
                break
        return known

    def _fill_up(self, chance: random.Random, worth: Floats, mean: Floats) -> bool:
        """Add sheets that are put together by what parts are worth in the mean; False: none is."""
        added = False
        for held in self._filler.sheets(mean, chance):
            if worth[held].sum() > 1.0 + SAFE:
                added |= self._add(held)
        return added

    # ---- a plan

    def dived(self, sheets: int, rest: Rest) -> list[Cell] | None:
        """A plan on so many sheets, or none; before ``bound``, whose columns are no true sheets.

        A dive takes sheet after sheet that the program has most of, and makes more on the way.
        Where it ends, ``rest`` is asked to place what is left over, and what the last sheets hold.
        """
        chance = random.Random(SEED)  # noqa: S311 - for variety, no secret
        for dive in range(max(1, self._rounds // DIVE)):
            if self._over() or self.promise() > sheets:
                return None
            held = self._dive(sheets, chance, NOISE if dive else 0.0)
            self._master.want(np.ones(len(self._items)))
            for many in range(len(held), max(sheets - FEW, len(held) - BACK) - 1, -1):
                kept = held[:many]
                cells = self._with_rest(kept, sheets - len(kept), rest)
                if cells is not None:
                    return cells
        return None

    def _dive(self, sheets: int, chance: random.Random, noise: float) -> list[Ints]:
        """One try: the sheets taken before they are too many."""
        held: list[Ints] = []
        wanted = np.ones(len(self._items))
        while wanted.any():
            self._master.want(wanted)
            if held:
                self._renew(chance, wanted, sheets - len(held))
            if len(held) + self.promise() > sheets:
                break
            shares = np.minimum(self._master.shares(), 1.0)
            shaken = shares + noise * np.array([chance.random() for _ in shares])
            best = int(np.argmax(np.where(shares > SAFE, shaken, -1.0)))
            held.append(self._master.patterns[best])
            wanted[held[-1] > 0] = 0.0
        return held

    def _renew(self, chance: random.Random, wanted: Floats, sheets: int) -> None:
        """Make sheets anew of what is still wanted; longer where it takes more than ``sheets``."""
        for again in range(RENEWED_MOST):
            worth = self._master.prices() * wanted
            if again >= RENEWED and self._master.value() <= sheets + SAFE:
                return
            if not self._fill_up(chance, worth, worth):
                return

    def _with_rest(self, held: list[Ints], sheets: int, rest: Rest) -> list[Cell] | None:
        """The sheets ``held`` and what they leave over on so many more; None: that is not found."""
        left = np.flatnonzero(~np.any(held, axis=0)) if held else np.arange(len(self._items))
        more: list[Cell] = []
        if len(left):
            items = self._items[left]
            task = replace(self._task, items=tuple(self._task.items[item] for item in items))
            found = rest(task, sheets)
            if found is None:
                return None
            more = [numbered(cell, items) for cell in found]
        cells = self._sawn(held)
        return None if cells is None else [*cells, *more]

    def decided(self, sheets: int) -> list[Cell] | None:
        """A plan on so many sheets by a whole-number program, where few sheets known are usable."""
        worth = self._master.prices()
        short = sheets - float(worth.sum()) + SAFE
        usable = [p for p in self._master.patterns if 1.0 - float(p @ worth) <= short]
        if short < 0.0 or len(usable) > USABLE:
            return None
        held = self._master.whole_of(usable, sheets, NODES * self._rounds)
        return None if held is None else self._sawn(held)

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
        for _ in range(0 if self._exact else rounds):
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
