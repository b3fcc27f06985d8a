"""Full-size drawings cut into leaves of paper that are glued together by their marks.

Everything in mm at full size; a leaf's own axes have their origin in its lower left corner. Small
pieces share a leaf; a large one spreads over several that overlap.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import assert_never

from drawings.lettering import text_width
from drawings.records import Pen, Text
from drawings.title_block import size_of
from models.parts.views import Arc, Curve, Line, Point, Stroke
from specs.spec import Paper

MARGIN = 10.0
"""No printer is asked to print nearer to the paper's edge. Common practice, no source."""
FOOT = 16.0
"""Kept free above the lower margin for the label and the check bars."""
HEAD = 6.0
"""Kept free over each piece for its title."""
OVERLAP = 15.0
"""Neighbouring leaves share so much. Common practice, no source."""
TITLE = 2.5
"""Height of a piece's title (ISO 3098's list)."""
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

    @property
    def slot(self) -> float:
        """The width that a piece takes on a shared leaf: its title wants room too."""
        return max(self.size[0], text_width(self.title, TITLE))

    def turned(self) -> "Piece":
        """The same piece, a quarter turn counter-clockwise."""
        corners = [quarter(self.low), quarter(self.high)]
        return replace(
            self,
            low=(corners[1][0], corners[0][1]),
            high=(corners[0][0], corners[1][1]),
            strokes=tuple((pen, quarter_stroke(stroke)) for pen, stroke in self.strokes),
            texts=tuple(
                replace(text, at=quarter(text.at), turned=text.turned + 90.0) for text in self.texts
            ),
        )


def quarter(point: Point) -> Point:
    """A point a quarter turn on."""
    return (-point[1], point[0])


def quarter_stroke(stroke: Stroke) -> Stroke:
    """A stroke a quarter turn on."""
    match stroke:
        case Line(start=start, end=end):
            return Line(quarter(start), quarter(end))
        case Arc():
            turns = (stroke.start + 90.0, stroke.end + 90.0)
            return Arc(quarter(stroke.centre), stroke.radius, *turns)
        case Curve(points=points):
            return Curve(tuple(quarter(point) for point in points))
    assert_never(stroke)


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
        if fits(piece, space):
            small.append(piece)
        elif fits(piece.turned(), space):
            small.append(piece.turned())
        else:
            other = piece.turned()
            large.append(min(piece, other, key=lambda one: sum(1 for _ in tiled((one,), paper))))
    found = [leaf for stack in stacks(large, space) for leaf in tiled(stack, paper)]
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


def fits(piece: Piece, space: Point) -> bool:
    """Tell whether a piece and its title fit on one leaf."""
    return piece.slot <= space[0] and piece.size[1] + HEAD <= space[1]


def stacks(pieces: Iterable[Piece], space: Point) -> Iterator[tuple[Piece, ...]]:
    """Long low pieces over one another, so that they share a run of leaves."""
    waiting = sorted(pieces, key=lambda piece: (-piece.size[0], piece.title))
    while waiting:
        stack = [waiting.pop(0)]
        high = stack[0].size[1] + HEAD
        for piece in tuple(waiting):
            if high + piece.size[1] + HEAD + GAP <= space[1]:
                stack.append(piece)
                waiting.remove(piece)
                high += piece.size[1] + HEAD + GAP
        yield tuple(stack)


def tiled(stack: tuple[Piece, ...], paper: Paper) -> Iterator[Leaf]:
    """Pieces over one another, over several leaves: A1, A2 ... from the left, rows from below."""
    (left, floor), (right, top) = room(paper)
    step = (right - left - OVERLAP, top - floor - HEAD - OVERLAP)
    wide = max(piece.size[0] for piece in stack)
    high = sum(piece.size[1] for piece in stack) + (len(stack) - 1) * (HEAD + GAP)
    columns = max(1, math.ceil((wide - OVERLAP) / step[0]))
    rows = max(1, math.ceil((high - OVERLAP) / step[1]))
    for row in range(rows):
        for column in range(columns):
            name = f"{chr(ord('A') + row)}{column + 1}"
            window = ((left, floor), (right, top - HEAD))
            yield Leaf(
                name=name,
                patches=tuple(
                    patches(stack, (left - column * step[0], floor - row * step[1]), window, name)
                ),
                trims=tuple(trims(window, (column, columns), (row, rows))),
                crosses=tuple(crosses(window, (column, columns), (row, rows))),
            )


def patches(
    stack: tuple[Piece, ...], at: Point, window: tuple[Point, Point], name: str
) -> Iterator[Patch]:
    """What of a stack lies on one leaf: its pieces from below upward."""
    level = at[1]
    for piece in stack:
        if at[0] + piece.size[0] > window[0][0]:
            clipped = (window[0], (window[1][0], min(window[1][1], level + piece.size[1])))
            yield Patch(
                piece=piece, at=(at[0], level), window=clipped, title=f"{name}: {piece.title}"
            )
        level += piece.size[1] + HEAD + GAP


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
                at += piece.slot + GAP
            level -= tall + GAP
        yield Leaf(name="", patches=tuple(patches))


def one_row(waiting: list[Piece], width: float) -> tuple[list[Piece], list[Piece]]:
    """As many of the waiting pieces as a row holds, and the rest."""
    row: list[Piece] = []
    rest: list[Piece] = []
    used = 0.0
    for piece in waiting:
        if used + piece.slot <= width:
            row.append(piece)
            used += piece.slot + GAP
        else:
            rest.append(piece)
    return row, rest
