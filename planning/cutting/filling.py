"""Fill a sheet with strips upright, parts stacked in each, by what its parts are worth.

Plain loops over arrays; see ``tree_arrays.py``.
"""

from typing import Final, NamedTuple

LITTLE: Final = 1e-9


class Ways(NamedTuple):
    """Ways that parts may lie, narrow ones first: width, height, and whose each way is."""

    w: list[int]
    h: list[int]
    part: list[int]


class Slate(NamedTuple):
    """Room to work in.

    ``best`` is the most worth of a stack of each height (and of strips of each width), ``last``
    the way that ends it, ``strip`` the worth of a strip that a way may be the widest of, ``better``
    whether a way is in the best stack of a height (way by way), ``held`` the ways that are taken.
    """

    best: list[float]
    last: list[int]
    strip: list[float]
    better: list[int]
    held: list[int]


def fill(
    ways: Ways, worth: list[float], taken: list[int], slate: Slate, wide: int, high: int
) -> int:
    """Fill a sheet, strip after strip; how many ways are ``held``.

    ``worth`` is by part; ``taken`` is 1 for parts that are used, and is set for those used here.
    """
    many = 0
    room = wide
    while True:
        fit = stack(ways, worth, taken, slate, room, high)
        widest = strip(ways, slate, fit, room)
        if widest < 0:
            return many
        broad = 0
        left = high
        for way in range(widest, -1, -1):
            if ways.h[way] <= left and slate.better[way * (high + 1) + left - ways.h[way]] == 1:
                left -= ways.h[way]
                broad = max(broad, ways.w[way])
                if taken[ways.part[way]] == 0:
                    taken[ways.part[way]] = 1
                    slate.held[many] = way
                    many += 1
        room -= broad


def stack(
    ways: Ways, worth: list[float], taken: list[int], slate: Slate, room: int, high: int
) -> int:
    """The best stack for a strip of the width of each way, in ``strip``; how many ways fit.

    A way that cannot lie there is worth nothing more than the ways before it.
    """
    best, better = slate.best, slate.better
    for at in range(high + 1):
        best[at] = 0.0
    for way in range(len(ways.w)):
        if ways.w[way] > room:
            return way
        tall, value = ways.h[way], worth[ways.part[way]]
        row = way * (high + 1)
        for at in range(high + 1):
            better[row + at] = 0
        if tall <= high and value > LITTLE and taken[ways.part[way]] == 0:
            for at in range(high - tall, -1, -1):
                if best[at] + value > best[at + tall] + LITTLE:
                    best[at + tall] = best[at] + value
                    better[row + at] = 1
        slate.strip[way] = best[high]
    return len(ways.w)


def strip(ways: Ways, slate: Slate, fit: int, room: int) -> int:
    """The widest way of the strip to take; NONE (-1) where nothing is worth a strip.

    Of the strips that fill the room best, it is the one worth most for its width.
    """
    line_up(ways, slate, fit, room)
    last = slate.last
    chosen = -1
    at = room
    while at > 0:
        way = last[at]
        if way < 0:
            at -= 1
            continue
        if chosen < 0 or slate.strip[way] * ways.w[chosen] > slate.strip[chosen] * ways.w[way]:
            chosen = way
        at -= ways.w[way]
    return chosen


def line_up(ways: Ways, slate: Slate, fit: int, room: int) -> None:
    """The best strips side by side for every width, each as often as may be."""
    best, last = slate.best, slate.last
    best[0] = 0.0
    last[0] = -1
    for at in range(1, room + 1):
        best[at] = best[at - 1]
        last[at] = -1
        for way in range(fit):
            if ways.w[way] > at:
                break
            if way + 1 < fit and ways.w[way + 1] == ways.w[way]:
                continue
            value = slate.strip[way] + best[at - ways.w[way]]
            if value > best[at] + LITTLE:
                best[at] = value
                last[at] = way
