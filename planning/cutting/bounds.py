"""How few sheets there can be: bounds that hold for every plan, whatever the cuts.

Sizes come with the kerf added once (see ``tree_arrays.py``). A bound is worked on whole numbers;
its proof rests on dual feasible functions: f with sum f(x) <= 1 wherever sum x <= 1.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planning.cutting.knapsack import scaled
from planning.cutting.patterns import fractional
from planning.cutting.task import Task, Zone

Table = NDArray[np.float64]

SAFE = 1e-6
"""A bound is rounded up only from this far over a whole number."""
STEPS = 12
"""Functions with up to so many steps are tried."""
MOST_THRESHOLDS = 60
"""Thresholds are taken among the sizes, at most so many."""
FINEST = 2000
"""The bar relaxation works on at most so many units."""
BARS = 8
"""So many functions across the bars are tried each way."""


def lower_bound(task: Task, *, bars: bool = False) -> int:
    """A number of new zones that no plan can be under; ``bars``: also by linear programming."""
    zone = task.new
    if zone is None or not task.items:
        return 0
    k = task.kerf
    size = (zone.w + k, zone.h + k)
    items = [(i.w + k, i.h + k, i.turns) for i in task.items]
    items = [it for it in items if _fits(*it[:2], size) or (it[2] and _fits(it[1], it[0], size))]
    if not items:
        return 0
    bound = area_bound(items, size, task.fixed, k)
    if task.fixed:
        return bound
    bound = max(bound, function_bound(items, size))
    if bars and not any(turns for _, _, turns in items):
        bound = max(bound, bar_bound(items, size))
    elif bars and size[0] == size[1]:
        bound = max(bound, both_ways_bound(items, size))
    return bound


def _up(value: float) -> int:
    return math.ceil(value - SAFE)


def area_bound(
    items: Sequence[tuple[int, int, bool]], size: tuple[int, int], fixed: tuple[Zone, ...], k: int
) -> int:
    """The area of the items less the area of the zones in hand, in sheets."""
    area = math.fsum(float(w) * h for w, h, _ in items)
    area -= math.fsum(float(z.w + k) * (z.h + k) for z in fixed)
    return max(0, _up(area / (float(size[0]) * size[1])))


# ---- dual feasible functions


def values(size: int, sizes: Sequence[int]) -> Table:
    """Dual feasible functions (rows) of ``sizes`` (columns) in a length ``size``.

    The identity, the step functions u(k) and the thresholds U(e) of Fekete and Schepers
    (Mathematical Programming 91, 2001), and f2(e) of Carlier, Clautiaux and Moukrim (Computers &
    Operations Research 34, 2007).
    """
    x = np.array(sizes, dtype=np.int64)
    rows = [x / size]
    for k in range(1, STEPS + 1):
        whole = (k + 1) * x
        rows.append(np.where(whole % size == 0, x / size, (whole // size) / k))
    for e in thresholds(size, sizes):
        rows.append(np.where(x > size - e, 1.0, np.where(x < e, 0.0, x / size)))
        most = size // e
        high = 2 * (most - (size - x) // e)
        step = np.where(2 * x > size, high, np.where(2 * x == size, most, 2 * (x // e)))
        rows.append(step / (2 * most))
    return np.unique(np.round(np.array(rows), 12), axis=0)


def thresholds(size: int, sizes: Sequence[int]) -> list[int]:
    """Values of e worth trying: at most half the length, where some size changes sides."""
    found = {x for x in sizes if 2 * x <= size}
    found |= {size - x + 1 for x in sizes if 2 * x > size}
    kept = sorted(e for e in found if e > 0 and 2 * e <= size)
    every = max(1, -(-len(kept) // MOST_THRESHOLDS))
    return kept[::every]


def function_bound(items: Sequence[tuple[int, int, bool]], size: tuple[int, int]) -> int:
    """The best product of one function across and one along.

    An item that may turn counts as little as either way makes it.
    """
    across = sorted({s for w, h, turns in items for s in ((w, h) if turns else (w,))})
    along = sorted({s for w, h, turns in items for s in ((w, h) if turns else (h,))})
    across, along = [s for s in across if s <= size[0]], [s for s in along if s <= size[1]]
    wide, high = values(size[0], across), values(size[1], along)
    at_w, at_h = {s: i for i, s in enumerate(across)}, {s: i for i, s in enumerate(along)}
    total = np.zeros((len(wide), len(high)))
    counts: dict[tuple[int, int, bool], int] = {}
    for item in items:
        counts[item] = counts.get(item, 0) + 1
    for (w, h, turns), many in counts.items():
        ways = [(w, h), (h, w)] if turns else [(w, h)]
        fit = [np.outer(wide[:, at_w[a]], high[:, at_h[b]]) for a, b in ways if _fits(a, b, size)]
        if fit:
            total += many * (fit[0] if len(fit) == 1 else np.minimum(fit[0], fit[1]))
    return _up(float(total.max()))


def _fits(w: int, h: int, size: tuple[int, int]) -> bool:
    return w <= size[0] and h <= size[1]


# ---- bars


def bar_bound(items: Sequence[tuple[int, int, bool]], size: tuple[int, int]) -> int:
    """Slice every item into bars, along and then across; the better of the two."""
    sides = [(w, h) for w, h, _ in items]
    turned = [(h, w) for w, h, _ in items]
    return _up(max(most_bars(sides, size), most_bars(turned, (size[1], size[0]))))


def both_ways_bound(items: Sequence[tuple[int, int, bool]], size: tuple[int, int]) -> int:
    """Bound items that may turn in square sheets.

    A plan and the same plan turned hold every item once each way, on twice the sheets, and turn
    nothing: half of what holds for those is a bound (Clautiaux, Jouglet and El Hayek, Operations
    Research Letters 35, 2007, from memory).
    """
    both = [side for w, h, _ in items for side in ((w, h), (h, w))]
    return _up(most_bars(both, size) / 2)


def most_bars(items: Sequence[tuple[int, int]], size: tuple[int, int]) -> float:
    """Slice every item along into bars, which need not stay together (bar relaxation).

    The bars' lengths must fit end to end; their number is a function of the item's breadth.
    """
    long = [w for w, _ in items]
    broad = [h for _, h in items]
    functions = values(size[1], broad)
    promise = (values(size[0], long) @ functions.T).max(axis=0)
    unit, small = scaled(size[0], long, FINEST)
    tried = np.argsort(-promise, kind="stable")[:BARS]
    return max(fractional(unit, small, functions[row]) for row in tried)
