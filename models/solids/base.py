"""Half-spaces to a convex body, without the kernel and without any boolean.

The planes of a part (its blank's faces, tapers, splays, mitres, bevels, facets) bound one convex
body: its corners are where three planes meet inside all others.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ground.errors import BuildError
from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, Vec, angle
from models.parts.features import Trim
from models.parts.part import Part
from models.solids.hulls import cross

SAME_NORMAL = 1e-9
"""Normals closer than this are parallel (sine of the angle)."""

FLAT_CORNER = 1e-7
"""Three planes whose normals span less than this have no corner (determinant)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arris:
    """Where two planes of a convex body meet; ``dihedral`` is the angle inside it (degrees)."""

    between: tuple[str, str]
    start: Vec
    end: Vec
    dihedral: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Polyhedron:
    """A convex body: ``points`` (n, 3), a ``loop`` of corners a plane, seen from outside.

    ``planes`` holds only planes that bound it; ``same`` maps the name of a plane that lies on
    another one to the name that was kept.
    """

    planes: dict[str, Plane]
    points: NDArray[np.float64]
    loops: dict[str, tuple[int, ...]]
    same: dict[str, str]

    def arrises(self) -> tuple[Arris, ...]:
        """Every edge once, in the order of its planes."""
        faces = {pair: name for name, loop in self.loops.items() for pair in pairs(loop)}
        return tuple(
            self._arris((name, faces[j, i]), i, j) for (i, j), name in faces.items() if i < j
        )

    def arris(self, first: str, second: str) -> Arris | None:
        """The edge between two planes by name; None where they do not meet on the body."""
        first, second = self.same.get(first, first), self.same.get(second, second)
        if first == second or first not in self.loops or second not in self.loops:
            return None
        back = {(j, i) for i, j in pairs(self.loops[second])}
        shared = next((pair for pair in pairs(self.loops[first]) if pair in back), None)
        return None if shared is None else self._arris((first, second), *shared)

    def sides(self) -> NDArray[np.intp]:
        """Every edge once, as the places of its two corners."""
        return np.array([(i, j) for loop in self.loops.values() for i, j in pairs(loop) if i < j])

    def volume(self) -> float:
        """What it holds (mm3)."""
        total = 0.0
        for loop in self.loops.values():
            fan = self.points[list(loop)]
            total += float(np.einsum("j,ij->", fan[0], cross(fan[1:-1], fan[2:]))) / 6
        return total

    def _arris(self, between: tuple[str, str], i: int, j: int) -> Arris:
        turn = angle(*(self.planes[name].normal for name in between))
        return Arris(
            between=between,
            start=vec(self.points[i]),
            end=vec(self.points[j]),
            dihedral=180.0 - turn,
        )


def convex(planes: Mapping[str, Plane]) -> Polyhedron | None:
    """Make the body inside every one of ``planes``; None where nothing is inside.

    Raises:
        BuildError: the planes do not close.
    """
    kept, same = distinct(planes)
    normals = np.array([plane.normal for plane in kept.values()])
    offsets = np.array([plane.offset for plane in kept.values()])
    points = corners(normals, offsets)
    on = np.abs(points @ normals.T - offsets) <= 2 * LENGTH_EPS
    loops: dict[str, tuple[int, ...]] = {}
    for place, name in enumerate(kept):
        members = np.flatnonzero(on[:, place])
        if len(members) >= 3:  # noqa: PLR2004  a plane shows where three corners lie on it
            loops[name] = around(points, members, normals[place])
    if not loops:
        return None
    body = Polyhedron(
        planes={name: kept[name] for name in loops}, points=points, loops=loops, same=same
    )
    edges = {pair for loop in loops.values() for pair in pairs(loop)}
    if any((j, i) not in edges for i, j in edges):
        reason = "the planes do not close"
        raise BuildError(", ".join(planes), ", ".join(loops), reason)
    return body if body.volume() > LENGTH_EPS else None


