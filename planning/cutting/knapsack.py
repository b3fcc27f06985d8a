"""The knapsack: which of some lengths, at most so many of each, are worth most in one bar."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


def scaled(size: int, lengths: Sequence[int], finest: int) -> tuple[int, list[int]]:
    """Lengths in coarser units if ``size`` is over ``finest`` of them.

    They are rounded down, so that whatever fits still fits.
    """
    if size <= finest:
        return size, list(lengths)
    return finest, [length * finest // size for length in lengths]


def best_fill(size: int, lengths: Ints, worth: Floats, most: Ints) -> tuple[float, Ints]:
    """The most worth in one bar, and how many of each length: by dynamic programming."""
    best = np.zeros(size + 1)
    steps: list[tuple[int, int, NDArray[np.bool_]]] = []
    for i, length in enumerate(lengths):
        if worth[i] <= 0.0:
            continue
        for many in _powers(min(int(most[i]), size // max(1, int(length)))):
            weight = many * int(length)
            if weight == 0:
                best += many * worth[i]
                steps.append((i, many, np.ones(size + 1, dtype=bool)))
                continue
            with_it = best[:-weight] + many * worth[i] if weight <= size else best[:0]
            better = np.zeros(size + 1, dtype=bool)
            better[weight:] = with_it > best[weight:] + 1e-13
            best[weight:] = np.maximum(best[weight:], with_it)
            steps.append((i, many, better))
    return float(best[size]), _traced(size, lengths, steps)


def _powers(most: int) -> list[int]:
    """Numbers of pieces, sums of which give every number up to ``most``."""
    found, step = [], 1
    while most > 0:
        found.append(min(step, most))
        most -= step
        step *= 2
    return found


def _traced(size: int, lengths: Ints, steps: list[tuple[int, int, NDArray[np.bool_]]]) -> Ints:
    taken = np.zeros(len(lengths), dtype=np.int64)
    room = size
    for i, many, better in reversed(steps):
        if better[room]:
            taken[i] += many
            room -= many * int(lengths[i])
    return taken
