"""Drawers through their whole travel, doors through their whole swing, against all that stands.

What shares space as whole convex bases is looked at again with every flat-sided cut taken out.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from checks.placed import Piece, Placed
from checks.shapes import Box, Shape, beside, box_of, shifted
from checks.together import STEP, Pair, pairs
from checks.ways import (
    DEGREES,
    NEAR,
    PRESSED,
    Scene,
    Way,
    bases_meet,
    near,
    nearest_stop,
    stops,
    ways,
)
from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import scale
from models.parts.assembly import Motion, Mover

TRAVEL: Final = 5.0
"""Where a drawer meets something, this is how closely the place is told (mm)."""
LEAST: Final = 0.3
"""What moves keeps this much room at least, or paint and dust make it rub (mm). Common practice,
no source."""
SQUARE: Final = 90.0
"""A door that opens so far gives way to the drawers behind and beside it (degrees)."""
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
    """What drawers and doors meet on their way, alone and with a neighbour open; the least room."""
    scene = Scene(piece=piece)
    least: Room | None = None
    for mover in piece.assembly.movers:
        for way, other in _close(scene, mover):
            pressed = _bases_meet(scene, way, other)
            stop = _meets(scene, way, other, pressed)
            if stop is not None:
                yield _finding(piece, mover, _met(scene, way, other, stop))
            else:
                least = _nearer(scene, way, other, (pressed, least))
    together = tuple(pairs(scene, enough=NEAR if least is None else least.least))
    yield from both_open(piece, [pair for pair in together if pair.least < -PRESSED])
    free = [_of_two(pair) for pair in together if pair.least > PRESSED]
    nearest = min((*free, *([least] if least else ())), key=lambda one: one.least, default=None)
    if nearest is not None:
        yield _clear(piece, nearest)


def least_room(piece: Piece, mover: Mover) -> Room | None:
    """Where a mover comes nearest to anything but its own fittings; None: nothing is near it."""
    scene = Scene(piece=piece)
    found: Room | None = None
    for way, other in _close(scene, mover):
        found = _nearer(scene, way, other, (_bases_meet(scene, way, other), found))
    return found


def _nearer(
    scene: Scene, way: Way, other: Placed, known: tuple[tuple[int, ...], Room | None]
) -> Room | None:
    """The room of two parts where it is less than the least that is known, else that."""
    pressed, least = known
    if way.part.copy.group == other.copy.group:
        return least
    stop, room = _nearest(scene, way, other, (pressed, NEAR if least is None else least.least))
    if stop is None or math.isclose(room, 0.0, abs_tol=PRESSED):
        return least
    at = stops(way.mover)[stop]
    return Room(mover=way.mover.id, least=room, at=at, copies=(way.part.id, other.id))


def _of_two(pair: Pair) -> Room:
    """The room of two movers, told of the first that turns."""
    turning = next((n for n, one in enumerate(pair.movers) if one.kind is Motion.TURNS), 0)
    mover = pair.movers[turning]
    return Room(mover=mover.id, least=pair.least, at=pair.at[turning], copies=pair.copies)


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


def _meets(scene: Scene, way: Way, other: Placed, pressed: tuple[int, ...]) -> int | None:
    """The first of those stops at which they do so with their cuts taken out."""
    met = (stop for stop in pressed if _pressed(way.bits(stop), scene.bits(other)))
    return next(met, None)


def _pressed(some: tuple[Shape, ...], others: tuple[Shape, ...]) -> bool:
    return near(some, others, enough=-PRESSED) < -PRESSED


def _nearest(
    scene: Scene, way: Way, other: Placed, known: tuple[tuple[int, ...], float]
) -> tuple[int | None, float]:
    """The stop at which a part comes nearest to another, if nearer than what is known."""
    pressed, least = known
    one, still = scene.base(way.part), scene.base(other)
    whole = ((one,), (still,))
    bits = (scene.bits(way.part), scene.bits(other)) if pressed else whole
    return nearest_stop(way.mover, (one, still), bits, least)


def _bases_meet(scene: Scene, way: Way, other: Placed) -> tuple[int, ...]:
    """The stops at which two parts share space before their cuts are taken out."""
    return bases_meet(way.mover, scene.base(way.part), scene.base(other))


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


def both_open(piece: Piece, met: Iterable[Pair]) -> Iterator[Finding]:
    """Movers that are in one another's way when both are open: by door, else two by two."""
    of: dict[str, list[Pair]] = {}
    for pair in met:
        kinds = [mover.kind for mover in pair.movers]
        alone = kinds.count(Motion.TURNS) == 1
        door = pair.movers[kinds.index(Motion.TURNS)].id if alone else ""
        of.setdefault(door or " and ".join(mover.id for mover in pair.movers), []).append(pair)
    for subject, found in of.items():
        yield _in_the_way(piece, subject, min(found, key=_angle), found)


def _angle(pair: Pair) -> float:
    """How far the door stands open where two meet; of two doors the one that is opened further."""
    turning = [at for at, mover in zip(pair.at, pair.movers, strict=True) if _turns(mover)]
    return max(turning, default=0.0)


def _turns(mover: Mover) -> bool:
    return mover.kind is Motion.TURNS


def _in_the_way(piece: Piece, subject: str, first: Pair, found: list[Pair]) -> Finding:
    one, other = (piece.by_id[copy] for copy in first.copies)
    angle = _angle(first)
    drawers = [mover.id for pair in found for mover in pair.movers if not _turns(mover)]
    if not angle:
        what, mend = "when both are out", "move them apart, or let one out less far"
    else:
        kept = max(angle - DEGREES * (STEP if not drawers else 1), 0.0)
        what = f"when it stands {angle:.0f} degrees open"
        if drawers:
            what += f", so that {', '.join(dict.fromkeys(drawers))} cannot pass"
        mend = f"close one before the other, or take hinges that open to {kept:.0f} degrees at most"
    return Finding(
        code="motion.both_open",
        severity=Severity.NOTE if angle > SQUARE else Severity.WARNING,
        subject=subject,
        message=f"{one.spoken} meets {other.spoken} {what}; {mend}",
        copies=first.copies,
        value=round(angle, 6),
        limit=SQUARE,
        unit="degrees",
        source=SOURCE,
    )


def _clear(piece: Piece, nearest: Room) -> Finding:
    """The least room of all that moves."""
    mine, other = (piece.by_id[copy] for copy in nearest.copies)
    slides = piece.movers[nearest.mover].kind is Motion.SLIDES
    where = "on its way" if slides else f"at {nearest.at:.0f} degrees"
    tight = nearest.least < LEAST
    mend = f"; give it {LEAST - nearest.least + 0.05:.1f} mm more" if tight else ""
    return Finding(
        code="motion.tight" if tight else "motion.clear",
        severity=Severity.WARNING if tight else Severity.NOTE,
        subject=nearest.mover,
        message=f"the least room of all that moves, neighbours open or closed, is "
        f"{nearest.least:.2f} mm, between {mine.spoken} and {other.spoken}, {where}{mend}",
        copies=nearest.copies,
        value=round(nearest.least, 6),
        limit=LEAST,
        unit="mm",
        source=COMMON_PRACTICE,
    )
