"""What of a sheet is taken and what is free, on a grid of millimetres.

A row of the grid is one integer, a bit a cell, so that looking for a free place is quick.
"""

import math
from collections.abc import Iterable

from models.parts.views import Point

Box = tuple[Point, Point]

STEP = 0.4
"""Lines are followed in steps of so much (mm): no cell that they cross is missed by more."""


class Room:
    """A sheet ``wide`` x ``tall`` (mm), all of it free at first."""

    def __init__(self, wide: float, tall: float) -> None:
        self._wide = math.ceil(wide)
        self._rows = [0] * math.ceil(tall)

    def take(self, box: Box) -> None:
        """Take a rectangle."""
        low, high = self._cells(box)
        if high[0] < low[0]:
            return
        bits = ((1 << (high[0] - low[0] + 1)) - 1) << low[0]
        for row in range(low[1], high[1] + 1):
            self._rows[row] |= bits

    def take_line(self, start: Point, end: Point) -> None:
        """Take the cells that a line crosses."""
        count = max(1, math.ceil(math.dist(start, end) / STEP))
        for place in range(count + 1):
            share = place / count
            column = math.floor(start[0] + (end[0] - start[0]) * share)
            row = math.floor(start[1] + (end[1] - start[1]) * share)
            if 0 <= row < len(self._rows) and 0 <= column < self._wide:
                self._rows[row] |= 1 << column

    def take_lines(self, lines: Iterable[tuple[Point, Point]]) -> None:
        """Take the cells that lines cross."""
        for start, end in lines:
            self.take_line(start, end)

    def is_free(self, box: Box) -> bool:
        """Tell whether nothing is in a rectangle, and all of it on the sheet."""
        (left, bottom), (right, top) = box
        if left < 0 or bottom < 0 or right > self._wide or top > len(self._rows):
            return False
        low, high = self._cells(box)
        bits = ((1 << (high[0] - low[0] + 1)) - 1) << low[0]
        return not any(self._rows[row] & bits for row in range(low[1], high[1] + 1))

    def nearest(self, size: Point, to: Point, within: Box) -> Point | None:
        """The lower left corner of the free rectangle ``within`` whose middle is nearest ``to``."""
        wide, tall = math.ceil(size[0]) + 1, math.ceil(size[1]) + 1
        low, high = self._cells(within)
        if high[0] - low[0] + 1 < wide or high[1] - low[1] + 1 < tall:
            return None
        best: tuple[float, Point] | None = None
        for row in range(low[1], high[1] - tall + 2):
            taken = 0
            for line in self._rows[row : row + tall]:
                taken |= line
            off_row = abs(row + tall / 2 - to[1])
            if best is not None and off_row >= best[0]:
                continue
            for column in _starts(taken, wide, low[0], high[0]):
                off = math.hypot(column + wide / 2 - to[0], off_row)
                if best is None or off < best[0]:
                    best = (off, (column + 0.5, row + 0.5))
        return None if best is None else best[1]

    def _cells(self, box: Box) -> tuple[tuple[int, int], tuple[int, int]]:
        """The first and the last cell of a rectangle, kept on the sheet."""
        (left, bottom), (right, top) = box
        last = (self._wide - 1, len(self._rows) - 1)
        first = (max(0, math.floor(left)), max(0, math.floor(bottom)))
        return first, (min(last[0], math.ceil(right) - 1), min(last[1], math.ceil(top) - 1))


def _starts(taken: int, wide: int, first: int, last: int) -> Iterable[int]:
    """Columns at which ``wide`` free cells begin."""
    free = ~taken & (((1 << (last - first + 1)) - 1) << first)
    have = 1
    while have < wide:
        step = min(have, wide - have)
        free &= free >> step
        have += step
    while free:
        lowest = free & -free
        yield lowest.bit_length() - 1
        free ^= lowest
