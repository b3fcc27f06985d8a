"""Convex shapes: how far apart two of them stand, without the CAD kernel.

Two convex shapes are apart exactly where some plane parts them; such a plane lies along a face of
one of them, or along an edge of each (separating axes). Rods are 24-sided: true to 1 % of their
radius. Plain Python, so that a check need not wait for a library of arrays.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from checks.solid_geometry import Body, Face, corners, inside
from checks.volumes import body_of
from ground.vectors import ORIGIN, Frame, Plane, Vec, add, cross, scale, sub
from models.parts.blank import Section
from models.parts.cuts import Convex
from models.parts.part import Part

Vecs = tuple[Vec, ...]
Box = tuple[Vec, Vec]
"""An upright box from its lower to its upper corner."""
Turn = tuple[Vec, Vec, Vec]
"""The rows of a matrix that turns a vector."""

SIDES = 24
"""A rod counts as a prism with so many sides."""
_DECIMALS = 9
_NO_LENGTH = 1e-9
MOST_PIECES = 400
"""A part is not cut up any further than this: it then counts as fuller than it is."""


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A convex shape in piece axes: its ``corners``, its faces' ``normals``, its ``edges``.

    Directions are one long, either sign, none twice. ``box`` is the upright box around it.
    """

    corners: Vecs
    normals: Vecs
    edges: Vecs
    box: Box


def formed(points: Vecs, normals: Vecs, edges: Vecs) -> Shape:
    """A shape with its box."""
    return Shape(points, normals, edges, spanned(points))


