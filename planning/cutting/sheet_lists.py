"""Every sheet that is worth something, and how it is sawn: the fronts of ``fronts.py`` at work."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from planning.cutting.compiled import SheetKernel, as_given
from planning.cutting.fronts import FITS, FRONT, MOST, Fronts, Parts, Sets
from planning.cutting.knapsack import Floats, Ints
from planning.cutting.relaxed_sheet import SAFE
from planning.cutting.task import Cell, Item

KEPT: Final = 200
"""So many sheets are kept of those that are listed at a time."""
GIVEN: Final = 60
"""So many of them, the best, are given on."""
SHARE: Final = 0.3
"""Sheets that are less over one than this share of the best are passed over."""


class SheetLists:
    """Sets of parts that one sheet holds."""

    def __init__(
        self, items: Sequence[Item], size: tuple[int, int], kerf: int, kernel: SheetKernel
    ) -> None:
        """``size`` is the sheet's with the kerf added once."""
        self._items, self._size, self._kerf, self._kernel = items, size, kerf, kernel
        whole, none = np.int64, 1 << MOST
        self._fronts = Fronts(
            w=as_given(np.zeros(none * FRONT, whole), kernel),
            h=as_given(np.zeros(none * FRONT, whole), kernel),
            many=as_given(np.zeros(none, whole), kernel),
            size=as_given(np.array(size, whole), kernel),
        )
        self._w = np.array([item.w + kerf for item in items])
        self._h = np.array([item.h + kerf for item in items])
        self._turns = np.array([int(item.turns) for item in items])

    def worthy(self, worth: Floats, steps: int) -> tuple[float, list[list[int]], int]:
        """The most that a sheet is worth (1 at least), sheets worth more than 1, steps left.

        With none left the most is only the most that was found.
        """
        kept = np.flatnonzero(worth > SAFE)
        order = kept[np.argsort(-worth[kept] / (self._w[kept] * self._h[kept]), kind="stable")]
        columns = (self._w[order], self._h[order], self._turns[order], worth[order])
        parts = Parts(*(as_given(column, self._kernel) for column in columns))
        found = Sets(
            parts=as_given(np.full(KEPT * MOST, -1, np.int64), self._kernel),
            worth=as_given(np.zeros(KEPT), self._kernel),
        )
        best, many, left = self._kernel.list_sets(
            self._fronts, parts, found, 1.0 + SAFE, SHARE, steps
        )
        value = [float(found.worth[place]) for place in range(many)]
        chosen = sorted(range(many), key=lambda place: (-value[place], place))[:GIVEN]
        return max(best, 1.0), [self._members(found, place, order) for place in chosen], left

    @staticmethod
    def _members(found: Sets, place: int, order: Ints) -> list[int]:
        taken = found.parts[place * MOST : (place + 1) * MOST]
        return [int(order[part]) for part in taken if part >= 0]

    def cell(self, parts: Sequence[int]) -> Cell | None:
        """How a sheet is sawn into ``parts``; None where it does not hold them, or too many."""
        if len(parts) > MOST:
            return None
        for place, part in enumerate(parts):
            size = int(self._w[part]), int(self._h[part]), int(self._turns[part])
            if self._kernel.add_part(self._fronts, place, *size) != FITS:
                return None
        whole = self._sawn(parts, (1 << len(parts)) - 1, self._size)
        return self._true(whole)

    def _sawn(self, parts: Sequence[int], of: int, size: tuple[int, int]) -> Cell:
        """A piece that holds the set ``of``, sawn; sizes with the kerf added."""
        if of & (of - 1) == 0:
            return self._alone(parts[of.bit_length() - 1], size)
        for one, other in _shares(of):
            for a in self._boxes(one):
                for b in self._boxes(other):
                    for axis in (0, 1):
                        along = a[axis] + b[axis] <= size[axis]
                        if along and max(a[1 - axis], b[1 - axis]) <= size[1 - axis]:
                            first = self._sawn(parts, one, _with(size, axis, a[axis]))
                            rest = _with(size, axis, size[axis] - a[axis])
                            return _row(size, axis, (first, self._sawn(parts, other, rest)))
        message = f"no cut parts {parts} out of {size}"
        raise ValueError(message)

    def _boxes(self, of: int) -> list[tuple[int, int]]:
        first, many = of * FRONT, int(self._fronts.many[of])
        wide, high = self._fronts.w, self._fronts.h
        return [(int(wide[at]), int(high[at])) for at in range(first, first + many)]

    def _alone(self, part: int, size: tuple[int, int]) -> Cell:
        """One part out of a piece, trimmed along the longer rest first."""
        w, h = int(self._w[part]), int(self._h[part])
        if w > size[0] or h > size[1]:
            w, h = h, w
        piece = Cell(w=w, h=h, item=part)
        axis = 0 if (size[0] - w) * size[1] >= (size[1] - h) * size[0] else 1
        for cut in (1 - axis, axis):
            full = _with((piece.w, piece.h), cut, size[cut])
            left = _with(full, cut, full[cut] - (w, h)[cut])
            rest = Cell(w=left[0], h=left[1])
            piece = _row(full, cut, (piece, rest))
        return piece

    def _true(self, cell: Cell) -> Cell:
        """The same without the kerf."""
        k = self._kerf
        inner = tuple(self._true(child) for child in cell.children)
        return replace(cell, w=max(0, cell.w - k), h=max(0, cell.h - k), children=inner)


def _with(size: tuple[int, int], axis: int, length: int) -> tuple[int, int]:
    return (length, size[1]) if axis == 0 else (size[0], length)


def _row(size: tuple[int, int], axis: int, cells: Sequence[Cell]) -> Cell:
    """Pieces cut off one after the other; what is left over stays together, nothing is nothing."""
    flat = [one for cell in cells for one in (cell.children if cell.axis == axis else (cell,))]
    kept = [cell for cell in flat if cell.item is not None or cell.axis is not None]
    left = size[axis] - sum((cell.w, cell.h)[axis] for cell in kept)
    if left > 0:
        w, h = _with(size, axis, left)
        kept.append(Cell(w=w, h=h))
    if len(kept) == 1:
        return kept[0]
    return Cell(w=size[0], h=size[1], axis=axis, children=tuple(kept))


def _shares(of: int) -> Iterator[tuple[int, int]]:
    """Every way to part a set in two."""
    share = (of - 1) & of
    while share > 0:
        yield of ^ share, share
        share = (share - 1) & of
