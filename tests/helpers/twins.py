"""A part made a second time from its cuts, as a polyhedron, by a library that is no CAD kernel.

Flat parts are exact. Round walls have ``FACETS`` sides of the same area as the circle, so that a
bore standing free removes its true volume.
"""

import math
from typing import assert_never

import numpy as np
from manifold3d import Manifold

from ground.vectors import Plane, Vec, X, Y, along, cross, dot, neg, unit
from models.parts.blank import Blank, Section
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Profile, Slot
from models.parts.features import EasedEdge, Trim
from models.parts.part import Part

FACETS = 256
ROUND = math.sqrt(2 * math.pi / FACETS / math.sin(2 * math.pi / FACETS))
"""What makes the area of a many-sided circle right."""

AIR = 0.4
"""How far cutters stand out of their mouths here: not what the solids use (mm)."""


def twin(part: Part) -> Manifold:
    """The blank less all cuts."""
    base = trimmed(stock(part.blank), [f.plane for f in part.features if isinstance(f, Trim)])
    bites = [bite(cut, part, base) for feature, cut in part.cuts() if not isinstance(feature, Trim)]
    for one in bites:
        base -= one
    return base


def volume(part: Part) -> float:
    """What the twin of a part holds (mm3)."""
    return float(twin(part).volume())


def stock(blank: Blank) -> Manifold:
    """The blank."""
    length, width, thickness = blank.size
    match blank.section:
        case Section.SQUARED:
            return Manifold.cube((length, width, thickness))
        case Section.ROUND:
            return rod((0.0, width / 2, width / 2), X, width, length)
        case Section.ROUND_EDGED:
            return strip((0.0, width / 2, thickness / 2), Y, X, (width, thickness, length))


def trimmed(body: Manifold, planes: list[Plane]) -> Manifold:
    """What lies inside every plane."""
    for plane in planes:
        body = body.trim_by_plane(neg(plane.normal), -plane.offset)
    return body


def rod(
    start: Vec, into: Vec, diameter: float, length: float, tip: float | None = None
) -> Manifold:
    """A round rod, or a cone towards ``tip``."""
    far = diameter if tip is None else tip
    upright = Manifold.cylinder(length, diameter / 2 * ROUND, far / 2 * ROUND, FACETS)
    side = unit(cross(into, (0.0, 0.0, 1.0) if abs(into[2]) < 0.9 else (1.0, 0.0, 0.0)))
    return upright.transform(np.array((side, cross(into, side), into, start)).T)


def strip(middle: Vec, run: Vec, into: Vec, size: Vec) -> Manifold:
    """A round-ended prism: over all along ``run``, across it, and along ``into``."""
    length, width, depth = size
    straight = length - width
    ends = [rod(along(middle, run, by), into, width, depth) for by in (-straight / 2, straight / 2)]
    box = Manifold.cube((straight, width, depth)).translate((-straight / 2, -width / 2, 0.0))
    return ends[0] + ends[1] + box.transform(np.array((run, cross(into, run), into, middle)).T)


def bite(cut: Cut, part: Part, base: Manifold) -> Manifold:
    """What one cut removes."""
    match cut:
        case Convex(planes=planes):
            size = 4 * part.blank.diagonal
            moved = [
                plane if name else Plane(plane.normal, plane.offset + AIR) for name, plane in planes
            ]
            around = Manifold.cube((size, size, size), center=True)
            return trimmed(around, moved)
        case Bore(start=start, into=into):
            back = cut.lead + AIR
            return rod(along(start, into, -back), into, cut.diameter, cut.depth + back)
        case Cone(start=start, into=into):
            mouth = cut.diameter + (cut.diameter - cut.tip_diameter) / cut.depth * AIR
            where = along(start, into, -AIR)
            return rod(where, into, mouth, cut.depth + AIR, tip=cut.tip_diameter)
        case Slot(start=start, into=into):
            outline = (cut.length, cut.width, cut.depth + AIR)
            return strip(along(start, into, -AIR), cut.along, into, outline)
        case Edge():
            return eased(cut, part, base)
    assert_never(cut)


def eased(cut: Edge, part: Part, base: Manifold) -> Manifold:
    """What comes off an arris: all beyond the chord between its two ends, less the round."""
    first, second = (part.base_planes()[name] for name in cut.between)
    run = unit(cross(first.normal, second.normal))
    rows = np.array((first.normal, second.normal, run))
    on_arris: Vec = tuple(np.linalg.solve(rows, (first.offset, second.offset, 0.0)).tolist())
    out = unit(tuple(np.add(first.normal, second.normal).tolist()))
    half = math.acos(-dot(first.normal, second.normal)) / 2
    far = 2 * part.blank.diagonal
    start = along(on_arris, run, -far)
    if cut.profile is Profile.COVE:
        return rod(start, run, 2 * cut.size, 2 * far)
    set_back = cut.size / math.tan(half) if cut.profile is Profile.ROUND else cut.size
    chord = dot(out, on_arris) - set_back * math.cos(half)
    cap = base.trim_by_plane(out, chord)
    if cut.profile is Profile.CHAMFER:
        return cap
    centre = along(start, out, -cut.size / math.sin(half))
    return cap - rod(centre, run, 2 * cut.size, 2 * far)


def is_round(part: Part) -> bool:
    """Tell whether a twin is only near: something about it is round."""
    return part.blank.section is not Section.SQUARED or any(
        isinstance(cut, Bore | Cone | Slot)
        or (isinstance(feature, EasedEdge) and feature.profile is not Profile.CHAMFER)
        for feature, cut in part.cuts()
    )


def tolerance(part: Part) -> float:
    """How far a twin's volume may be off (share of it): 256 sides for a circle, else rounding."""
    return 5e-6 if is_round(part) else 1e-9
