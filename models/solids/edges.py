"""Cutters that run along an arris of the convex base: round-over, chamfer, cove.

A cutter is a prism, so where three arrises meet the quarter-rounds meet in a point, as a bit run
along three edges leaves them. Cutters of one boolean must not touch: fusing them first costs five
times the cut.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from OCP.TopoDS import TopoDS_Shape

from ground.vectors import Vec, add, along, dot, neg, scale, sub, unit
from models.parts.cuts import Edge, Profile
from models.solids.base import Arris, Polyhedron
from models.solids.hulls import Hull, apart
from models.solids.wires import arc, prism, rod, straight


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """The section square to an arris, at its start.

    ``into_a`` and ``into_b`` lie in its two faces, ``out_a`` and ``out_b`` point out of them,
    ``bisector`` points out between them; ``half`` is half the dihedral (radians).
    """

    at: Vec
    run: Vec
    into_a: Vec
    into_b: Vec
    out_a: Vec
    out_b: Vec
    bisector: Vec
    half: float

    def set_back(self, cut: Edge) -> float:
        """How far from the arris the cut reaches along both faces (mm)."""
        return cut.size / math.tan(self.half) if cut.profile is Profile.ROUND else cut.size

    def depth(self, cut: Edge) -> float:
        """How far from the arris the cut reaches into the wood, measured along the bisector."""
        if cut.profile is Profile.COVE:
            return cut.size
        return self.set_back(cut) * math.cos(self.half)

    def bite(self, cut: Edge) -> float:
        """How much comes off the arris, measured along the bisector."""
        if cut.profile is Profile.ROUND:
            return cut.size / math.sin(self.half) - cut.size
        return self.depth(cut)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class EdgeTool:
    """A cutter, and the hull that tells it apart from others."""

    solid: TopoDS_Shape
    hull: Hull


def edge_tool(cut: Edge, body: Polyhedron, overcut: float) -> EdgeTool:
    """Make the cutter for one arris, long enough to leave no chip at either end.

    Raises:
        ValueError: the two planes do not meet in an arris of the base.
    """
    arris = body.arris(*cut.between)
    if arris is None:
        first, second = cut.between
        msg = f"{first} and {second} do not meet in an arris"
        raise ValueError(msg)
    corner = section(arris, body)
    low, high = extent(corner, corner.depth(cut), body)
    # at an acute corner a cutter that stops at the arris's end leaves a chip standing
    spare = max(overcut, 2 * corner.set_back(cut))
    start = along(corner.at, corner.run, low - spare)
    sweep = scale(corner.run, high - low + 2 * spare)
    outline = tuple(add(start, point) for point in outline_of(cut, corner, overcut))
    axes = (corner.run, corner.out_a, corner.out_b, corner.bisector, corner.into_a, corner.into_b)
    return EdgeTool(
        solid=swept(cut, corner, (start, outline), sweep),
        hull=Hull(corners=np.vstack((outline, np.array(outline) + sweep)), axes=np.array(axes)),
    )


def section(arris: Arris, body: Polyhedron) -> Corner:
    """Lay out the section square to ``arris``."""
    out_a, out_b = (body.planes[name].normal for name in arris.between)
    slope = dot(out_a, out_b)
    return Corner(
        at=arris.start,
        run=unit(sub(arris.end, arris.start)),
        into_a=unit(sub(scale(out_a, slope), out_b)),
        into_b=unit(sub(scale(out_b, slope), out_a)),
        out_a=out_a,
        out_b=out_b,
        bisector=unit(add(out_a, out_b)),
        half=math.radians(arris.dihedral) / 2,
    )


def extent(corner: Corner, depth: float, body: Polyhedron) -> tuple[float, float]:
    """From where to where along the arris there is wood within ``depth`` of it (mm)."""
    run, out = np.array(corner.run), np.array(corner.bisector)
    ends = body.points[body.sides()] - corner.at
    places, heights = ends @ run, ends @ out + depth
    near = places[heights >= 0]
    crossing = heights[:, 0] * heights[:, 1] < 0
    share = heights[crossing, 0] / (heights[crossing, 0] - heights[crossing, 1])
    where = places[crossing, 0] + share * (places[crossing, 1] - places[crossing, 0])
    every = np.concatenate((near, where))
    return float(every.min()), float(every.max())


def outline_of(cut: Edge, corner: Corner, overcut: float) -> tuple[Vec, ...]:
    """The corners of the cutter's section, from the arris; out in the air beyond both faces.

    The first and the last are where it leaves the two faces; for a cove the box about its bit.
    """
    if cut.profile is Profile.COVE:
        across = unit(sub(corner.into_a, corner.into_b))
        up, side = scale(corner.bisector, cut.size), scale(across, cut.size)
        return (add(up, side), sub(up, side), sub(neg(up), side), sub(side, up))
    set_back = corner.set_back(cut)
    leave_a, leave_b = scale(corner.into_a, set_back), scale(corner.into_b, set_back)
    tip = scale(add(corner.out_a, corner.out_b), 1 / (1 + dot(corner.out_a, corner.out_b)))
    return (leave_a, scale(tip, max(overcut, set_back)), leave_b)


def swept(
    cut: Edge, corner: Corner, placed: tuple[Vec, tuple[Vec, ...]], sweep: Vec
) -> TopoDS_Shape:
    """The section run along the arris; ``placed`` is the arris's place and the outline there."""
    start, outline = placed
    sides = tuple(straight(a, b) for a, b in pairwise(outline))
    match cut.profile:
        case Profile.ROUND:
            by = along(start, corner.bisector, -corner.bite(cut))
            return prism((*sides, arc(outline[-1], by, outline[0])), sweep)
        case Profile.CHAMFER:
            return prism((*sides, straight(outline[-1], outline[0])), sweep)
        case Profile.COVE:
            return rod(start, corner.run, 2 * cut.size, math.sqrt(dot(sweep, sweep)))


def grouped(tools: Sequence[EdgeTool]) -> list[list[int]]:
    """Sort cutters (by place) into few booleans, so that no two of one boolean touch."""
    groups: list[list[int]] = []
    for place, tool in enumerate(tools):
        home = next(
            (g for g in groups if all(apart(tool.hull, tools[other].hull) for other in g)), None
        )
        if home is None:
            groups.append([place])
        else:
            home.append(place)
    return groups
