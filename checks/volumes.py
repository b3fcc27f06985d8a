"""How much wood a part is and where its middle lies, without the CAD kernel.

Exact for planes, boxes and wedges; holes and mortises count by themselves, as if none met another
cut: within one hundredth of a small part, a thousandth of a large one.
"""

import math
from functools import cache
from typing import assert_never

from checks.solid_geometry import Body, Lump, at, box, chord, inside, lump, removed
from ground.vectors import Plane, Vec, along, angle, cross, dot, meet, norm, unit
from models.parts.blank import Blank, Section
from models.parts.cuts import Bore, Cone, Convex, Edge, Profile, Slot
from models.parts.features import Feature, Trim
from models.parts.lowering import lower
from models.parts.part import Part


@cache
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


@cache
def _lump(blank: Blank, features: tuple[Feature, ...]) -> Lump:
    body = base_body(blank, features)
    whole = lump(body)
    if blank.section is not Section.SQUARED:
        whole = at(whole.volume * blank.volume / math.prod(blank.size), whole.centre)
    planes = blank.planes() | {f.id: f.plane for f in features if isinstance(f, Trim)}
    flat: list[tuple[Plane, ...]] = []
    left = whole
    for feature in features:
        if isinstance(feature, Trim):
            continue
        for cut in lower(feature, blank):
            match cut:
                case Convex(planes=walls):
                    flat.append(tuple(plane for _, plane in walls))
                case Edge():
                    left = left.plus(_arris(cut, planes), -1.0)
                case Bore() | Slot() | Cone():
                    left = left.plus(_hole(cut, planes), -1.0)
                case _:
                    assert_never(cut)
    return left.plus(removed(body, flat), -1.0)


def _hole(cut: Bore | Slot | Cone, planes: dict[str, Plane]) -> Lump:
    deep = min(cut.depth, chord(cut.start, cut.into, planes.values()))
    match cut:
        case Bore(diameter=across):
            area = math.pi * across**2 / 4
        case Slot(length=long, width=wide):
            area = (long - wide) * wide + math.pi * wide**2 / 4
        case Cone(diameter=across):
            area = math.pi * across**2 / 12
        case _:
            assert_never(cut)
    return at(area * deep, along(cut.start, cut.into, deep / 2))


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
