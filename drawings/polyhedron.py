"""Convex bodies as facets, clipped plane by plane: what a convex bite really takes out of a base.

Plain Python and exact: a facet is a flat polygon on a named plane, corners counter-clockwise seen
from outside. Lengths in mm.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from ground.vectors import Plane, Vec, add, cross, dot, norm, scale, sub, unit
from models.parts.blank import FACES, Blank
from models.parts.part import Part

ON_PLANE = 1e-7
"""A corner nearer to a plane than this lies on it (mm): far below a saw, far above rounding."""

TRIANGLE = 3
"""Fewer corners enclose nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facet:
    """One flat side: ``wall`` is True where a bite leaves wood there."""

    name: str
    plane: Plane
    corners: tuple[Vec, ...]
    wall: bool = False


Body = tuple[Facet, ...]


def block(blank: Blank) -> Body:
    """The box that ``blank`` fills, round stock taken as squared."""
    far = {"top": blank.thickness, "back": blank.width, "right": blank.length}
    corners = [
        (x, y, z)
        for x in (0.0, blank.length)
        for y in (0.0, blank.width)
        for z in (0.0, blank.thickness)
    ]
    facets = []
    for name, normal in FACES.items():
        plane = Plane(normal, far.get(name, 0.0))
        on = [corner for corner in corners if abs(plane.height(corner)) <= ON_PLANE]
        facets.append(Facet(name=name, plane=plane, corners=ring(on, normal)))
    return tuple(facets)


@lru_cache(maxsize=16)
def base(part: Part) -> Body:
    """The convex base of ``part``: its blank less everything beyond its trims."""
    body = block(part.blank)
    own = part.blank.planes()
    for name, plane in part.base_planes().items():
        if name not in own:
            body = clipped(body, plane, Facet(name=name, plane=plane, corners=()))
    return body


def bitten(body: Body, planes: Iterable[tuple[str, Plane]]) -> Body:
    """What lies in ``body`` and inside every one of ``planes``; empty where nothing does."""
    for name, plane in planes:
        body = clipped(body, plane, Facet(name=name, plane=plane, corners=(), wall=bool(name)))
    return body


def clipped(body: Body, plane: Plane, cut: Facet) -> Body:
    """Keep the inside of ``plane``; where it cuts, the new side is named as ``cut`` is."""
    kept: list[Facet] = []
    rim: list[Vec] = []
    outside = False
    for facet in body:
        corners, touching, beyond = _halved(facet.corners, plane)
        outside = outside or beyond
        rim += touching
        if len(corners) >= TRIANGLE:
            kept.append(Facet(name=facet.name, plane=facet.plane, corners=corners, wall=facet.wall))
    if not outside:
        return body
    cap = ring(rim, plane.normal)
    if len(cap) < TRIANGLE or len(kept) < TRIANGLE:
        return ()
    kept = [facet for facet in kept if not _same(facet.plane, plane)]
    return (*kept, Facet(name=cut.name, plane=plane, corners=cap, wall=cut.wall))


def _same(a: Plane, b: Plane) -> bool:
    """Tell whether two planes are one."""
    return dot(a.normal, b.normal) > 1.0 - ON_PLANE and abs(a.offset - b.offset) <= ON_PLANE


def _halved(corners: tuple[Vec, ...], plane: Plane) -> tuple[tuple[Vec, ...], list[Vec], bool]:
    """One polygon's inside, its corners on the plane, and whether any of it lay beyond."""
    heights = [plane.height(corner) for corner in corners]
    heights = [0.0 if abs(height) <= ON_PLANE else height for height in heights]
    inside: list[Vec] = []
    touching: list[Vec] = []
    for place, (corner, height) in enumerate(zip(corners, heights, strict=True)):
        after = (place + 1) % len(corners)
        if height <= 0.0:
            inside.append(corner)
        if height == 0.0:
            touching.append(corner)
        if height * heights[after] < 0.0:
            point = _crossing(corner, height, corners[after], heights[after])
            inside.append(point)
            touching.append(point)
    flat = all(height == 0.0 for height in heights if height <= 0.0)
    return (() if flat and max(heights) > 0.0 else tuple(inside)), touching, max(heights) > 0.0


def _crossing(a: Vec, height_a: float, b: Vec, height_b: float) -> Vec:
    """Where the edge meets the plane, worked from the inside out so that neighbours agree."""
    if height_a > height_b:
        a, height_a, b, height_b = b, height_b, a, height_a
    return add(a, scale(sub(b, a), height_a / (height_a - height_b)))


def ring(points: list[Vec], normal: Vec) -> tuple[Vec, ...]:
    """Distinct ``points`` of a convex polygon in order, counter-clockwise about ``normal``."""
    distinct: list[Vec] = []
    for point in points:
        if all(norm(sub(point, other)) > ON_PLANE for other in distinct):
            distinct.append(point)
    if len(distinct) < TRIANGLE:
        return tuple(distinct)
    total = (0.0, 0.0, 0.0)
    for point in distinct:
        total = add(total, point)
    middle = scale(total, 1.0 / len(distinct))
    right = unit(sub(max(distinct, key=lambda p: norm(sub(p, middle))), middle))
    up = cross(normal, right)

    def turn(point: Vec) -> float:
        arm = sub(point, middle)
        return math.atan2(dot(arm, up), dot(arm, right))

    return tuple(sorted(distinct, key=turn))


def corners(body: Body) -> tuple[Vec, ...]:
    """Every corner of ``body``, those shared by facets as often as they are met."""
    return tuple(corner for facet in body for corner in facet.corners)


def area(facet: Facet) -> float:
    """Area of ``facet`` (mm2)."""
    first = facet.corners[0]
    total = (0.0, 0.0, 0.0)
    for a, b in zip(facet.corners[1:], facet.corners[2:], strict=False):
        total = add(total, cross(sub(a, first), sub(b, first)))
    return norm(total) / 2
