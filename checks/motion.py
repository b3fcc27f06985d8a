"""Drawers through their whole travel, doors through their whole swing, against all that stands.

What shares space as whole convex bases is looked at again with every flat-sided cut taken out.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from checks.placed import Piece, Placed
from checks.shapes import Box, Shape, beside, box_of, shifted
from checks.ways import DEGREES, NEAR, Scene, Way, near, stops, ways
from ground.findings import Finding, Severity
from ground.vectors import scale
from models.parts.assembly import Motion, Mover

TRAVEL: Final = 5.0
"""Where a drawer meets something, this is how closely the place is told (mm)."""
PRESSED: Final = 0.01
"""Less than this in one another is touching (mm): the play of numbers, not of wood."""
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
    scene = Scene(piece=piece)
    for mover in piece.assembly.movers:
        for way, other in _close(scene, mover):
            stop = _meets(scene, way, other)
            if stop is not None:
                yield _finding(piece, mover, _met(scene, way, other, stop))


def least_room(piece: Piece, mover: Mover) -> Room | None:
    """Where a mover comes nearest to anything but its own fittings; None: nothing is near it."""
    return _least(Scene(piece=piece), mover)


def _least(scene: Scene, mover: Mover) -> Room | None:
    found: Room | None = None
    for way, other in _close(scene, mover):
        if way.part.copy.group == other.copy.group:
            continue
        at, least = _nearest(scene, way, other, NEAR if found is None else found.least)
        touching = math.isclose(least, 0.0, abs_tol=PRESSED)
        if at is not None and not touching:
            copies = (way.part.id, other.id)
            found = Room(mover=mover.id, least=least, at=stops(mover)[at], copies=copies)
    return found


def _close(scene: Scene, mover: Mover) -> Iterator[tuple[Way, Placed]]:
    """Each part of a mover, and each thing near its way."""
    mine = ways(scene, mover)
    others = tuple(one for one in scene.piece.placed if one.copy.mover != mover.id)
    boxes = [way.box for way in mine]
    others = tuple(_beside(box_of(boxes), others)) if boxes else ()
    for way, box in zip(mine, boxes, strict=True):
        for other in _beside(box, others):
            yield (way, other)


def _beside(box: Box, others: Iterable[Placed]) -> Iterator[Placed]:
    """What is near an upright box."""
    return (one for one in others if beside(box, (one.lo, one.hi)) < NEAR)


def _meets(scene: Scene, way: Way, other: Placed) -> int | None:
    """The first stop at which a part on its way shares space with another."""
    still = scene.base(other)
    for stop, box in enumerate(way.boxes):
        if beside(box, still.box) >= -PRESSED:
            continue
        if _pressed((way.base(stop),), (still,)) and _pressed(way.bits(stop), scene.bits(other)):
            return stop
    return None


def _pressed(some: tuple[Shape, ...], others: tuple[Shape, ...]) -> bool:
    return near(some, others, enough=-PRESSED) < -PRESSED


def _nearest(scene: Scene, way: Way, other: Placed, most: float) -> tuple[int | None, float]:
    """The stop at which a part comes nearest to another, if nearer than ``most``, and how near."""
    still = scene.base(other)
    apart = [beside(box, still.box) for box in way.boxes]
    again = any(
        apart[stop] < -PRESSED and _pressed((way.base(stop),), (still,))
        for stop in range(way.count)
    )
    others = scene.bits(other) if again else (still,)
    found, least = None, most
    for stop in range(way.count):
        if apart[stop] >= least:
            continue
        there = near(way.bits(stop) if again else (way.base(stop),), others, enough=least)
        if there < least:
            found, least = stop, there
    return (found, least)


def _met(scene: Scene, way: Way, other: Placed, stop: int) -> Room:
    """Where a part meets another: a drawer's place is told within ``TRAVEL``."""
    least = near(way.bits(stop), scene.bits(other), enough=NEAR)
    at = stops(way.mover)[stop]
    if way.mover.kind is Motion.SLIDES:
        at = _out(scene, way, other)
    return Room(mover=way.mover.id, least=least, at=at, copies=(way.part.id, other.id))


def _out(scene: Scene, way: Way, other: Placed) -> float:
    """How far out a drawer first meets something (mm)."""
    mover = way.mover
    for step in range(math.ceil(mover.limit / TRAVEL) + 1):
        out = min(step * TRAVEL, mover.limit)
        there = tuple(shifted(one, scale(mover.axis, out)) for one in scene.bits(way.part))
        if _pressed(there, scene.bits(other)):
            return out
    return mover.limit


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
