"""Where the parts of a drawer or a door are on their way, and how near they come to others.

A drawer is looked at over all of its way at once, a door every 2 degrees at most (half-way between
two looks a point 600 mm from the hinges is 0.09 mm off its arc).
"""

import math
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import Final

from checks.placed import Piece, Placed
from checks.shapes import (
    Box,
    Shape,
    Turn,
    beside,
    box_of,
    corners_of,
    pieces,
    room,
    rotation,
    shape,
    spanned,
    spun,
    swept,
    turned,
    whole,
)
from checks.solid_geometry import Body
from ground.vectors import ORIGIN, Vec, add, scale
from models.parts.assembly import Motion, Mover

Shapes = tuple[Shape, ...]

DEGREES: Final = 2.0
"""A door is looked at this often at least."""
PRESSED: Final = 0.01
"""Less than this in one another is touching (mm): the play of numbers, not of wood."""
NEAR: Final = 10.0
"""What stays further off than this is not near (mm)."""
KEPT: Final = 1536
"""So many shapes on their way, and so many answers about two of them, are kept for the next look:
after an edit most doors and most of what they pass are as they were."""


@dataclass(slots=True, eq=False, kw_only=True)
class Scene:
    """The closed piece as convex shapes, each made once when it is first asked for."""

    piece: Piece
    whole: dict[str, Shape] = field(default_factory=dict)
    split: dict[str, tuple[Shape, ...]] = field(default_factory=dict)
    bodies: dict[str, tuple[Body, ...]] = field(default_factory=dict)
    going: "dict[str, tuple[Way, ...]]" = field(default_factory=dict)

    def base(self, one: Placed) -> Shape:
        """A part where it stands, its cuts not taken out."""
        found = self.whole.get(one.id)
        if found is None:
            found = self.whole[one.id] = shape(whole(one.part), one.copy.placement)
        return found

    def bits(self, one: Placed) -> tuple[Shape, ...]:
        """A part where it stands, in the pieces that its flat-sided cuts leave."""
        found = self.split.get(one.id)
        if found is None:
            label = one.part.label
            if label not in self.bodies:
                self.bodies[label] = pieces(one.part)
            found = tuple(shape(body, one.copy.placement) for body in self.bodies[label])
            self.split[one.id] = found
        return found


@dataclass(slots=True, eq=False, kw_only=True)
class Way:
    """One part of a mover, at each stop of its way: a drawer's whole way is one stop."""

    scene: Scene
    part: Placed
    mover: Mover
    boxes: tuple[Box, ...] = ()
    """A box around the part at each stop, a little large where it turns."""
    box: Box = (ORIGIN, ORIGIN)
    """The box of the whole way."""
    whole: dict[int, Shape] = field(default_factory=dict)
    split: dict[int, tuple[Shape, ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Box it in."""
        self.boxes = boxed(self.mover, self.scene.base(self.part))
        self.box = box_of(self.boxes)

    def base(self, stop: int) -> Shape:
        """The part there, its cuts not taken out."""
        found = self.whole.get(stop)
        if found is None:
            found = self.whole[stop] = moved(self.mover, stop, self.scene.base(self.part))
        return found

    def bits(self, stop: int) -> tuple[Shape, ...]:
        """The part there, in the pieces that its cuts leave."""
        found = self.split.get(stop)
        if found is None:
            still = self.scene.bits(self.part)
            found = self.split[stop] = tuple(moved(self.mover, stop, one) for one in still)
        return found

    @property
    def count(self) -> int:
        """How many stops there are."""
        return len(self.boxes)


def ways(scene: Scene, mover: Mover) -> tuple[Way, ...]:
    """Every part that a mover carries, on its way."""
    found = scene.going.get(mover.id)
    if found is None:
        mine = scene.piece.on(mover.id)
        found = tuple(Way(scene=scene, part=one, mover=mover) for one in mine)
        scene.going[mover.id] = found
    return found


def stops(mover: Mover) -> tuple[float, ...]:
    """Where a mover is looked at, in degrees; all of a drawer's way is one look."""
    return (0.0,) if mover.kind is Motion.SLIDES else _every(mover.limit)


@cache
def _every(limit: float) -> tuple[float, ...]:
    count = max(2, math.ceil(limit / DEGREES) + 1)
    return tuple(limit * place / (count - 1) for place in range(count))


@lru_cache(maxsize=KEPT)
def moved(mover: Mover, stop: int, one: Shape) -> Shape:
    """A shape on a mover, at a stop of its way."""
    if mover.kind is Motion.SLIDES:
        return swept(one, scale(mover.axis, mover.limit))
    if stop == 0:
        return one
    return turned(one, _turn(mover.axis, stops(mover)[stop]), mover.origin)


@lru_cache(maxsize=KEPT)
def boxed(mover: Mover, one: Shape) -> tuple[Box, ...]:
    """A box around a shape at every stop."""
    lo, hi = one.box
    if mover.kind is Motion.SLIDES:
        move = scale(mover.axis, mover.limit)
        return (box_of((one.box, (add(lo, move), add(hi, move)))),)
    ends = corners_of(one.box)
    turns = (_turn(mover.axis, degrees) for degrees in stops(mover))
    return tuple(spanned(spun(ends, turn, mover.origin)) for turn in turns)


@cache
def _turn(axis: Vec, degrees: float) -> Turn:
    return rotation(axis, degrees)


def near(some: tuple[Shape, ...], others: tuple[Shape, ...], *, enough: float) -> float:
    """The least room between any two of both; what is more than ``enough`` is not worked out."""
    least = NEAR
    for one in some:
        for other in others:
            most = min(least, enough)
            if beside(one.box, other.box) < most:
                least = min(least, room(one, other, enough=most))
    return least


@lru_cache(maxsize=KEPT)
def bases_meet(mover: Mover, one: Shape, still: Shape) -> tuple[int, ...]:
    """The stops at which a shape on a mover shares space with one that stands still."""
    return tuple(
        stop
        for stop, box in enumerate(boxed(mover, one))
        if beside(box, still.box) < -PRESSED
        and near((moved(mover, stop, one),), (still,), enough=-PRESSED) < -PRESSED
    )


@lru_cache(maxsize=KEPT)
def nearest_stop(
    mover: Mover, bases: tuple[Shape, Shape], bits: tuple[Shapes, Shapes], least: float
) -> tuple[int | None, float]:
    """The stop at which a part on a mover comes nearest to one that stands still.

    Each is given as its base, and as the shapes that are looked at. None and ``least`` where it
    comes no nearer than that.
    """
    (one, still), (some, others) = bases, bits
    found = None
    for stop, box in enumerate(boxed(mover, one)):
        if beside(box, still.box) < least:
            there = near(tuple(moved(mover, stop, bit) for bit in some), others, enough=least)
            if there < least:
                found, least = stop, there
    return (found, least)
