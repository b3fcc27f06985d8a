"""Where an item goes: the free piece that it fills best, and the cuts that make it.

Plain loops over arrays; see ``tree_arrays.py``.
"""

from math import sqrt
from typing import Final, NamedTuple

from planning.cutting.tree_arrays import (
    CUT,
    FREE,
    LEFT,
    NONE,
    OPEN,
    PART,
    USED,
    Job,
    State,
    draw,
    take,
)

POWER, ROOT_POWER, SLACK_FIT, AREA_FIT = 0, 1, 2, 3
"""How a place is rated: by the squares of the free areas, by their powers of 1.5, by the smallest
slack, by the area left. The first two like one large free piece better than two small ones."""

BY_AREA, BY_LONG, BY_WIDTH, BY_HEIGHT, BY_GIRTH, BY_CHANCE = 0, 1, 2, 3, 4, 5
"""What the items are sorted by before they are placed, largest first."""

FINE: Final = 1e9
"""Sizes and areas relative to the first zone become whole numbers of this fineness."""
NOWHERE: Final = 1e300

NO_LIMIT: Final = 1_000_000
"""More cutting levels than there can be."""


class Way(NamedTuple):
    """One way of placing: the rating, the order, random noise on the order.

    ``passed`` is the share of free pieces that are passed over, ``fond`` how much better a place
    is where a piece of the same size is cut beside; ``unit_w`` and ``unit_h`` make sizes shares
    of the first zone.
    """

    rating: int
    order: int
    noise: float
    passed: float
    fond: float
    unit_w: float
    unit_h: float


class Place(NamedTuple):
    """A free piece (NONE: there is none), the axis of its first cut, and whether it turns."""

    node: int
    axis: int
    turned: int


def powered(rating: int, area: float) -> float:
    """The worth of a free piece, all of the first zone being 1."""
    return area * sqrt(area) if rating == ROOT_POWER else area * area


def rated(way: Way, wide: int, high: int, across: int, along: int, axis: int) -> float:
    """How bad it is to take ``across`` x ``along`` out of a free piece, first cut ``axis``."""
    w, h = wide * way.unit_w, high * way.unit_h
    a, b = across * way.unit_w, along * way.unit_h
    if axis == 0:
        one, two = (w - a) * h, a * (h - b)
    else:
        one, two = (h - b) * w, b * (w - a)
    if way.rating <= ROOT_POWER:
        whole = powered(way.rating, w * h)
        return whole - powered(way.rating, one) - powered(way.rating, two)
    if way.rating == SLACK_FIT:
        return min(w - a, h - b) + 1e-3 * max(w - a, h - b) - 1e-6 * max(one, two)
    return w * h - a * b - 1e-3 * max(one, two)


def within_levels(s: State, job: Job, x: int, t: int, turned: int, axis: int) -> bool:
    """Tell whether the item ``t`` lies in the free piece ``x`` within the cutting levels."""
    a = job.h[t] if turned else job.w[t]
    b = job.w[t] if turned else job.h[t]
    level = s.level[x]
    last = s.axis[s.parent[x]] if s.parent[x] >= 0 else job.zone_axis[s.zone[x]]
    if a != s.w[x] or b != s.h[x]:
        if last != axis:
            level += 1
            last = axis
        if (axis == 0 and b != s.h[x]) or (axis == 1 and a != s.w[x]):
            level += 1
            last = 1 - axis
    inner = job.inner[t]
    if inner >= 0:
        if turned:
            inner = 1 - inner
        if inner != last:
            level += 1
    return level <= job.levels[0]


def best_place(s: State, job: Job, t: int, way: Way) -> Place:
    """The best free piece for the item ``t``."""
    best = NOWHERE
    node, first, turn = NONE, 0, 0
    wide, high, wants = job.w[t], job.h[t], job.wants[t]
    ways = 2 if job.turns[t] == 1 and wide != high else 1
    limited = job.levels[0] < NO_LIMIT
    skip = passed_over(s, way)
    free, widths, heights = s.free, s.w, s.h
    for i in range(s.tally[OPEN]):
        x = free[i]
        w, h = widths[x], heights[x]
        for turned in range(ways):
            a, b = (high, wide) if turned == 1 else (wide, high)
            if a > w or b > h or i == skip or unwanted(s, job, x, wants):
                continue
            for axis in range(2):
                if no_cut(axis, a == w, b == h):
                    continue
                if limited and not within_levels(s, job, x, t, turned, axis):
                    continue
                bad = rated(way, w, h, a, b, axis) - liked(s, way, x, a if axis == 0 else b, axis)
                if bad < best:
                    best = bad
                    node, first, turn = x, axis, turned
    return Place(node, first, turn)


def no_cut(axis: int, as_wide: bool, as_high: bool) -> bool:  # noqa: FBT001 - hot, by place
    """Tell whether a first cut along ``axis`` would take nothing off the free piece."""
    if axis == 0:
        return as_wide and not as_high
    return as_high


def liked(s: State, way: Way, x: int, size: int, axis: int) -> float:
    """How much better a place is because the same size is cut beside it."""
    return way.fond if way.fond > 0.0 and cut_beside(s, x, size, axis) else 0.0


