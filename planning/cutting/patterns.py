"""Linear programs over patterns: a pattern is what is cut from one bar.

Columns are made as they are needed (Gilmore and Gomory, Operations Research 9, 1961).
"""

from collections import Counter
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planning.cutting.knapsack import best_fill

Floats = NDArray[np.float64]

ROUNDS = 300
"""Rounds of making columns."""


class Master:
    """Patterns with a whole or broken number of bars each, so that every demand is met."""

    def __init__(self, demand: Floats) -> None:
        """Start with no patterns; one row a length with its demand."""
        import highspy

        self._solver: Any = highspy.Highs()  # type: ignore[no-untyped-call]
        self._solver.silent()
        self._solver.setOptionValue("threads", 1)
        self._infinite = highspy.kHighsInf
        nothing, none = np.array([], dtype=np.int32), np.array([])
        for amount in demand:
            self._solver.addRow(float(amount), self._infinite, 0, nothing, none)

    def add(self, pattern: NDArray[np.int64]) -> None:
        """Add a pattern."""
        rows = np.flatnonzero(pattern).astype(np.int32)
        counts = pattern[rows].astype(float)
        self._solver.addCol(1.0, 0.0, self._infinite, len(rows), rows, counts)

    def prices(self) -> Floats:
        """Solve; what one more of each length would cost."""
        self._solver.run()
        duals = np.array(self._solver.getSolution().row_dual, dtype=np.float64)
        return np.maximum(duals, 0.0)


def fractional(size: int, lengths: Sequence[int], worth: Floats) -> float:
    """Bars that cannot be gone under: each item in bars of ``size``, ``worth`` broken bars each.

    Stops early if it must; the number holds all the same (Farley, Operations Research 38, 1990).
    """
    kinds = Counter(
        (int(length), round(float(value), 12))
        for length, value in zip(lengths, worth, strict=True)
        if value > 1e-12  # noqa: PLR2004 - nothing at all
    )
    if not kinds:
        return 0.0
    keys = sorted(kinds)
    length = np.array([key[0] for key in keys], dtype=np.int64)
    many = np.array([kinds[key] for key in keys], dtype=np.int64)
    demand = np.array([key[1] for key in keys], dtype=np.float64) * many.astype(np.float64)
    master = Master(demand)
    for i in range(len(keys)):
        alone = np.zeros(len(keys), dtype=np.int64)
        alone[i] = min(many[i], size // max(1, length[i]))
        master.add(alone)
    best = 0.0
    for _ in range(ROUNDS):
        price = master.prices()
        value, pattern = best_fill(size, length, price, many)
        best = max(best, float(price @ demand) / max(value, 1.0))
        if value <= 1.0 + 1e-7:
            break
        master.add(pattern)
    return best
