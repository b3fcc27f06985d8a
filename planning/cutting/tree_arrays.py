"""The arrays that a search for a cutting plan works on, and the small steps in them.

A state is a forest: one tree of saw cuts for each zone (a trimmed sheet, or a clear part of a
board). A piece is sawn across its first size (axis 0) or its second (axis 1) into any number of
pieces; what is left of a piece stays together as one free piece, because the order of the pieces
along a cut means nothing. Every size has the kerf added once, zones and items alike: then
sum(w + k) <= W + k says exactly that the parts and the cuts between them fit in W.

Functions of this kind run as they stand, over lists, and compiled, over arrays of 64-bit integers
(see ``compiled.py``). So they keep to plain loops and whole numbers, and bring their own random
numbers: both ways give the same plan.
"""

from typing import Final, NamedTuple

NONE: Final = -1
CLOSED, CUT, PART, FREE = 0, 1, 2, 3
"""What a node is; a closed zone takes nothing, a node given back is closed as well."""

GIVEN, USED, LEFT, RANDOM, OPEN, PLACE, ROUNDS, CALM = 0, 1, 2, 3, 4, 5, 6, 7
"""Places in ``State.tally``: first node given back, nodes in use, items not placed, random number,
free pieces, place in the history, rounds run, rounds since the best."""
COUNTS: Final = 8


class State(NamedTuple):
    """A forest of cuts: a node's size, kind, axis of its cuts, place in its tree, item and zone.

    ``level`` counts the cuts, taken in stages, that make a piece. ``pool`` holds the items that
    are not placed, ``keys`` sorts them, ``free`` lists free pieces, ``work`` is for walks.
    """

    w: list[int]
    h: list[int]
    kind: list[int]
    axis: list[int]
    parent: list[int]
    first: list[int]
    next: list[int]
    item: list[int]
    zone: list[int]
    level: list[int]
    pool: list[int]
    keys: list[int]
    free: list[int]
    work: list[int]
    tally: list[int]


class Job(NamedTuple):
    """Items and zones as arrays.

    ``turns`` is 1 for an item that may be turned, ``inner`` the axis of the cuts that part an
    item later (a group) or NONE. ``wants`` is the kind of zone that an item must lie in, NONE for
    any. A zone has a kind, and the ``level`` and ``axis`` of the cut that made it. ``levels`` is
    the limit of cutting levels, in a list of one.
    """

    w: list[int]
    h: list[int]
    turns: list[int]
    inner: list[int]
    wants: list[int]
    zone_w: list[int]
    zone_h: list[int]
    zone_kind: list[int]
    zone_level: list[int]
    zone_axis: list[int]
    levels: list[int]


def draw(s: State) -> float:
    """The next random number, 0 up to 1: the minimal standard generator.

    Source: Park and Miller, Communications of the ACM 31 (1988), with the multiplier of 1993.
    """
    s.tally[RANDOM] = s.tally[RANDOM] * 48271 % 2147483647
    return s.tally[RANDOM] / 2147483647.0


def below(s: State, n: int) -> int:
    """A random whole number, 0 up to ``n``."""
    return int(draw(s) * n)


def take(s: State) -> int:
    """A node to use."""
    k = s.tally[GIVEN]
    if k >= 0:
        s.tally[GIVEN] = s.next[k]
    else:
        k = s.tally[USED]
        s.tally[USED] = k + 1
    s.first[k] = NONE
    s.next[k] = NONE
    s.item[k] = NONE
    return k


def give(s: State, k: int) -> None:
    """Give a node back."""
    s.kind[k] = CLOSED
    s.next[k] = s.tally[GIVEN]
    s.tally[GIVEN] = k


def empty_zone(s: State, job: Job, z: int) -> None:
    """Open the zone ``z``, whose root is the node ``z``."""
    s.w[z] = job.zone_w[z]
    s.h[z] = job.zone_h[z]
    s.kind[z] = FREE
    s.axis[z] = NONE
    s.parent[z] = NONE
    s.first[z] = NONE
    s.next[z] = NONE
    s.item[z] = NONE
    s.zone[z] = z
    s.level[z] = job.zone_level[z]


def copy(from_: State, to: State) -> None:
    """Make ``to`` the same as ``from_``, random numbers and history apart."""
    n = from_.tally[USED]
    to.w[:n] = from_.w[:n]
    to.h[:n] = from_.h[:n]
    to.kind[:n] = from_.kind[:n]
    to.axis[:n] = from_.axis[:n]
    to.parent[:n] = from_.parent[:n]
    to.first[:n] = from_.first[:n]
    to.next[:n] = from_.next[:n]
    to.item[:n] = from_.item[:n]
    to.zone[:n] = from_.zone[:n]
    to.level[:n] = from_.level[:n]
    left = from_.tally[LEFT]
    to.pool[:left] = from_.pool[:left]
    to.tally[GIVEN] = from_.tally[GIVEN]
    to.tally[USED] = n
    to.tally[LEFT] = left


def unlink(s: State, parent: int, child: int) -> None:
    """Take ``child`` out of the list of its parent's pieces."""
    k = s.first[parent]
    if k == child:
        s.first[parent] = s.next[child]
        return
    while s.next[k] != child:
        k = s.next[k]
    s.next[k] = s.next[child]


def parts_in(s: State, x: int, most: int) -> int:
    """How many items lie in the piece ``x``; over ``most`` they are not counted on."""
    n = 0
    kind, first, following, work = s.kind, s.first, s.next, s.work
    work[0] = x
    top = 1
    while top > 0 and n <= most:
        top -= 1
        k = work[top]
        if kind[k] == PART:
            n += 1
        elif kind[k] == CUT:
            k = first[k]
            while k >= 0:
                work[top] = k
                top += 1
                k = following[k]
    return n


def clear(s: State, x: int) -> None:
    """Take every item out of the piece ``x``; it is one free piece again, joined to its like."""
    if s.kind[x] == PART:
        s.pool[s.tally[LEFT]] = s.item[x]
        s.tally[LEFT] += 1
    elif s.kind[x] == CUT:
        _clear_below(s, x)
    s.kind[x] = FREE
    s.first[x] = NONE
    s.item[x] = NONE
    while s.parent[x] >= 0:
        parent = s.parent[x]
        if _join(s, parent, x) > 1:
            return
        s.kind[parent] = FREE
        s.first[parent] = NONE
        give(s, x)
        x = parent


def _clear_below(s: State, x: int) -> None:
    top = 0
    k = s.first[x]
    while k >= 0:
        s.work[top] = k
        top += 1
        k = s.next[k]
    while top > 0:
        top -= 1
        k = s.work[top]
        if s.kind[k] == PART:
            s.pool[s.tally[LEFT]] = s.item[k]
            s.tally[LEFT] += 1
        elif s.kind[k] == CUT:
            child = s.first[k]
            while child >= 0:
                s.work[top] = child
                top += 1
                child = s.next[child]
        give(s, k)


def _join(s: State, parent: int, x: int) -> int:
    """Join the free piece ``x`` with another beside it; the number of pieces that there are."""
    other = NONE
    n = 0
    k = s.first[parent]
    while k >= 0:
        n += 1
        if k != x and s.kind[k] == FREE:
            other = k
        k = s.next[k]
    if other >= 0:
        if s.axis[parent] == 0:
            s.w[x] += s.w[other]
        else:
            s.h[x] += s.h[other]
        unlink(s, parent, other)
        give(s, other)
        n -= 1
    return n
