"""The exploded view: the piece taken apart, a label on every part, and the table of parts."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import combinations
from math import dist

from drawings.clipping import scaled
from drawings.composing import Style, issue_of, style
from drawings.exploding import middle
from drawings.lettering import size, text_width
from drawings.paper import LARGER, LETTER, SCALES, SMALL_LETTER, Scale
from drawings.records import Align, Issue, Note, Pen, Sheet, Table, Text, TitleBlock, View
from drawings.rows import kept_between, spread
from drawings.sections import extent_of
from drawings.title_block import furniture, title_block, unit_words
from ground.quantities import Units
from ground.vectors import ORIGIN, Vec, cross, dot
from models.parts.assembly import Assembly
from models.parts.part import Part
from models.parts.views import LineView, Point
from specs.spec import Paper, Standard

ROW, ROW_STACKED = 4.3, 5.8
"""Height of a row of the table of parts, and where fractions are stacked."""

WIDTHS = (12.0, 42.0, 17.0, 42.0, 33.0)
HEAD = ("label", "part", "copies", "cut size", "material")
"""Columns of the table of parts."""

LABELS = 16.0
"""Kept free for labels on either side of the picture."""

APART = 5.6
"""Base lines of two labels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """The piece taken apart: its picture, and how far each copy (by id) stands off in it (mm)."""

    view: LineView
    moves: Mapping[str, Vec]


def exploded_sheet(
    assembly: Assembly,
    apart: Apart,
    *,
    units: Units,
    standard: Standard,
    paper: Paper,
    piece: Issue,
) -> Sheet:
    """Draw the piece taken apart, with its labels and its parts."""
    view = apart.view
    issue = issue_of(piece)
    how = style(units, standard, paper, issue)
    block = title_block(issue, _fields(issue, units), "none")
    rows = _rows(assembly, units)
    tall = ROW if units is Units.MM else ROW_STACKED
    paper = _paper(how, block, len(rows), tall)
    done = furniture(paper, how.projection, block)
    left = done.high[0] - sum(WIDTHS)
    picture = (done.low, (left - LETTER, done.high[1]))
    scale = _scale(view, picture)
    drawn = _placed(view, picture, scale)
    return Sheet(
        name="exploded",
        paper=paper,
        standard=standard,
        projection=how.projection,
        units=units,
        scale=scale,
        title=block,
        views=(drawn,),
        notes=_labels(assembly, apart, (drawn.at, _factor(view, picture), picture)),
        texts=done.texts,
        ruled=done.ruled,
        circles=done.circles,
        tables=(replace(_table(rows, (left, done.high[1])), row_height=tall),),
    )


def _table(rows: tuple[tuple[str, ...], ...], at: Point) -> Table:
    """The ruled table, its upper left corner at a place."""
    return Table(at=at, widths=WIDTHS, rows=rows, row_height=ROW, letter=SMALL_LETTER)


def _fields(issue: Issue, units: Units) -> dict[str, str]:
    """What the title block says of this sheet."""
    return {
        "document type": "exploded view, parts",
        "title": issue.piece,
        "supplementary title": "parts",
        "identification number": issue.number or "parts",
        "units": unit_words(units),
    }


def _paper(how: Style, block: TitleBlock, rows: int, tall: float) -> Paper:
    """The paper asked for, or the next larger one that takes the table and the labels."""
    paper = how.paper
    while paper in LARGER:
        room = furniture(paper, how.projection, block)
        if max(rows * tall, (rows / 2 + 1) * APART) <= room.high[1] - room.low[1]:
            break
        paper = LARGER[paper]
    return paper


def _rows(assembly: Assembly, units: Units) -> tuple[tuple[str, ...], ...]:
    """The table: every part with how many there are, its cut size and what it is made of."""
    rows: list[tuple[str, ...]] = [HEAD]
    for part in assembly.parts:
        count = str(len(assembly.copies_of(part.label)))
        made = _cut_size(part, units) if part.made else "bought"
        cells = (part.label, part.name, count, made, part.material or str(part.kind))
        rows.append((cells[0], _cut(cells[1], 1), cells[2], _cut(cells[3], 3), _cut(cells[4], 4)))
    return tuple(rows)


