"""Strokes as short lines: scaled, kept inside a circle, and hatching of what is cut."""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from typing import assert_never

from models.parts.views import Arc, Curve, Line, Point, Region, Stroke

CHORD = 10.0
"""Arcs become chords of so many degrees at most."""

Segment = tuple[Point, Point]


def segments(stroke: Stroke) -> Iterator[Segment]:
    """A stroke as straight lines."""
    match stroke:
        case Line(start=start, end=end):
            yield start, end
        case Arc():
            yield from pairwise(_chords(stroke))
        case Curve(points=points):
            yield from pairwise(points)
        case _:
            assert_never(stroke)


def _chords(arc: Arc) -> list[Point]:
    count = max(2, math.ceil((arc.end - arc.start) / CHORD))
    turns = [
        math.radians(arc.start + (arc.end - arc.start) * place / count)
        for place in range(count + 1)
    ]
    (u, v), r = arc.centre, arc.radius
    return [(u + r * math.cos(turn), v + r * math.sin(turn)) for turn in turns]


def scaled(stroke: Stroke, by: float) -> Stroke:
    """A stroke drawn larger or smaller about the origin of its view."""

    def at(point: Point) -> Point:
        return (point[0] * by, point[1] * by)

    match stroke:
        case Line(start=start, end=end):
            return Line(at(start), at(end))
        case Arc(centre=centre, radius=radius, start=start_angle, end=end_angle):
            return Arc(at(centre), radius * by, start_angle, end_angle)
        case Curve(points=points):
            return Curve(tuple(at(point) for point in points))
        case _:
            assert_never(stroke)


@lru_cache(maxsize=4)
def chained(strokes: tuple[Stroke, ...]) -> tuple[Stroke, ...]:
    """Straight lines that go on where others end as chains: fewer strokes that draw the same."""
    lines = [stroke for stroke in strokes if isinstance(stroke, Line)]
    at: dict[Point, list[int]] = defaultdict(list)
    for place, line in enumerate(lines):
        for end in (line.start, line.end):
            at[_cell(end)].append(place)
    left = dict.fromkeys(range(len(lines)))
    found: list[Stroke] = [stroke for stroke in strokes if not isinstance(stroke, Line)]
    while left:
        first = next(iter(left))
        del left[first]
        ahead = _run(lines[first].end, lines, at, left)
        behind = _run(lines[first].start, lines, at, left)
        points = (*behind[::-1], lines[first].start, lines[first].end, *ahead)
        found.append(Curve(points) if ahead or behind else lines[first])
    return tuple(found)


def _run(
    end: Point, lines: list[Line], at: dict[Point, list[int]], left: dict[int, None]
) -> list[Point]:
    """The points of the lines that lead on from an end, each taken out of those that are left."""
    points: list[Point] = []
    while True:
        place = next((one for one in at[_cell(end)] if one in left), None)
        if place is None:
            return points
        del left[place]
        line = lines[place]
        end = line.end if _cell(line.start) == _cell(end) else line.start
        points.append(end)


def _cell(point: Point) -> Point:
    """A point as one where lines meet."""
    return (round(point[0], 4) + 0.0, round(point[1], 4) + 0.0)


def within_circle(strokes: Iterable[Stroke], centre: Point, radius: float) -> Iterator[Stroke]:
    """What of ``strokes`` lies inside a circle; what it crosses comes out as straight lines."""
    for stroke in strokes:
        pieces = list(segments(stroke))
        ends = [point for piece in pieces for point in piece]
        if all(math.dist(point, centre) <= radius for point in ends):
            yield stroke
            continue
        for start, end in pieces:
            kept = _inside(start, end, centre, radius)
            if kept is not None:
                yield Line(*kept)


def _inside(start: Point, end: Point, centre: Point, radius: float) -> Segment | None:
    """The part of a line inside a circle."""
    run = (end[0] - start[0], end[1] - start[1])
    arm = (start[0] - centre[0], start[1] - centre[1])
    a = run[0] ** 2 + run[1] ** 2
    b = arm[0] * run[0] + arm[1] * run[1]
    room = b * b - a * (arm[0] ** 2 + arm[1] ** 2 - radius**2)
    if a == 0.0 or room <= 0.0:
        return None
    first, last = (-b - math.sqrt(room)) / a, (-b + math.sqrt(room)) / a
    first, last = max(0.0, first), min(1.0, last)
    if last - first <= 1e-9:  # noqa: PLR2004 - they touch in a point
        return None
    at = [(start[0] + run[0] * share, start[1] + run[1] * share) for share in (first, last)]
    return at[0], at[1]


def hatching(region: Region, apart: float, degrees: float) -> Iterator[Line]:
    """Lines ``apart`` across a flat face, leaving its holes free (even-odd rule)."""
    turn = math.radians(degrees)
    run, off = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    sides = [
        (_turned(a, run, off), _turned(b, run, off))
        for ring in region
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
    ]
    if not sides:
        return
    low = min(min(a[1], b[1]) for a, b in sides)
    high = max(max(a[1], b[1]) for a, b in sides)
    # lines stand on multiples of their distance, so that the faces of one part agree
    for place in range(math.ceil(low / apart), math.floor(high / apart) + 1):
        at = place * apart
        met = sorted(
            a[0] + (b[0] - a[0]) * (at - a[1]) / (b[1] - a[1])
            for a, b in sides
            if (a[1] <= at) != (b[1] <= at)
        )
        for start, end in zip(met[::2], met[1::2], strict=False):
            yield Line(_back((start, at), run, off), _back((end, at), run, off))


def _turned(point: Point, run: Point, off: Point) -> Point:
    return (point[0] * run[0] + point[1] * run[1], point[0] * off[0] + point[1] * off[1])


def _back(point: Point, run: Point, off: Point) -> Point:
    return (point[0] * run[0] + point[1] * off[0], point[0] * run[1] + point[1] * off[1])
