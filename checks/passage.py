"""Whether a box goes through a hole, into a room and round a corner; lengths in mm."""

import math
from collections.abc import Iterator
from itertools import permutations

Size = tuple[float, float, float]
Rectangle = tuple[float, float]

STEPS = 90
"""Places at which a turn round a corner is looked at: every degree."""


def in_rectangle(one: Rectangle, hole: Rectangle) -> bool:
    """Whether a rectangle goes into another, square to it or tilted.

    The condition for tilting: Rectangles in Rectangles, Mathematics Magazine 73 (2000), from
    memory. It is held against turning the rectangle step by step in the tests.
    """
    p, q = max(one), min(one)
    a, b = max(hole), min(hole)
    if p <= a:
        return q <= b
    slant = p * p + q * q - a * a
    return q <= b and b * (p * p + q * q) >= 2 * p * q * a + (p * p - q * q) * math.sqrt(slant)


def square_to(one: Rectangle, hole: Rectangle) -> bool:
    """Whether a rectangle goes into another without being tilted."""
    return max(one) <= max(hole) and min(one) <= min(hole)


def longest_round(deep: float, before: float, after: float) -> float:
    """The longest box ``deep`` mm deep that is turned round a square corner of two passages.

    Its outer side slides along both outer walls; the inner corner keeps off by what is deep.
    Where s and c are sine and cosine of how far it has turned: L s c <= before c + after s - deep.
    """
    if deep >= min(before, after):
        return 0.0
    turns = (math.radians(90 * step / STEPS) for step in range(1, STEPS))
    return min(
        (before * math.cos(turn) + after * math.sin(turn) - deep)
        / (math.sin(turn) * math.cos(turn))
        for turn in turns
    )


def round_corner(plan: Rectangle, before: float, after: float) -> bool:
    """Whether a box with this plan gets round a corner: turned, or moved on sideways."""
    long, deep = max(plan), min(plan)
    if deep > min(before, after):
        return False
    return long <= max(before, after) or long <= longest_round(deep, before, after)


def lain(size: Size) -> Iterator[tuple[Rectangle, float]]:
    """A box lain on each of its sides: its plan, and how high it then is."""
    for long, deep, high in permutations(size):
        if long >= deep:
            yield ((long, deep), high)