def cut_beside(s: State, x: int, size: int, axis: int) -> bool:
    """Tell whether a piece of this size is cut off beside the free piece already."""
    parent = s.parent[x]
    if parent < 0 or s.axis[parent] != axis:
        return False
    k = s.first[parent]
    while k >= 0:
        if s.kind[k] != FREE and (s.w[k] if axis == 0 else s.h[k]) == size:
            return True
        k = s.next[k]
    return False


def unwanted(s: State, job: Job, x: int, wants: int) -> bool:
    """Tell whether a free piece lies in a zone of another kind than an item wants."""
    return wants >= 0 and wants != job.zone_kind[s.zone[x]]


def passed_over(s: State, way: Way) -> int:
    """The place of the free piece that chance passes over, past the last where there is none."""
    if way.passed == 0.0:
        return NONE
    return int(draw(s) / way.passed)


def put(s: State, job: Job, t: int, place: Place) -> None:
    """Cut the item ``t`` out of the free piece of ``place``, which is one of the open ones."""
    x = place.node
    a = job.h[t] if place.turned else job.w[t]
    b = job.w[t] if place.turned else job.h[t]
    if a == s.w[x] and b == s.h[x]:
        s.kind[x] = PART
        s.item[x] = t
        _shut(s, x)
        return
    piece = _cut_off(s, x, a if place.axis == 0 else b, place.axis)
    if s.w[piece] != a or s.h[piece] != b:
        whole = piece
        s.kind[whole] = FREE
        piece = _cut_off(s, whole, b if place.axis == 0 else a, 1 - place.axis)
    s.kind[piece] = PART
    s.item[piece] = t


def _cut_off(s: State, x: int, size: int, axis: int) -> int:
    """Cut a piece of ``size`` along ``axis`` off the free piece ``x``; the new piece, kind open."""
    parent = s.parent[x]
    piece = take(s)
    if parent < 0 or s.axis[parent] != axis:
        rest = take(s)
        _like(s, x, rest)
        s.parent[rest] = x
        s.level[rest] = s.level[x] + 1
        s.kind[rest] = FREE
        s.kind[x] = CUT
        s.axis[x] = axis
        s.first[x] = rest
        _swap(s, x, rest)
        parent, x = x, rest
    _like(s, x, piece)
    s.parent[piece] = parent
    s.level[piece] = s.level[x]
    s.next[piece] = s.first[parent]
    s.first[parent] = piece
    if axis == 0:
        s.w[piece] = size
        s.w[x] -= size
    else:
        s.h[piece] = size
        s.h[x] -= size
    return piece


def _like(s: State, x: int, new: int) -> None:
    s.w[new] = s.w[x]
    s.h[new] = s.h[x]
    s.zone[new] = s.zone[x]
    s.axis[new] = NONE


def _swap(s: State, old: int, new: int) -> None:
    """Put ``new`` in the place of ``old`` among the open pieces, or add it."""
    for i in range(s.tally[OPEN]):
        if s.free[i] == old:
            s.free[i] = new
            return
    s.free[s.tally[OPEN]] = new
    s.tally[OPEN] += 1


def _shut(s: State, x: int) -> None:
    """Take ``x`` out of the open pieces."""
    for i in range(s.tally[OPEN]):
        if s.free[i] == x:
            s.tally[OPEN] -= 1
            s.free[i] = s.free[s.tally[OPEN]]
            return


def list_open(s: State) -> None:
    """List the free pieces."""
    n = 0
    kind, free = s.kind, s.free
    for x in range(s.tally[USED]):
        if kind[x] == FREE:
            free[n] = x
            n += 1
    s.tally[OPEN] = n


def sort_pool(s: State, job: Job, way: Way) -> None:
    """Sort the items that are not placed, largest first, with noise on their sizes."""
    for i in range(s.tally[LEFT]):
        t = s.pool[i]
        key = int(_measure(s, job, way, t) * FINE)
        j = i
        while j > 0 and s.keys[j - 1] < key:
            s.keys[j] = s.keys[j - 1]
            s.pool[j] = s.pool[j - 1]
            j -= 1
        s.keys[j] = key
        s.pool[j] = t


def _measure(s: State, job: Job, way: Way, t: int) -> float:
    if way.order == BY_CHANCE:
        return draw(s)
    w, h = job.w[t] * way.unit_w, job.h[t] * way.unit_h
    size = w * h
    if way.order == BY_LONG:
        size = max(w, h) + 0.01 * min(w, h)
    elif way.order == BY_WIDTH:
        size = w
    elif way.order == BY_HEIGHT:
        size = h
    elif way.order == BY_GIRTH:
        size = w + h
    if way.noise > 0.0:
        size *= 1.0 + way.noise * draw(s)
    return size


def place_pool(s: State, job: Job, way: Way) -> None:
    """Place what can be placed of the pool; the rest stays in it."""
    list_open(s)
    sort_pool(s, job, way)
    left = 0
    for i in range(s.tally[LEFT]):
        t = s.pool[i]
        place = best_place(s, job, t, way)
        if place.node < 0:
            s.pool[left] = t
            left += 1
        else:
            put(s, job, t, place)
    s.tally[LEFT] = left
