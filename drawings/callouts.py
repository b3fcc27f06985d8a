"""Labels in columns beside a picture, each on a leader that crosses no other."""

from itertools import combinations
from math import dist

from drawings.lettering import text_width
from drawings.paper import LETTER
from drawings.records import Align, Note, Text
from drawings.rows import kept_between, spread
from models.parts.views import Point

APART = 5.6
"""Base lines of two labels."""

EDGE = 3.0
"""Between a label and its leader, and from a label to the picture at least."""

Spot = tuple[Point, str]
"""A place on the paper, and the label that points to it."""


def room(words: list[str]) -> float:
    """How wide the columns of some labels are, leaders' starts and all."""
    return max((text_width(word, LETTER) for word in words), default=0.0) + 2 * EDGE


def beside(spots: list[Spot], picture: tuple[Point, Point]) -> tuple[Note, ...]:
    """Labels left and right of a picture, each on the side that is nearer, as far as there is room.

    Where one side has no room for all of its labels, the innermost go to the other.
    """
    order = sorted(spots)
    low, high = picture
    most = max(1, int((high[1] - LETTER - low[1]) / APART))
    half = sum(u < (low[0] + high[0]) / 2 for (u, _), _ in order)
    half = max(min(half, most), len(order) - most)
    wide = room([label for _, label in spots]) - EDGE
    return (
        *_column(order[:half], (low[0] + wide, low[1], high[1]), Align.RIGHT),
        *_column(order[half:], (high[0] - wide, low[1], high[1]), Align.LEFT),
    )


def _column(spots: list[Spot], where: tuple[float, float, float], align: Align) -> tuple[Note, ...]:
    """Labels one under another that end, or start, at a place between two heights."""
    if not spots:
        return ()
    u, low, high = where
    spots = sorted(spots, key=lambda spot: (spot[0][1], spot[0][0]))
    start = u + 1.0 if align is Align.RIGHT else u - 1.0
    wanted = spread([v for (_, v), _ in spots], APART)
    heights = kept_between(wanted, APART, (low, high - LETTER))
    spots = _uncrossed(spots, [(start, height) for height in heights])
    return tuple(
        Note(
            text=Text(at=(u, height - LETTER / 2), text=label, height=LETTER, align=align),
            leader=((start, height), spot),
        )
        for (spot, label), height in zip(spots, heights, strict=True)
    )


ROUNDS = 8
"""So often are leaders gone through for two that cross."""


def _uncrossed(spots: list[tuple[Point, str]], ends: list[Point]) -> list[tuple[Point, str]]:
    """Spots in such an order that no two leaders to ``ends`` cross: swapped, both get shorter."""
    order = list(spots)
    for _ in range(ROUNDS):
        swapped = False
        for one, other in combinations(range(len(order)), 2):
            (a, _), (b, _) = order[one], order[other]
            now = dist(a, ends[one]) + dist(b, ends[other])
            if dist(b, ends[one]) + dist(a, ends[other]) < now - SHORTER:
                order[one], order[other] = order[other], order[one]
                swapped = True
        if not swapped:
            break
    return order


SHORTER = 1e-6
"""A swap is worth it where leaders get shorter by more (mm)."""
