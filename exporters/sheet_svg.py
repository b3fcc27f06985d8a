"""A sheet as SVG, true to its scale: the same records that the DXF is drawn from."""

from collections.abc import Iterator
from itertools import pairwise
from typing import assert_never

from drawings.drafting import Drafted, drafted
from drawings.paper import FRAME, NARROW, NARROW_LARGE, SIZES, WIDE, WIDE_LARGE
from drawings.records import Note, Pen, Ruled, Sheet, Table, Text, View
from exporters import svg_kit
from models.parts.views import Arc, Line, Point, Stroke
from specs.spec import Paper

LARGE = frozenset({Paper.A0, Paper.A1, Paper.ASME_D, Paper.ASME_E})
DOT = 0.5
"""Radius of the dot at a leader's end on a surface (ISO 129-1 ends it so)."""
CELL = 1.0
"""Text stands this far from the left of its cell (mm)."""


def sheet_svg(sheet: Sheet) -> str:
    """Draw ``sheet`` on its paper."""
    width, height = SIZES[sheet.paper]
    paper = svg_kit.Paper(scale=1.0, left=0.0, floor=height)
    return svg_kit.page((width, height), _body(sheet, paper))


def _body(sheet: Sheet, paper: svg_kit.Paper) -> Iterator[str]:
    for view in sheet.views:
        yield from _view(view, sheet, paper)
    for pen, strokes in _ruled(sheet.ruled).items():
        yield svg_kit.lines(strokes, paper, _pen(pen, sheet))
    for centre, radius in sheet.circles:
        yield svg_kit.lines([Arc(centre, radius, 0.0, 360.0)], paper, _pen(Pen.VISIBLE, sheet))
    for table in sheet.tables:
        yield from _table(table, sheet, paper)
    for note in sheet.notes:
        yield from _note(note, sheet, paper)
    for text in sheet.texts:
        yield _text(text, paper)


def _widths(sheet: Sheet) -> tuple[float, float]:
    """The wide and the narrow line of the sheet's group."""
    return (WIDE_LARGE, NARROW_LARGE) if sheet.paper in LARGE else (WIDE, NARROW)


def _pen(pen: Pen, sheet: Sheet) -> svg_kit.Look:
    """Width and dashes of a line (ISO 128-2: dash 12 d, long dash 24 d, gap 3 d, dot half a d)."""
    wide, narrow = _widths(sheet)
    gap = 3 * narrow
    match pen:
        case Pen.VISIBLE:
            return svg_kit.Look(width=wide)
        case Pen.HIDDEN:
            return svg_kit.Look(width=narrow, colour="#333", dashes=(12 * narrow, gap))
        case Pen.CENTRE:
            return svg_kit.Look(width=narrow, dashes=(24 * narrow, gap, narrow / 2, gap))
        case Pen.FRAME:
            return svg_kit.Look(width=FRAME)
        case Pen.EDGED:
            # half the standard's lengths, as in the DXF: its edges are often short on paper
            return svg_kit.Look(width=wide, dashes=(12 * wide, 3 * wide, wide / 2, 3 * wide))
        case Pen.THIN:
            return svg_kit.Look(width=narrow)
    assert_never(pen)


def _ruled(ruled: tuple[Ruled, ...]) -> dict[Pen, list[Stroke]]:
    """Straight lines by their pen."""
    found: dict[Pen, list[Stroke]] = {}
    for line in ruled:
        found.setdefault(line.pen, []).append(Line(line.start, line.end))
    return found


def _view(view: View, sheet: Sheet, paper: svg_kit.Paper) -> Iterator[str]:
    """The strokes of a view at the sheet's scale, and its dimensions."""
    x, y = paper.at(view.at)
    scaled = svg_kit.Paper(scale=sheet.scale.factor * view.by, left=x, floor=y)
    strokes: dict[Pen, list[Stroke]] = {}
    for pen, stroke in view.strokes:
        strokes.setdefault(pen, []).append(stroke)
    for pen in sorted(strokes, key=lambda pen: pen is Pen.VISIBLE):
        yield svg_kit.lines(strokes[pen], scaled, _pen(pen, sheet))
    for dimension in view.dimensions:
        yield from _dimension(drafted(dimension, view, sheet.scale), sheet, paper)


def _dimension(picture: Drafted, sheet: Sheet, paper: svg_kit.Paper) -> Iterator[str]:
    """Lines, arrow heads and the number of one dimension."""
    strokes = [Line(start, end) for start, end in picture.lines]
    yield svg_kit.lines(strokes, paper, _pen(Pen.THIN, sheet))
    for tip, back in picture.arrows:
        yield _arrow_head(tip, back, paper)
    yield _text(picture.text, paper)


def _arrow_head(tip: Point, back: Point, paper: svg_kit.Paper) -> str:
    """Three to one, closed and filled (ASME Y14.2; ISO 129-1 leaves the form open)."""
    du, dv = (back[0] - tip[0]) / 6, (back[1] - tip[1]) / 6
    corners = (tip, (back[0] - dv, back[1] + du), (back[0] + dv, back[1] - du))
    return f'<path d="M{"L".join(paper.said(corner) for corner in corners)}Z"/>'


def _text(text: Text, paper: svg_kit.Paper) -> str:
    return svg_kit.lettered(text, paper.at(text.at))


def _note(note: Note, sheet: Sheet, paper: svg_kit.Paper) -> Iterator[str]:
    """A note with its leader, a dot where it ends on the part."""
    yield _text(note.text, paper)
    if len(note.leader) > 1:
        strokes = [Line(start, end) for start, end in pairwise(note.leader)]
        yield svg_kit.lines(strokes, paper, _pen(Pen.THIN, sheet))
        x, y = paper.at(note.leader[-1])
        yield f'<circle cx="{svg_kit.number(x)}" cy="{svg_kit.number(y)}" r="{DOT}"/>'


def _table(table: Table, sheet: Sheet, paper: svg_kit.Paper) -> Iterator[str]:
    """A ruled table, its head first."""
    left, top = table.at
    wide, floor = sum(table.widths), top - len(table.rows) * table.row_height
    levels = [top - row * table.row_height for row in range(len(table.rows) + 1)]
    edges = [left + sum(table.widths[:place]) for place in range(len(table.widths) + 1)]
    strokes = [Line((left, level), (left + wide, level)) for level in levels]
    strokes += [Line((edge, top), (edge, floor)) for edge in edges]
    yield svg_kit.lines(strokes, paper, _pen(Pen.THIN, sheet))
    for level, cells in zip(levels[1:], table.rows, strict=True):
        base = level + (table.row_height - table.letter) / 2
        for edge, cell in zip(edges, cells, strict=False):
            yield _text(Text(at=(edge + CELL, base), text=cell, height=table.letter), paper)
