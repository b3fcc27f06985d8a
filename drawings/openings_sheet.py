"""The openings: the case without its fronts, every clear size, and the gaps about the fronts."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from drawings import polyhedron
from drawings.assembly_sheet import strokes_extent
from drawings.clipping import segments
from drawings.composing import Style, issue_of, style
from drawings.drafting import drafted, on_sheet
from drawings.lettering import size, text_box, text_width
from drawings.paper import LARGER, LETTER, SCALES, SMALL_LETTER, Scale
from drawings.records import (
    Align,
    Axis,
    Dimension,
    Issue,
    Linear,
    Note,
    Pen,
    Sheet,
    Table,
    Text,
    TitleBlock,
    View,
)
from drawings.room import Room
from drawings.title_block import furniture, title_block, unit_words
from ground.quantities import Units
from ground.vectors import Vec
from models.parts.assembly import Assembly, Copy, Opening
from models.parts.part import PartKind
from models.parts.views import LineView, Point
from specs.spec import Paper, Standard

HEAD = ("opening", "for", "clear width", "clear height", "clear depth", "front", "gaps about it")
ROW = 5.8
"""Height of a row of the table of openings: stacked fractions find room in it."""

INSIDE = 4.0
"""A size stands in its opening where so much is left about its number (mm)."""

FAR = 25.0
"""A copy this far before or behind an opening's mouth is no front of it (mm)."""

SMALL = 0.05
"""Distances under this are none (mm)."""

Box = tuple[Vec, Vec]


def openings_sheet(
    assembly: Assembly,
    view: LineView,
    *,
    units: Units,
    standard: Standard,
    paper: Paper,
    piece: Issue,
) -> Sheet:
    """Draw the case from the front without what moves (``view``), with its openings."""
    issue = issue_of(piece)
    how = style(units, standard, paper, issue)
    fields = _fields(issue, units)
    rows = _rows(assembly, units)
    tall = len(rows) * ROW + 2 * LETTER
    paper = _paper(how, title_block(issue, fields, ""), (sum(_widths(rows)), tall))
    room = furniture(paper, how.projection, title_block(issue, fields, ""))
    area = ((room.low[0], room.low[1] + tall), room.high)
    scale = _scale(view, area)
    block = title_block(issue, fields, str(scale))
    done = furniture(paper, how.projection, block)
    drawn = _drawn(assembly, view, (area, scale), units)
    return Sheet(
        name="openings",
        paper=paper,
        standard=standard,
        projection=how.projection,
        units=units,
        scale=scale,
        title=block,
        views=(drawn,),
        notes=_names(assembly, drawn, scale),
        texts=done.texts,
        ruled=done.ruled,
        circles=done.circles,
        tables=(_table(rows, (room.low[0], room.low[1] + len(rows) * ROW)),),
    )


def _table(rows: tuple[tuple[str, ...], ...], at: Point) -> Table:
    """The ruled table, its upper left corner at a place."""
    return Table(at=at, widths=_widths(rows), rows=rows, row_height=ROW, letter=SMALL_LETTER)


def _widths(rows: tuple[tuple[str, ...], ...]) -> tuple[float, ...]:
    """Columns as wide as what stands in them."""
    return tuple(
        max(text_width(text, SMALL_LETTER) for text in column) + 3.0
        for column in zip(*rows, strict=True)
    )


def _fields(issue: Issue, units: Units) -> dict[str, str]:
    """What the title block says of this sheet."""
    return {
        "document type": "openings",
        "title": issue.piece,
        "supplementary title": "openings",
        "identification number": issue.number or "openings",
        "units": unit_words(units),
    }


def _paper(how: Style, block: TitleBlock, table: Point) -> Paper:
    """The paper asked for, or the next larger one with room for the table and more."""
    wide, tall = table
    paper = how.paper
    while paper in LARGER:
        room = furniture(paper, how.projection, block)
        fits = wide <= room.high[0] - room.low[0]
        if fits and room.high[1] - room.low[1] - tall > tall / 2:
            break
        paper = LARGER[paper]
    return paper


