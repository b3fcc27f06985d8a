"""Linear programs over patterns: a pattern is what is cut from one bar.

Columns are made as they are needed (Gilmore and Gomory, Operations Research 9, 1961).
"""

import math
import os
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np

from planning.cutting.knapsack import Floats, Ints, best_fill

ROUNDS = 300
"""Rounds of making columns."""


@contextmanager
def _silence() -> Iterator[None]:
    """Keep what a library prints when it is first used off standard output."""
    sys.stdout.flush()
    kept = os.dup(1)
    with Path(os.devnull).open("wb") as nowhere:
        os.dup2(nowhere.fileno(), 1)
    try:
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)


def solver() -> tuple[Any, Any]:
    """The library, and a solver of its that says nothing and keeps to one thread."""
    import highspy

    with _silence():
        solver: Any = highspy.Highs()  # type: ignore[no-untyped-call]
        solver.silent()
    solver.setOptionValue("threads", 1)
    return highspy, solver


class Master:
    """Patterns with a whole or broken number of bars each, so that every demand is met."""

    def __init__(self, demand: Floats) -> None:
        """Start with no patterns; one row a length with its demand."""
        self._library, self._solver = solver()
        self.patterns: list[Ints] = []
        self._known: set[bytes] = set()
        nothing, none = np.array([], dtype=np.int32), np.array([])
        for amount in demand:
            self._solver.addRow(float(amount), self._library.kHighsInf, 0, nothing, none)

    def add(self, pattern: Ints) -> bool:
        """Add a pattern; False where it is there already."""
        key = pattern.tobytes()
        if key in self._known:
            return False
        self._known.add(key)
        self.patterns.append(pattern.copy())
        rows = np.flatnonzero(pattern).astype(np.int32)
        counts = pattern[rows].astype(float)
        self._solver.addCol(1.0, 0.0, self._library.kHighsInf, len(rows), rows, counts)
        return True

    def want(self, demand: Floats) -> None:
        """Change what is wanted of each length."""
        for row, amount in enumerate(demand):
            self._solver.changeRowBounds(row, float(amount), self._library.kHighsInf)

    def prices(self) -> Floats:
        """Solve; what one more of each length would cost."""
        self._solver.run()
        duals = np.array(self._solver.getSolution().row_dual, dtype=np.float64)
        return np.maximum(duals, 0.0)

    def value(self) -> float:
        """How many bars the last solution takes."""
        return float(self._solver.getObjectiveValue())

    def shares(self) -> Floats:
        """How many bars are cut by each pattern, as last solved."""
        return np.array(self._solver.getSolution().col_value, dtype=np.float64)

    def whole(self, nodes: int) -> tuple[list[int], float]:
        """Whole numbers of bars for each pattern, looked for through so many nodes.

        With them the number of bars that these patterns cannot go under; without end where they do
        not give all that is wanted. No numbers where none were found.
        """
        library, other = solver()
        other.passModel(self._solver.getLp())
        many = len(self.patterns)
        whole = np.full(many, library.HighsVarType.kInteger)
        other.changeColsIntegrality(many, np.arange(many, dtype=np.int32), whole)
        other.setOptionValue("mip_max_nodes", nodes)
        other.setOptionValue("mip_abs_gap", 0.999)
        other.run()
        if other.getModelStatus() == library.HighsModelStatus.kInfeasible:
            return [], math.inf
        found, least = other.getSolution(), float(other.getInfo().mip_dual_bound)
        return [round(value) for value in found.col_value] if found.value_valid else [], least

    def whole_of(self, kept: list[Ints], most: int, nodes: int) -> list[Ints] | None:
        """At most so many of the patterns ``kept`` that together give every row once.

        They are looked for through so many nodes; None where none are found.
        """
        library, other = solver()
        nothing, none = np.array([], dtype=np.int32), np.array([])
        for _ in range(self._solver.getNumRow()):
            other.addRow(1.0, library.kHighsInf, 0, nothing, none)
        for pattern in kept:
            rows = np.flatnonzero(pattern).astype(np.int32)
            other.addCol(1.0, 0.0, 1.0, len(rows), rows, np.ones(len(rows)))
        every = np.arange(len(kept), dtype=np.int32)
        whole = np.full(len(kept), library.HighsVarType.kInteger)
        other.changeColsIntegrality(len(kept), every, whole)
        for option, value in (
            ("mip_max_nodes", nodes),
            ("mip_abs_gap", 0.999),
            ("objective_bound", most + 0.5),
        ):
            other.setOptionValue(option, value)
        other.run()
        found = other.getSolution()
        if not found.value_valid:
            return None
        chosen = [p for p, value in zip(kept, found.col_value, strict=True) if value > 0.5]  # noqa: PLR2004 - 0 or 1
        return chosen if len(chosen) <= most else None


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
