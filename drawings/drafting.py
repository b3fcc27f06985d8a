"""How dimensions look: extension lines, arrow heads and where the number stands.

Everything comes out in paper mm, so that every exporter draws a dimension alike.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import assert_never

from drawings.lettering import FRACTION, text_width
from drawings.paper import ARROW, GAP, LETTER, OVERRUN, Scale
from drawings.records import Align, Angular, Axis, Dimension, Linear, Ordinate, Text, View
from models.parts.views import Point

LIFT = 1.0
"""The number's base line stands so far off its dimension line (mm)."""

ROOMY = 2.5
"""Arrow heads stand inside where there is room for so many of them."""

BETWEEN = 2 * ARROW + 0.5
"""And for the number between them."""

TURN = 3.0
"""Arcs of angles are chords of so many degrees at most."""

LIFT_STACKED = 1.7
"""And where a stacked fraction hangs below it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drafted:
    """A dimension as lines, arrow heads (tip and the middle of its back) and a number."""

    lines: tuple[tuple[Point, Point], ...]
    arrows: tuple[tuple[Point, Point], ...]
    text: Text


def on_sheet(point: Point, view: View, scale: Scale) -> Point:
    """Where a point of a view lies on the sheet (paper mm)."""
    factor = scale.factor * view.by
    return (view.at[0] + point[0] * factor, view.at[1] + point[1] * factor)


def drafted(dimension: Dimension, view: View, scale: Scale) -> Drafted:
    """Draw one dimension of a view."""
    match dimension:
        case Linear():
            return _linear(dimension, view, scale)
        case Ordinate():
            return _ordinate(dimension, view, scale)
        case Angular():
            return _angular(dimension, view, scale)
    assert_never(dimension)


def _linear(size: Linear, view: View, scale: Scale) -> Drafted:
    """A level or plumb size; arrows and number go outside where there is no room between."""
    level = size.axis is Axis.U
    first, second, line = (on_sheet(p, view, scale) for p in (size.first, size.second, size.line))
    if not level:  # a plumb size is a level one read from the right
        first, second, line = (_quarter(p) for p in (first, second, line))
    if first[0] > second[0]:
        first, second = second, first
    at = line[1]
    a, b = (first[0], at), (second[0], at)
    lines = [_extension(first, at, size.clear), _extension(second, at, size.clear)]
    room = b[0] - a[0]
    long = text_width(size.text, LETTER)
    inside = room >= max(ROOMY * ARROW, long + BETWEEN)
    reach = 0.0 if inside else 2 * ARROW
    lines.append(((a[0] - reach, at), (b[0] + reach, at)))
    way = 1.0 if inside else -1.0
    arrows = [(a, (a[0] + way * ARROW, at)), (b, (b[0] - way * ARROW, at))]
    middle = (a[0] + b[0]) / 2
    if long + 1.0 > room:
        start = b[0] + (reach or GAP)
        lines.append(((b[0], at), (start + long, at)))
        middle = start + long / 2
    lift = LIFT_STACKED if FRACTION.search(size.text) else LIFT
    text = Text(at=(middle, at + lift), text=size.text, height=LETTER, align=Align.CENTRE)
    if level:
        return Drafted(lines=tuple(lines), arrows=tuple(arrows), text=text)
    return Drafted(
        lines=tuple((_back(p), _back(q)) for p, q in lines),
        arrows=tuple((_back(p), _back(q)) for p, q in arrows),
        text=Text(
            at=_back(text.at), text=text.text, height=LETTER, align=Align.CENTRE, turned=90.0
        ),
    )


def _quarter(p: Point) -> Point:
    """A point as seen from the sheet's right edge."""
    return (p[1], -p[0])


def _back(p: Point) -> Point:
    """And back."""
    return (-p[1], p[0])


def _extension(start: Point, at: float, clear: float) -> tuple[Point, Point]:
    """From clear of the part to just past the dimension line."""
    way = 1.0 if at > start[1] else -1.0
    return ((start[0], start[1] + way * clear), (start[0], at + way * OVERRUN))


def _ordinate(size: Ordinate, view: View, scale: Scale) -> Drafted:
    """A distance from the registered edge, its number at the end of a bent line."""
    feature, knee_a, knee_b, end = (
        on_sheet(p, view, scale) for p in (size.feature, *size.knees, size.end)
    )
    level = size.axis is Axis.U
    axis = 1 if level else 0
    way = 1.0 if end[axis] > feature[axis] else -1.0
    start = (feature[0], feature[1] + way * GAP) if level else (feature[0] + way * GAP, feature[1])
    # the number stands on the end of its line, its middle on the line's run
    off = LETTER / 2
    at = (end[0] + off, end[1] + way * LIFT) if level else (end[0] + way * LIFT, end[1] - off)
    text = Text(
        at=at,
        text=size.text,
        height=LETTER,
        align=Align.LEFT if way > 0 else Align.RIGHT,
        turned=90.0 if level else 0.0,
    )
    lines = ((start, knee_a), (knee_a, knee_b), (knee_b, end))
    return Drafted(lines=lines, arrows=(), text=text)


def _angular(size: Angular, view: View, scale: Scale) -> Drafted:
    """An arc between two directions; heads outside it where there is no room between them."""
    corner = on_sheet(size.corner, view, scale)

    def at(degrees: float, reach: float) -> Point:
        turn = math.radians(degrees)
        return (corner[0] + reach * math.cos(turn), corner[1] + reach * math.sin(turn))

    head = math.degrees(ARROW / size.reach)
    inside = size.measured >= ROOMY * head
    over = 0.0 if inside else 2 * head
    first, last = size.start - over, size.end + over
    count = max(1, math.ceil((last - first) / TURN))
    arc = [at(first + (last - first) * place / count, size.reach) for place in range(count + 1)]
    lines = list(pairwise(arc))
    for degrees, begins in zip((size.start, size.end), size.arms, strict=True):
        if begins is not None:
            lines.append((at(degrees, begins), at(degrees, size.reach + OVERRUN)))
    way = head if inside else -head
    arrows = (
        (at(size.start, size.reach), at(size.start + way, size.reach)),
        (at(size.end, size.reach), at(size.end - way, size.reach)),
    )
    middle = (corner[0] + size.number[0], corner[1] + size.number[1] - LETTER / 2)
    text = Text(at=middle, text=size.text, height=LETTER, align=Align.CENTRE)
    return Drafted(lines=tuple(lines), arrows=arrows, text=text)
