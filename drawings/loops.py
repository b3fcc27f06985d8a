"""Closed flat outlines of straight lines and true arcs, and clipping them to a convex outline.

A corner is (u, v, bulge): the bulge of the edge to the next corner is tan(sweep / 4), positive
counter-clockwise and 0 for a straight edge, as DXF writes it. Lengths in mm.
"""

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass

from models.parts.views import Arc, Point

Corner = tuple[float, float, float]

SLIVER = 1e-6
"""Edges shorter than this are dropped when outlines are clipped (mm)."""


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed outline, counter-clockwise."""

    corners: tuple[Corner, ...]

    @property
    def points(self) -> tuple[Point, ...]:
        """The corners without their bulges."""
        return tuple((u, v) for u, v, _ in self.corners)


@dataclass(frozen=True, slots=True)
class Ellipse:
    """A slanted hole's mouth: ``major`` is the longer half axis, ``ratio`` shorter to longer."""

    centre: Point
    major: Point
    ratio: float

    def points(self, count: int = 72) -> tuple[Point, ...]:
        """``count`` points on it, counter-clockwise."""
        (mu, mv), ratio = self.major, self.ratio
        turns = [2 * math.pi * place / count for place in range(count)]
        return tuple(
            (
                self.centre[0] + mu * math.cos(t) - mv * ratio * math.sin(t),
                self.centre[1] + mv * math.cos(t) + mu * ratio * math.sin(t),
            )
            for t in turns
        )


Shape = Arc | Loop | Ellipse
"""A full ``Arc`` (0 to 360) is a circle."""


def circle(centre: Point, radius: float) -> Arc:
    """A whole circle."""
    return Arc(centre, radius, 0.0, 360.0)


def polygon(points: Iterable[Point]) -> Loop:
    """A closed outline of straight edges."""
    return Loop(tuple((u, v, 0.0) for u, v in points))


def obround(a: Point, b: Point, radius: float) -> Loop:
    """A round-ended slot about the segment between its two end centres."""
    du, dv = b[0] - a[0], b[1] - a[1]
    long = math.hypot(du, dv)
    if long <= SLIVER:
        return as_loop(circle(a, radius))
    su, sv = -dv / long * radius, du / long * radius
    return Loop(
        (
            (a[0] - su, a[1] - sv, 0.0),
            (b[0] - su, b[1] - sv, 1.0),
            (b[0] + su, b[1] + sv, 0.0),
            (a[0] + su, a[1] + sv, 1.0),
        )
    )


def as_loop(shape: Shape) -> Loop:
    """Any closed shape as a loop: a circle as two half turns, an ellipse as short chords."""
    match shape:
        case Loop():
            return shape
        case Ellipse():
            return polygon(shape.points())
        case Arc(centre=(u, v), radius=r):
            return Loop(((u - r, v, 1.0), (u + r, v, 1.0)))


def hull(points: Iterable[Point]) -> Loop:
    """The convex outline around ``points``, corners in a straight run left out."""
    left = sorted({(round(u, 9), round(v, 9)) for u, v in points})

    def half(run: list[Point]) -> list[Point]:
        out: list[Point] = []
        for point in run:
            while len(out) > 1 and not _bends(out[-2], out[-1], point):
                out.pop()
            out.append(point)
        return out[:-1]

    return polygon(half(left) + half(left[::-1]))


def _bends(a: Point, b: Point, c: Point) -> bool:
    """Tell whether a, b, c turn left by more than rounding: b stands off the line a c."""
    twice = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return twice > SLIVER * max(math.hypot(c[0] - a[0], c[1] - a[1]), SLIVER)


def box(shape: Shape) -> tuple[Point, Point]:
    """Lower left and upper right corner of what ``shape`` covers."""
    if isinstance(shape, Ellipse):
        (u, v), (mu, mv) = shape.centre, shape.major
        du = math.hypot(mu, mv * shape.ratio)
        dv = math.hypot(mv, mu * shape.ratio)
        return (u - du, v - dv), (u + du, v + dv)
    points: list[Point] = []
    for start, end, bulge in edges(as_loop(shape)):
        points += [start, end]
        if bulge:
            arc = _Bow.of(start, end, bulge)
            points += [arc.at(t) for t in arc.extremes()]
    us, vs = [p[0] for p in points], [p[1] for p in points]
    return (min(us), min(vs)), (max(us), max(vs))


def edges(loop: Loop) -> list[tuple[Point, Point, float]]:
    """Each edge of ``loop``: start, end, bulge."""
    ends = (*loop.corners[1:], loop.corners[0])
    return [((a[0], a[1]), (b[0], b[1]), a[2]) for a, b in zip(loop.corners, ends, strict=True)]


def area(shape: Shape) -> float:
    """What ``shape`` covers (mm2), arcs exactly; an ellipse exactly too."""
    if isinstance(shape, Ellipse):
        return math.pi * math.hypot(*shape.major) ** 2 * shape.ratio
    total = 0.0
    for (au, av), (bu, bv), bulge in edges(as_loop(shape)):
        total += (au * bv - bu * av) / 2
        if bulge:
            sweep = 4 * math.atan(bulge)
            radius = math.hypot(bu - au, bv - av) / 2 / abs(math.sin(sweep / 2))
            total += radius**2 * (sweep - math.sin(sweep)) / 2
    return total


