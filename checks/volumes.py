"""How much wood a part is and where its middle lies, without the CAD kernel.

Exact for planes, boxes and wedges; a hole or mortise counts where its axis runs in wood: within one
hundredth of a small part, a thousandth of a large one.
"""

import math
from functools import lru_cache
from typing import assert_never

from checks.solid_geometry import Body, Lump, at, box, chord, inside, lump, removed
from ground.vectors import Plane, Vec, along, angle, cross, dot, meet, neg, norm, scale, sub, unit
from models.parts.blank import Blank, Section
from models.parts.cuts import Bore, Cone, Convex, Edge, Profile, Slot
from models.parts.features import Feature, Trim
from models.parts.part import Part, base_planes, cuts_of

ALIGNED = 1 - 1e-9
"""Cosine of two directions that are one."""
SAME_AXIS = 1e-6
"""Axes this near are one axis (mm)."""


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def base_body(blank: Blank, features: tuple[Feature, ...]) -> Body:
    """The convex base: the blank inside every trim. Rod and rounded strip count as squared."""
    trims = (f.plane for f in features if isinstance(f, Trim))
    return inside(box(blank.size), trims)


def body_of(part: Part) -> Body:
    """The convex base of a part, in its own axes."""
    return base_body(*part.shape)


def lump_of(part: Part) -> Lump:
    """Volume and middle of a part, in its own axes."""
    return _lump(*part.shape)


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def _lump(blank: Blank, features: tuple[Feature, ...]) -> Lump:
    body = base_body(blank, features)
    whole = lump(body)
    if blank.section is not Section.SQUARED:
        whole = at(whole.volume * blank.volume / math.prod(blank.size), whole.centre)
    planes = base_planes(blank, features)
    cuts = [cut for f, cut in cuts_of(blank, features) if not isinstance(f, Trim)]
    flat = [tuple(plane for _, plane in cut.planes) for cut in cuts if isinstance(cut, Convex)]
    holes = [cut for cut in cuts if isinstance(cut, Bore | Slot | Cone)]
    bores = [cut for cut in holes if isinstance(cut, Bore)]
    left = whole.plus(removed(body, flat), -1.0)
    for cut in cuts:
        if isinstance(cut, Edge):
            left = left.plus(_arris(cut, planes), -1.0)
    for hole in holes:
        wider = [_round(one) for one in bores if _swallows(one, hole)]
        for start, end in _in_wood(hole, planes, [*flat, *wider]):
            middle = along(hole.start, hole.into, (start + end) / 2)
            left = left.plus(at(_area(hole) * (end - start), middle), -1.0)
    return left


def _area(cut: Bore | Slot | Cone) -> float:
    """Section of a hole (mm2); a cone's is its mean."""
    match cut:
        case Bore(diameter=across):
            return math.pi * across**2 / 4
        case Slot(length=long, width=wide):
            return (long - wide) * wide + math.pi * wide**2 / 4
        case Cone(diameter=across):
            return math.pi * across**2 / 12
    assert_never(cut)


def _swallows(one: Bore, other: Bore | Slot | Cone) -> bool:
    """Whether the axis of ``other`` is also that of ``one``, a wider bore."""
    if one is other or abs(dot(one.into, other.into)) < ALIGNED:
        return False
    off = sub(other.start, one.start)
    aside = norm(sub(off, scale(one.into, dot(off, one.into))))
    size = other.width if isinstance(other, Slot) else other.diameter
    return aside < SAME_AXIS and one.diameter > size


def _round(cut: Bore) -> tuple[Plane, ...]:
    """What of a bore matters to holes on its own axis: where it begins and ends."""
    end = along(cut.start, cut.into, cut.depth)
    start = along(cut.start, cut.into, -cut.lead)
    return (Plane.through(start, neg(cut.into)), Plane.through(end, cut.into))


def _in_wood(
    cut: Bore | Slot | Cone, planes: dict[str, Plane], flat: list[tuple[Plane, ...]]
) -> list[tuple[float, float]]:
    """Where along its axis a hole runs in wood that nothing else takes away."""
    deep = min(cut.depth, chord(cut.start, cut.into, planes.values()))
    runs = [(0.0, deep)] if deep > 0 else []
    for walls in flat:
        start, end = _reach(cut.start, cut.into, list(walls))
        if end > start:
            runs = [
                piece
                for a, b in runs
                for piece in ((a, min(b, start)), (max(a, end), b))
                if piece[1] - piece[0] > SAME_AXIS
            ]
    return runs


def _arris(cut: Edge, planes: dict[str, Plane]) -> Lump:
    """What easing takes off an arris: a fillet's sliver, or a chamfer's triangle."""
    one, two = (planes.get(name) for name in cut.between)
    if one is None or two is None:
        return Lump()
    way = cross(one.normal, two.normal)
    if norm(way) < 1e-6:  # noqa: PLR2004 - parallel faces share no arris
        return Lump()
    way = unit(way)
    foot = meet(one, two, Plane(way, 0.0))
    rest = [plane for name, plane in planes.items() if name not in cut.between]
    start, end = _reach(foot, way, rest)
    if end <= start:
        return Lump()
    apart = math.radians(180 - angle(one.normal, two.normal))
    match cut.profile:
        case Profile.ROUND:
            area = cut.size**2 * (1 / math.tan(apart / 2) - (math.pi - apart) / 2)
        case Profile.CHAMFER:
            area = cut.size**2 * math.sin(apart) / 2
        case Profile.COVE:
            area = cut.size**2 * apart / 2
        case _:
            assert_never(cut.profile)
    return at(area * (end - start), along(foot, way, (start + end) / 2))


def _reach(foot: Vec, way: Vec, planes: list[Plane]) -> tuple[float, float]:
    """Where a line enters and leaves the space inside ``planes``, along its own length."""
    start, end = -math.inf, math.inf
    for plane in planes:
        speed = dot(plane.normal, way)
        gap = -plane.height(foot)
        if abs(speed) < 1e-9:  # noqa: PLR2004 - the line runs along the plane
            if gap < 0:
                return (0.0, 0.0)
        elif speed > 0:
            end = min(end, gap / speed)
        else:
            start = max(start, gap / speed)
    return (start, end)