def spanned(points: Vecs) -> Box:
    """The upright box of points, from corner to corner."""
    xs, ys, zs = zip(*points, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def box_of(boxes: Iterable[Box]) -> Box:
    """The upright box around several."""
    return spanned(tuple(corner for box in boxes for corner in box))


def corners_of(box: Box) -> Vecs:
    """The eight corners of an upright box."""
    (a, b, c), (d, e, f) = box
    return tuple((x, y, z) for x in (a, d) for y in (b, e) for z in (c, f))


@lru_cache(maxsize=1024)  # some five pieces' worth of copies: most stand where they stood
def shape(body: Body, place: Frame) -> Shape:
    """A convex body put where ``place`` says; the same shape again for the same place."""
    points, normals, edges = _figure(body)
    turn = tuple(zip(place.x, place.y, place.z, strict=True))
    carry = (turn[0], turn[1], turn[2])
    put = tuple(add(p, place.origin) for p in spun(points, carry))
    return formed(put, spun(normals, carry), spun(edges, carry))


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def _figure(body: Body) -> tuple[Vecs, Vecs, Vecs]:
    """Corners, normals and edges of a body in its own axes."""
    edges = (
        sub(there, here)
        for face in body
        for here, there in zip(face, (*face[1:], face[0]), strict=True)
    )
    return tuple(sorted(corners(body))), directions(map(_normal, body)), directions(edges)


def whole(part: Part) -> Body:
    """A part as one convex body: its base, its cuts not taken out; a rod with its sides."""
    if part.blank.section is Section.ROUND:
        return _prism(part.blank.length, part.blank.width / 2)
    return body_of(part)


def pieces(part: Part) -> tuple[Body, ...]:
    """The convex bodies that a part falls into, flat-sided cuts taken out, holes not."""
    flat = (cut for _, cut in part.cuts() if isinstance(cut, Convex))
    return _pieces(whole(part), tuple(tuple(plane for _, plane in cut.planes) for cut in flat))


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def _pieces(body: Body, cuts: tuple[tuple[Plane, ...], ...]) -> tuple[Body, ...]:
    left = [body]
    for planes in cuts:
        if len(left) < MOST_PIECES:
            left = [bit for body in left for bit in _without(body, planes)]
    return tuple(left)


def _without(body: Body, planes: tuple[Plane, ...]) -> Iterator[Body]:
    """What of ``body`` is left when what lies inside all ``planes`` goes."""
    if not inside(body, planes):
        yield body
        return
    rest = body
    for plane in planes:
        beyond = inside(rest, (plane.flipped(),))
        if beyond:
            yield beyond
        rest = inside(rest, (plane,))


def shifted(one: Shape, move: Vec) -> Shape:
    """A shape moved along, not turned."""
    points = tuple(add(p, move) for p in one.corners)
    lo, hi = one.box
    return Shape(points, one.normals, one.edges, (add(lo, move), add(hi, move)))


def swept(one: Shape, move: Vec) -> Shape:
    """All that ``one`` passes on its way along ``move``, which is convex again."""
    sides = (cross(edge, move) for edge in one.edges)
    return formed(
        (*one.corners, *(add(p, move) for p in one.corners)),
        directions((*one.normals, *sides)),
        directions((*one.edges, move)),
    )


def turned(one: Shape, turn: Turn, origin: Vec) -> Shape:
    """A shape turned about ``origin``."""
    points = spun(one.corners, turn, origin)
    return formed(points, spun(one.normals, turn), spun(one.edges, turn))


def spun(points: Vecs, turn: Turn, about: Vec = ORIGIN) -> Vecs:
    """Points turned about one of their own."""
    (a, b, c), (d, e, f), (g, h, i) = turn
    p, q, r = about
    # What does not turn is the same for all: p - turn p. Written out: it is done very often.
    u, v, w = (
        p - (a * p + b * q + c * r),
        q - (d * p + e * q + f * r),
        r - (g * p + h * q + i * r),
    )
    return tuple(
        (
            a * x + b * y + c * z + u,
            d * x + e * y + f * z + v,
            g * x + h * y + i * z + w,
        )
        for x, y, z in points
    )


def rotation(axis: Vec, degrees: float) -> Turn:
    """The turn about ``axis`` (a unit vector, right hand), by the formula of Rodrigues."""
    x, y, z = axis
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    rest = 1.0 - cos
    return (
        (cos + x * x * rest, x * y * rest - z * sin, x * z * rest + y * sin),
        (y * x * rest + z * sin, cos + y * y * rest, y * z * rest - x * sin),
        (z * x * rest - y * sin, z * y * rest + x * sin, cos + z * z * rest),
    )


def beside(one: Box, other: Box) -> float:
    """The room between two upright boxes: the room between what is in them is no less."""
    (a, b, c), (d, e, f) = one
    (g, h, i), (j, k, m) = other
    return max(g - d, h - e, i - f, a - j, b - k, c - m)


def room(one: Shape, other: Shape, *, enough: float = math.inf) -> float:
    """The room between two shapes (mm); the search ends where there is ``enough``.

    Less than nothing: they share space, by so much at least along every axis that was tried. What
    stands corner to corner is further apart than this says.
    """
    most = -math.inf
    for axis in _axes(one, other):
        gap = _along(one, other, axis)
        if gap > most:
            most = gap
            if most >= enough:
                break
    return most


def _axes(one: Shape, other: Shape) -> Iterator[Vec]:
    """Every direction that may part two convex shapes, one long."""
    yield from one.normals
    yield from other.normals
    for mine in one.edges:
        for theirs in other.edges:
            way = cross(mine, theirs)
            length = math.hypot(*way)
            if length >= _NO_LENGTH:
                yield scale(way, 1 / length)


def _along(one: Shape, other: Shape, axis: Vec) -> float:
    """The gap between two shapes along an axis."""
    x, y, z = axis
    # Written out: nothing in this check is done more often.
    mine = [x * a + y * b + z * c for a, b, c in one.corners]
    yours = [x * a + y * b + z * c for a, b, c in other.corners]
    return max(min(mine) - max(yours), min(yours) - max(mine))


def directions(found: Iterable[Vec]) -> Vecs:
    """Directions made one long, those that differ by their sign alone kept once."""
    kept: dict[Vec, Vec] = {}
    for way in found:
        length = math.hypot(*way)
        if length < _NO_LENGTH:
            continue
        made = scale(way, 1 / length)
        x, y, z = (round(number, _DECIMALS) + 0.0 for number in made)
        key = (x, y, z) if (x or y or z) > 0 else (0.0 - x, 0.0 - y, 0.0 - z)
        kept.setdefault(key, made)
    return tuple(kept.values())


def _normal(face: Face) -> Vec:
    """The normal of a face whose first corners may lie on one line."""
    way = (0.0, 0.0, 0.0)
    for here, there in zip(face, (*face[1:], face[0]), strict=True):
        way = add(way, cross(sub(here, face[0]), sub(there, face[0])))
    return way


def _prism(length: float, radius: float) -> Body:
    """A rod as a prism of ``SIDES`` sides whose corners lie on the rod."""
    turn = 2 * math.pi / SIDES
    ring = [
        (radius + radius * math.cos(i * turn), radius + radius * math.sin(i * turn))
        for i in range(SIDES)
    ]
    near = tuple((0.0, y, z) for y, z in ring)
    far = tuple((length, y, z) for y, z in ring)
    walls = tuple(
        (near[i], near[(i + 1) % SIDES], far[(i + 1) % SIDES], far[i]) for i in range(SIDES)
    )
    return (tuple(reversed(near)), far, *walls)
