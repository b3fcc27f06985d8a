"""The sheet that is worth most among all that keep to conditions which every true sheet keeps to.

So what it is worth is never too little. Conditions are added as they are broken: parts that cannot
lie over one another share the width, two that lie neither beside nor over one another are not both
there, dual feasible functions count a whole sheet at most (see ``bounds.py``).
"""

from collections.abc import Callable
from typing import Any, Final

import numpy as np

from planning.cutting.bounds import values
from planning.cutting.knapsack import Floats, Ints
from planning.cutting.patterns import solver
from planning.cutting.rough_sheets import Lie

SAFE: Final = 1e-6
CONDITIONS: Final = 60
"""So often conditions are added before a sheet is taken as it is."""
NODES: Final = 2000
"""Nodes of one whole-number program; its bound holds wherever it stops."""


class RelaxedSheet:
    """A whole-number program: which parts lie in the sheet, and which way each."""

    def __init__(self, lie: Lie, parts: int, steps: int) -> None:
        """Start with the area, halves, and one way for each of the ``parts``.

        So many ``steps`` of the simplex method go to all that is asked; the last program ends.
        """
        self._lie, self._left = lie, steps
        self._library, self._solver = solver()
        nothing, none = np.array([], dtype=np.int32), np.array([])
        self._ways = len(lie.part)
        for _ in range(self._ways):
            self._solver.addCol(0.0, 0.0, 1.0, 0, nothing, none)
        every = np.arange(self._ways, dtype=np.int32)
        whole = np.full(self._ways, self._library.HighsVarType.kInteger)
        self._solver.changeColsIntegrality(self._ways, every, whole)
        self._solver.changeObjectiveSense(self._library.ObjSense.kMaximize)
        for option, value in (("mip_rel_gap", 0.0), ("mip_max_nodes", NODES)):
            self._solver.setOptionValue(option, value)
        self._wide, self._high = _functions(lie.w, lie.size[0]), _functions(lie.h, lie.size[1])
        for part in range(parts):
            if np.count_nonzero(lie.part == part) > 1:
                self._at_most_one((lie.part == part).astype(np.float64))
        self._at_most_one(lie.w / lie.size[0] * (lie.h / lie.size[1]))
        for way in (lie, lie.turned):
            self._at_most_one(np.where(2 * way.h > way.size[1], way.w / way.size[0], 0.0))

    def _at_most_one(self, row: Floats) -> None:
        """Add a condition: what the chosen ways count in ``row`` is 1 at most."""
        places = np.flatnonzero(row > 0.0).astype(np.int32)
        least = -self._library.kHighsInf
        self._solver.addRow(least, 1.0, len(places), places, row[places].astype(np.float64))

    def best(self, worth: Floats, enough: float, over: Callable[[], bool]) -> tuple[float, Ints]:
        """A number that no sheet is worth more than, and the parts of the sheet found.

        It stops once nothing can be worth more than ``enough``, once all steps are taken, or when
        time is ``over``.
        """
        every = np.arange(self._ways, dtype=np.int32)
        self._solver.changeColsCost(self._ways, every, worth[self._lie.part])
        most, chosen = float("inf"), np.zeros(self._ways)
        for _ in range(CONDITIONS):
            self._solver.run()
            most = min(most, self._bound())
            found = self._solver.getSolution()
            if not found.value_valid:
                break
            chosen = np.array(found.col_value)
            done = most <= enough or self.spent() or over()
            if done or not self._broken(np.flatnonzero(chosen > 0.5)):  # noqa: PLR2004 - 0 or 1
                break
        held = np.zeros(len(worth), dtype=np.int64)
        held[self._lie.part[chosen > 0.5]] = 1  # noqa: PLR2004
        return most, held

    def spent(self) -> bool:
        """Tell whether all steps are taken."""
        return self._left <= 0

    def _bound(self) -> float:
        info: Any = self._solver.getInfo()
        self._left -= max(1, int(info.simplex_iteration_count))
        return float(info.mip_dual_bound)

    def _broken(self, held: Ints) -> bool:
        """Add the conditions that the ways ``held`` break; False: none."""
        lie = self._lie
        rows = [_side_by_side(way, held) for way in (lie, lie.turned)]
        rows.append(_apart(lie, held))
        counts = self._wide[:, held] @ self._high[:, held].T
        place = int(counts.argmax())
        if counts.flat[place] > 1.0 + SAFE:
            wide, high = divmod(place, counts.shape[1])
            rows.append(self._wide[wide] * self._high[high])
        found = [row for row in rows if row is not None]
        for row in found:
            self._at_most_one(row)
        return bool(found)


def _functions(sides: Ints, size: int) -> Floats:
    """The dual feasible functions of every side."""
    kinds, places = np.unique(sides, return_inverse=True)
    return np.asarray(values(size, [int(side) for side in kinds])[:, places])


def _side_by_side(lie: Lie, held: Ints) -> Floats | None:
    """Parts no two of which lie over one another, one lower one among them, that are too wide.

    Those as high as some height over a half cannot, and neither can one that is higher than what
    they leave.
    """
    wide, high = lie.size
    worst: tuple[int, Floats] | None = None
    for height in sorted({int(h) for h in lie.h[held] if 2 * h > high}):
        row = np.where(lie.h >= height, lie.w, 0).astype(np.float64)
        lower = [k for k in held if high - height < lie.h[k] < height]
        if lower:
            widest = max(lower, key=lambda k: int(lie.w[k]))
            row[widest] = lie.w[widest]
        total = int(row[held].sum())
        if total > wide and (worst is None or total > worst[0]):
            worst = (total, row / wide)
    return None if worst is None else worst[1]


def _apart(lie: Lie, held: Ints) -> Floats | None:
    """Two parts that lie neither beside nor over one another."""
    for place, one in enumerate(held):
        for other in held[:place]:
            beside = lie.w[one] + lie.w[other] <= lie.size[0]
            over = lie.h[one] + lie.h[other] <= lie.size[1]
            if not beside and not over:
                row = np.zeros(len(lie.part))
                row[[one, other]] = 1.0
                return row
    return None
