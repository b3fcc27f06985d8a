"""A workpiece as planar faces, cut step by step: its faces, edges and corners after every cut.

Convex: what saws leave. A cut gives a new workpiece and the offcut; nothing changes in place.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from ground.vectors import Plane, Vec, add, cross, dot, norm, scale, sub, unit

ON_PLANE = 1e-7
"""A corner closer to a plane than this lies on it (mm)."""

AT_END = 3e-5
"""A face that passes an edge's end as near as this ends it (mm)."""

LEAST_FACE = 1e-3
"""A face smaller than this is gone (mm2)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A planar face: its corners counter-clockwise seen from outside."""

    name: str
    plane: Plane
    corners: tuple[Vec, ...]

    @property
    def area_vector(self) -> Vec:
        """Square to the face, as long as its area is large (mm2)."""
        first = self.corners[0]
        total: Vec = (0.0, 0.0, 0.0)
        for one, other in zip(self.corners[1:], self.corners[2:], strict=False):
            total = add(total, cross(sub(one, first), sub(other, first)))
        return scale(total, 0.5)

    @property
    def area(self) -> float:
        """Its area (mm2)."""
        return norm(self.area_vector)

    @property
    def middle(self) -> Vec:
        """The mean of its corners."""
        total = self.corners[0]
        for corner in self.corners[1:]:
            total = add(total, corner)
        return scale(total, 1 / len(self.corners))


@dataclass(frozen=True, kw_only=True)
class Workpiece:
    """A convex piece of wood by its faces; names are unique."""

    faces: tuple[Face, ...]

    @cached_property
    def by_name(self) -> dict[str, Face]:
        """Its faces by name."""
        return {face.name: face for face in self.faces}

    @cached_property
    def corners(self) -> tuple[Vec, ...]:
        """Every corner, once (or twice where two cuts worked it out a hair apart)."""
        return tuple(dict.fromkeys(corner for face in self.faces for corner in face.corners))

    @cached_property
    def _sizes(self) -> dict[Vec, float]:
        """What has been measured already."""
        return {}

    @cached_property
    def steady(self) -> dict[str, bool]:
        """On which faces it has been seen to lie steady, by whoever looked."""
        return {}

    @cached_property
    def _ends(self) -> dict[tuple[str, str], tuple[str, ...]]:
        """Which faces have been found at the ends of an edge."""
        return {}

    @cached_property
    def edges(self) -> dict[frozenset[str], tuple[Vec, Vec]]:
        """The edge between two faces by their names."""
        found: dict[frozenset[str], tuple[Vec, Vec]] = {}
        for place, one in enumerate(self.faces):
            for other in self.faces[place + 1 :]:
                ends = shared(one, other)
                if ends is not None:
                    found[frozenset((one.name, other.name))] = ends
        return found

    @property
    def volume(self) -> float:
        """What is left (mm3)."""
        return sum(dot(face.corners[0], face.area_vector) for face in self.faces) / 3

    @cached_property
    def middle(self) -> Vec:
        """The centroid of the corners: inside, good enough to stand a piece by."""
        total: Vec = (0.0, 0.0, 0.0)
        for corner in self.corners:
            total = add(total, corner)
        return scale(total, 1 / len(self.corners))

    def neighbours(self, name: str) -> tuple[str, ...]:
        """The faces that share an edge with the face ``name``, in the piece's order."""
        return tuple(face.name for face in self.faces if frozenset((name, face.name)) in self.edges)

    def ends(self, one: str, other: str) -> tuple[str, ...]:
        """The faces at the two ends of the edge between two others."""
        if (one, other) not in self._ends:
            places = self.edges.get(frozenset((one, other)), ())
            self._ends[one, other] = tuple(
                face.name
                for face in self.faces
                if face.name not in {one, other}
                and any(abs(face.plane.height(place)) < AT_END for place in places)
            )
        return self._ends[one, other]

    def length(self, one: str, other: str) -> float | None:
        """How long the edge between two faces is (mm); None where they do not meet."""
        ends = self.edges.get(frozenset((one, other)))
        return None if ends is None else norm(sub(ends[0], ends[1]))

    def span(self, direction: Vec) -> tuple[float, float]:
        """How far the piece reaches along ``direction``: lowest and highest (mm)."""
        dx, dy, dz = direction
        reached = [dx * x + dy * y + dz * z for x, y, z in self.corners]
        return min(reached), max(reached)

    def size(self, direction: Vec) -> float:
        """How large the piece is along ``direction`` (mm)."""
        if direction not in self._sizes:
            low, high = self.span(direction)
            self._sizes[direction] = high - low
        return self._sizes[direction]

    def cut(self, name: str, plane: Plane) -> "Workpiece":
        """What is left when everything outside ``plane`` is sawn off; the new face is ``name``."""
        if self.misses(plane):
            return self
        kept = [face for face in (clipped(face, plane) for face in self.faces) if face is not None]
        fresh = closing(name, plane, kept)
        return Workpiece(faces=(*kept, fresh) if fresh is not None else tuple(kept))

    def misses(self, plane: Plane) -> bool:
        """Tell whether a cut along ``plane`` would take nothing off."""
        nx, ny, nz = plane.normal
        level = plane.offset + ON_PLANE
        return all(nx * x + ny * y + nz * z <= level for x, y, z in self.corners)

    @property
    def gone(self) -> bool:
        """Tell whether nothing solid is left."""
        return len(self.faces) < 4  # noqa: PLR2004 - nothing with fewer faces is closed


