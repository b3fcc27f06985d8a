"""The clear parts of a board: what defects and changes of figure leave, cut from edge to edge."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from planning.cutting.layout import SAWS, Bit, free, row, whole
from planning.cutting.records import NodeKind, Saw
from planning.cutting.task import Zone
from specs.materials import Board, Figure

Rect = tuple[int, int, int, int]
"""x, y, length, width in whole numbers."""

FIGURES = tuple(Figure)
ANY_FIGURE = len(FIGURES)
"""The kind of a zone of which nothing is said."""
ZONE = "zone "
LEAST = 20.0
"""Anything smaller either way is not worth a zone (mm)."""
SLIVER = whole(1.0)
"""What falls off beside the blade is no thinner: less would be dust or break under the saw."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clear:
    """A board with its clear zones: ``bit`` is how it is cut into them, each named by its place."""

    bit: Bit
    zones: tuple[Zone, ...]

    def filled(self, cells: Sequence[Bit | None]) -> Bit:
        """The board with what is cut from its zones."""
        return _filled(self.bit, cells)


def clear(board: Board, kerf: int) -> Clear:
    """Cut a board into its clear zones, the ends of stretches of figure first."""
    zones: list[Zone] = []
    size = (whole(board.length), whole(board.width), whole(board.thickness))
    keep_out = _grown(board, kerf)
    bits = []
    for start, end, figure in _stretches(board, kerf):
        piece = _Piece(rect=(start, 0, end - start, size[1]), thick=size[2], figure=figure)
        bits.append(_cleared(piece, keep_out, kerf, zones))
    bit = bits[0] if len(bits) == 1 else row(size, Saw.ACROSS, bits, (kerf,) * len(bits))
    return Clear(bit=bit, zones=tuple(zones))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """A rectangle of the board, of one figure."""

    rect: Rect
    thick: int
    figure: int

    @property
    def size(self) -> tuple[int, int, int]:
        return (self.rect[2], self.rect[3], self.thick)


def _stretches(board: Board, kerf: int) -> Iterator[tuple[int, int, int]]:
    """Where the figure changes along the board: start, end, kind; a cut lies at each start."""
    ends = {0.0, board.length}
    for stretch in board.figure:
        ends |= {stretch.start, min(board.length, stretch.start + stretch.length)}
    for start, end in pairwise(sorted(ends)):
        middle = (start + end) / 2
        found = [f for f in board.figure if f.start <= middle < f.start + f.length]
        kind = FIGURES.index(found[-1].figure) if found else ANY_FIGURE
        first = whole(start) + (kerf if start else 0)
        if whole(end) > first:
            yield first, whole(end), kind


def _grown(board: Board, kerf: int) -> tuple[Rect, ...]:
    """The defects, each large enough that the blade may run on both its sides."""
    size = (whole(board.length), whole(board.width))
    least = 2 * kerf + SLIVER
    grown: list[Rect] = []
    for defect in board.defects:
        low, high = [], []
        for at, long, room in (
            (defect.x, defect.length, size[0]),
            (defect.y, defect.width, size[1]),
        ):
            start, end = whole(at), min(room, whole(at) + whole(long))
            more = max(0, least - (end - start) + 1) // 2
            low.append(max(0, start - more))
            high.append(min(room, end + more))
        grown.append((low[0], low[1], high[0] - low[0], high[1] - low[1]))
    return tuple(grown)


def _cleared(piece: _Piece, keep_out: Sequence[Rect], kerf: int, zones: list[Zone]) -> Bit:
    """Cut the defects out of a piece, one after the other."""
    inside = [_clipped(defect, piece.rect) for defect in keep_out]
    found = [defect for defect in inside if defect[2] > 0 and defect[3] > 0]
    if min(piece.rect[2:]) < whole(LEAST):
        return free(piece.size)
    if not found:
        zones.append(Zone(w=piece.rect[2], h=piece.rect[3], kind=piece.figure))
        return replace(free(piece.size), note=f"{ZONE}{len(zones) - 1}")
    defect = max(found, key=lambda d: d[2] * d[3])
    axis = _axis(piece.rect, defect)
    if axis is None:
        return replace(free(piece.size), kind=NodeKind.WASTE, note="defect")
    bits: list[Bit] = []
    for start, end in _bands(piece.rect, defect, axis, kerf):
        part = list(piece.rect)
        part[axis], part[axis + 2] = start, end - start
        inner = replace(piece, rect=(part[0], part[1], part[2], part[3]))
        bits.append(_cleared(inner, keep_out, kerf, zones))
    return row(piece.size, SAWS[axis], bits, (kerf,) * len(bits))


def _clipped(defect: Rect, rect: Rect) -> Rect:
    """What of a defect lies in a rectangle; of no size where they do not meet."""
    low = [max(defect[axis], rect[axis]) for axis in (0, 1)]
    high = [min(defect[axis] + defect[axis + 2], rect[axis] + rect[axis + 2]) for axis in (0, 1)]
    return (low[0], low[1], max(0, high[0] - low[0]), max(0, high[1] - low[1]))


def _axis(rect: Rect, defect: Rect) -> int | None:
    """The way to cut a defect out that leaves the larger clear piece; None: it is all there is."""
    best, area = None, 0
    for axis in (0, 1):
        before = defect[axis] - rect[axis]
        after = rect[axis] + rect[axis + 2] - defect[axis] - defect[axis + 2]
        if max(before, after) * rect[3 - axis] > area:
            best, area = axis, max(before, after) * rect[3 - axis]
    return best


def _bands(rect: Rect, defect: Rect, axis: int, kerf: int) -> Iterator[tuple[int, int]]:
    """Before the defect, the defect, after it: the blade runs in the defect.

    What an earlier cut has left of a defect at the edge may be less than the blade takes.
    """
    start, end = rect[axis], rect[axis] + rect[axis + 2]
    low, high = defect[axis], defect[axis] + defect[axis + 2]
    if low <= start:
        high = min(end, max(high, start + kerf + SLIVER))
    if low > start:
        yield start, low
    inner = (low + kerf if low > start else low, high - kerf if high < end else high)
    if inner[1] > inner[0]:
        yield inner
    if high < end:
        yield high, end


def _filled(bit: Bit, cells: Sequence[Bit | None]) -> Bit:
    if bit.note.startswith(ZONE):
        cell = cells[int(bit.note.removeprefix(ZONE))]
        return replace(bit, note="") if cell is None else cell
    return replace(bit, children=tuple(_filled(child, cells) for child in bit.children))
