"""The wood left between cuts, worked in three dimensions.

A mortise, a round hole and the tongue of a tenon are all one shape here: a round-ended bar. Depths
and directions may lie at any slant to one another, so walls are not read off one view.
"""

import math

from ground.vectors import Plane, Vec, add, dot, norm, scale, sub
from models.parts.features import Mortise, Seat

LEAST_WALL = 3.0
"""mm of wood beside a mortise (check-values 7.3: 3 mm wall minimum)."""

_STEPS = 4000
_STILL = 1e-9


def reach(mortise: Mortise, way: Vec) -> float:
    """How far the mortise goes in the direction ``way`` (unit vector), from the origin (mm)."""
    seat = mortise.seat
    straight = (mortise.length - mortise.width) / 2
    flank = math.hypot(dot(seat.along, way), dot(seat.across, way))
    return (
        dot(seat.origin, way)
        + straight * abs(dot(seat.along, way))
        + mortise.width / 2 * flank
        + max(0.0, mortise.depth * dot(seat.into, way))
    )


def wall_to(mortise: Mortise, face: Plane) -> float:
    """The least wood between the mortise and ``face``, whose normal points out of the wood (mm)."""
    return face.offset - reach(mortise, face.normal)


def wall_between(one: Mortise, other: Mortise) -> float:
    """The least wood between two mortises (mm); 0 where they meet.

    Both are convex, so going from one to the nearest point of the other and back ends at the
    closest pair of points.
    """
    here = _middle(one)
    for _ in range(_STEPS):
        there = _nearest(other, here)
        back = _nearest(one, there)
        if norm(sub(back, here)) < _STILL:
            break
        here = back
    return norm(sub(_nearest(other, here), here))


def _middle(mortise: Mortise) -> Vec:
    return add(mortise.seat.origin, scale(mortise.seat.into, mortise.depth / 2))


def _nearest(mortise: Mortise, point: Vec) -> Vec:
    """The point of the mortise nearest to ``point``."""
    seat = mortise.seat
    off = sub(point, seat.origin)
    u, v, w = dot(off, seat.along), dot(off, seat.across), dot(off, seat.into)
    half, radius = (mortise.length - mortise.width) / 2, mortise.width / 2
    centre = min(half, max(-half, u))
    away = math.hypot(u - centre, v)
    shrink = 1.0 if away <= radius else radius / away
    return _at(seat, centre + (u - centre) * shrink, v * shrink, min(mortise.depth, max(0.0, w)))


def _at(seat: Seat, u: float, v: float, w: float) -> Vec:
    place = add(seat.origin, scale(seat.along, u))
    return add(place, add(scale(seat.across, v), scale(seat.into, w)))
