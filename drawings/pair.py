"""A left and its right as a pair: the other hand beside the views that a sheet is about.

Both are dimensioned from the same end, so that rows of holes come out opposite one another.
Paper mm.
"""

from drawings.additions import Drawn, OnSheet
from drawings.choosing import shown
from drawings.lettering import text_width
from drawings.paper import LETTER, SCALES, Scale
from drawings.records import Align, Note, Pen, Text, View
from drawings.sections import extent_of
from drawings.standing import Mate
from models.parts.views import LineView, Point

LEAST = 25.0
"""The other hand is drawn no shorter (mm)."""

LINE = 1.7 * LETTER
"""Base line to base line of what is said over it."""


def mate_drawn(label: str, mate: Mate, sheet: OnSheet) -> Drawn | None:
    """The other hand at the sheet's scale, or at a smaller one where room is short."""
    view = shown(mate.part, mate.views).principal
    low, high = extent_of(view)
    size = (high[0] - low[0], high[1] - low[1])
    said = f"pair of {label}: {mate.part.label} {mate.part.name}"
    for scale in SCALES:
        if scale.factor > sheet.scale.factor or max(size) * scale.factor < LEAST:
            continue
        drawn, room = _drawn(view, (low, size), (f"{said} ({scale})",), (scale, sheet.scale))
        placed = sheet.placed(drawn, room, _wanted(sheet))
        if placed is not None:
            return placed
    return None


def _wanted(sheet: OnSheet) -> Point:
    """Near the middle of the sheet's foot, below the views."""
    return ((sheet.frame[0][0] + sheet.frame[1][0]) / 2, sheet.frame[0][1])


def _drawn(
    view: LineView, box: tuple[Point, Point], lines: tuple[str, ...], scales: tuple[Scale, Scale]
) -> tuple[Drawn, Point]:
    """The view with its words over it, lower left corner (0, 0), and the room that it takes."""
    low, size = box
    own, on = scales
    wide, tall = size[0] * own.factor, size[1] * own.factor
    whole = max(wide, *(text_width(line, LETTER) for line in lines))
    notes = tuple(
        Note(
            text=Text(
                at=(whole / 2, tall + 2.0 + LINE * (len(lines) - 1 - place)),
                text=line,
                height=LETTER,
                align=Align.CENTRE,
            )
        )
        for place, line in enumerate(lines)
    )
    at = ((whole - wide) / 2 - low[0] * own.factor, 0.0 - low[1] * own.factor)
    strokes = (
        *((Pen.HIDDEN, stroke) for stroke in view.hidden),
        *((Pen.VISIBLE, stroke) for stroke in view.visible),
    )
    mate = View(name="pair", at=at, strokes=strokes, by=own.factor / on.factor)
    return Drawn(views=(mate,), notes=notes), (whole, tall + 2.0 + LINE * len(lines))
