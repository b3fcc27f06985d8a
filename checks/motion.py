"""Drawers through their whole travel, doors through their whole swing, against all that stands.

A drawer is looked at over all of its way at once, a door every 2 degrees at most (half-way between
two looks a point 600 mm from the hinges is 0.09 mm off its arc). What shares space as whole convex
bases is looked at again with every flat-sided cut taken out.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np

from checks.placed import Piece, Placed
from checks.shapes import (
    Array,
    Shape,
    pieces,
    room,
    rotations,
    shape,
    standing,
    swept,
    turned,
    whole,
)
from checks.solid_geometry import Body
from ground.findings import Finding, Severity
from models.parts.assembly import Motion, Mover
from models.parts.blank import Blank
from models.parts.features import Feature
from models.parts.part import Part, PartKind

DEGREES: Final = 2.0
"""A door is looked at this often at least."""
TRAVEL: Final = 5.0
"""Where a drawer meets something, this is how closely the place is told (mm)."""
PRESSED: Final = 0.01
"""Less than this in one another is touching (mm): the play of numbers, not of wood."""
NEAR: Final = 10.0
"""What stays further off than this is not near (mm)."""
SOURCE: Final = "the parts themselves"


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The least room of a mover on its way: ``least`` (mm) between two copies, ``at`` of its way.

    ``at`` is in mm or degrees; ``least`` is at least so much, and less than nothing where they
    meet. The drawer's own runners and the door's own hinges are looked at, and not told here.
    """

    mover: str
    least: float
    at: float
    copies: tuple[str, str]


def find_motion(piece: Piece) -> Iterator[Finding]:
    """Everything that a drawer or a door meets on its way."""
    for mover in piece.assembly.movers:
        for met in _meetings(piece, mover):
            yield _finding(piece, mover, met)


def least_room(piece: Piece, mover: Mover) -> Room | None:
    """Where a mover comes nearest to anything but its own fittings; None: nothing is near it."""
    found = [one for one in _rooms(piece, mover) if not _own(piece, one)]
    return min(found, key=lambda one: one.least, default=None)


def _own(piece: Piece, one: Room) -> bool:
    mine, other = (piece.by_id[copy] for copy in one.copies)
    return mine.copy.group == other.copy.group or math.isclose(one.least, 0.0, abs_tol=PRESSED)


def _meetings(piece: Piece, mover: Mover) -> Iterator[Room]:
    """The first place on the way where each pair meets, in order of the copies."""
    for one in _rooms(piece, mover):
        if one.least < -PRESSED:
            yield one


def _rooms(piece: Piece, mover: Mover) -> Iterator[Room]:
    """The least room between each part of a mover and each thing near its way.

    Of what meets: where it first does, cuts taken out.
    """
    mine = piece.on(mover.id)
    others = [one for one in piece.placed if one.copy.mover != mover.id]
    if not others:
        return
    stops = _stops(mover)
    lo = np.array([one.lo for one in others])
    hi = np.array([one.hi for one in others])
    for part in mine:
        ways = _ways(mover, stops, _shape(part))
        low, high = ways[0].min(axis=(0, 1)), ways[0].max(axis=(0, 1))
        near = np.all((low - NEAR < hi) & (lo < high + NEAR), axis=1)
        for place in np.flatnonzero(near).tolist():
            yield _room(mover, stops, (part, ways), others[place])


def _stops(mover: Mover) -> Array:
    """Where a mover is looked at: all of a drawer's way is one look."""
    if mover.kind is Motion.SLIDES:
        return np.array((0.0,))
    count = max(2, math.ceil(mover.limit / DEGREES) + 1)
    return np.linspace(0.0, mover.limit, count)


def _ways(mover: Mover, stops: Array, one: Shape) -> tuple[Array, Array, Array]:
    """A shape at every stop."""
    if mover.kind is Motion.SLIDES:
        return standing(swept(one, np.array(mover.axis) * mover.limit))
    return turned(one, rotations(mover.axis, stops), np.array(mover.origin))