@dataclass(frozen=True, slots=True)
class _Bow:
    """One arc edge: where it starts (radians) and how far it sweeps, signed."""

    centre: Point
    radius: float
    start: float
    sweep: float

    @classmethod
    def of(cls, a: Point, b: Point, bulge: float) -> "_Bow":
        """The arc that a bulge stands for."""
        sweep = 4 * math.atan(bulge)
        du, dv = b[0] - a[0], b[1] - a[1]
        # the centre stands off the chord's middle, on its left for a sweep under a half turn
        off = (1 - bulge**2) / (4 * bulge)
        centre = ((a[0] + b[0]) / 2 - dv * off, (a[1] + b[1]) / 2 + du * off)
        radius = math.hypot(a[0] - centre[0], a[1] - centre[1])
        return cls(centre, radius, math.atan2(a[1] - centre[1], a[0] - centre[0]), sweep)

    def at(self, share: float) -> Point:
        """The point at a share (0 to 1) of the sweep."""
        turn = self.start + self.sweep * share
        return (
            self.centre[0] + self.radius * math.cos(turn),
            self.centre[1] + self.radius * math.sin(turn),
        )

    def share(self, turn: float) -> float | None:
        """The share of the sweep at which ``turn`` (radians) is met, None where it is not."""
        way = (turn - self.start) % (2 * math.pi)
        if self.sweep < 0:
            way -= 2 * math.pi
        share = way / self.sweep
        return share if 0.0 < share < 1.0 else None

    def extremes(self) -> list[float]:
        """Shares at which the arc is furthest left, right, up or down."""
        shares = [self.share(quarter * math.pi / 2) for quarter in range(4)]
        return [share for share in shares if share is not None]


def within(shape: Shape, outline: Shape) -> Shape | None:
    """``shape`` clipped to a convex ``outline``: itself where it lies inside, None where it misses.

    Arcs of the outline do not clip: only rod and loose tenons have them, seen on their ends.
    """
    for start, end, bulge in edges(as_loop(outline)):
        if bulge:
            continue
        long = math.hypot(end[0] - start[0], end[1] - start[1])
        if long <= SLIVER:
            continue
        # the outline runs counter-clockwise, so its outside lies on the right
        normal = ((end[1] - start[1]) / long, (start[0] - end[0]) / long)
        limit = normal[0] * start[0] + normal[1] * start[1]
        low, high = box(shape)
        reach = [
            normal[0] * u + normal[1] * v for u in (low[0], high[0]) for v in (low[1], high[1])
        ]
        if max(reach) <= limit + SLIVER:
            continue
        halved = _halved(as_loop(shape), normal, limit)
        if halved is None:
            return None
        shape = halved if halved != as_loop(shape) else shape
    return shape


def _halved(loop: Loop, normal: Point, limit: float) -> Loop | None:
    """The side of ``loop`` where ``normal . p <= limit``; chords close what was cut open."""
    kept: list[tuple[Point, Point, float]] = []
    for start, end, bulge in edges(loop):
        pieces = _pieces(start, end, bulge, normal, limit)
        kept += [piece for piece in pieces if math.dist(piece[0], piece[1]) > SLIVER]
    if not kept:
        return None
    out: list[Corner] = []
    for place, (start, end, bulge) in enumerate(kept):
        out.append((*start, bulge))
        following = kept[(place + 1) % len(kept)][0]
        if math.dist(end, following) > SLIVER:
            out.append((*end, 0.0))
    shape = Loop(tuple(out))
    return shape if area(shape) > SLIVER else None


def _pieces(
    start: Point, end: Point, bulge: float, normal: Point, limit: float
) -> list[tuple[Point, Point, float]]:
    """The parts of one edge that lie inside."""

    def height(point: Point) -> float:
        return normal[0] * point[0] + normal[1] * point[1] - limit

    if not bulge:
        a, b = height(start), height(end)
        shares = [a / (a - b)] if a * b < 0 else []
        marks = [0.0, *shares, 1.0]
        points = [
            (start[0] + (end[0] - start[0]) * t, start[1] + (end[1] - start[1]) * t) for t in marks
        ]
        runs = itertools.pairwise(points)
        return [
            (p, q, 0.0) for p, q in runs if height(((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)) <= SLIVER
        ]
    bow = _Bow.of(start, end, bulge)
    middle = -height(bow.centre)
    shares = []
    if abs(middle) < bow.radius:
        facing = math.atan2(normal[1], normal[0])
        swing = math.acos(middle / bow.radius)
        found = (bow.share(facing - swing), bow.share(facing + swing))
        shares = sorted(share for share in found if share is not None)
    if not shares:
        return [(start, end, bulge)] if height(bow.at(0.5)) <= SLIVER else []
    marks = [0.0, *shares, 1.0]
    return [
        (bow.at(a), bow.at(b), math.tan(bow.sweep * (b - a) / 4))
        for a, b in itertools.pairwise(marks)
        if height(bow.at((a + b) / 2)) <= SLIVER
    ]
