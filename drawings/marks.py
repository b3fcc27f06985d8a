"""Cuts as flat shapes on a face laid level: true outlines with their depth and their slant.

Places on the face are (u, v) in mm; heights go out of the wood.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import assert_never

from drawings import polyhedron
from drawings.bites import LEVEL, SQUARE, depth_of, goes_through, lean_of
from drawings.loops import Ellipse, Shape, circle, hull, obround
from drawings.polyhedron import Body
from ground.vectors import Frame, Plane, Vec, add, along, cross, dot, norm, scale, sub
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.parts.features import EasedEdge, Feature, Trim
from models.parts.views import Line, Point

TOUCH = 1e-6
"""Corners of two sides nearer than this are one corner (mm)."""

RIGHT_ANGLE = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One cut on one face: its true outline, clipped to the part.

    ``depth`` is how far the tool goes below the face, None where it comes out on the other side;
    ``size`` the diameter of a round hole and ``centre`` its middle, even where it breaks an edge;
    ``slant`` degrees from square to the face; ``by_hand`` where a cutter square to the face cannot
    make it; ``under`` where it leans under the face and is not seen from it.
    """

    feature: Feature
    shape: Shape
    depth: float | None = None
    size: float | None = None
    centre: Point | None = None
    slant: float = 0.0
    by_hand: bool = False
    under: bool = False
    lies: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Arris:
    """An edge to be rounded or chamfered, where it runs on the face; ``by_hand`` as for a mark."""

    feature: EasedEdge
    line: Line
    by_hand: bool = False


def mark_of(body: Body, feature: Feature, cut: Cut, frame: Frame) -> Mark | None:
    """Draw one cut on the face that it is worked from."""
    match cut:
        case Bore(start=start, into=into, diameter=size, depth=depth):
            return _round(feature, start, into, frame, (size, _left(body, start, into, depth)))
        case Cone(start=start, into=into, diameter=size, depth=depth):
            return _round(feature, start, into, frame, (size, depth))
        case Slot():
            return _slot(body, feature, cut, frame)
        case Convex():
            return _bite(body, feature, cut, frame)
        case Edge():
            return None
    assert_never(cut)


def flat(frame: Frame, points: Iterable[Vec]) -> list[Point]:
    """Points seen on a face laid level."""
    back = frame.inverse()
    return [(u, v) for u, v, _ in (back.point(p) for p in points)]


def _left(body: Body, start: Vec, into: Vec, depth: float) -> float | None:
    """The depth of a hole, None where it comes out of the base."""
    out = [
        -facet.plane.height(start) / dot(facet.plane.normal, into)
        for facet in body
        if dot(facet.plane.normal, into) > LEVEL
    ]
    return None if out and depth >= min(out) - polyhedron.ON_PLANE else depth


def _below(frame: Frame, start: Vec, into: Vec, depth: float | None) -> float | None:
    """Depth from the face on: a hole may begin on the floor of another; None: through."""
    if depth is None:
        return None
    drop = dot(frame.z, into)
    gap = dot(frame.z, sub(start, frame.origin)) / drop if drop else 0.0
    return depth + gap


def _mouth(frame: Frame, into: Vec) -> Callable[[Vec], Point]:
    """Carry points to the face along the tool's own way in."""
    back = frame.inverse()
    way = back.direction(into)

    def on(point: Vec) -> Point:
        u, v, h = back.point(point)
        run = h / way[2] if abs(way[2]) > LEVEL else 0.0
        return (u - way[0] * run, v - way[1] * run)

    return on


def _round(
    feature: Feature, start: Vec, into: Vec, frame: Frame, size: tuple[float, float | None]
) -> Mark:
    """A round hole: a circle, or the ellipse that a slanted one leaves on the face."""
    diameter, depth = size
    slant = _slant(frame, into)
    centre = _mouth(frame, into)(start)
    shape: Shape = circle(centre, diameter / 2)
    if slant > SQUARE:
        du, dv, _ = frame.inverse().direction(into)
        long = diameter / 2 / math.cos(math.radians(slant))
        by = long / math.hypot(du, dv)
        shape = Ellipse(centre, (du * by, dv * by), diameter / 2 / long)
    return Mark(
        feature=feature,
        shape=shape,
        depth=_below(frame, start, into, depth),
        size=diameter,
        centre=centre,
        slant=slant if slant > SQUARE else 0.0,
        by_hand=slant > SQUARE,
    )