def convex_base(part: Part) -> Polyhedron:
    """Make the convex base of a part with a squared blank: its blank less all its trims.

    Raises:
        BuildError: nothing is left, naming the trim that takes the last of it.
    """
    body = _known(tuple(part.base_planes().items()))
    if body is not None:
        return body
    planes = part.blank.planes()
    for trim in (f for f in part.features if isinstance(f, Trim)):
        planes[trim.id] = trim.plane
        if convex(planes) is None:
            raise BuildError(spoken(part), trim.id, "nothing is left of the part")
    raise BuildError(spoken(part), "blank", "the blank has no volume")


@lru_cache(maxsize=64)
def _known(planes: tuple[tuple[str, Plane], ...]) -> Polyhedron | None:
    """The body inside ``planes``: solid and measuring ask for the same one."""
    return convex(dict(planes))


def spoken(part: Part) -> str:
    """Name a part as a person would."""
    return f"{part.label} {part.name}".strip()


def distinct(planes: Mapping[str, Plane]) -> tuple[dict[str, Plane], dict[str, str]]:
    """Keep the first of planes that lie on one another, and say which name stands for which."""
    kept: dict[str, Plane] = {}
    same: dict[str, str] = {}
    for name, plane in planes.items():
        twin = next((other for other, known in kept.items() if coplanar(plane, known)), None)
        if twin is None:
            kept[name] = plane
        else:
            same[name] = twin
    return kept, same


def coplanar(a: Plane, b: Plane) -> bool:
    """Tell whether two half-spaces are the same one."""
    return (
        abs(a.offset - b.offset) <= LENGTH_EPS
        and abs(a.normal[0] - b.normal[0]) <= SAME_NORMAL
        and abs(a.normal[1] - b.normal[1]) <= SAME_NORMAL
        and abs(a.normal[2] - b.normal[2]) <= SAME_NORMAL
    )


@cache
def triples(count: int) -> NDArray[np.intp]:
    """All threes of ``count`` planes."""
    return np.array(list(combinations(range(count), 3)), dtype=np.intp).reshape(-1, 3)


def corners(normals: NDArray[np.float64], offsets: NDArray[np.float64]) -> NDArray[np.float64]:
    """Where three planes meet inside all others; each corner once, the sharpest meeting kept."""
    i, j, k = triples(len(offsets)).T
    a, b, c = normals[i], normals[j], normals[k]
    bc, ca, ab = cross(b, c), cross(c, a), cross(a, b)
    det = np.einsum("ij,ij->i", a, bc)
    sharp = np.abs(det) > FLAT_CORNER
    total = bc * offsets[i, None] + ca * offsets[j, None] + ab * offsets[k, None]
    points = total[sharp] / det[sharp, None]
    inside = np.all(points @ normals.T - offsets <= LENGTH_EPS, axis=1)
    ranked = points[inside][np.argsort(-np.abs(det[sharp][inside]), kind="stable")]
    once: list[NDArray[np.float64]] = []
    for point in ranked:
        if not once or np.min(np.linalg.norm(np.array(once) - point, axis=1)) > 2 * LENGTH_EPS:
            once.append(point)
    return np.array(once).reshape(-1, 3) + 0.0


def around(
    points: NDArray[np.float64], members: NDArray[np.intp], normal: NDArray[np.float64]
) -> tuple[int, ...]:
    """Order the corners of one plane counter-clockwise as seen from outside."""
    arms = points[members] - points[members].mean(axis=0)
    first = arms[0] / np.sqrt(arms[0] @ arms[0])
    angles = np.arctan2(arms @ cross(normal, first), arms @ first)
    return tuple(int(place) for place in members[np.argsort(angles, kind="stable")])


def pairs(loop: tuple[int, ...]) -> list[tuple[int, int]]:
    """The sides of a loop, in its own direction."""
    return list(zip(loop, loop[1:] + loop[:1], strict=True))


def vec(point: NDArray[np.float64]) -> Vec:
    """Three plain floats."""
    return (float(point[0]), float(point[1]), float(point[2]))