def block(planes: dict[str, Plane], size: Vec) -> Workpiece:
    """A squared blank of ``size`` with a corner at the origin; ``planes`` are its six by name."""
    length, width, thickness = size
    corners = [(x, y, z) for x in (0.0, length) for y in (0.0, width) for z in (0.0, thickness)]
    faces = []
    for name, plane in planes.items():
        on = [corner for corner in corners if abs(plane.height(corner)) <= ON_PLANE]
        faces.append(Face(name=name, plane=plane, corners=around(on, plane.normal)))
    return Workpiece(faces=tuple(faces))


def clipped(face: Face, plane: Plane) -> Face | None:
    """What of ``face`` lies inside ``plane``; None where nothing does."""
    kept: list[Vec] = []
    heights = [plane.height(corner) for corner in face.corners]
    for place, corner in enumerate(face.corners):
        after = (place + 1) % len(face.corners)
        here, there = heights[place], heights[after]
        if here <= ON_PLANE:
            kept.append(corner)
        if (here > ON_PLANE and there < -ON_PLANE) or (here < -ON_PLANE and there > ON_PLANE):
            part = here / (here - there)
            kept.append(add(corner, scale(sub(face.corners[after], corner), part)))
    if len(kept) < 3:  # noqa: PLR2004 - a face has three corners at least
        return None
    found = Face(name=face.name, plane=face.plane, corners=tuple(kept))
    return found if found.area > LEAST_FACE else None


def closing(name: str, plane: Plane, kept: Iterable[Face]) -> Face | None:
    """The face that a cut leaves, from the corners that now lie on its plane."""
    on: list[Vec] = []
    for face in kept:
        for corner in face.corners:
            if abs(plane.height(corner)) <= ON_PLANE * 10 and not any(
                norm(sub(corner, other)) <= ON_PLANE * 10 for other in on
            ):
                on.append(corner)
    if len(on) < 3:  # noqa: PLR2004
        return None
    found = Face(name=name, plane=plane, corners=around(on, plane.normal))
    return found if found.area > LEAST_FACE else None


def around(corners: list[Vec], normal: Vec) -> tuple[Vec, ...]:
    """``corners`` of a convex face in order, counter-clockwise seen from outside."""
    middle = scale(
        (sum(c[0] for c in corners), sum(c[1] for c in corners), sum(c[2] for c in corners)),
        1 / len(corners),
    )
    right = unit(sub(corners[0], middle))
    up = cross(normal, right)
    return tuple(
        sorted(
            corners,
            key=lambda c: math.atan2(dot(sub(c, middle), up), dot(sub(c, middle), right)),
        )
    )


def shared(one: Face, other: Face) -> tuple[Vec, Vec] | None:
    """The ends of the edge that two faces share; None where they meet in a corner or not at all."""
    both = [corner for corner in one.corners if abs(other.plane.height(corner)) <= ON_PLANE * 100]
    both = [
        corner
        for corner in both
        if any(norm(sub(corner, own)) <= ON_PLANE * 1000 for own in other.corners)
    ]
    if len(both) < 2:  # noqa: PLR2004 - an edge has two ends
        return None
    ends = max(
        ((a, b) for place, a in enumerate(both) for b in both[place + 1 :]),
        key=lambda pair: norm(sub(pair[0], pair[1])),
    )
    return ends if norm(sub(ends[0], ends[1])) > ON_PLANE * 1000 else None