def _cut_size(part: Part, units: Units) -> str:
    return " × ".join(size(value, units) for value in part.blank.size)


def _cut(text: str, column: int) -> str:
    """A text that fits its column."""
    while text_width(text, SMALL_LETTER) > WIDTHS[column] - 2.0:
        text = text[:-2].rstrip() + "\N{HORIZONTAL ELLIPSIS}"
    return text


def _scale(view: LineView, picture: tuple[Point, Point]) -> Scale:
    """The largest scale of the list at which the picture fits, labels and all."""
    (left, bottom), (right, top) = extent_of(view)
    wide = picture[1][0] - picture[0][0] - 2 * LABELS
    tall = picture[1][1] - picture[0][1]
    for scale in SCALES:
        if (right - left) * scale.factor <= wide and (top - bottom) * scale.factor <= tall:
            return scale
    return SCALES[-1]


def _placed(view: LineView, picture: tuple[Point, Point], scale: Scale) -> View:
    """The picture as large as its room allows: it is to no scale."""
    (left, bottom), (right, top) = extent_of(view)
    factor = _factor(view, picture)
    middle_u = (picture[0][0] + picture[1][0]) / 2
    middle_v = (picture[0][1] + picture[1][1]) / 2
    at = (
        middle_u - (left + right) / 2 * factor,
        middle_v - (bottom + top) / 2 * factor,
    )
    strokes = tuple((Pen.THIN, scaled(stroke, factor / scale.factor)) for stroke in view.visible)
    return View(name=view.name, at=at, strokes=strokes)


def _factor(view: LineView, picture: tuple[Point, Point]) -> float:
    (left, bottom), (right, top) = extent_of(view)
    wide = picture[1][0] - picture[0][0] - 2 * LABELS
    tall = picture[1][1] - picture[0][1] - 2 * LETTER
    return min(wide / max(right - left, 1.0), tall / max(top - bottom, 1.0))


def _labels(
    assembly: Assembly,
    apart: Apart,
    where: tuple[Point, float, tuple[Point, Point]],
) -> tuple[Note, ...]:
    """One label a part, in a column left or right of the picture, in the order of their parts."""
    at, factor, picture = where
    view = apart.view
    toward = cross(view.right, view.up)
    spots: list[tuple[Point, str]] = []
    for part in assembly.parts:
        stood = [
            middle(assembly, copy, apart.moves.get(copy.id, ORIGIN))
            for copy in assembly.copies_of(part.label)
        ]
        if stood:
            nearest = max(stood, key=lambda spot: (round(dot(spot, toward), 3), spot))
            u, v = dot(nearest, view.right), dot(nearest, view.up)
            spots.append(((at[0] + u * factor, at[1] + v * factor), part.label))
    spots.sort()
    half = (len(spots) + 1) // 2  # as many labels on either side
    return (
        *_column(spots[:half], picture, left=True),
        *_column(spots[half:], picture, left=False),
    )


def _column(
    spots: list[tuple[Point, str]], picture: tuple[Point, Point], *, left: bool
) -> tuple[Note, ...]:
    """Labels one under another, each on a leader to its part."""
    if not spots:
        return ()
    spots = sorted(spots, key=lambda spot: (spot[0][1], spot[0][0]))
    column = picture[0][0] + 11.0 if left else picture[1][0] - 11.0
    low, high = picture[0][1], picture[1][1] - LETTER
    heights = kept_between(spread([v for (_, v), _ in spots], APART), APART, (low, high))
    spots = _uncrossed(spots, [(column, height) for height in heights])
    u = picture[0][0] + 10.0 if left else picture[1][0] - 10.0
    start = u + 1.0 if left else u - 1.0
    notes = []
    for (spot, label), height in zip(spots, heights, strict=True):
        text = Text(
            at=(u, height - LETTER / 2),
            text=label,
            height=LETTER,
            align=Align.RIGHT if left else Align.LEFT,
        )
        notes.append(Note(text=text, leader=((start, height), spot)))
    return tuple(notes)


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