def _slant(frame: Frame, into: Vec) -> float:
    """Degrees between the tool's way and square to the face, from whichever side it comes."""
    sine = norm(sub(into, scale(frame.z, dot(into, frame.z))))
    return math.degrees(math.atan2(sine, abs(dot(into, frame.z))))


def _slot(body: Body, feature: Feature, cut: Slot, frame: Frame) -> Mark:
    """A round-ended slot: true arcs where it is square to the face, its slanted mouth otherwise."""
    slant = _slant(frame, cut.into)
    on = _mouth(frame, cut.into)
    reach = (cut.length - cut.width) / 2
    ends = along(cut.start, cut.along, -reach), along(cut.start, cut.along, reach)
    shape: Shape = obround(on(ends[0]), on(ends[1]), cut.width / 2)
    if slant > SQUARE:
        side = cross(cut.into, cut.along)
        shape = hull(
            on(
                add(
                    end,
                    add(
                        scale(cut.along, cut.width / 2 * math.cos(t)),
                        scale(side, cut.width / 2 * math.sin(t)),
                    ),
                )
            )
            for end in ends
            for t in (math.pi * place / 36 for place in range(72))
        )
    depth = _left(body, cut.start, cut.into, cut.depth)
    return Mark(
        feature=feature,
        shape=shape,
        depth=_below(frame, cut.start, cut.into, depth),
        slant=slant if slant > SQUARE else 0.0,
        by_hand=slant > SQUARE,
    )


def _bite(body: Body, feature: Feature, cut: Convex, frame: Frame) -> Mark | None:
    """A convex bite: what of it lies in the base, seen square to the face."""
    bite = polyhedron.bitten(body, cut.planes)
    if not bite:
        return None
    face = Plane.through(frame.origin, frame.z)
    lean = lean_of(bite, frame.z)
    slant = lean if lean > SQUARE else 0.0
    return Mark(
        feature=feature,
        shape=hull(flat(frame, polyhedron.corners(bite))),
        depth=None if goes_through(bite, face) else depth_of(bite, face),
        slant=slant,
        by_hand=slant > 0.0,
    )


def slope_of(body: Body, feature: Trim, frame: Frame) -> Iterator[Mark]:
    """A trim that is not plumb: the strip between its upper and its lower edge."""
    for facet in body:
        if facet.name != feature.id:
            continue
        rise = dot(facet.plane.normal, frame.z)
        lean = math.degrees(math.asin(max(-1.0, min(1.0, rise))))
        shape = hull(flat(frame, facet.corners))
        if abs(lean) > SQUARE and len(shape.corners) >= polyhedron.TRIANGLE:
            lies = abs(lean) > RIGHT_ANGLE / 2 + SQUARE  # a mitre of 45 counts from square
            yield Mark(
                feature=feature,
                shape=shape,
                slant=RIGHT_ANGLE - abs(lean) if lies else abs(lean),
                by_hand=True,
                under=rise < 0,
                lies=lies,
            )


def arris_on(body: Body, feature: EasedEdge, frame: Frame) -> Iterator[Arris]:
    """The edge between two sides, where it is seen on the face."""
    sides = {facet.name: facet for facet in body}
    if any(name not in sides for name in feature.between):
        return
    a, b = (sides[name] for name in feature.between)
    shared = [c for c in a.corners if any(norm(sub(c, d)) <= TOUCH for d in b.corners)]
    if len(shared) <= 1:
        return
    start, end = flat(frame, (shared[0], shared[-1]))
    level = max(dot(a.plane.normal, frame.z), dot(b.plane.normal, frame.z))
    if math.dist(start, end) > TOUCH and level > -LEVEL:
        yield Arris(feature=feature, line=Line(start, end), by_hand=level < 1.0 - LEVEL)
