"""Convex bodies by their faces: clipped by planes, weighed, without the CAD kernel.

A body is a tuple of faces, a face a loop of corners; lengths in mm.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ground.vectors import ORIGIN, Plane, Vec, add, cross, dot, norm, scale, sub

Face = tuple[Vec, ...]
Body = tuple[Face, ...]

ON_PLANE = 1e-7
"""A corner this near a plane lies on it (mm)."""
UPRIGHT = 1 - 1e-14
"""Cosine of a direction that is within 1.5e-7 radians of an axis: 0.0002 mm in a long case."""


@dataclass(frozen=True, slots=True)
class Lump:
    """A volume (mm3) and its first moment (mm4): lumps are added and taken away by both."""

    volume: float = 0.0
    moment: Vec = ORIGIN

    @property
    def centre(self) -> Vec:
        """The middle of the volume.

        Raises:
            ZeroDivisionError: there is no volume.
        """
        return scale(self.moment, 1 / self.volume)

    def plus(self, other: "Lump", times: float = 1.0) -> "Lump":
        """This lump and ``times`` the other."""
        return Lump(
            self.volume + times * other.volume, add(self.moment, scale(other.moment, times))
        )


def at(volume: float, centre: Vec) -> Lump:
    """A lump by its volume and middle."""
    return Lump(volume, scale(centre, volume))


def box(size: Vec) -> Body:
    """A box with a corner at the origin."""
    return block(ORIGIN, size)


def block(low: Vec, high: Vec) -> Body:
    """A box from its lowest to its highest corner; nothing where it has no thickness."""
    (x, y, z), (a, b, c) = low, high
    if min(a - x, b - y, c - z) <= ON_PLANE:
        return ()
    near = ((x, y, z), (a, y, z), (a, b, z), (x, b, z))
    far = tuple((p, q, c) for p, q, _ in near)
    walls = tuple((near[i], near[(i + 1) % 4], far[(i + 1) % 4], far[i]) for i in range(4))
    return (tuple(reversed(near)), far, *walls)


def between(planes: Iterable[Plane]) -> tuple[Vec, Vec] | None:
    """The box inside planes along the axes, by its lowest and highest corner; None: one is not so.

    Its highest corner is below its lowest where nothing is inside.
    """
    low, high = [-math.inf] * 3, [math.inf] * 3
    for plane in planes:
        for axis, part in enumerate(plane.normal):
            if part >= UPRIGHT:
                high[axis] = min(high[axis], plane.offset)
                break
            if part <= -UPRIGHT:
                low[axis] = max(low[axis], -plane.offset)
                break
        else:
            return None
    (x, y, z), (a, b, c) = low, high
    return (x, y, z), (a, b, c)


def corners(body: Body) -> set[Vec]:
    """Every corner once."""
    return {corner for face in body for corner in face}


def clipped(body: Body, plane: Plane) -> Body:
    """What of ``body`` lies inside ``plane``; nothing where there is none."""
    (a, b, c), offset = plane.normal, plane.offset
    # Written out: nothing in a check is done more often.
    heights = {p: a * p[0] + b * p[1] + c * p[2] - offset for face in body for p in face}
    if max(heights.values()) <= ON_PLANE:
        return body
    if min(heights.values()) >= -ON_PLANE:
        return ()
    faces: list[Face] = []
    rim: list[Vec] = []
    for face in body:
        kept = _kept(face, heights, rim)
        if len(kept) >= 3:  # noqa: PLR2004 - a face has three corners at least
            faces.append(kept)
    lid = _lid(rim, plane.normal)
    return (*faces, lid) if lid else tuple(faces)


def _kept(face: Face, heights: dict[Vec, float], rim: list[Vec]) -> Face:
    """The part of a face below the plane; corners on the plane also go to ``rim``."""
    kept: list[Vec] = []
    for here, there in zip(face, (*face[1:], face[0]), strict=True):
        low, high = heights[here], heights[there]
        if low <= ON_PLANE:
            kept.append(here)
            if low >= -ON_PLANE:
                rim.append(here)
        if (low < -ON_PLANE and high > ON_PLANE) or (low > ON_PLANE and high < -ON_PLANE):
            share = low / (low - high)
            met = add(here, scale(sub(there, here), share))
            kept.append(met)
            rim.append(met)
    return tuple(kept)


def _lid(rim: Sequence[Vec], normal: Vec) -> Face:
    """The new face that closes a clipped body: its corners in order round ``normal``."""
    middle = scale(total(rim), 1 / len(rim))
    right = max((sub(p, middle) for p in rim), key=norm)
    if norm(right) < ON_PLANE:
        return ()
    up = cross(normal, right)
    turned = sorted(
        ((math.atan2(dot(d := sub(p, middle), up), dot(d, right)), p) for p in rim),
        key=lambda one: one[0],
    )
    loop: list[Vec] = []
    for _, p in turned:
        if not loop or norm(sub(p, loop[-1])) > ON_PLANE:
            loop.append(p)
    if len(loop) > 1 and norm(sub(loop[0], loop[-1])) <= ON_PLANE:
        loop.pop()
    return tuple(loop) if len(loop) >= 3 else ()  # noqa: PLR2004 - as above


def inside(body: Body, planes: Iterable[Plane]) -> Body:
    """What of ``body`` lies inside every plane."""
    for plane in planes:
        if not body:
            return ()
        body = clipped(body, plane)
    return body


def apart(points: Iterable[Vec], planes: Iterable[Plane]) -> bool:
    """Whether one of ``planes`` leaves every one of ``points`` outside of it."""
    for plane in planes:
        (a, b, c), offset = plane.normal, plane.offset
        if all(a * x + b * y + c * z >= offset - ON_PLANE for x, y, z in points):
            return True
    return False


def lump(body: Body) -> Lump:
    """Volume and moment of a convex body."""
    if not body:
        return Lump()
    apex = body[0][0]
    volume, moment = 0.0, ORIGIN
    for face in body:
        first = face[0]
        for one, two in pairwise(face[1:]):
            a, b, c = sub(first, apex), sub(one, apex), sub(two, apex)
            sixth = dot(a, cross(b, c)) / 6
            volume += sixth
            middle = scale(total((apex, first, one, two)), 0.25)
            moment = add(moment, scale(middle, sixth))
    return Lump(volume, moment)


def removed(body: Body, cuts: Sequence[tuple[Plane, ...]]) -> Lump:
    """What convex ``cuts`` take from ``body``, wood that two of them meet in counted once."""
    found = Lump()
    for place, cut in enumerate(cuts):
        bite = inside(body, cut)
        if bite:
            found = found.plus(lump(bite)).plus(removed(bite, cuts[:place]), -1.0)
    return found


def chord(start: Vec, into: Vec, planes: Iterable[Plane]) -> float:
    """How far a line from ``start`` along the unit vector ``into`` stays inside ``planes``."""
    leaves = math.inf
    for plane in planes:
        speed = dot(plane.normal, into)
        if speed > ON_PLANE:
            leaves = min(leaves, -plane.height(start) / speed)
    return max(leaves, 0.0)


def total(points: Iterable[Vec]) -> Vec:
    """Sum of vectors."""
    x = y = z = 0.0
    for p in points:
        x, y, z = x + p[0], y + p[1], z + p[2]
    return (x, y, z)
