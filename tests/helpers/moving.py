"""Drawers pulled out and doors swung, on the solids: what they meet on the way."""

import math

import cadquery as cq

from models.parts.assembly import Assembly, Motion, Mover
from models.solids.made import make, solid_of

SHARED = 1.0
"""Two parts may share less than this (mm3), as in the closed piece."""


def shapes(piece: Assembly) -> dict[str, cq.Shape]:
    """Every copy in its place."""
    solids = {part.label: solid_of(make(part, views=())) for part in piece.parts}
    placed: dict[str, cq.Shape] = {}
    for copy in piece.copies:
        frame = copy.placement
        plane = cq.Plane(cq.Vector(*frame.origin), cq.Vector(*frame.x), cq.Vector(*frame.z))
        placed[copy.id] = solids[copy.label].moved(cq.Location(plane))
    return placed


def moved(shape: cq.Shape, mover: Mover, part: float) -> cq.Shape:
    """A shape on ``mover``, that far (0 closed, 1 open) along its way."""
    axis = cq.Vector(*mover.axis)
    if mover.kind is Motion.SLIDES:
        return shape.moved(cq.Location(axis * (mover.limit * part)))
    start = cq.Vector(*mover.origin)
    return shape.rotate(start, start + axis, mover.limit * part)


def meets(piece: Assembly, placed: dict[str, cq.Shape], mover: Mover, part: float) -> list[str]:
    """What a mover's parts share wood with at ``part`` of its way: copy ids, pair by pair."""
    met: list[str] = []
    others = [copy.id for copy in piece.copies if copy.mover != mover.id]
    for mine in mover.copies:
        shape = moved(placed[mine], mover, part)
        for other in others:
            if _apart(shape, placed[other]):
                continue
            volume = float(shape.intersect(placed[other]).Volume())
            if volume > SHARED and not math.isclose(volume, 0.0):
                met.append(f"{mine} and {other}: {volume:.1f} mm3")
    return met


def _apart(one: cq.Shape, other: cq.Shape) -> bool:
    a, b = one.BoundingBox(1e-4), other.BoundingBox(1e-4)
    return (
        a.xmin > b.xmax
        or b.xmin > a.xmax
        or a.ymin > b.ymax
        or b.ymin > a.ymax
        or a.zmin > b.zmax
        or b.zmin > a.zmax
    )
