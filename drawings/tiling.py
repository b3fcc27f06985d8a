"""Full-size drawings cut into leaves of paper that are glued together by their marks.

Everything in mm at full size; a leaf's own axes have their origin in its lower left corner. Small
pieces share a leaf; a large one spreads over several that overlap.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from drawings.records import Pen, Text
from drawings.title_block import size_of
from models.parts.views import Point, Stroke
from specs.spec import Paper

MARGIN = 10.0
"""No printer is asked to print nearer to the paper's edge. Common practice, no source."""
FOOT = 16.0
"""Kept free above the lower margin for the label and the check bars."""
HEAD = 9.0
"""Kept free over each piece for its title."""
OVERLAP = 15.0
"""Neighbouring leaves share so much. Common practice, no source."""
GAP = 8.0
"""Between pieces that share a leaf."""
MARKS = (0.2, 0.8)
"""Where along a shared edge the registration crosses stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One full-size drawing: what it covers from ``low`` to ``high``, and what is drawn."""

    title: str
    note: str
    low: Point
    high: Point
    strokes: tuple[tuple[Pen, Stroke], ...]
    texts: tuple[Text, ...] = ()

    @property
    def size(self) -> Point:
        """Width and height."""
        return (self.high[0] - self.low[0], self.high[1] - self.low[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A part of a piece on a leaf: the piece's ``low`` lies at ``at``, seen between two corners."""

    piece: Piece
    at: Point
    window: tuple[Point, Point]
    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One sheet of paper.

    ``trims`` are lines to cut along, ``crosses`` the marks that lie on those of the neighbour.
    """

    name: str
    patches: tuple[Patch, ...]
    trims: tuple[tuple[Point, Point], ...] = ()
    crosses: tuple[Point, ...] = ()


def room(paper: Paper) -> tuple[Point, Point]:
    """The part of a leaf that drawings may cover."""
    width, height = size_of(paper)
    return (MARGIN, MARGIN + FOOT), (width - MARGIN, height - MARGIN)


def leaves(pieces: Iterable[Piece], paper: Paper) -> tuple[Leaf, ...]:
    """Lay pieces out on leaves: large ones each on their own, small ones together."""
    (left, floor), (right, top) = room(paper)
    space = (right - left, top - floor)
    large: list[Piece] = []
    small: list[Piece] = []
    for piece in pieces:
        fits = piece.size[0] <= space[0] and piece.size[1] + HEAD <= space[1]
        (small if fits else large).append(piece)
    found = [leaf for piece in large for leaf in tiled(piece, paper)]
    found += shared(small, paper)
    return tuple(
        Leaf(
            name=f"{place} {leaf.name}".strip(),
            patches=leaf.patches,
            trims=leaf.trims,
            crosses=leaf.crosses,
        )
        for place, leaf in enumerate(found, 1)
    )


def tiled(piece: Piece, paper: Paper) -> Iterator[Leaf]:
    """One piece over several leaves, named A1, A2 ... from the left, rows from below."""
    (left, floor), (right, top) = room(paper)
    step = (right - left - OVERLAP, top - floor - HEAD - OVERLAP)
    columns = max(1, math.ceil((piece.size[0] - OVERLAP) / step[0]))
    rows = max(1, math.ceil((piece.size[1] - OVERLAP) / step[1]))
    for row in range(rows):
        for column in range(columns):
            name = f"{chr(ord('A') + row)}{column + 1}"
            window = ((left, floor), (right, top - HEAD))
            at = (left - column * step[0], floor - row * step[1])
            of = f"{name} of {columns} × {rows}"
            yield Leaf(
                name=name,
                patches=(Patch(piece=piece, at=at, window=window, title=f"{piece.title}, {of}"),),
                trims=tuple(trims(window, (column, columns), (row, rows))),
                crosses=tuple(crosses(window, (column, columns), (row, rows))),
            )


Window = tuple[Point, Point]
Place = tuple[int, int]
"""Which one of how many."""


def trims(window: Window, column: Place, row: Place) -> Iterator[tuple[Point, Point]]:
    """The middle of every edge that is shared: cut one leaf there, lay it on the other's line."""
    (left, floor), (right, top) = window
    for at in shared_edges(left, right, column):
        yield (at, floor), (at, top)
    for at in shared_edges(floor, top, row):
        yield (left, at), (right, at)


def crosses(window: Window, column: Place, row: Place) -> Iterator[Point]:
    """Registration marks on the shared edges, at the same places of the piece on both leaves."""
    (left, floor), (right, top) = window
    for at in shared_edges(left, right, column):
        yield from ((at, floor + (top - floor) * part) for part in MARKS)
    for at in shared_edges(floor, top, row):
        yield from ((left + (right - left) * part, at) for part in MARKS)


def shared_edges(low: float, high: float, place: Place) -> Iterator[float]:
    """Where a leaf meets its neighbours along one axis."""
    if place[0] > 0:
        yield low + OVERLAP / 2
    if place[0] < place[1] - 1:
        yield high - OVERLAP / 2


def shared(pieces: list[Piece], paper: Paper) -> Iterator[Leaf]:
    """Small pieces side by side in rows from the top, the tallest first."""
    (left, floor), (right, top) = room(paper)
    waiting = sorted(pieces, key=lambda piece: -piece.size[1])
    while waiting:
        patches: list[Patch] = []
        level = top
        while waiting:
            tall = max(piece.size[1] for piece in waiting[:1]) + HEAD
            if level - tall < floor:
                break
            row, waiting = one_row(waiting, right - left)
            at = left
            for piece in row:
                low = (at, level - HEAD - piece.size[1])
                high = (at + piece.size[0], level - HEAD)
                patches.append(Patch(piece=piece, at=low, window=(low, high), title=piece.title))
                at += piece.size[0] + GAP
            level -= tall + GAP
        yield Leaf(name="", patches=tuple(patches))


def one_row(waiting: list[Piece], width: float) -> tuple[list[Piece], list[Piece]]:
    """As many of the waiting pieces as a row holds, and the rest."""
    row: list[Piece] = []
    rest: list[Piece] = []
    used = 0.0
    for piece in waiting:
        if used + piece.size[0] <= width:
            row.append(piece)
            used += piece.size[0] + GAP
        else:
            rest.append(piece)
    return row, rest
