"""What of a sheet is taken and what is free, on a grid of millimetres.

A row of the grid is one integer, a bit a cell, so that looking for a free place is quick.
"""

import math
from collections.abc import Iterable, Iterator

from models.parts.views import Point

Box = tuple[Point, Point]


class Room:
    """A sheet ``wide`` x ``tall`` (mm), all of it free at first."""

    def __init__(self, wide: float, tall: float) -> None:
        self._wide = math.ceil(wide)
        self._rows = [0] * math.ceil(tall)

    def copy(self) -> "Room":
        """The same sheet, to be filled on its own."""
        twin = Room(self._wide, len(self._rows))
        twin._rows = list(self._rows)
        return twin

    def take_all(self, other: "Room") -> None:
        """Take whatever is taken on another sheet of the same size."""
        self._rows = [mine | theirs for mine, theirs in zip(self._rows, other.rows, strict=True)]

    @property
    def rows(self) -> tuple[int, ...]:
        """What is taken, a row an integer, a cell a bit."""
        return tuple(self._rows)

    def take(self, box: Box) -> None:
        """Take a rectangle."""
        low, high = self._cells(box)
        if high[0] < low[0]:
            return
        bits = ((1 << (high[0] - low[0] + 1)) - 1) << low[0]
        for row in range(low[1], high[1] + 1):
            self._rows[row] |= bits

    def take_line(self, start: Point, end: Point) -> None:
        """Take the cells that a line crosses, row by row."""
        (u, v), (end_u, end_v) = (start, end) if start[1] <= end[1] else (end, start)
        first, last = max(0, math.floor(v)), min(len(self._rows) - 1, math.floor(end_v))
        slope = (end_u - u) / (end_v - v) if end_v > v else 0.0
        for row in range(first, last + 1):
            if end_v > v:
                a = u + slope * (max(row, v) - v)
                b = u + slope * (min(row + 1, end_v) - v)
            else:
                a, b = u, end_u
            left, right = (a, b) if a <= b else (b, a)
            low, high = max(0, math.floor(left)), min(self._wide - 1, math.floor(right))
            if low <= high:
                self._rows[row] |= ((1 << (high - low + 1)) - 1) << low

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
        column_wanted = round(to[0] - wide / 2)
        rows = range(low[1], high[1] - tall + 2)
        for row in sorted(rows, key=lambda row: abs(row + tall / 2 - to[1])):
            off_row = abs(row + tall / 2 - to[1])
            if best is not None and off_row >= best[0]:
                break
            taken = 0
            for line in self._rows[row : row + tall]:
                taken |= line
            for column in _starts(taken, wide, (low[0], high[0]), column_wanted):
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


def _starts(taken: int, wide: int, span: tuple[int, int], wanted: int) -> Iterator[int]:
    """The columns nearest to the ``wanted`` one, on either side, at which free cells begin."""
    first, last = span
    free = ~taken & (((1 << (last - first + 1)) - 1) << first)
    have = 1
    while have < wide:
        step = min(have, wide - have)
        free &= free >> step
        have += step
    cut = max(0, wanted)
    below = free & ((1 << (cut + 1)) - 1)
    above = free >> cut
    if below:
        yield below.bit_length() - 1
    if above:
        yield cut + (above & -above).bit_length() - 1
