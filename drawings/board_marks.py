"""What a maker pencils on a board, drawn on its principal view: label, grain, face on view, edging.

Paper mm.
"""

from functools import partial

from drawings.additions import Addition, Drawn, OnSheet, view_box
from drawings.drafting import on_sheet
from drawings.fixing import Extent, toward
from drawings.lettering import text_width
from drawings.paper import LETTER, TITLE_LETTER
from drawings.records import Align, Note, Pen, Ruled, Text
from ground.vectors import Vec, X, Y, dot
from models.parts.blank import FACES, Grain
from models.parts.part import Part
from models.parts.views import LineView, Point

ARROW_LONG = 24.0
BARB: Point = (2.6, 0.9)
"""An arrow along the grain, and how far its barbs go back and aside."""

OFF_EDGE = 1.0
"""The line beside an edge that carries an edging (ISO 128-3: twice a wide line, from memory)."""


def board_additions(part: Part, view: LineView, extent: Extent) -> tuple[Addition, ...]:
    """The marks of ``part`` on the view that shows its broad face."""
    return (partial(_edging, part, view, extent), partial(_marks, part, view))


def _marks(part: Part, view: LineView, sheet: OnSheet) -> Drawn | None:
    """Label, grain arrow and face on view within the view, or else beside it."""
    shows = part.show is not None and dot(FACES[part.show], toward(view)) > 0.9  # noqa: PLR2004
    words = [(part.label, TITLE_LETTER)]
    if shows:
        words.append(("on view", LETTER))
    grain = _grain(part, view)
    size, drawn = _drawn(words, grain)
    placed = next((v for v in sheet.views if v.name == view.name), None)
    box = None if placed is None else view_box(placed, sheet.scale)
    if box is not None:
        wide, tall = size[0] + 3.0, size[1] + 3.0
        middle = ((box[0][0] + box[1][0]) / 2, (box[0][1] + box[1][1]) / 2)
        corner = sheet.lines.nearest((wide, tall), middle, box)
        if corner is not None:
            sheet.take((corner, (corner[0] + wide, corner[1] + tall)))
            return drawn.moved((corner[0] + 1.5, corner[1] + 1.5))
        return sheet.placed(drawn, size, middle)
    return sheet.placed(drawn, size, sheet.frame[0])


def _grain(part: Part, view: LineView) -> Point | None:
    """The direction of the grain on paper, None where there is none or it runs out of it."""
    ways: dict[Grain, Vec] = {Grain.LENGTH: X, Grain.WIDTH: Y}
    if part.blank.grain not in ways:
        return None
    way = ways[part.blank.grain]
    run = (abs(dot(way, view.right)), abs(dot(way, view.up)))
    return run if max(run) > 0.9 else None  # noqa: PLR2004


def _drawn(words: list[tuple[str, float]], grain: Point | None) -> tuple[Point, Drawn]:
    """The marks one over another, lower left corner (0, 0)."""
    wide = max(text_width(word, height) for word, height in words)
    run = (0.0, 0.0)
    if grain is not None:
        run = (grain[0] * ARROW_LONG, grain[1] * ARROW_LONG)
    wide = max(wide, run[0], 2.0)
    level = run[0] > run[1]
    at = run[1] + (3.0 if level else 1.5) if grain is not None else 0.0
    notes = []
    for word, height in reversed(words):
        text = Text(at=(wide / 2, at + 0.3 * height), text=word, height=height, align=Align.CENTRE)
        notes.append(Note(text=text))
        at += 1.5 * height
    ruled: tuple[Ruled, ...] = ()
    if grain is not None:
        middle = (wide / 2, 1.0 if level else run[1] / 2)
        ruled = _double_arrow(middle, (run[0] / 2, run[1] / 2))
    return (wide, at), Drawn(notes=tuple(notes), ruled=ruled)


def _double_arrow(middle: Point, half: Point) -> tuple[Ruled, ...]:
    """A line with half a barb at both ends, as a maker draws the grain."""
    long = (half[0] ** 2 + half[1] ** 2) ** 0.5
    along = (half[0] / long, half[1] / long)
    lines = []
    ends = []
    for way in (1.0, -1.0):
        end = (middle[0] + way * half[0], middle[1] + way * half[1])
        back, aside = BARB[0] * way, BARB[1] * way
        barb = (
            end[0] - along[0] * back - along[1] * aside,
            end[1] - along[1] * back + along[0] * aside,
        )
        ends.append(end)
        lines.append(Ruled(pen=Pen.THIN, start=end, end=barb))
    return (Ruled(pen=Pen.THIN, start=ends[0], end=ends[1]), *lines)


def _edging(part: Part, view: LineView, extent: Extent, sheet: OnSheet) -> Drawn | None:
    """A heavy chain line beside every edge that carries an edging."""
    placed = next((v for v in sheet.views if v.name == view.name), None)
    if placed is None:
        return None
    low = on_sheet(extent[0], placed, sheet.scale)
    high = on_sheet(extent[1], placed, sheet.scale)
    ruled = []
    for name in part.banded:
        normal = FACES[name]
        across = (dot(normal, view.right), dot(normal, view.up))
        if abs(across[0]) > 0.9:  # noqa: PLR2004
            u = high[0] + OFF_EDGE if across[0] > 0 else low[0] - OFF_EDGE
            ruled.append(Ruled(pen=Pen.EDGED, start=(u, low[1]), end=(u, high[1])))
        elif abs(across[1]) > 0.9:  # noqa: PLR2004
            v = high[1] + OFF_EDGE if across[1] > 0 else low[1] - OFF_EDGE
            ruled.append(Ruled(pen=Pen.EDGED, start=(low[0], v), end=(high[0], v)))
    sheet.lines.take_lines((line.start, line.end) for line in ruled)
    return Drawn(ruled=tuple(ruled))
