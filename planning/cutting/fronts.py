"""Which parts one sheet holds: for each set of parts, the smallest boxes that it can be cut from.

Cuts from edge to edge part a set out of a box when the set is one part that fits, or when one cut
leaves two boxes that hold its two shares. The smallest boxes of a set, none of which fits in
another, are its front; the front of a set comes from the fronts of all its shares. Levels of
cutting are not counted.

Sets are bits of a number; the boxes of set ``s`` stand from ``s * FRONT`` on. Plain loops over
arrays; see ``tree_arrays.py``. Sizes have the kerf added once.
"""

from typing import Final, NamedTuple

MOST: Final = 12
"""So many parts are in a set at most."""
FRONT: Final = 64
"""So many boxes are in a front at most."""
SHARES: Final = 243
"""So many pairs of shares are looked at in one step: three to the power of the parts there are."""
FITS, TOO_LARGE, TOO_MANY = 1, 0, -1
"""What becomes of a set: no box of the sheet's size holds it, or its boxes are not all known."""


class Fronts(NamedTuple):
    """Boxes of every set, how many they are, and the sheet: its width and its height."""

    w: list[int]
    h: list[int]
    many: list[int]
    size: list[int]


class Parts(NamedTuple):
    """Parts, those worth most for their area first: sizes, 1 for those that turn, worth."""

    w: list[int]
    h: list[int]
    turns: list[int]
    worth: list[float]


class Sets(NamedTuple):
    """Sets that were listed: places of their parts (``MOST`` each, -1: none) and their worth."""

    parts: list[int]
    worth: list[float]


def put_box(fronts: Fronts, of: int, n: int, w: int, h: int) -> int:
    """Add a box to a front of ``n``, unless one there fits in it; how many there are then."""
    wide, high = fronts.w, fronts.h
    first = of * FRONT
    for at in range(first, first + n):
        if wide[at] <= w and high[at] <= h:
            return n
    kept = first
    for at in range(first, first + n):
        if wide[at] < w or high[at] < h:
            wide[kept] = wide[at]
            high[kept] = high[at]
            kept += 1
    if kept == first + FRONT:
        return TOO_MANY
    wide[kept] = w
    high[kept] = h
    return kept + 1 - first


def join(fronts: Fronts, of: int, one: int, other: int, n: int) -> int:
    """Add the boxes of two shares side by side and one over the other; how many there are then."""
    wide, high = fronts.w, fronts.h
    room, tall = fronts.size[0], fronts.size[1]
    for a in range(one * FRONT, one * FRONT + fronts.many[one]):
        for b in range(other * FRONT, other * FRONT + fronts.many[other]):
            if wide[a] + wide[b] <= room:
                n = put_box(fronts, of, n, wide[a] + wide[b], max(high[a], high[b]))
            if n >= 0 and high[a] + high[b] <= tall:
                n = put_box(fronts, of, n, max(wide[a], wide[b]), high[a] + high[b])
            if n < 0:
                return n
    return n


def add_part(fronts: Fronts, place: int, w: int, h: int, turns: int) -> int:
    """Add a part as the bit ``place`` to all sets of the bits below; what becomes of the whole."""
    top = 1 << place
    n = 0
    if w <= fronts.size[0] and h <= fronts.size[1]:
        n = put_box(fronts, top, n, w, h)
    if turns == 1 and h <= fronts.size[0] and w <= fronts.size[1]:
        n = put_box(fronts, top, n, h, w)
    fronts.many[top] = n
    if n == 0:
        return TOO_LARGE
    for low in range(1, top):
        of = top | low
        n = 0
        share = low
        while share > 0 and n >= 0:
            n = join(fronts, of, of ^ share, share, n)
            share = (share - 1) & low
        if n <= 0:
            return n
        fronts.many[of] = n
    return FITS


def most_in(parts: Parts, first: int, room: float) -> float:
    """The worth that parts from ``first`` on give in so much area, the last of them in part."""
    total = 0.0
    for i in range(first, len(parts.w)):
        area = float(parts.w[i]) * parts.h[i]
        if area > room:
            return total + parts.worth[i] * room / area
        room -= area
        total += parts.worth[i]
    return total


def list_sets(
    fronts: Fronts, parts: Parts, found: Sets, need: float, share: float, steps: int
) -> tuple[float, int, int]:
    """List sets that one sheet holds and that are worth more than ``need``.

    Sets that are less over 1 than ``share`` of what the best one is over it are passed over.
    The result is the worth of the best set, how many are listed, and how many steps are left:
    with some left, no set that a sheet holds is worth more than the best one, or than ``need``.
    """
    chosen = [0] * (MOST + 1)
    used = [0.0] * (MOST + 1)
    worth = [0.0] * (MOST + 1)
    sheet = float(fronts.size[0]) * fronts.size[1]
    best, many, depth = 0.0, 0, 0
    while depth >= 0:
        i = chosen[depth]
        least = max(need, 1.0 + share * (best - 1.0))
        if i >= len(parts.w) or worth[depth] + most_in(parts, i, sheet - used[depth]) <= least:
            depth -= 1
            if depth >= 0:
                chosen[depth] += 1
            continue
        steps -= 1 + 3**depth // SHARES
        if depth == MOST or steps <= 0:
            return best, many, 0
        area = used[depth] + float(parts.w[i]) * parts.h[i]
        becomes = tried(fronts, parts, depth, i, area <= sheet)
        if becomes == TOO_MANY:
            return best, many, 0
        if becomes == TOO_LARGE:
            chosen[depth] += 1
            continue
        depth += 1
        used[depth] = area
        worth[depth] = worth[depth - 1] + parts.worth[i]
        chosen[depth] = i + 1
        best = max(best, worth[depth])
        if worth[depth] > least:
            many = note(found, chosen, worth[depth], depth, many)
    return best, many, steps


def tried(fronts: Fronts, parts: Parts, depth: int, i: int, room: bool) -> int:  # noqa: FBT001 - hot, by place
    """What becomes of the set with the part ``i`` as the bit ``depth``."""
    if not room:
        return TOO_LARGE
    return add_part(fronts, depth, parts.w[i], parts.h[i], parts.turns[i])


def note(found: Sets, chosen: list[int], worth: float, depth: int, many: int) -> int:
    """Keep a set, in the place of the one worth least where the list is full; how many there are.

    ``chosen`` holds the part taken at each depth, and past the last one where to go on.
    """
    place = many
    if many == len(found.worth):
        place = 0
        for k in range(many):
            if found.worth[k] < found.worth[place]:
                place = k
        if found.worth[place] >= worth:
            return many
    found.worth[place] = worth
    for k in range(MOST):
        found.parts[place * MOST + k] = chosen[k] if k < depth else -1
    return max(many, place + 1)
