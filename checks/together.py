"""Two movers open at once: drawers beside open doors, doors beside doors.

A drawer is taken with all of its way at once, a door beside it at every stop, two doors at pairs of
stops: each of the first few, then every third. One of the two closed is looked at with the mover
alone.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from checks.shapes import beside, box_of
from checks.ways import PRESSED, Scene, Way, near, stops, ways
from models.parts.assembly import Motion, Mover

FINE: Final = 5
"""So many first stops of two doors are all looked at: they are nearest as they begin to open."""
STEP: Final = 3
"""Of the others every third."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """The least room of two movers with both open: mm, where, and between which copies."""

    movers: tuple[Mover, Mover]
    least: float
    at: tuple[float, float]
    """How far each is open: degrees, or all of a drawer's way (its travel, mm)."""
    copies: tuple[str, str]


def pairs(scene: Scene, *, enough: float) -> Iterator[Pair]:
    """Every two movers that come within ``enough`` of one another when both are open.

    Of two that meet, the first place where they do is told.
    """
    movers = [mover for mover in scene.piece.assembly.movers if ways(scene, mover)]
    boxes = {mover.id: box_of(way.box for way in ways(scene, mover)) for mover in movers}
    for one, other in combinations(movers, 2):
        if beside(boxes[one.id], boxes[other.id]) < enough:
            found = _pair(scene, (one, other), enough)
            if found is not None:
                yield found


def _pair(scene: Scene, movers: tuple[Mover, Mover], enough: float) -> Pair | None:
    """The least room of two movers: the first place where they meet, else the nearest."""
    close = [
        (one, other)
        for one in ways(scene, movers[0])
        for other in ways(scene, movers[1])
        if beside(one.box, other.box) < enough
    ]
    found: Pair | None = None
    least = enough
    for at in sorted(_places(movers), key=lambda place: (sum(place), place)) if close else ():
        for one, other in close:
            there = _room(one, other, at, least)
            if there < least:
                least = there
                found = Pair(
                    movers=movers,
                    least=least,
                    at=(_open(movers[0], at[0]), _open(movers[1], at[1])),
                    copies=(one.part.id, other.part.id),
                )
        if least < -PRESSED:
            return found
    return found


def _places(movers: tuple[Mover, Mover]) -> Iterator[tuple[int, int]]:
    one, other = movers
    both = one.kind is Motion.TURNS and other.kind is Motion.TURNS
    return ((a, b) for a in _stops(one, coarse=both) for b in _stops(other, coarse=both))


def _stops(mover: Mover, *, coarse: bool) -> tuple[int, ...]:
    """The stops of a mover that is open."""
    if mover.kind is Motion.SLIDES:
        return (0,)
    last = len(stops(mover)) - 1
    if not coarse:
        return tuple(range(1, last + 1))
    return tuple(sorted({*range(1, min(FINE, last) + 1), *range(FINE, last, STEP), last}))


def _room(one: Way, other: Way, at: tuple[int, int], enough: float) -> float:
    """The room between two parts on their ways; cuts are taken out where their bases meet."""
    a, b = at
    if beside(one.boxes[a], other.boxes[b]) >= enough:
        return enough
    least = near((one.base(a),), (other.base(b),), enough=enough)
    return near(one.bits(a), other.bits(b), enough=enough) if least < -PRESSED else least


def _open(mover: Mover, stop: int) -> float:
    return mover.limit if mover.kind is Motion.SLIDES else stops(mover)[stop]
