"""What a convex bite is like from a face: how deep, whether right through, how far off square.

Lengths in mm, angles in degrees.
"""

import math

from drawings import polyhedron
from drawings.polyhedron import Body
from ground.vectors import Plane, Vec, dot, norm, scale, sub

SQUARE = 0.02
"""A direction within this many degrees of square is square: finer than any saw's scale."""

LEVEL = 1e-9
"""A unit vector whose share across a plane is smaller runs along it."""


def depth_of(bite: Body, face: Plane) -> float:
    """How deep a bite goes below a face (mm)."""
    return max(-face.height(corner) for corner in polyhedron.corners(bite))


def goes_through(bite: Body, face: Plane) -> bool:
    """Tell whether a bite has neither floor nor ceiling: it goes from one side to the other."""
    level = math.cos(math.pi / 4)
    return not any(f.wall and abs(dot(f.plane.normal, face.normal)) > level for f in bite)


def lean_of(bite: Body, normal: Vec) -> float:
    """How far the worst wall of a bite is from plumb, its floor from level (degrees)."""
    return max((_off_square(f.plane.normal, normal) for f in bite if f.wall), default=0.0)


def _off_square(a: Vec, b: Vec) -> float:
    """Degrees by which two directions miss being square or parallel to one another."""
    along_b = min(abs(dot(a, b)), 1.0)
    across = norm(sub(a, scale(b, dot(a, b))))
    return math.degrees(min(math.atan2(along_b, across), math.atan2(across, along_b)))
