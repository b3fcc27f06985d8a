"""Parts of the closed piece that share space, without the CAD kernel.

Never more than is truly shared: wood counts as a little less than it is (rods as the square inside
them), cuts as a little more (round holes and ends as the square round them). So what is found is
found for certain; a kiss of round on round is left to the solids of a build.
"""

import math
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import assert_never

from checks.placed import Piece, Placed
from checks.solid_geometry import (
    ON_PLANE,
    Body,
    apart,
    between,
    block,
    box,
    corners,
    inside,
    lump,
    removed,
)
from checks.volumes import base_body
from ground.findings import Finding, Severity
from ground.tolerances import CLASH_VOLUME
from ground.vectors import Frame, Plane, Vec, add, along, cross, dot, meet, neg, norm, scale, unit
from models.parts.blank import Blank, Section
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.parts.features import Feature, Trim
from models.parts.part import base_planes, cuts_of

Planes = tuple[Plane, ...]
Shape = tuple[Blank, tuple[Feature, ...]]

TOUCH = 0.01
"""Boxes that overlap by less do no more than touch (mm)."""


def find_shared(piece: Piece) -> Iterator[Finding]:
    """Say which parts share space, and how much: the worst of those alike."""
    known: dict[tuple[object, ...], float] = {}
    met: dict[tuple[str, str], list[tuple[float, Placed, Placed]]] = {}
    for one, other in _near(piece):
        key = _alike(one, other)
        if key not in known:
            known[key] = shared(one, other)
        if known[key] > CLASH_VOLUME:
            pair = (one.part.label, other.part.label)
            met.setdefault(pair, []).append((known[key], one, other))
    for found in met.values():
        worst = max(found, key=lambda pair: pair[0])
        yield _finding(*worst, more=len(found) - 1)


def _finding(volume: float, one: Placed, other: Placed, *, more: int) -> Finding:
    alike = f", and {more} more of the kind" if more else ""
    return Finding(
        code="fit.overlap",
        severity=Severity.ERROR,
        subject=f"{one.spoken} and {other.spoken}",
        message=f"they share at least {volume:.0f} mm3{alike}; move or cut one of them",
        copies=(one.id, other.id),
        at=scale(add(_low(one, other), _high(one, other)), 0.5),
        value=round(volume, 3),
        limit=CLASH_VOLUME,
        unit="mm3",
        source="design rule: no two parts in one place",
    )


def _near(piece: Piece) -> Iterator[tuple[Placed, Placed]]:
    """Pairs whose boxes overlap, swept along X."""
    ordered = sorted(piece.placed, key=lambda one: one.lo[0])
    for number, one in enumerate(ordered):
        for other in ordered[number + 1 :]:
            if other.lo[0] > one.hi[0] - TOUCH:
                break
            if all(
                min(one.hi[i], other.hi[i]) - max(one.lo[i], other.lo[i]) > TOUCH for i in (1, 2)
            ):
                yield (one, other)


def _alike(one: Placed, other: Placed) -> tuple[object, ...]:
    """What two pairs have in common that share as much: their parts, and how they lie."""
    carry = other.copy.placement.then(one.copy.placement.inverse())
    lie = (round(number, 6) for row in carry.matrix() for number in row)
    return (one.part.label, other.part.label, *lie)


def _low(one: Placed, other: Placed) -> Vec:
    x, y, z = (max(one.lo[i], other.lo[i]) for i in range(3))
    return (x, y, z)


def _high(one: Placed, other: Placed) -> Vec:
    x, y, z = (min(one.hi[i], other.hi[i]) for i in range(3))
    return (x, y, z)


def shared(one: Placed, other: Placed) -> float:
    """Volume (mm3) that two placed parts share for certain, in the first one's axes."""
    carry = other.copy.placement.then(one.copy.placement.inverse())
    return _shared(one.part.shape, other.part.shape, carry)


@lru_cache(maxsize=1024)  # some five pieces' worth of neighbours
def _shared(one: Shape, other: Shape, carry: Frame) -> float:
    """Volume (mm3) that two parts share, the other carried into the first one's axes."""
    both = _overlap(one, other, carry)
    if not both or lump(both).volume <= CLASH_VOLUME:
        return 0.0
    points = tuple(corners(both))
    # Each part's cuts are looked at in its own axes: a few corners are carried, not every plane.
    back = carry.inverse()
    there = tuple(back.point(p) for p in points)
    ours = [bite for bite in bites(*one) if not apart(points, bite)]
    yours = [bite for bite in bites(*other) if not apart(there, bite)]
    if any(_holds(bite, points) for bite in ours) or any(_holds(bite, there) for bite in yours):
        return 0.0
    carried = [tuple(carry.plane(plane) for plane in bite) for bite in yours]
    return lump(both).volume - removed(both, [*ours, *carried]).volume


def _overlap(one: Shape, other: Shape, carry: Frame) -> Body:
    """What the bodies inside two bases share, the other carried into the first one's axes."""
    theirs = tuple(map(carry.plane, sides(*other)))
    upright = between((*sides(*one), *theirs))
    if upright is not None:  # two boxes square to one another, as most are
        return block(*upright)
    cutting = _cutting(_corners(*one), theirs)
    return () if cutting is None else inside(core(*one), cutting)