def _scale(view: LineView, area: tuple[Point, Point]) -> Scale:
    (left, bottom), (right, top) = strokes_extent(view)
    for scale in SCALES:
        if (right - left) * scale.factor <= area[1][0] - area[0][0] and (
            top - bottom
        ) * scale.factor <= area[1][1] - area[0][1]:
            return scale
    return SCALES[-1]


def _drawn(
    assembly: Assembly, view: LineView, where: tuple[tuple[Point, Point], Scale], units: Units
) -> View:
    """The view in the middle of its area, with the sizes that find room in their openings."""
    area, scale = where
    (left, bottom), (right, top) = strokes_extent(view)
    at = (
        (area[0][0] + area[1][0]) / 2 - (left + right) / 2 * scale.factor,
        (area[0][1] + area[1][1]) / 2 - (bottom + top) / 2 * scale.factor,
    )
    return View(
        name="openings",
        at=at,
        strokes=tuple((Pen.VISIBLE, stroke) for stroke in view.visible),
        dimensions=tuple(
            found
            for opening in assembly.openings
            if _is_leaf(opening, assembly.openings)
            for found in _sizes(opening, scale, units)
        ),
    )


def _is_leaf(opening: Opening, openings: Iterable[Opening]) -> bool:
    """An opening that is not divided further."""
    return not any(other.id.startswith(f"{opening.id}/") for other in openings)


def _sizes(opening: Opening, scale: Scale, units: Units) -> list[Dimension]:
    """Clear width near the foot, clear height near the left side, where their numbers fit."""
    x, _, z = opening.corner
    wide, tall = opening.width * scale.factor, opening.height * scale.factor
    across, up = size(opening.width, units), size(opening.height, units)
    found: list[Dimension] = []
    low = 3.0 / scale.factor
    if wide > text_width(across, LETTER) + 2 * INSIDE and tall > 2 * LETTER + 2 * INSIDE:
        found.append(
            Linear(
                first=(x, z),
                second=(x + opening.width, z),
                axis=Axis.U,
                line=(x, z + low),
                text=across,
                clear=0.0,
                states=(opening.id,),
            )
        )
    side = (6.0 if units is Units.MM else 8.5) / scale.factor  # fractions hang lower
    if tall > text_width(up, LETTER) + 4 * INSIDE and wide > 5 * LETTER + text_width(up, LETTER):
        found.append(
            Linear(
                first=(x, z),
                second=(x, z + opening.height),
                axis=Axis.V,
                line=(x + side, z),
                text=up,
                clear=0.0,
                states=(opening.id,),
            )
        )
    return found


SPOTS = (0.5, 0.75, 0.88, 0.3)
"""Where along its opening a name may stand, tried in turn."""

AIR = 0.4
"""Kept free around it (mm)."""


def _names(assembly: Assembly, view: View, scale: Scale) -> tuple[Note, ...]:
    """The id of every opening in it, clear of its sizes; where none fits, the table has it."""
    taken = Room(*_reach(view, scale))
    for dimension in view.dimensions:
        picture = drafted(dimension, view, scale)
        taken.take_lines(picture.lines)
        taken.take(text_box(picture.text))
    notes = []
    for opening in assembly.openings:
        if not _is_leaf(opening, assembly.openings):
            continue
        text = next(
            (text for text in _named(opening, view, scale) if taken.is_free(_wider(text))), None
        )
        if text is not None:
            taken.take(_wider(text))
            notes.append(Note(text=text, states=(opening.id,)))
    return tuple(notes)


def _reach(view: View, scale: Scale) -> Point:
    """How far a view reaches on the sheet."""
    points = [
        on_sheet(p, view, scale)
        for _, stroke in view.strokes
        for ends in segments(stroke)
        for p in ends
    ] or [(1.0, 1.0)]
    return (max(u for u, _ in points) + 1.0, max(v for _, v in points) + 1.0)


def _name(opening: Opening) -> str:
    """What an opening is called, so that ``1/2`` is not taken for a half."""
    return f"no. {opening.id}" if "/" in opening.id else opening.id


def _named(opening: Opening, view: View, scale: Scale) -> Iterator[Text]:
    """The name of an opening where it may stand: within it."""
    x, _, z = opening.corner
    for share in SPOTS:
        u, v = on_sheet((x + opening.width * share, z + opening.height / 2), view, scale)
        text = Text(at=(u, v - LETTER / 2), text=_name(opening), height=LETTER, align=Align.CENTRE)
        low, high = _wider(text)
        first = on_sheet((x, z), view, scale)
        last = on_sheet((x + opening.width, z + opening.height), view, scale)
        if all(first[i] < low[i] and high[i] < last[i] for i in (0, 1)):
            yield text


