"""Small pictures on a part's sheet: the part in its place, and the mark across its set of boards.

Paper mm; the pictures are to no scale that anybody measures by.
"""

from functools import partial
from itertools import pairwise
from math import dist

from drawings import polyhedron
from drawings.additions import Addition, Drawn, OnSheet
from drawings.clipping import chained, scaled, segments
from drawings.lettering import text_width
from drawings.pair import mate_drawn
from drawings.paper import SMALL_LETTER
from drawings.records import Align, Note, Pen, Ruled, Text, View
from drawings.standing import BoardSet, Standing
from ground.vectors import Frame, Vec, cross, dot
from models.parts.part import Part
from models.parts.views import Line, Point, Stroke

WIDTHS = (75.0, 60.0, 45.0, 34.0)
"""How wide the picture of the piece is, the largest that fits."""

SHORT = 0.25
"""Shorter lines are left out of a picture."""

FACING = 1e-6
"""A side that looks away from the eye by more is not seen (cosine)."""

BOARD: Point = (7.0, 18.0)
"""A board in the picture of a set."""


def in_place_additions(standing: Standing | None) -> tuple[Addition, ...]:
    """The other hand, the piece with the part in heavy lines, the triangle of its set."""
    if standing is None:
        return ()
    found: list[Addition] = []
    if standing.mate is not None:
        found.append(partial(mate_drawn, standing.part.label, standing.mate))
    found.append(partial(_in_place, standing))
    if standing.boards is not None:
        found.append(partial(_triangle, standing.boards))
    return tuple(found)


def _in_place(standing: Standing, sheet: OnSheet) -> Drawn | None:
    """The whole piece in thin lines, every copy of the part in heavy ones, as seen through it."""
    whole = standing.whole
    toward = cross(whole.right, whole.up)
    heavy = [
        line
        for copy in standing.copies
        for line in base_edges(standing.part, copy.placement, (whole.right, whole.up), toward)
    ]
    points = [p for stroke in whole.visible for line in segments(stroke) for p in line]
    points += [p for line in heavy for p in (line.start, line.end)]
    if not points:
        return None
    low = (min(u for u, _ in points), min(v for _, v in points))
    high = (max(u for u, _ in points), max(v for _, v in points))
    thin = chained(whole.visible)
    thick = chained(tuple(heavy))
    for width in WIDTHS:
        factor = width / max(high[0] - low[0], high[1] - low[1])
        by = factor / sheet.scale.factor
        strokes: list[tuple[Pen, Stroke]] = [
            (Pen.THIN, scaled(stroke, by)) for stroke in thin if _long(stroke) * factor >= SHORT
        ]
        strokes += [(Pen.VISIBLE, scaled(line, by)) for line in thick]
        at = (0.0 - low[0] * factor, 0.0 - low[1] * factor)
        size = ((high[0] - low[0]) * factor, (high[1] - low[1]) * factor)
        view = View(name="in place", at=at, strokes=tuple(strokes))
        placed = sheet.placed(Drawn(views=(view,)), size, sheet.frame[1])
        if placed is not None:
            return placed
    return None


def _long(stroke: Stroke) -> float:
    return sum(dist(a, b) for a, b in segments(stroke))


def base_edges(
    part: Part, placement: Frame, paper: tuple[Vec, Vec], toward: Vec
) -> tuple[Line, ...]:
    """The edges of a part's convex base that are seen, where it stands in the piece."""
    right, up = paper
    kept: dict[tuple[Point, Point], Line] = {}
    for facet in polyhedron.base(part):
        if dot(placement.direction(facet.plane.normal), toward) <= FACING:
            continue
        corners = [placement.point(corner) for corner in facet.corners]
        flat = [(dot(corner, right), dot(corner, up)) for corner in corners]
        for a, b in zip(flat, (*flat[1:], flat[0]), strict=True):
            first, second = sorted(
                ((round(a[0], 4), round(a[1], 4)), (round(b[0], 4), round(b[1], 4)))
            )
            kept[(first, second)] = Line(first, second)
    return tuple(kept[key] for key in sorted(kept))


def _triangle(boards: BoardSet, sheet: OnSheet) -> Drawn | None:
    """The boards of a set side by side, a triangle across them, this part's in heavy lines."""
    wide, tall = BOARD
    wide = max(wide, *(text_width(copy, SMALL_LETTER) + 1.5 for copy in boards.copies))
    long = wide * len(boards.copies)
    title = f"triangle mark, {boards.way}"
    base = SMALL_LETTER + 1.5
    ruled: list[Ruled] = []
    notes = [_small(title, (0.0, base + tall + 1.5), Align.LEFT)]
    for place, (copy, own) in enumerate(zip(boards.copies, boards.own, strict=True)):
        left, right = place * wide, (place + 1) * wide
        pen = Pen.VISIBLE if own else Pen.THIN
        corners = ((left, base), (right, base), (right, base + tall), (left, base + tall))
        ruled += [
            Ruled(pen=pen, start=a, end=b)
            for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
        ]
        notes.append(_small(copy, ((left + right) / 2, 1.0), Align.CENTRE))
    foot, head = base + 3.0, base + tall - 3.0
    corners = ((2.0, foot), (long - 2.0, foot), (long / 2, head), (2.0, foot))
    ruled += [Ruled(pen=Pen.THIN, start=a, end=b) for a, b in pairwise(corners)]
    size = (max(long, text_width(title, SMALL_LETTER)), base + tall + 2 * SMALL_LETTER)
    return sheet.placed(Drawn(ruled=tuple(ruled), notes=tuple(notes)), size, sheet.frame[0])


def _small(text: str, at: Point, align: Align) -> Note:
    return Note(text=Text(at=at, text=text, height=SMALL_LETTER, align=align))