def _cutting(points: Iterable[Vec], planes: Iterable[Plane]) -> Planes | None:
    """The planes that cut through what lies between ``points``; None where one leaves it out."""
    found: list[Plane] = []
    for plane in planes:
        (a, b, c), offset = plane.normal, plane.offset
        heights = [a * x + b * y + c * z - offset for x, y, z in points]
        if min(heights) >= -ON_PLANE:
            return None
        if max(heights) > ON_PLANE:
            found.append(plane)
    return tuple(found)


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def _corners(blank: Blank, features: tuple[Feature, ...]) -> tuple[Vec, ...]:
    return tuple(corners(core(blank, features)))


def _holds(bite: Planes, points: Iterable[Vec]) -> bool:
    """Whether one cut takes out all of what lies between ``points``."""
    return all(
        a * x + b * y + c * z <= plane.offset + ON_PLANE
        for plane in bite
        for a, b, c in (plane.normal,)
        for x, y, z in points
    )


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def core(blank: Blank, features: tuple[Feature, ...]) -> Body:
    """A convex body inside a part's base."""
    if blank.section is Section.SQUARED:
        return base_body(blank, features)
    trims = (f.plane for f in features if isinstance(f, Trim))
    return inside(box(blank.size), (*sides(blank, ()), *trims))


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def sides(blank: Blank, features: tuple[Feature, ...]) -> Planes:
    """The planes of that body."""
    trims = tuple(f.plane for f in features if isinstance(f, Trim))
    w, t = blank.width, blank.thickness
    match blank.section:
        case Section.SQUARED:
            return (*blank.planes().values(), *trims)
        case Section.ROUND:
            spare = w / 2 * (1 - math.sqrt(0.5))
            margins = (spare, spare)
        case Section.ROUND_EDGED:
            margins = (t / 2, 0.0)
        case _:
            assert_never(blank.section)
    across, through = margins
    return (
        Plane((-1.0, 0.0, 0.0), 0.0),
        Plane((1.0, 0.0, 0.0), blank.length),
        Plane((0.0, -1.0, 0.0), -across),
        Plane((0.0, 1.0, 0.0), w - across),
        Plane((0.0, 0.0, -1.0), -through),
        Plane((0.0, 0.0, 1.0), t - through),
        *trims,
    )


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def bites(blank: Blank, features: tuple[Feature, ...]) -> tuple[Planes, ...]:
    """Convex spaces that hold everything cut out of a part's base."""
    planes = base_planes(blank, features)
    cuts = (cut for f, cut in cuts_of(blank, features) if not isinstance(f, Trim))
    return tuple(bite for cut in cuts if (bite := bite_of(cut, planes)))


def bite_of(cut: Cut, planes: dict[str, Plane]) -> Planes:
    """The convex space round one cut; no plane where there is nothing to say of it."""
    match cut:
        case Convex(planes=walls):
            return tuple(plane for _, plane in walls)
        case Bore(diameter=across):
            start = along(cut.start, cut.into, -cut.lead)
            return _square(start, cut.into, across, cut.depth + cut.lead)
        case Cone(diameter=across):
            return _square(cut.start, cut.into, across, cut.depth)
        case Slot():
            return _slot(cut)
        case Edge():
            corner = _corner(cut, planes)
            return () if corner is None else (corner,)
    assert_never(cut)


def _prism(start: Vec, ways: tuple[Vec, Vec, Vec], sizes: Vec) -> Planes:
    """A box round an axis: half sizes along two ways, a whole one along the third."""
    a, b, c = ways
    return (
        Plane.through(along(start, a, sizes[0]), a),
        Plane.through(along(start, a, -sizes[0]), neg(a)),
        Plane.through(along(start, b, sizes[1]), b),
        Plane.through(along(start, b, -sizes[1]), neg(b)),
        Plane.through(along(start, c, sizes[2]), c),
        Plane.through(start, neg(c)),
    )


def _square(start: Vec, into: Vec, across: float, deep: float) -> Planes:
    """The square round a hole."""
    other = (1.0, 0.0, 0.0) if abs(into[0]) < 0.9 else (0.0, 1.0, 0.0)  # noqa: PLR2004 - any
    side = unit(cross(into, other))
    return _prism(start, (side, cross(into, side), into), (across / 2, across / 2, deep))


def _slot(cut: Slot) -> Planes:
    ways = (cut.along, cross(cut.into, cut.along), cut.into)
    return _prism(cut.start, ways, (cut.length / 2, cut.width / 2, cut.depth))


def _corner(cut: Edge, planes: dict[str, Plane]) -> Plane | None:
    """The space beyond the two lines where easing begins; its plane points into the wood."""
    one, two = (planes.get(name) for name in cut.between)
    if one is None or two is None:
        return None
    way = cross(one.normal, two.normal)
    if norm(way) < 1e-6:  # noqa: PLR2004 - parallel faces share no arris
        return None
    way = unit(way)
    arris = meet(one, two, Plane(way, 0.0))
    half = math.acos(max(-1.0, min(1.0, -dot(one.normal, two.normal)))) / 2
    back = cut.size / math.tan(half) if cut.profile.value == "round-over" else cut.size
    out = unit(add(one.normal, two.normal))
    first = cross(one.normal, way)
    if dot(first, two.normal) > 0:
        first = neg(first)
    start = along(arris, first, back)
    return Plane(neg(out), -dot(out, start))
