"""The faces of a part that are worked, each laid level, and what is cut into it as flat shapes.

Full size, mm. A worked face is seen from outside: ``u`` to the right, ``v`` up, heights out of the
wood. Both the machine's file and the dimensions of a shop drawing are read from these records.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import assert_never

from drawings import polyhedron
from drawings.loops import Ellipse, Shape, circle, hull, obround, within
from drawings.polyhedron import Body, Facet
from ground.vectors import (
    Frame,
    Plane,
    Vec,
    X,
    Y,
    Z,
    add,
    along,
    cross,
    dot,
    neg,
    norm,
    scale,
    sub,
    unit,
)
from models.parts.blank import FACES, Blank, Section
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.parts.features import Channel, EasedEdge, Feature, Trim
from models.parts.part import Part
from models.parts.views import Line, Point

SQUARE = 0.02
"""A direction within this many degrees of square is square: finer than any saw's scale."""

LEVEL = 1e-9
"""A unit vector whose share across a plane is smaller runs along it."""

TOUCH = 1e-6
"""Corners of two sides nearer than this are one corner (mm)."""

RIGHT_ANGLE = 90.0

OVER = {"top": "bottom", "bottom": "top"}
"""The broad faces and what is up when each is turned over."""

ROLLED = ("top", "front", "bottom", "back")
"""Faces met as the part is rolled about its length, so that x always runs left to right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One cut on one face: its true outline, clipped to the part.

    ``depth`` is how far the tool goes below the face, None where it comes out on the other side;
    ``size`` the diameter of a round hole; ``slant`` degrees from square to the face; ``by_hand``
    where a cutter square to the face cannot make it; ``under`` where it leans under the face and
    is not seen from it.
    """

    feature: Feature
    shape: Shape
    depth: float | None = None
    size: float | None = None
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


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedFace:
    """One face laid level: ``frame`` carries (u, v, height) to part axes.

    ``outline`` is what a plumb cutter leaves around it. ``tilt`` is how far, in degrees, the part
    is tipped from having its ``nearest`` blank face level to having this one level.
    """

    name: str
    frame: Frame
    outline: Shape
    marks: tuple[Mark, ...] = ()
    arrises: tuple[Arris, ...] = ()
    tilt: float = 0.0
    nearest: str = ""


def worked_faces(part: Part) -> tuple[WorkedFace, ...]:
    """Every worked face of ``part``; the one that is worked most on the flat comes first."""
    body = polyhedron.base(part)
    placed = [(feature, cut, seat_of(part, body, feature, cut)) for feature, cut in part.cuts()]
    main = _main(part, body, placed)
    placed = [(f, cut, _from_main(part, body, (f, cut, name), main)) for f, cut, name in placed]
    others = [*ROLLED, "left", "right", *(f.name for f in body if f.name not in FACES)]
    seated = {name for _, _, name in placed}
    names = [main, *(name for name in others if name in seated and name != main)]
    return tuple(_worked(part, body, name, placed, is_main=name == main) for name in names)


def _main(part: Part, body: Body, placed: list[tuple[Feature, Cut, str]]) -> str:
    """The broad face with the most work that cannot be done from the other."""
    needs = {
        (name, feature)
        for feature, cut, name in placed
        if name in OVER and _from_main(part, body, (feature, cut, name), OVER[name]) == name
    }
    below = sum(name == "bottom" for name, _ in needs)
    return "bottom" if below > len(needs) - below else "top"


def _from_main(part: Part, body: Body, seated: tuple[Feature, Cut, str], main: str) -> str:
    """What goes plumb through the part is made from the main face: one turning over less."""
    feature, cut, name = seated
    if name == main or name not in OVER:
        return name
    frame = face_frame(main, _face(part, body, main), part.blank, body)
    mark = _mark(body, feature, cut, frame)
    return main if mark is not None and mark.depth is None and not mark.by_hand else name


