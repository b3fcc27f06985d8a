"""The piece taken apart into what is put together by itself, and the table of its parts."""

from dataclasses import replace

from drawings.apart_pictures import Apart, Placed, Room, drawn, fitted, seen, spot
from drawings.callouts import APART, beside, room
from drawings.composing import Style, issue_of, style
from drawings.exploding import groups
from drawings.lettering import size, text_width
from drawings.paper import LARGER, LETTER, SCALES, SMALL_LETTER
from drawings.records import Issue, Note, Sheet, Table, TitleBlock
from drawings.seeing import Seen
from drawings.title_block import furniture, title_block, unit_words
from ground.quantities import Units
from models.parts.assembly import Assembly
from models.parts.part import Part
from models.parts.views import Point
from specs.spec import Paper, Standard

ROW, ROW_STACKED = 4.3, 5.8
"""Height of a row of the table of parts, and where fractions are stacked."""

WIDTHS = (12.0, 42.0, 17.0, 42.0, 33.0)
HEAD = ("label", "part", "copies", "cut size", "material")
"""Columns of the table of parts."""


def exploded_sheet(
    assembly: Assembly,
    apart: Apart,
    *,
    units: Units,
    standard: Standard,
    paper: Paper,
    piece: Issue,
) -> Sheet:
    """Draw the piece taken apart, with the names of its groups and the table of its parts."""
    issue = issue_of(piece)
    how = style(units, standard, paper, issue)
    block = title_block(issue, _fields(issue, units), "none")
    rows = _rows(assembly, units)
    tall = ROW if units is Units.MM else ROW_STACKED
    names = [group.name for group in groups(assembly)]
    paper = _paper(how, block, max(len(rows) * tall, (len(names) / 2 + 1) * APART))
    done = furniture(paper, how.projection, block)
    left = done.high[0] - sum(WIDTHS)
    picture = (done.low, (left - LETTER, done.high[1]))
    eye = seen(assembly, assembly.copies, apart)
    placed = fitted(apart, eye, picture, room(names))
    return Sheet(
        name="exploded",
        paper=paper,
        standard=standard,
        projection=how.projection,
        units=units,
        scale=SCALES[-1],
        title=block,
        views=(drawn(apart.view, placed, SCALES[-1]),),
        notes=_labels(assembly, apart, (placed, eye), picture),
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


def _paper(how: Style, block: TitleBlock, tall: float) -> Paper:
    """The paper asked for, or the next larger one that takes the table and the labels."""
    paper = how.paper
    while paper in LARGER:
        sheet = furniture(paper, how.projection, block)
        if tall <= sheet.high[1] - sheet.low[1]:
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


def _labels(
    assembly: Assembly, apart: Apart, where: tuple[Placed, Seen], picture: Room
) -> tuple[Note, ...]:
    """One label a group, in a column left or right of the picture."""
    spots = [(spot(group.copies, apart, where), group.name) for group in groups(assembly)]
    return beside(spots, picture)