def _room(
    mover: Mover,
    stops: Array,
    moving: tuple[Placed, tuple[Array, Array, Array]],
    other: Placed,
) -> Room:
    part, ways = moving
    rooms = _near_rooms(ways, _shape(other))
    copies = (part.id, other.id)
    if rooms.min() < -PRESSED:
        rooms = _looked_at_again(mover, stops, part, other)
    place = int(rooms.argmin())
    if rooms[place] < -PRESSED:
        first = int(np.flatnonzero(rooms < -PRESSED)[0])
        at = float(stops[first])
        if mover.kind is Motion.SLIDES:
            at = _along(mover, part, other)
        return Room(mover=mover.id, least=float(rooms[first]), at=at, copies=copies)
    return Room(mover=mover.id, least=float(rooms[place]), at=float(stops[place]), copies=copies)


def _looked_at_again(mover: Mover, stops: Array, part: Placed, other: Placed) -> Array:
    """The room at every stop between two parts with their cuts taken out."""
    least = np.full(len(stops), np.inf)
    still = [shape(body, other.copy.placement) for body in _pieces(other)]
    for body in _pieces(part):
        ways = _ways(mover, stops, shape(body, part.copy.placement))
        low, high = ways[0].min(axis=(0, 1)), ways[0].max(axis=(0, 1))
        for one in still:
            lo, hi = one.box
            if np.all((low < hi) & (lo < high)):
                least = np.minimum(least, _near_rooms(ways, one))
    nearest: Array = np.minimum(least, NEAR)
    return nearest


def _near_rooms(ways: tuple[Array, Array, Array], still: Shape) -> Array:
    """The room at every stop; where upright boxes are further apart than ``NEAR``, that."""
    points, normals, edges = ways
    lo, hi = still.box
    beside = np.maximum(points.min(axis=1) - hi, lo - points.max(axis=1)).max(axis=1)
    close = beside < NEAR
    rooms = np.full(len(points), NEAR)
    if close.any():
        rooms[close] = room((points[close], normals[close], edges[close]), still)
    return rooms


def _along(mover: Mover, part: Placed, other: Placed) -> float:
    """How far out a drawer first meets something (mm), within ``TRAVEL``."""
    still = [shape(body, other.copy.placement) for body in _pieces(other)]
    mine = [shape(body, part.copy.placement) for body in _pieces(part)]
    for step in range(math.ceil(mover.limit / TRAVEL) + 1):
        out = min(step * TRAVEL, mover.limit)
        shift = np.array(mover.axis) * out
        for one in mine:
            there = standing(Shape(one.corners + shift, one.normals, one.edges))
            if any(room(there, two).min() < -PRESSED for two in still):
                return out
    return mover.limit


@cache
def _base(blank: Blank, features: tuple[Feature, ...]) -> Body:
    return whole(_bare(blank, features))


@cache
def _bits(blank: Blank, features: tuple[Feature, ...]) -> tuple[Body, ...]:
    return pieces(_bare(blank, features))


def _bare(blank: Blank, features: tuple[Feature, ...]) -> Part:
    kind = PartKind.LUMBER
    return Part(label="", name="", kind=kind, material=None, blank=blank, features=features)


@cache
def _shape(one: Placed) -> Shape:
    return shape(_base(*one.part.shape), one.copy.placement)


def _pieces(one: Placed) -> tuple[Body, ...]:
    return _bits(*one.part.shape)


def _finding(piece: Piece, mover: Mover, met: Room) -> Finding:
    mine, other = (piece.by_id[copy] for copy in met.copies)
    slides = mover.kind is Motion.SLIDES
    unit = "mm" if slides else "degrees"
    way = "out" if slides else "open"
    mend = (
        "move one of them, or let the drawer out less far"
        if slides
        else f"move one of them, or take a hinge that opens to {max(met.at - DEGREES, 0.0):.0f} "
        "degrees at most"
    )
    return Finding(
        code="motion.meets",
        severity=Severity.ERROR,
        subject=mover.id,
        message=f"{mine.spoken} meets {other.spoken} when it is {met.at:.0f} {unit} {way}; {mend}",
        copies=met.copies,
        value=met.at,
        limit=mover.limit,
        unit=unit,
        source=SOURCE,
    )