def _worked(
    part: Part,
    body: Body,
    name: str,
    placed: list[tuple[Feature, Cut, str]],
    *,
    is_main: bool,
) -> WorkedFace:
    """Lay one face level and draw what is cut into it."""
    plane = _face(part, body, name)
    tilt, nearest = _tilt(plane.normal)
    frame = face_frame(name, plane, part.blank, body)
    outline = _outline(part.blank, body, name, frame)
    marks: list[Mark] = []
    arrises: list[Arris] = []
    for feature, cut, seat in placed:
        if seat == name and not isinstance(feature, Trim):
            mark = _mark(body, feature, cut, frame)
            if mark is not None:
                marks += _clipped(mark, outline)
        if is_main and isinstance(feature, Trim):
            marks += _slope(body, feature, frame)
        if is_main and isinstance(feature, EasedEdge):
            arrises += _arris(body, feature, frame)
    return WorkedFace(
        name=name,
        frame=frame,
        outline=outline,
        marks=tuple(marks),
        arrises=tuple(arrises),
        tilt=tilt,
        nearest=nearest,
    )


def _clipped(mark: Mark, outline: Shape) -> Iterator[Mark]:
    """The mark with its shape kept inside the outline, or nothing."""
    shape = within(mark.shape, outline)
    if shape is not None:
        yield mark if shape is mark.shape else replace(mark, shape=shape)


# ---- which face a cut is worked from


def seat_of(part: Part, body: Body, feature: Feature, cut: Cut) -> str:
    """Name the face that a cut is worked from; "" for what belongs to no face (trims, arrises)."""
    match cut:
        case Bore(start=start, into=into) | Cone(start=start, into=into):
            return _entered(part, start, into)
        case Slot(start=start, into=into):
            return _entered(part, start, into)
        case Edge():
            return ""
        case Convex():
            if isinstance(feature, Trim):
                return ""
            if isinstance(feature, Channel):
                return _entered(part, feature.seat.origin, feature.seat.into)
            return _open_side(body, cut)
    assert_never(cut)


def _entered(part: Part, start: Vec, into: Vec) -> str:
    """The plane that a tool goes in by: it holds the mouth and faces the tool most squarely."""
    planes = {**_blank_planes(part.blank), **part.base_planes()}

    def rank(name: str) -> tuple[bool, float, bool]:
        plane = planes[name]
        return (
            abs(plane.height(start)) <= polyhedron.ON_PLANE,
            round(-dot(plane.normal, into), 6),
            name in FACES,
        )

    return max(planes, key=rank)


def _blank_planes(blank: Blank) -> dict[str, Plane]:
    """All six sides, round stock taken as squared."""
    return {facet.name: facet.plane for facet in polyhedron.block(blank)}


def _open_side(body: Body, cut: Convex) -> str:
    """The side of the base on which a convex bite is best worked.

    Square walls before slanted ones, straight through from a broad face before anything else,
    then the side from which it is shallowest.
    """
    bite = polyhedron.bitten(body, cut.planes)
    mouths = [facet for facet in bite if not facet.wall and _is_side(facet, body)]
    if not mouths:
        return ""

    def rank(facet: Facet) -> tuple[bool, bool, bool, float, int]:
        depth = _depth(bite, facet.plane)
        through = _through(bite, facet.plane)
        flat = facet.name in {"top", "bottom"}
        names = [f.name for f in body]
        return (
            _lean(bite, facet.plane.normal) > SQUARE,
            facet.name not in FACES,
            not (flat and through),
            round(depth, 6),
            names.index(facet.name),
        )

    return min(mouths, key=rank).name


def _is_side(facet: Facet, body: Body) -> bool:
    """Tell whether a facet of a bite is a piece of one of the base's sides."""
    return any(facet.name == side.name and facet.plane == side.plane for side in body)


def _depth(bite: Body, face: Plane) -> float:
    """How deep a bite goes below a face (mm)."""
    return max(-face.height(corner) for corner in polyhedron.corners(bite))


def _through(bite: Body, face: Plane) -> bool:
    """Tell whether a bite has neither floor nor ceiling: it goes from one side to the other."""
    level = math.cos(math.pi / 4)
    return not any(f.wall and abs(dot(f.plane.normal, face.normal)) > level for f in bite)


def _lean(bite: Body, normal: Vec) -> float:
    """How far the worst wall of a bite is from plumb, its floor from level (degrees)."""
    return max((_off_square(f.plane.normal, normal) for f in bite if f.wall), default=0.0)


def _off_square(a: Vec, b: Vec) -> float:
    """Degrees by which two directions miss being square or parallel to one another."""
    along_b = min(abs(dot(a, b)), 1.0)
    across = norm(sub(a, scale(b, dot(a, b))))
    return math.degrees(min(math.atan2(along_b, across), math.atan2(across, along_b)))


# ---- laying a face level


