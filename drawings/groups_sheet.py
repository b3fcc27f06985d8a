"""Each group of the piece taken apart in a picture of its own, a label on every part of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from drawings.apart_pictures import Apart, Room, drawn, fitted, seen, spot
from drawings.callouts import APART, Spot, beside, room
from drawings.composing import Style, issue_of, style
from drawings.exploding import Group
from drawings.lettering import text_width
from drawings.paper import LARGER, LETTER, SCALES
from drawings.records import Issue, Note, Sheet, Text, TitleBlock, View
from drawings.sections import extent_of
from drawings.title_block import furniture, title_block, unit_words
from ground.quantities import Units
from models.parts.assembly import Assembly, Copy
from models.parts.views import LineView, Point
from specs.spec import Paper, Standard

CAPTION = 3 * LETTER
"""Height of a picture's heading, the room under it and all."""

BETWEEN = 6.0
"""Between two pictures."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """What one sheet shows: its name, and groups with their pictures."""

    name: str
    pictures: tuple[tuple[Group, Apart], ...]


def groups_sheet(
    assembly: Assembly,
    leaf: Leaf,
    *,
    units: Units,
    standard: Standard,
    paper: Paper,
    piece: Issue,
) -> Sheet:
    """Draw groups taken apart, each under its name, with the labels of its parts."""
    issue, pictures = issue_of(piece), leaf.pictures
    how = style(units, standard, paper, issue)
    block = title_block(issue, _fields(issue, units, [group.name for group, _ in pictures]), "none")
    paper = _paper(how, block, pictures)
    done = furniture(paper, how.projection, block)
    rooms = _rooms((done.low, done.high), pictures)
    told = [_told(assembly, *one, cell) for one, cell in zip(pictures, rooms, strict=True)]
    return Sheet(
        name=leaf.name,
        paper=paper,
        standard=standard,
        projection=how.projection,
        units=units,
        scale=SCALES[-1],
        title=block,
        views=tuple(view for view, _ in told),
        notes=tuple(note for _, notes in told for note in notes),
        texts=(*done.texts, *map(_heading, (group for group, _ in pictures), rooms)),
        ruled=done.ruled,
        circles=done.circles,
    )


def _told(
    assembly: Assembly, group: Group, apart: Apart, cell: Room
) -> tuple[View, tuple[Note, ...]]:
    """A group's picture in its cell, and the labels beside it."""
    inner = (cell[0], (cell[1][0], cell[1][1] - CAPTION))
    labels = _by_label(group)
    eye = seen(assembly, group.copies, apart)
    placed = fitted(apart, eye, inner, room(list(labels)))
    spots: list[Spot] = [
        (spot(copies, apart, (placed, eye)), label) for label, copies in labels.items()
    ]
    return drawn(apart.view, placed, SCALES[-1]), beside(spots, inner)


def _fields(issue: Issue, units: Units, names: list[str]) -> dict[str, str]:
    """What the title block says of this sheet."""
    what = ", ".join(dict.fromkeys(name.split()[0] for name in names))
    return {
        "document type": "exploded views, groups",
        "title": issue.piece,
        "supplementary title": what,
        "identification number": issue.number or "groups",
        "units": unit_words(units),
    }


def _by_label(group: Group) -> dict[str, list[Copy]]:
    """The copies of a group by the label of their part."""
    found: dict[str, list[Copy]] = {}
    for copy in group.copies:
        found.setdefault(copy.label, []).append(copy)
    return found


def _heading(group: Group, cell: Room) -> Text:
    """The group's name over its picture, and those of its likes."""
    words = ", ".join([group.name, *group.like])
    while text_width(words, LETTER) > cell[1][0] - cell[0][0]:
        words = words[:-2].rstrip(" ,") + "\N{HORIZONTAL ELLIPSIS}"
    return Text(at=(cell[0][0], cell[1][1] - 1.5 * LETTER), text=words, height=LETTER)


def _paper(how: Style, block: TitleBlock, pictures: Sequence[tuple[Group, Apart]]) -> Paper:
    """The paper asked for, or the next larger one on which every column of labels has room."""
    most = max(len(_by_label(group)) for group, _ in pictures)
    wanted = (most / 2 + 1) * APART + CAPTION
    paper = how.paper
    while paper in LARGER:
        sheet = furniture(paper, how.projection, block)
        rooms = _rooms((sheet.low, sheet.high), pictures)
        if wanted <= rooms[0][1][1] - rooms[0][0][1]:
            break
        paper = LARGER[paper]
    return paper


def _rooms(room_: Room, pictures: Sequence[tuple[Group, Apart]]) -> list[Room]:
    """Cells of one size, in as many columns as make the pictures largest."""
    count = len(pictures)
    grids = [(columns, ceil(count / columns)) for columns in range(1, count + 1)]
    views = [apart.view for _, apart in pictures]
    columns, rows = max(grids, key=lambda grid: (_share(room_, grid, views), -grid[0]))
    (left, low), (right, high) = room_
    wide = (right - left - (columns - 1) * BETWEEN) / columns
    tall = (high - low - (rows - 1) * BETWEEN) / rows
    cells: list[Room] = []
    for place in range(count):
        corner: Point = (
            left + place % columns * (wide + BETWEEN),
            high - place // columns * (tall + BETWEEN) - tall,
        )
        cells.append((corner, (corner[0] + wide, corner[1] + tall)))
    return cells


def _share(room_: Room, grid: tuple[int, int], views: list[LineView]) -> float:
    """How large the pictures come out on a grid of columns and rows, taken together."""
    wide = (room_[1][0] - room_[0][0]) / grid[0] - BETWEEN - 4 * LETTER
    tall = (room_[1][1] - room_[0][1]) / grid[1] - BETWEEN - CAPTION
    total = 0.0
    for view in views:
        (left, low), (right, high) = extent_of(view)
        total += min(wide / max(right - left, 1.0), tall / max(high - low, 1.0)) * (right - left)
    return total
