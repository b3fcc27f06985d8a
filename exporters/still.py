"""A line view as a picture for a page: what stands in for the piece where nothing can be drawn."""

import math
from typing import assert_never

from models.parts.views import Arc, Curve, Line, LineView, Point, Stroke

MARGIN = 0.02
"""Of the longer side, all round."""

WHOLE_TURN = 360.0


def still(view: LineView) -> str:
    """The visible lines of ``view`` as SVG, to any size; nothing in it comes from the spec."""
    points = [point for stroke in view.visible for point in _reach(stroke)]
    if not points:
        return ""
    left, right = min(u for u, _ in points), max(u for u, _ in points)
    low, high = min(v for _, v in points), max(v for _, v in points)
    margin = MARGIN * max(right - left, high - low, 1.0)
    box = (left - margin, -high - margin, right - left + 2 * margin, high - low + 2 * margin)
    lines = "".join(_path(stroke) for stroke in view.visible)
    return (
        f'<svg viewBox="{" ".join(_short(value) for value in box)}" role="img"'
        ' aria-label="line drawing of the closed piece" fill="none" stroke="currentColor"'
        f' stroke-linecap="round"><path vector-effect="non-scaling-stroke" d="{lines}"/></svg>'
    )


def _short(value: float) -> str:
    return f"{round(value, 1) + 0.0:g}"


def _pair(point: Point) -> str:
    return f"{_short(point[0])} {_short(-point[1])}"


def _on(arc: Arc, degrees: float) -> Point:
    turn = math.radians(degrees)
    u, v = arc.centre
    return (u + arc.radius * math.cos(turn), v + arc.radius * math.sin(turn))


def _reach(stroke: Stroke) -> tuple[Point, ...]:
    """Points whose box holds the stroke."""
    match stroke:
        case Line():
            return (stroke.start, stroke.end)
        case Arc(centre=(u, v), radius=radius):
            return ((u - radius, v - radius), (u + radius, v + radius))
        case Curve():
            return stroke.points
    assert_never(stroke)


def _path(stroke: Stroke) -> str:
    match stroke:
        case Line():
            return f"M{_pair(stroke.start)}L{_pair(stroke.end)}"
        case Arc():
            return _arc(stroke)
        case Curve():
            return "M" + "L".join(_pair(point) for point in stroke.points)
    assert_never(stroke)


def _arc(arc: Arc) -> str:
    """Two halves, since an arc that ends where it began is none in SVG."""
    middle = (arc.start + arc.end) / 2
    radius = _short(arc.radius)
    large = int((arc.end - arc.start) / 2 > WHOLE_TURN / 2)
    first = f"M{_pair(_on(arc, arc.start))}A{radius} {radius} 0 {large} 0 "
    second = f"A{radius} {radius} 0 {large} 0 {_pair(_on(arc, arc.end))}"
    return first + _pair(_on(arc, middle)) + second
