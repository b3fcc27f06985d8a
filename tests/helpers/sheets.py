"""Shop drawings looked at by tests: empty line views, the room that texts take, what is stated."""

import itertools

import numpy as np

from drawings.choosing import wanted_views
from drawings.clipping import segments
from drawings.drafting import drafted, on_sheet
from drawings.lettering import text_box
from drawings.paper import SIZES
from drawings.part_sheet import part_sheet
from drawings.records import Angular, Dimension, Linear, Ordinate, Pen, Sheet, Table, Text
from ground.quantities import Units
from ground.vectors import Vec, X, Y, Z, neg
from models.parts.part import Part
from models.parts.views import LineView, Point
from specs.spec import Paper, Standard

AXES: dict[str, tuple[Vec, Vec]] = {
    "top": (X, Y),
    "front": (X, Z),
    "right": (Y, Z),
    "bottom": (X, neg(Y)),
    "back": (neg(X), Z),
}
"""What is to the right and what is up, looking at each face of a part."""


def empty_views(part: Part) -> tuple[LineView, ...]:
    """The views that a part's drawing wants, without a line in them: sizes need none."""
    return tuple(
        LineView(name=name, right=AXES[name][0], up=AXES[name][1], visible=())
        for name in wanted_views(part)
    )


def iso(part: Part, units: Units = Units.MM) -> Sheet:
    """The sheet of a part in first angle on A3."""
    return part_sheet(
        part,
        empty_views(part),
        units=units,
        standard=Standard.ISO,
        paper=Paper.A3,
        piece="Test piece",
    )


def asme(part: Part) -> Sheet:
    """The sheet of a part in third angle and inches."""
    return part_sheet(
        part,
        empty_views(part),
        units=Units.INCH,
        standard=Standard.ASME,
        paper=Paper.TABLOID,
        piece="Test piece",
    )


def texts(sheet: Sheet) -> list[Text]:
    """Every text on a sheet: numbers, notes, title block, tables."""
    numbers = [
        drafted(dimension, view, sheet.scale).text
        for view in sheet.views
        for dimension in view.dimensions
    ]
    cells = [cell for table in sheet.tables for cell in cells_of(table)]
    return [*numbers, *(note.text for note in sheet.notes), *sheet.texts, *cells]


def cells_of(table: Table) -> list[Text]:
    """The texts of a table, where exporters write them."""
    left, top = table.at
    found = []
    for row, cells in enumerate(table.rows):
        base = top - (row + 1) * table.row_height + (table.row_height - table.letter) / 2
        at = left
        for text, width in zip(cells, table.widths, strict=True):
            found.append(Text(at=(at + 1.0, base), text=text, height=table.letter))
            at += width
    return found


def rules_of(table: Table) -> list[tuple[Point, Point]]:
    """The ruled lines of a table."""
    left, top = table.at
    wide, tall = sum(table.widths), len(table.rows) * table.row_height
    levels = [top - row * table.row_height for row in range(len(table.rows) + 1)]
    edges = [left + sum(table.widths[:place]) for place in range(len(table.widths) + 1)]
    return [
        *(((left, level), (left + wide, level)) for level in levels),
        *(((edge, top), (edge, top - tall)) for edge in edges),
    ]


Box = tuple[Point, Point]


def arrows(sheet: Sheet) -> list[tuple[str, Box]]:
    """The box of every arrow head, with the number of its dimension."""
    found = []
    for view in sheet.views:
        for dimension in view.dimensions:
            picture = drafted(dimension, view, sheet.scale)
            for tip, back in picture.arrows:
                du, dv = (back[0] - tip[0]) / 6, (back[1] - tip[1]) / 6
                corners = (tip, (back[0] - dv, back[1] + du), (back[0] + dv, back[1] - du))
                us, vs = [u for u, _ in corners], [v for _, v in corners]
                found.append((picture.text.text, ((min(us), min(vs)), (max(us), max(vs)))))
    return found


def symbols(sheet: Sheet) -> list[tuple[str, Box]]:
    """The boxes of circles and of dots at the ends of leaders."""
    rings = [("projection", *circle) for circle in sheet.circles]
    dots = [("dot", note.leader[-1], 0.5) for note in sheet.notes if len(note.leader) > 1]
    return [(n, ((u - r, v - r), (u + r, v + r))) for n, (u, v), r in (*rings, *dots)]


def marks_met(sheet: Sheet) -> list[tuple[str, str]]:
    """Arrow heads and symbols that lie on a text, and arrow heads that lie on one another."""
    words = [(text.text, text_box(text)) for text in texts(sheet) if text.text]
    heads = arrows(sheet)
    found = [
        (mark, text)
        for mark, box in (*heads, *symbols(sheet))
        for text, other in words
        if _meet(box, other)
    ]
    return [
        *found,
        *((a, b) for (a, one), (b, two) in itertools.combinations(heads, 2) if _meet(one, two)),
    ]


