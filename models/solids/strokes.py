"""Tidy strokes: what lies on one another is one, and what is seen covers what is hidden.

Plain geometry on paper, no kernel. A stroke lies on a carrier (an endless line, a full circle) as
one span of it; spans are joined and taken away from one another.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from models.parts.views import Arc, Curve, Line, Point, Stroke

PAPER = 1e-4
"""Strokes closer than this on paper lie on one another (mm)."""

SHORTEST = 1e-3
"""Shorter strokes are noise of the hidden-line sums (mm)."""

CURVES = 0.02
"""Chains of points closer than this lie on one another (mm): twice their own error."""

CELL = 0.01
"""Carriers are found again by cells of this size (mm)."""

DIGITS = 9
"""Decimals kept: a millionth of what matters on paper."""

FEWEST = 5
"""An arc is told from other curves by no fewer points."""

FULL = 360.0

Span = tuple[float, float]
"""From where to where along a carrier: mm along a line, mm round a circle."""


@dataclass(frozen=True, slots=True)
class Straight:
    """An endless line through ``foot``, its point nearest the origin, along ``run``."""

    foot: Point
    run: Point

    def along(self, point: Point) -> float:
        """Where a point lies along the line (mm)."""
        return (point[0] - self.foot[0]) * self.run[0] + (point[1] - self.foot[1]) * self.run[1]

    def off(self, point: Point) -> float:
        """How far a point lies off the line (mm)."""
        across = (point[0] - self.foot[0]) * self.run[1] - (point[1] - self.foot[1]) * self.run[0]
        return abs(across)

    def point(self, place: float) -> Point:
        """The point at a place along the line."""
        return clean((self.foot[0] + place * self.run[0], self.foot[1] + place * self.run[1]))


@dataclass(frozen=True, slots=True)
class Round:
    """A full circle."""

    centre: Point
    radius: float

    @property
    def way(self) -> float:
        """Once round (mm)."""
        return 2 * math.pi * self.radius


@dataclass(frozen=True, slots=True)
class Carriers:
    """Every carrier met so far, found again by the cell that it falls in."""

    cells: dict[tuple[int, int], list[Straight | Round]] = field(default_factory=dict)

    def near(self, place: Point) -> Iterator[Straight | Round]:
        """Carriers kept at ``place`` or in the cells next to it."""
        column, line = cell(place)
        for i in (column - 1, column, column + 1):
            for j in (line - 1, line, line + 1):
                yield from self.cells.get((i, j), ())

    def keep(self, carrier: Straight | Round, place: Point) -> None:
        """Remember a carrier."""
        self.cells.setdefault(cell(place), []).append(carrier)


@dataclass(frozen=True, slots=True)
class Drawn:
    """Strokes sorted by their carriers; chains of points have none."""

    spans: dict[Straight | Round, list[Span]] = field(default_factory=dict)
    curves: list[Curve] = field(default_factory=list)


def tidy(
    visible: Iterable[Stroke], hidden: Iterable[Stroke]
) -> tuple[tuple[Stroke, ...], tuple[Stroke, ...]]:
    """Join and order strokes; of the hidden ones keep only what no visible one covers."""
    carriers = Carriers()
    seen, unseen = drawn(visible, carriers), drawn(hidden, carriers)
    for carrier, spans in unseen.spans.items():
        unseen.spans[carrier] = less(spans, seen.spans.get(carrier, []))
    shown = distinct(seen.curves, [])
    covered = distinct(unseen.curves, shown)
    return ordered(seen.spans, shown), ordered(unseen.spans, covered)


def drawn(strokes: Iterable[Stroke], carriers: Carriers) -> Drawn:
    """Sort strokes by carrier and join what overlaps or meets on each."""
    result = Drawn()
    for stroke in strokes:
        match simplest(stroke):
            case Line(start=start, end=end):
                if math.dist(start, end) >= SHORTEST:
                    line = straight(start, end, carriers)
                    span = sorted((line.along(start), line.along(end)))
                    result.spans.setdefault(line, []).append((span[0], span[1]))
            case Arc() as arc:
                circle = whole_circle(arc, carriers)
                result.spans.setdefault(circle, []).extend(round_spans(arc, circle))
            case Curve() as curve:
                result.curves.append(curve)
    for carrier, spans in result.spans.items():
        result.spans[carrier] = joined(spans)
    return result


def simplest(stroke: Stroke) -> Stroke:
    """Take a chain of points for the line or the arc that it follows, where it follows one.

    A circle seen from its edge is a line, a slanted end of a rod seen along the rod a circle.
    """
    if not isinstance(stroke, Curve):
        return stroke
    far = max(stroke.points, key=lambda point: math.dist(point, stroke.points[0]))
    other = max(stroke.points, key=lambda point: math.dist(point, far))
    if math.dist(other, far) < SHORTEST:
        return Line(other, far)
    line = straight(other, far, Carriers())
    if all(line.off(point) <= PAPER for point in stroke.points):
        return Line(other, far)
    return rounded(stroke) or stroke


def rounded(chain: Curve) -> Arc | None:
    """The circular arc that a chain of points follows; None where it follows none."""
    points = chain.points
    count = len(points)
    closed = math.dist(points[0], points[-1]) <= PAPER
    if count < FEWEST:
        return None
    a, b, c = points[0], points[count // 3], points[2 * count // 3]
    twice = 2 * ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
    if abs(twice) <= PAPER * PAPER:
        return None
    to_b, to_c = math.dist(a, b) ** 2, math.dist(a, c) ** 2
    east = ((c[1] - a[1]) * to_b - (b[1] - a[1]) * to_c) / twice
    north = ((b[0] - a[0]) * to_c - (c[0] - a[0]) * to_b) / twice
    centre, radius = (a[0] + east, a[1] + north), math.hypot(east, north)
    if any(abs(math.dist(point, centre) - radius) > PAPER for point in points):
        return None
    begin, end = (a, points[-1]) if twice > 0 else (points[-1], a)
    start, stop = (
        math.degrees(math.atan2(p[1] - centre[1], p[0] - centre[0])) for p in (begin, end)
    )
    return Arc(centre, radius, start, start + (FULL if closed else (stop - start) % FULL))


def straight(start: Point, end: Point, carriers: Carriers) -> Straight:
    """Find the endless line through two points, or keep a new one."""
    length = math.dist(start, end)
    run = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    if run[0] < -PAPER or (run[0] < PAPER and run[1] < 0):
        run = (-run[0], -run[1])
    back = start[0] * run[0] + start[1] * run[1]
    foot = (start[0] - back * run[0], start[1] - back * run[1])
    for known in carriers.near(foot):
        if isinstance(known, Straight) and max(known.off(start), known.off(end)) <= PAPER:
            return known
    line = Straight(foot, run)
    carriers.keep(line, foot)
    return line


def whole_circle(arc: Arc, carriers: Carriers) -> Round:
    """Find the circle that an arc lies on, or keep a new one."""
    for known in carriers.near(arc.centre):
        if (
            isinstance(known, Round)
            and abs(known.radius - arc.radius) <= PAPER
            and math.dist(known.centre, arc.centre) <= PAPER
        ):
            return known
    circle = Round(arc.centre, arc.radius)
    carriers.keep(circle, arc.centre)
    return circle


def round_spans(arc: Arc, circle: Round) -> list[Span]:
    """An arc as one span of its circle, or two where it passes the circle's start."""
    millimetres = circle.way / FULL
    start, sweep = arc.start % FULL * millimetres, (arc.end - arc.start) * millimetres
    if sweep >= circle.way - PAPER:
        return [(0.0, circle.way)]
    if start + sweep <= circle.way:
        return [(start, start + sweep)]
    return [(start, circle.way), (0.0, start + sweep - circle.way)]


