"""Vectors, planes and frames in plain Python: right-handed, mm.

A ``Vec`` is a tuple of three floats. Nothing here knows wood or the CAD kernel.
"""

import math
from dataclasses import dataclass
from typing import Self

Vec = tuple[float, float, float]

X: Vec = (1.0, 0.0, 0.0)
Y: Vec = (0.0, 1.0, 0.0)
Z: Vec = (0.0, 0.0, 1.0)
ORIGIN: Vec = (0.0, 0.0, 0.0)


def add(a: Vec, b: Vec) -> Vec:
    """Sum of two vectors."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def sub(a: Vec, b: Vec) -> Vec:
    """The vector from ``b`` to ``a``."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vec, by: float) -> Vec:
    """``a`` made ``by`` times as long."""
    return (a[0] * by, a[1] * by, a[2] * by)


def neg(a: Vec) -> Vec:
    """The opposite of ``a`` (never a negative zero)."""
    return (0.0 - a[0], 0.0 - a[1], 0.0 - a[2])


def dot(a: Vec, b: Vec) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec, b: Vec) -> Vec:
    """Vector product, right-handed."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def norm(a: Vec) -> float:
    """Length of ``a``."""
    return math.sqrt(dot(a, a))


def unit(a: Vec) -> Vec:
    """``a`` made one long.

    Raises:
        ZeroDivisionError: ``a`` has no length.
    """
    return scale(a, 1.0 / norm(a))


def along(start: Vec, direction: Vec, distance: float) -> Vec:
    """The point ``distance`` from ``start`` in ``direction``."""
    return add(start, scale(direction, distance))


def angle(a: Vec, b: Vec) -> float:
    """The angle between two vectors in degrees, 0 to 180."""
    return math.degrees(math.atan2(norm(cross(a, b)), dot(a, b)))


@dataclass(frozen=True, slots=True)
class Plane:
    """The half-space ``normal . p <= offset``; ``normal`` is a unit vector that points out."""

    normal: Vec
    offset: float

    @classmethod
    def through(cls, point: Vec, normal: Vec) -> Self:
        """The plane through ``point`` with outward ``normal`` (of any length)."""
        n = unit(normal)
        return cls(n, dot(n, point))

    def flipped(self) -> "Plane":
        """The same plane with the other side kept."""
        return Plane(neg(self.normal), 0.0 - self.offset)

    def height(self, point: Vec) -> float:
        """How far ``point`` lies outside (positive) or inside (negative) of the plane."""
        return dot(self.normal, point) - self.offset


def meet(a: Plane, b: Plane, c: Plane) -> Vec:
    """The point where three planes meet.

    Raises:
        ZeroDivisionError: the planes have no single point in common.
    """
    bc, ca, ab = cross(b.normal, c.normal), cross(c.normal, a.normal), cross(a.normal, b.normal)
    total = add(add(scale(bc, a.offset), scale(ca, b.offset)), scale(ab, c.offset))
    return scale(total, 1.0 / dot(a.normal, bc))


@dataclass(frozen=True, slots=True)
class Frame:
    """A rigid place: ``x y z`` are a part's axes seen from outside, ``origin`` its corner.

    Always a rotation and a shift, never a mirror: ``z`` is ``x`` cross ``y``.
    """

    x: Vec = X
    y: Vec = Y
    origin: Vec = ORIGIN

    @property
    def z(self) -> Vec:
        """The third axis."""
        return cross(self.x, self.y)

    def point(self, p: Vec) -> Vec:
        """Carry a point from the part's axes outside."""
        return add(self.origin, self.direction(p))

    def direction(self, d: Vec) -> Vec:
        """Carry a direction from the part's axes outside."""
        # Written out, to the same last figure: nothing is done more often.
        (a, b, c), (e, f, g), (p, q, r) = self.x, self.y, d
        return (
            a * p + e * q + (b * g - c * f) * r,
            b * p + f * q + (c * e - a * g) * r,
            c * p + g * q + (a * f - b * e) * r,
        )

    def plane(self, plane: Plane) -> Plane:
        """Carry a plane from the part's axes outside."""
        normal = self.direction(plane.normal)
        return Plane(normal, plane.offset + dot(normal, self.origin))

    def inverse(self) -> "Frame":
        """The frame that carries back."""
        z = self.z
        x: Vec = (self.x[0], self.y[0], z[0])
        y: Vec = (self.x[1], self.y[1], z[1])
        turned = Frame(x, y)
        return Frame(x, y, neg(turned.direction(self.origin)))

    def then(self, outer: "Frame") -> "Frame":
        """This frame, carried on by ``outer``."""
        return Frame(outer.direction(self.x), outer.direction(self.y), outer.point(self.origin))

    def matrix(self) -> tuple[tuple[float, float, float, float], ...]:
        """The 4 x 4 matrix, row by row."""
        z, o = self.z, self.origin
        return (
            (self.x[0], self.y[0], z[0], o[0]),
            (self.x[1], self.y[1], z[1], o[1]),
            (self.x[2], self.y[2], z[2], o[2]),
            (0.0, 0.0, 0.0, 1.0),
        )