def _wider(text: Text) -> tuple[Point, Point]:
    (left, low), (right, high) = text_box(text)
    return (left - AIR, low - AIR), (right + AIR, high + AIR)


# ---- the table


def _rows(assembly: Assembly, units: Units) -> tuple[tuple[str, ...], ...]:
    """Every opening with its clear sizes, its fronts and the gaps about them."""
    copies = {copy.id: copy for copy in assembly.copies}
    rows: list[tuple[str, ...]] = [HEAD]
    for opening in assembly.openings:
        if not _is_leaf(opening, assembly.openings):
            continue
        sizes = (opening.width, opening.height, opening.depth)
        fronts = _fronts(assembly, opening, copies)
        rows.append(
            (
                _name(opening),
                opening.kind,
                *(size(value, units) for value in sizes),
                ", ".join(sorted({_front_size(box, units) for box in fronts})),
                _gaps(opening, fronts, units),
            )
        )
    return tuple(rows)


def _fronts(assembly: Assembly, opening: Opening, copies: dict[str, Copy]) -> list[Box]:
    """The boxes of the doors and drawer fronts that stand in an opening's mouth."""
    x, y, z = opening.corner
    found = []
    for name in opening.contents:
        copy = copies.get(name)
        if copy is None or copy.mover is None:
            continue
        part = assembly.part(copy.label)
        if not part.made or not ("front" in part.name or "door" in part.name):
            continue
        if "box" in part.name:
            continue
        low, high = _edged(assembly, copy, [copies[other] for other in opening.contents])
        if low[1] <= y + FAR and low[0] >= x - FAR and high[2] <= z + opening.height + FAR:
            found.append((low, high))
    return sorted(found)


def _edged(assembly: Assembly, front: Copy, others: list[Copy]) -> Box:
    """The box around a front with the edging that it carries."""
    low, high = _box(assembly, front)
    for other in others:
        if other.mover != front.mover or assembly.part(other.label).kind is not PartKind.EDGING:
            continue
        a, b = _box(assembly, other)
        if all(a[axis] <= high[axis] + 1.0 and low[axis] <= b[axis] + 1.0 for axis in range(3)):
            low = (min(low[0], a[0]), min(low[1], a[1]), min(low[2], a[2]))
            high = (max(high[0], b[0]), max(high[1], b[1]), max(high[2], b[2]))
    return low, high


def _front_size(box: Box, units: Units) -> str:
    low, high = box
    return f"{size(high[0] - low[0], units)} × {size(high[2] - low[2], units)}"


def _gaps(opening: Opening, fronts: list[Box], units: Units) -> str:
    """The gap on each side of an opening's fronts, and between neighbours."""
    if not fronts:
        return ""
    x, _, z = opening.corner
    outer = {
        "left": min(low[0] for low, _ in fronts) - x,
        "right": x + opening.width - max(high[0] for _, high in fronts),
        "below": min(low[2] for low, _ in fronts) - z,
        "above": z + opening.height - max(high[2] for _, high in fronts),
    }
    between = _between(fronts, 0) + _between(fronts, 2)
    said = [f"{name} {size(gap, units)}" for name, gap in outer.items() if gap > SMALL]
    said += [f"between {text}" for text in sorted({size(gap, units) for gap in between})]
    return ", ".join(said)


def _between(fronts: list[Box], axis: int) -> list[float]:
    """Gaps between fronts that follow one another along an axis."""
    edges = sorted((low[axis], high[axis]) for low, high in fronts)
    gaps = [b[0] - a[1] for a, b in pairwise(edges)]
    return [gap for gap in gaps if gap > SMALL]


def _box(assembly: Assembly, copy: Copy) -> Box:
    """The box around a copy's convex base in the piece."""
    corners = [
        copy.placement.point(corner)
        for corner in polyhedron.corners(polyhedron.base(assembly.part(copy.label)))
    ]
    xs, ys, zs = zip(*corners, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))