def joined(spans: list[Span]) -> list[Span]:
    """Spans that overlap or meet become one."""
    result: list[Span] = []
    for start, end in sorted(spans):
        if result and start <= result[-1][1] + PAPER:
            result[-1] = (result[-1][0], max(end, result[-1][1]))
        else:
            result.append((start, end))
    return result


def less(spans: list[Span], covers: list[Span]) -> list[Span]:
    """What no cover lies on; slivers are dropped."""
    result: list[Span] = []
    for start, end in spans:
        at = start
        for cover_start, cover_end in covers:
            if cover_end <= at or cover_start >= end:
                continue
            result.append((at, cover_start))
            at = max(at, cover_end)
        result.append((at, end))
    return [(start, end) for start, end in result if end - start >= SHORTEST]


def distinct(curves: list[Curve], covers: list[Curve]) -> list[Curve]:
    """Chains that do not lie on one another, nor on one of ``covers``."""
    kept: list[Curve] = []
    for curve in curves:
        if not any(lies_on(curve, other) for other in (*covers, *kept)):
            kept.append(curve)
    return kept


def lies_on(curve: Curve, other: Curve) -> bool:
    """Tell whether every point of a chain lies on another chain."""
    sides = tuple(pairwise(other.points))
    return all(any(near(point, a, b) for a, b in sides) for point in curve.points)


def near(point: Point, start: Point, end: Point) -> bool:
    """Tell whether a point lies on a straight stretch."""
    reach = (end[0] - start[0], end[1] - start[1])
    arm = (point[0] - start[0], point[1] - start[1])
    square = reach[0] ** 2 + reach[1] ** 2
    share = 0.0 if square == 0 else (arm[0] * reach[0] + arm[1] * reach[1]) / square
    share = min(max(share, 0.0), 1.0)
    return math.hypot(arm[0] - share * reach[0], arm[1] - share * reach[1]) <= CURVES


def ordered(spans: dict[Straight | Round, list[Span]], curves: list[Curve]) -> tuple[Stroke, ...]:
    """Strokes again: lines, arcs, chains, each in an order that the kernel has no say in."""
    lines: list[Line] = []
    arcs: list[Arc] = []
    for carrier, pieces in spans.items():
        match carrier:
            case Straight():
                lines += [Line(carrier.point(start), carrier.point(end)) for start, end in pieces]
            case Round():
                arcs += arcs_of(carrier, pieces)
    chains = [Curve(tuple(clean(point) for point in curve.points)) for curve in curves]
    return (
        *sorted(lines, key=lambda line: (line.start, line.end)),
        *sorted(arcs, key=lambda arc: (arc.centre, arc.radius, arc.start)),
        *sorted(chains, key=lambda chain: chain.points),
    )


def arcs_of(circle: Round, spans: list[Span]) -> list[Arc]:
    """Arcs from spans; the two that meet where the circle starts are one, ending past 360."""
    if spans and spans[0][0] <= PAPER and spans[-1][1] >= circle.way - PAPER and len(spans) > 1:
        spans = [*spans[1:-1], (spans[-1][0], circle.way + spans[0][1])]
    degrees = FULL / circle.way
    centre = clean(circle.centre)
    return [
        Arc(centre, round(circle.radius, DIGITS), *clean((start * degrees, end * degrees)))
        for start, end in spans
    ]


def cell(place: Point) -> tuple[int, int]:
    """The cell of a place."""
    return (math.floor(place[0] / CELL), math.floor(place[1] / CELL))


def clean(point: Point) -> Point:
    """A point without the last digits' noise, and without a negative zero."""
    return (round(point[0], DIGITS) + 0.0, round(point[1], DIGITS) + 0.0)