def _meet(one: Box, other: Box) -> bool:
    return all(min(one[1][i], other[1][i]) - max(one[0][i], other[0][i]) > 0.05 for i in (0, 1))


def collisions(sheet: Sheet) -> list[tuple[str, str]]:
    """Pairs of texts whose boxes meet by more than 0.05 mm, and texts that leave the paper."""
    boxes = [(text.text, *text_box(text)) for text in texts(sheet) if text.text]
    met = [
        (a, b)
        for (a, low_a, high_a), (b, low_b, high_b) in itertools.combinations(boxes, 2)
        if all(min(high_a[i], high_b[i]) - max(low_a[i], low_b[i]) > 0.05 for i in (0, 1))
    ]
    wide, tall = SIZES[sheet.paper]
    off = [
        (name, "the edge of the paper")
        for name, low, high in boxes
        if low[0] < 0 or low[1] < 0 or high[0] > wide or high[1] > tall
    ]
    return [*met, *off]


def lines_of(sheet: Sheet) -> list[tuple[Point, Point]]:
    """Every line on a sheet that a text must keep off: edges seen, dimensions, leaders, borders."""
    lines: list[tuple[Point, Point]] = []
    for view in sheet.views:
        for pen, stroke in view.strokes:
            if pen is not Pen.HIDDEN:
                lines += [
                    (on_sheet(a, view, sheet.scale), on_sheet(b, view, sheet.scale))
                    for a, b in segments(stroke)
                ]
        for dimension in view.dimensions:
            lines += drafted(dimension, view, sheet.scale).lines
    for note in sheet.notes:
        lines += itertools.pairwise(note.leader)
    for table in sheet.tables:
        lines += rules_of(table)
    return [*lines, *((ruled.start, ruled.end) for ruled in sheet.ruled)]


def crossed(sheet: Sheet) -> list[str]:
    """Texts with a line through them."""
    lines = lines_of(sheet)
    ends = np.array(lines)
    lows, highs = ends.min(axis=1), ends.max(axis=1)
    found = []
    for text in texts(sheet):
        if not text.text:
            continue
        (left, bottom), (right, top) = text_box(text)
        box = ((left + INSET, bottom + INSET), (right - INSET, top - INSET))
        near = ((lows < box[1]) & (highs > box[0])).all(axis=1)
        if any(_meets(lines[place], box) for place in np.flatnonzero(near)):
            found.append(text.text)
    return found


INSET = 0.15
"""A text's box may touch a line by so much (mm): its own dimension line runs under it."""


def _meets(line: tuple[Point, Point], box: tuple[Point, Point]) -> bool:
    """Tell whether a line passes through a box (Liang and Barsky's clipping)."""
    (u, v), (end_u, end_v) = line
    first, last = 0.0, 1.0
    for start, run, low, high in (
        (u, end_u - u, box[0][0], box[1][0]),
        (v, end_v - v, box[0][1], box[1][1]),
    ):
        if run == 0.0:
            if not low < start < high:
                return False
            continue
        near, far = sorted(((low - start) / run, (high - start) / run))
        first, last = max(first, near), min(last, far)
    return first < last


def stated(sheet: Sheet) -> set[str]:
    """The ids of features that a note words, or that a whole size fixes."""
    worded = {feature for note in sheet.notes for feature in note.states}
    whole = (d for view in sheet.views for d in view.dimensions if isinstance(d, Linear))
    return worded | {feature for size in whole for feature in size.states}


def sizes(sheet: Sheet, view: str) -> list[float]:
    """The whole sizes that a view gives, as measured."""
    return [d.measured for d in _view(sheet, view) if isinstance(d, Linear)]


def distances(sheet: Sheet, view: str, feature: str) -> list[float]:
    """The distances by which a view fixes a feature, in the order drawn."""
    return [
        d.measured for d in _view(sheet, view) if isinstance(d, Ordinate) and feature in d.states
    ]


def _view(sheet: Sheet, name: str) -> tuple[Dimension, ...]:
    return next(view.dimensions for view in sheet.views if view.name == name)


def angles(sheet: Sheet, view: str, feature: str) -> list[float]:
    """The angles of a feature that a view draws (degrees)."""
    return [
        d.measured for d in _view(sheet, view) if isinstance(d, Angular) and feature in d.states
    ]


def note_of(sheet: Sheet, feature: str) -> str:
    """The first note that words a feature."""
    return next(note.text.text for note in sheet.notes if feature in note.states)


def leader_end(sheet: Sheet, feature: str) -> Point:
    """Where the leader of a feature's note ends on the sheet."""
    return next(note.leader[-1] for note in sheet.notes if feature in note.states)
