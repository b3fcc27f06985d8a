"""What stands on the floor, what lies in drawers and behind doors, where it goes when opened."""

import math
from dataclasses import dataclass

from checks.placed import GRAVITY, Piece, Placed, Weight
from checks.solid_geometry import corners
from checks.statics import Spot
from checks.volumes import body_of
from ground.vectors import Vec, add, along, cross, dot, scale, sub
from models.parts.assembly import Motion, Mover
from models.parts.part import PartKind

FILL = 136.157
"""Contents by volume, kg/m3: 8.5 lb a cubic foot (16 CFR 1261 and ASTM F2057-23)."""
OPEN_DOOR = 90.0
"""How far doors stand open in the load cases (degrees; ASTM F2057-19)."""
SMALL_FOOT = 120.0
"""A contact no larger than this is a foot and counts at its middle (mm)."""
ON_FLOOR = 0.5
"""What comes this near to the floor stands on it (mm)."""


def feet(piece: Piece) -> tuple[Spot, ...]:
    """Where the piece stands: the middle of each foot, the middle line of each plinth board.

    The middle of a foot rather than its edge: on the safe side (common practice, no source).
    """
    spots: list[Spot] = []
    for one in piece.placed:
        loose = one.part.kind is PartKind.LOOSE
        if one.lo[2] >= ON_FLOOR or one.copy.group[:1] != ("base",) or loose:
            continue
        touching = [
            p
            for corner in corners(body_of(one.part))
            if (p := one.copy.placement.point(corner))[2] < ON_FLOOR
        ]
        xs, ys = [p[0] for p in touching], [p[1] for p in touching]
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        long, wide = max(xs) - min(xs), max(ys) - min(ys)
        half = min(long, wide) / 2
        if max(long, wide) <= SMALL_FOOT:
            spots.append(middle)
        elif long > wide:
            spots += [(min(xs) + half, middle[1]), (max(xs) - half, middle[1])]
        else:
            spots += [(middle[0], min(ys) + half), (middle[0], max(ys) - half)]
    return tuple(spots)


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What lies in a drawer (``mover``) or in an opening behind doors or open (None)."""

    kg: float
    at: Vec
    mover: str | None
    opening: str


def contents(piece: Piece) -> tuple[Content, ...]:
    """Everything that the piece may hold, each drawer and opening filled by volume.

    The spec's own load on a shelf counts where it is more.
    """
    found: list[Content] = []
    for opening in piece.assembly.openings:
        if opening.kind == "drawers":
            movers = {piece.by_id[copy].copy.mover for copy in opening.contents} - {None}
            for mover in sorted(str(one) for one in movers):
                inside = drawer_inside(piece, mover)
                if inside is not None:
                    found.append(_filled(piece, inside, mover, opening.id))
            continue
        shelves = [piece.by_id[copy] for copy in opening.contents]
        number = sum(1 for one in shelves if one.wood and one.name.startswith("shelf"))
        volume = opening.width * opening.height * opening.depth
        asked = (piece.spec.loads.shelf or 0.0) * number / GRAVITY
        x, y, z = opening.corner
        middle = (x + opening.width / 2, y + opening.depth / 2, z + opening.height / 2)
        kg = max(volume * 1e-9 * FILL, asked)
        found.append(Content(kg=kg, at=middle, mover=None, opening=opening.id))
    return tuple(found)


def _filled(piece: Piece, inside: tuple[Vec, Vec], mover: str, opening: str) -> Content:
    lo, hi = inside
    size = sub(hi, lo)
    volume = size[0] * size[1] * size[2]
    asked = (piece.spec.loads.drawer or 0.0) / GRAVITY
    kg = max(volume * 1e-9 * FILL, asked)
    return Content(kg=kg, at=scale(add(lo, hi), 0.5), mover=mover, opening=opening)


def drawer_inside(piece: Piece, mover: str) -> tuple[Vec, Vec] | None:
    """The clear space in a drawer box, from corner to corner; None where it has no box."""
    parts = piece.on(mover)
    sides = sorted((one for one in parts if one.kind_of("drawer side")), key=_left)
    front = [one for one in parts if one.kind_of("drawer box front")]
    back = [one for one in parts if one.kind_of("drawer box back")]
    floor = [one for one in parts if one.kind_of("drawer bottom")]
    if len(sides) != 2 or not (front and back and floor):  # noqa: PLR2004 - left and right
        return None
    lo = (sides[0].hi[0], front[0].hi[1], floor[0].hi[2])
    hi = (sides[1].lo[0], back[0].lo[1], max(one.hi[2] for one in sides))
    return (lo, hi)


def _left(one: Placed) -> float:
    return one.lo[0]


def opened(mover: Mover, at: Vec) -> Vec:
    """Where a place on a mover goes when it is opened: a drawer all its travel, a door 90 deg."""
    if mover.kind is Motion.SLIDES:
        return along(at, mover.axis, mover.limit)
    turn = math.radians(min(OPEN_DOOR, mover.limit))
    arm = sub(at, mover.origin)
    level = scale(mover.axis, dot(mover.axis, arm))
    flat = sub(arm, level)
    turned = add(scale(flat, math.cos(turn)), scale(cross(mover.axis, flat), math.sin(turn)))
    return add(mover.origin, add(level, turned))


def far_edge(piece: Piece, mover: Mover) -> Vec:
    """The place on an open front where a weight tips most: its upper edge, furthest out."""
    parts = [one for one in piece.on(mover.id) if one.wood]
    top = max(one.hi[2] for one in parts)
    lo = (min(one.lo[0] for one in parts), min(one.lo[1] for one in parts))
    hi = max(one.hi[0] for one in parts)
    if mover.kind is Motion.SLIDES:
        return opened(mover, ((lo[0] + hi) / 2, lo[1], top))
    free = hi if abs(mover.origin[0] - lo[0]) < abs(mover.origin[0] - hi) else lo[0]
    return opened(mover, (free, lo[1], top))


def standing(piece: Piece, *, open_: frozenset[str]) -> list[Weight]:
    """Every part's mass, the movers in ``open_`` opened."""
    found: list[Weight] = []
    for weight in piece.masses.values():
        if weight.mover in open_ and weight.mover is not None:
            at = opened(piece.movers[weight.mover], weight.at)
            found.append(Weight(kg=weight.kg, at=at, mover=weight.mover))
        else:
            found.append(weight)
    return found
