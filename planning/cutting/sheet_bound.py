"""How few sheets there can be, by a linear program over whole sheets.

Sheets are columns, made as they are needed (Gilmore and Gomory, Operations Research 13, 1965).
What every part is worth comes from the program; no sheet is worth more than the best of a
relaxation (``relaxed_sheet.py``), so the sum of worths over that is a bound whether the program is
solved to its end or not (Farley, Operations Research 38, 1990).
"""

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from planning.cutting.patterns import Master
from planning.cutting.relaxed_sheet import SAFE, RelaxedSheet
from planning.cutting.rough_sheets import Lie, rough_sheets
from planning.cutting.task import Task

STILL: Final = 6
"""So many rounds without a better sheet, and the relaxation takes over."""
SEED: Final = 7
STEPS: Final = 1000
"""Steps of the simplex method that a round of the relaxation may take, one with another."""


def _never() -> bool:
    return False


def sheet_bound(
    task: Task, known: int, *, rounds: int = 200, over: Callable[[], bool] = _never
) -> int:
    """A number of new zones that no plan can be under, ``known`` at least.

    So many ``rounds`` go to putting sheets together, and as many to the relaxation. Zones in hand
    are not looked at: where there are any, what is known stands.
    """
    if task.new is None or task.fixed or not task.items or rounds == 0:
        return known
    k = task.kerf
    size = (task.new.w + k, task.new.h + k)
    lie = _lying([(it.w + k, it.h + k, it.turns) for it in task.items], size)
    items = np.unique(lie.part)
    lie = replace(lie, part=np.searchsorted(items, lie.part))
    master = Master(np.ones(len(items)))
    for part in range(len(items)):
        master.add(np.eye(1, len(items), part, dtype=np.int64)[0])
    _put_together(master, lie.coarse, rounds, over)
    sheet = RelaxedSheet(lie, len(items), STEPS * rounds)
    bound = known
    for _ in range(rounds):
        worth = master.prices()
        # the program's value only falls: it may promise no more by now
        if over() or sheet.spent() or math.ceil(master.value() - SAFE) <= bound:
            break
        most, held = sheet.best(worth, 1.0 + SAFE, over)
        bound = max(bound, math.ceil(float(worth.sum()) / max(most, 1.0) - SAFE))
        if not master.add(held):
            break
    return bound


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


def _put_together(master: Master, lie: Lie, rounds: int, over: Callable[[], bool]) -> None:
    """Add sheets that are put together quickly, until they get no better."""
    chance = random.Random(SEED)  # noqa: S311 - for variety, no secret
    still = 0
    for _ in range(rounds):
        worth = master.prices()
        added = False
        for held in rough_sheets(lie, worth, chance):
            if worth[held].sum() > 1.0 + SAFE:
                column = np.zeros(len(worth), dtype=np.int64)
                column[held] = 1
                added |= master.add(column)
        still = 0 if added else still + 1
        if still > STILL or over():
            return
