"""Finish by surface: which faces the air reaches, and litres for each surface's coats.

A face counts less what other wood covers of it in the closed piece: glued shoulders, edges under
their edging, a panel's tongue in its groove. Grooves, holes and eased arrises are not taken off, so
the area is a little more than is brushed, never less.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import assert_never

from checks.placed import Piece, Placed
from checks.shapes import Box, spanned
from checks.solid_geometry import ON_PLANE, Face, between
from checks.volumes import body_of
from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Plane, Vec, add, along, cross, norm, scale, sub, unit
from specs.materials import Sheet

COVERS = 11.0
"""What a litre of film finish covers, m2 a coat: 10 to 12. Common practice, no source."""
OVER = 0.1
"""Finish that stays in brush and pot, a share of what is needed. Common practice, no source."""
COVERED = 0.05
"""Wood this near to a face covers it (mm)."""
FACED = ("foil", "film", "lacquer", "laminate", "linoleum", "melamine", "paint")
"""Coverings that come ready on a sheet. Common practice, no source."""
SLIVER = 1e-6
"""A face smaller than this is none (mm2)."""


class Surface(StrEnum):
    """What a finisher takes in hand at one time."""

    CASE_OUTSIDE = "case, outside"
    CASE_INSIDE = "case, inside"
    CASE_BEHIND = "case, back and underside"
    BASE = "base"
    FRONTS = "drawer fronts"
    DOORS = "doors"
    SHELVES = "shelves"
    BOXES = "drawer boxes"

    @property
    def coats(self) -> int:
        """Coats of a film finish: three in sight, two inside, one to seal boxes and backs.

        Common practice, no source.
        """
        match self:
            case Surface.CASE_OUTSIDE | Surface.BASE | Surface.FRONTS | Surface.DOORS:
                return 3
            case Surface.CASE_INSIDE | Surface.SHELVES:
                return 2
            case Surface.CASE_BEHIND | Surface.BOXES:
                return 1
        assert_never(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Coated:
    """One surface: ``area`` to be finished and ``faced`` ready from the factory, both in m2."""

    surface: Surface
    area: float
    faced: float

    @property
    def coats(self) -> int:
        """How many coats it gets."""
        return self.surface.coats

    @property
    def coat(self) -> float:
        """Litres for one coat, nothing over."""
        return self.area / COVERS

    @property
    def litres(self) -> float:
        """Litres for all coats, what stays in the pot counted."""
        return self.coat * self.coats * (1 + OVER)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """Every surface of the piece that has something to be finished or came ready."""

    surfaces: tuple[Coated, ...]

    @property
    def area(self) -> float:
        """All that is to be finished (m2)."""
        return sum(one.area for one in self.surfaces)

    @property
    def faced(self) -> float:
        """All that came ready (m2)."""
        return sum(one.faced for one in self.surfaces)

    @property
    def litres(self) -> float:
        """All that is to be bought (l)."""
        return sum(one.litres for one in self.surfaces)


def finish(piece: Piece) -> Finish:
    """Work out each surface of a piece."""
    areas: dict[tuple[Surface, bool], float] = defaultdict(float)
    every = {one.id: _hood(one) for one in piece.placed if _made(one)}
    for one, neighbours in _beside(piece):
        hoods = [every[other.id] for other in neighbours]
        for face in body_of(one.part):
            outside = tuple(one.copy.placement.point(corner) for corner in face)
            bare = _bare(outside, hoods)
            if bare > SLIVER:
                areas[_surface(piece, one, outside), _faced(piece, one, face)] += bare * 1e-6
    return Finish(
        surfaces=tuple(
            Coated(surface=each, area=areas[each, False], faced=areas[each, True])
            for each in Surface
            if areas[each, False] + areas[each, True] > 0
        )
    )


def find_finish(piece: Piece) -> Iterator[Finding]:
    """Say how much there is to finish, surface by surface."""
    found = finish(piece)
    told = ", ".join(
        f"{one.surface.value} {one.area:.2f} m2 x {one.coats} = {one.litres:.2f} l"
        for one in found.surfaces
        if one.area > 0
    )
    ready = f"; {found.faced:.2f} m2 more come faced" if found.faced > 0 else ""
    yield Finding(
        code="finish.area",
        severity=Severity.NOTE,
        subject="the piece",
        message=f"{found.area:.2f} m2 that the air reaches take {found.litres:.1f} l at "
        f"{COVERS:g} m2 a litre and coat and {OVER:.0%} over ({told}){ready}",
        value=round(found.area, 6),
        unit="m2",
        source=COMMON_PRACTICE,
    )


def face_area(face: Face) -> float:
    """Area of a flat convex face (mm2)."""
    return norm(_normal(face)) / 2


def _normal(face: Face) -> Vec:
    """A face's outward normal, twice its area long."""
    way = (0.0, 0.0, 0.0)
    for one, two in pairwise(face[1:]):
        way = add(way, cross(sub(one, face[0]), sub(two, face[0])))
    return way


def _beside(piece: Piece) -> Iterator[tuple[Placed, list[Placed]]]:
    """Every made piece of wood, and the wood whose box it touches."""
    made = sorted((one for one in piece.placed if _made(one)), key=lambda one: one.lo[0])
    beside: dict[str, list[Placed]] = {one.id: [] for one in made}
    for number, one in enumerate(made):
        for other in made[number + 1 :]:
            if other.lo[0] > one.hi[0] + COVERED:
                break
            if _touch(one, other):
                beside[one.id].append(other)
                beside[other.id].append(one)
    return ((one, beside[one.id]) for one in made)


