"""Convex shapes as arrays: how far apart two of them stand, without the CAD kernel.

Two convex shapes are apart exactly where some plane parts them; such a plane lies along a face of
one of them, or along an edge of each (separating axes). Rods are 24-sided: true to 1 % of their
radius.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checks.solid_geometry import Body, corners, inside
from checks.volumes import body_of
from ground.vectors import Frame, Plane
from models.parts.blank import Section
from models.parts.cuts import Convex
from models.parts.part import Part

Array = NDArray[np.float64]

SIDES = 24
"""A rod counts as a prism with so many sides."""
_DECIMALS = 9
_NO_LENGTH = 1e-9
MOST_PIECES = 400
"""A part is not cut up any further than this: it then counts as fuller than it is."""


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A convex shape in piece axes: its ``corners``, its faces' ``normals``, its ``edges``.

    Directions are one a row, either sign, none twice.
    """

    corners: Array
    normals: Array
    edges: Array

    @property
    def box(self) -> tuple[Array, Array]:
        """The upright box around it."""
        return self.corners.min(axis=0), self.corners.max(axis=0)


def shape(body: Body, place: Frame) -> Shape:
    """A convex body put where ``place`` says."""
    turn = np.array((place.x, place.y, place.z))
    points = np.array(sorted(corners(body))) @ turn + np.array(place.origin)
    normals = directions(_normal(np.array(face)) for face in body)
    edges = directions(
        np.array(there) - np.array(here)
        for face in body
        for here, there in zip(face, (*face[1:], face[0]), strict=True)
    )
    return Shape(points, normals @ turn, edges @ turn)


def whole(part: Part) -> Body:
    """A part as one convex body: its base, its cuts not taken out; a rod with its sides."""
    if part.blank.section is Section.ROUND:
        return _prism(part.blank.length, part.blank.width / 2)
    return body_of(part)


def pieces(part: Part) -> tuple[Body, ...]:
    """The convex bodies that a part falls into, flat-sided cuts taken out, holes not."""
    left: list[Body] = [whole(part)]
    for _, cut in part.cuts():
        if isinstance(cut, Convex) and len(left) < MOST_PIECES:
            planes = tuple(plane for _, plane in cut.planes)
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


def swept(one: Shape, move: Array) -> Shape:
    """All that ``one`` passes on its way along ``move``, which is convex again."""
    way = move / np.linalg.norm(move)
    sides = np.cross(one.edges, way)
    return Shape(
        np.vstack((one.corners, one.corners + move)),
        directions((*one.normals, *sides)),
        directions((*one.edges, way)),
    )


def turned(one: Shape, turns: Array, origin: Array) -> tuple[Array, Array, Array]:
    """Corners, normals and edges of ``one`` turned about ``origin`` by each of ``turns``."""
    points = np.einsum("sij,nj->sni", turns, one.corners - origin) + origin
    normals = np.einsum("sij,nj->sni", turns, one.normals)
    edges = np.einsum("sij,nj->sni", turns, one.edges)
    return points, normals, edges


def rotations(axis: Sequence[float], angles: Array) -> Array:
    """The matrix of every turn about ``axis`` (a unit vector, right hand) by ``angles`` (degrees).

    By the formula of Rodrigues.
    """
    x, y, z = axis
    cross = np.array(((0.0, -z, y), (z, 0.0, -x), (-y, x, 0.0)))
    radians = np.radians(angles)[:, None, None]
    about: Array = np.eye(3) + np.sin(radians) * cross + (1.0 - np.cos(radians)) * (cross @ cross)
    return about


def room(moving: tuple[Array, Array, Array], still: Shape) -> Array:
    """The room between a moving shape and one that stands still, for every step (mm).

    ``moving`` is as ``turned`` gives it. Less than nothing: they share space, by so much at least
    along every axis that was tried. What stands corner to corner is further apart than this says.
    """
    points, normals, edges = moving
    crossed = np.cross(edges[:, :, None, :], still.edges[None, None, :, :])
    crossed = crossed.reshape(len(points), -1, 3)
    steps = len(points)
    fixed = np.broadcast_to(still.normals, (steps, *still.normals.shape))
    axes = np.concatenate((normals, fixed, crossed), axis=1)
    lengths = np.linalg.norm(axes, axis=2)
    none = lengths < _NO_LENGTH
    axes = axes / np.where(none, 1.0, lengths)[:, :, None]
    mine = np.einsum("sni,ski->snk", points, axes)
    yours = np.einsum("ni,ski->snk", still.corners, axes)
    gaps = np.maximum(mine.min(axis=1) - yours.max(axis=1), yours.min(axis=1) - mine.max(axis=1))
    found: Array = np.where(none, -np.inf, gaps).max(axis=1)
    return found


def standing(one: Shape) -> tuple[Array, Array, Array]:
    """A shape in one step: where it is."""
    return one.corners[None], one.normals[None], one.edges[None]


def directions(found: Iterable[Array]) -> Array:
    """Directions made one long, those that differ by their sign alone kept once."""
    kept: dict[tuple[float, ...], Array] = {}
    for way in found:
        length = float(np.linalg.norm(way))
        if length < _NO_LENGTH:
            continue
        plain = np.round(way / length, _DECIMALS) + 0.0
        first = plain[np.flatnonzero(plain)[0]]
        kept.setdefault(tuple(plain if first > 0 else 0.0 - plain), way / length)
    return np.array(list(kept.values()))


def _normal(face: Array) -> Array:
    """The normal of a face whose first corners may lie on one line."""
    middle = face.mean(axis=0)
    around = np.cross(face - middle, np.roll(face, -1, axis=0) - middle)
    normal: Array = around.sum(axis=0)
    return normal


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