def _face(part: Part, body: Body, name: str) -> Plane:
    """The plane of a face, whether or not any of it is left."""
    for facet in body:
        if facet.name == name:
            return facet.plane
    return {**_blank_planes(part.blank), **part.base_planes()}[name]


def _tilt(normal: Vec) -> tuple[float, str]:
    """Degrees from the nearest blank face, and its name."""
    name = max(FACES, key=lambda face: dot(FACES[face], normal))
    facing = FACES[name]
    sine = norm(sub(normal, scale(facing, dot(normal, facing))))
    return math.degrees(math.atan2(sine, dot(normal, facing))), name


def face_frame(name: str, plane: Plane, blank: Blank, body: Body) -> Frame:
    """The axes of a face laid level: on blank faces the blank's corner is the origin."""
    width, thickness = blank.width, blank.thickness
    known = {
        "top": Frame(X, Y, (0.0, 0.0, thickness)),
        "bottom": Frame(X, neg(Y), (0.0, width, 0.0)),
        "front": Frame(X, Z),
        "back": Frame(X, neg(Z), (0.0, width, thickness)),
        "right": Frame(Y, Z, (blank.length, 0.0, 0.0)),
        "left": Frame(neg(Y), Z, (0.0, width, 0.0)),
    }
    if name in known:
        return known[name]
    lead = X if abs(plane.normal[0]) < math.cos(math.pi / 4) else Y
    right = unit(sub(lead, scale(plane.normal, dot(lead, plane.normal))))
    turned = Frame(right, cross(plane.normal, right))
    points = [turned.inverse().point(c) for f in body if f.name == name for c in f.corners]
    u = min((p[0] for p in points), default=0.0)
    v = min((p[1] for p in points), default=0.0)
    corner = turned.point((u, v, plane.offset))
    return Frame(turned.x, turned.y, corner)


def _flat(frame: Frame, points: Iterable[Vec]) -> list[Point]:
    """Points seen on a face laid level."""
    back = frame.inverse()
    return [(u, v) for u, v, _ in (back.point(p) for p in points)]


def _outline(blank: Blank, body: Body, name: str, frame: Frame) -> Shape:
    """What the part covers, seen square to the face; a slanted face shows its own shape."""
    if name in {"left", "right"} and blank.section is Section.ROUND:
        return circle((blank.width / 2, blank.thickness / 2), blank.width / 2)
    if name in {"left", "right"} and blank.section is Section.ROUND_EDGED:
        half = blank.thickness / 2
        return obround((half, half), (blank.width - half, half), half)
    if name in FACES:
        return hull(_flat(frame, polyhedron.corners(body)))
    return hull(_flat(frame, (c for f in body if f.name == name for c in f.corners)))


# ---- what is cut into it


def _mark(body: Body, feature: Feature, cut: Cut, frame: Frame) -> Mark | None:
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
    return depth + (0.0 - gap)


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
    lean = _lean(bite, frame.z)
    slant = lean if lean > SQUARE else 0.0
    return Mark(
        feature=feature,
        shape=hull(_flat(frame, polyhedron.corners(bite))),
        depth=None if _through(bite, face) else _depth(bite, face),
        slant=slant,
        by_hand=slant > 0.0,
    )


def _slope(body: Body, feature: Trim, frame: Frame) -> Iterator[Mark]:
    """A trim that is not plumb: the strip between its upper and its lower edge."""
    for facet in body:
        if facet.name != feature.id:
            continue
        rise = dot(facet.plane.normal, frame.z)
        lean = math.degrees(math.asin(max(-1.0, min(1.0, rise))))
        shape = hull(_flat(frame, facet.corners))
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


def _arris(body: Body, feature: EasedEdge, frame: Frame) -> Iterator[Arris]:
    """The edge between two sides, where it is seen on the face."""
    sides = {facet.name: facet for facet in body}
    if any(name not in sides for name in feature.between):
        return
    a, b = (sides[name] for name in feature.between)
    shared = [c for c in a.corners if any(norm(sub(c, d)) <= TOUCH for d in b.corners)]
    if len(shared) <= 1:
        return
    start, end = _flat(frame, (shared[0], shared[-1]))
    level = max(dot(a.plane.normal, frame.z), dot(b.plane.normal, frame.z))
    if math.dist(start, end) > TOUCH and level > -LEVEL:
        yield Arris(feature=feature, line=Line(start, end), by_hand=level < 1.0 - LEVEL)