def _made(one: Placed) -> bool:
    return one.part.made and one.part.kind.value in {"lumber", "sheet", "edging"}


def _touch(one: Placed, other: Placed) -> bool:
    return all(
        one.lo[axis] <= other.hi[axis] + COVERED and other.lo[axis] <= one.hi[axis] + COVERED
        for axis in (1, 2)
    )


@dataclass(frozen=True, slots=True)
class _Hood:
    """What a copy covers: the ``planes`` of its convex base, moved out by what counts as touching.

    ``box`` is the box inside them where they lie along the piece's axes.
    """

    one: Placed
    planes: tuple[Plane, ...]
    box: Box | None


def _hood(one: Placed) -> _Hood:
    """What a copy covers, in piece axes."""
    carried = (one.copy.placement.plane(plane) for plane in one.part.base_planes().values())
    planes = tuple(Plane(plane.normal, plane.offset + COVERED) for plane in carried)
    return _Hood(one, planes, between(planes))


def _bare(face: Face, neighbours: list[_Hood]) -> float:
    """What nothing covers of a face (mm2); neighbours do not lie on one another."""
    whole = face_area(face)
    if whole <= SLIVER:
        return 0.0
    # A neighbour that ends in the face's own plane lies beside it, not on it.
    out = unit(_normal(face))
    before = Plane.through(along(face[0], out, COVERED / 2), out)
    box = _rectangle(face, whole)
    hidden = sum(_covered(face, box, hood) for hood in neighbours if _reaches(hood.one, before))
    return max(whole - hidden, 0.0)


def _rectangle(face: Face, area: float) -> Box | None:
    """The box of a face that is a rectangle along the axes; None where it is another shape."""
    low, high = spanned(face)
    a, b, c = sub(high, low)
    flat = min(a, b, c) <= ON_PLANE
    return (low, high) if flat and abs(max(a * b, b * c, c * a) - area) <= SLIVER else None


def _covered(face: Face, box: Box | None, hood: _Hood) -> float:
    """How much of a face a neighbour covers (mm2)."""
    if box is None or hood.box is None:
        shared = _within(face, hood.planes)
        return face_area(shared) if shared else 0.0
    (low, high), (near, far) = box, hood.box
    sides = [min(high[axis], far[axis]) - max(low[axis], near[axis]) for axis in range(3)]
    thin = min(range(3), key=lambda axis: high[axis] - low[axis])
    across = [side for axis, side in enumerate(sides) if axis != thin]
    inside = near[thin] < low[thin] < far[thin]
    return across[0] * across[1] if inside and min(across) > 0 else 0.0


def _reaches(one: Placed, beyond: Plane) -> bool:
    """Whether a copy's box stands out past a plane."""
    x, y, z = (one.hi[axis] if beyond.normal[axis] > 0 else one.lo[axis] for axis in range(3))
    return beyond.height((x, y, z)) > 0


def _within(face: Face, planes: tuple[Plane, ...]) -> Face:
    """The part of a face inside every plane."""
    for plane in planes:
        heights = [plane.height(corner) for corner in face]
        if max(heights) < 0:
            continue
        if min(heights) >= 0:
            return ()
        kept: list[Vec] = []
        for place, here in enumerate(heights):
            before = heights[place - 1]
            if (before < 0) != (here < 0):
                last = face[place - 1]
                share = before / (before - here)
                kept.append(add(last, scale(sub(face[place], last), share)))
            if here < 0:
                kept.append(face[place])
        face = tuple(kept)
    return face


def _faced(piece: Piece, one: Placed, face: Face) -> bool:
    """Whether a face of a part comes ready from the factory: a covered sheet's two large faces."""
    material = piece.material(one)
    if not isinstance(material, Sheet) or material.face is None:
        return False
    normal = _normal(face)
    broad = abs(normal[2]) > 0.99 * norm(normal)
    return broad and any(word in material.face.casefold().split() for word in FACED)


def _surface(piece: Piece, one: Placed, face: Face) -> Surface:
    """What a face belongs to."""
    match one.copy.group[0]:
        case "base":
            return Surface.BASE
        case "doors":
            return Surface.DOORS
        case "shelves":
            return Surface.SHELVES
        case "drawers":
            front = one.name.startswith("drawer front")
            return Surface.FRONTS if front else Surface.BOXES
        case _:
            return _side(piece, one, face)


def _side(piece: Piece, one: Placed, face: Face) -> Surface:
    """Where a face of the case lies."""
    lo, hi = _case(piece)
    at = [(min(p[i] for p in face), max(p[i] for p in face)) for i in range(3)]
    behind = at[1][0] > hi[1] - COVERED or at[2][1] < lo[2] + COVERED
    if behind or (one.name == "back" and _normal(face)[1] > 0):
        return Surface.CASE_BEHIND
    at_side = at[0][1] < lo[0] + COVERED or at[0][0] > hi[0] - COVERED
    if at_side or at[1][1] < lo[1] + COVERED or at[2][0] > hi[2] - COVERED:
        return Surface.CASE_OUTSIDE
    return Surface.CASE_INSIDE


def _case(piece: Piece) -> tuple[Vec, Vec]:
    """Lower and upper corner of the case."""
    mine = [one for one in piece.placed if one.copy.group[0] == "case" and _made(one)]
    lo = tuple(min(one.lo[i] for one in mine) for i in range(3))
    hi = tuple(max(one.hi[i] for one in mine) for i in range(3))
    return ((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))
