"""Lines of holes that come again and again: one drilled strip serves them all.

Only holes square to a blank's faces are counted. A strip is set to an edge; a line that is the
mirror image of another is drilled with the same strip turned over.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ground.order import natural
from ground.vectors import Vec, add, scale
from models.parts.assembly import Assembly
from models.parts.features import Hole
from models.parts.part import Part
from planning.jigs.records import Bit, HoleStrip, Row

EDGES = (("left", "right"), ("front", "back"), ("bottom", "top"))
"""The blank's faces by axis: at nothing, and at its size."""
SQUARE = 0.9999
"""A hole whose way has this much along an axis is square to the face (cosine)."""
PLACES = 1
"""Places alike to 0.1 mm are one."""
WORTH = 4
"""A strip that is laid on less often than this is not worth making. Common practice, no source."""
LEAST = 2
"""Fewer holes than this are no line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilled:
    """One hole: the face it is in, its place there (mm), its bit."""

    into: int
    face: str
    at: Vec
    bit: Bit


Places = tuple[float, ...]


def strips(assembly: Assembly) -> tuple[HoleStrip, ...]:
    """Every strip that is worth making, the most used first."""
    rows: dict[tuple[Places, Bit], list[Row]] = {}
    for part in sorted(assembly.parts, key=lambda part: natural(part.label)):
        if part.made:
            copies = len(assembly.copies_of(part.label))
            for places, bit, row in lines(part, copies):
                rows.setdefault((places, bit), []).append(row)
    found: dict[tuple[Places, tuple[Row, ...]], list[Bit]] = {}
    for (places, bit), same in rows.items():
        found.setdefault((places, tuple(same)), []).append(bit)
    made = (
        HoleStrip(places=places, bits=tuple(bits), rows=same)
        for (places, same), bits in together(found).items()
    )
    worth = [strip for strip in made if strip.times >= WORTH]
    return tuple(sorted(worth, key=lambda strip: -strip.times * len(strip.places)))


def together(
    found: dict[tuple[Places, tuple[Row, ...]], list[Bit]],
) -> dict[tuple[Places, tuple[Row, ...]], list[Bit]]:
    """Strips with the same places made one, whatever bit goes through them and where."""
    rows: dict[Places, dict[Row, None]] = {}
    bits: dict[Places, dict[Bit, None]] = {}
    for (places, same), each in found.items():
        rows.setdefault(places, {}).update(dict.fromkeys(same))
        bits.setdefault(places, {}).update(dict.fromkeys(each))
    return {(places, tuple(rows[places])): list(bits[places]) for places in rows}


def lines(part: Part, copies: int) -> Iterator[tuple[Places, Bit, Row]]:
    """The lines of holes of one part, each hole in the longer of its two."""
    holes = list(drilled(part))
    size = part.blank.size
    for into in range(3):
        one, other = (axis for axis in range(3) if axis != into)
        mine = [hole for hole in holes if hole.into == into]
        for run, aside in ((one, other), (other, one)):
            for alike in lined(mine, run, aside, holes):
                places, edge = from_edge((hole.at[run] for hole in alike), run, size[run])
                far, beside = nearer(alike[0].at[aside], aside, size[aside])
                row = Row(
                    part=part.label,
                    face=alike[0].face,
                    edge=edge,
                    aside=far,
                    beside=beside,
                    times=copies,
                )
                yield places, alike[0].bit, row


def drilled(part: Part) -> Iterator[Drilled]:
    """Every hole square to a face, rows taken apart."""
    for feature in part.features:
        if not isinstance(feature, Hole):
            continue
        way = feature.seat.into
        axis = max(range(3), key=lambda found: abs(way[found]))
        if abs(way[axis]) < SQUARE:
            continue
        depth = None if feature.depth is None else round(feature.depth, PLACES)
        bit = Bit(kind=feature.kind.value, diameter=feature.diameter, depth=depth)
        for number in range(feature.count):
            place = add(feature.seat.origin, scale(feature.seat.along, number * feature.pitch))
            yield Drilled(into=axis, face=EDGES[axis][way[axis] < 0], at=place, bit=bit)


def lined(
    mine: Iterable[Drilled], run: int, aside: int, holes: Iterable[Drilled]
) -> Iterator[list[Drilled]]:
    """Holes alike on one line along ``run``, where that line has more of them than the other."""
    found: dict[tuple[Bit, str, float], list[Drilled]] = {}
    for hole in mine:
        key = (hole.bit, hole.face, round(hole.at[aside], PLACES))
        found.setdefault(key, []).append(hole)
    every = list(holes)
    for alike in found.values():
        if len(alike) < LEAST:
            continue
        crossing = max(
            sum(
                other.bit == hole.bit
                and other.face == hole.face
                and round(other.at[run], PLACES) == round(hole.at[run], PLACES)
                for other in every
            )
            for hole in alike
        )
        if len(alike) > crossing or (len(alike) == crossing and run < aside):
            yield sorted(alike, key=lambda hole: hole.at[run])


def from_edge(places: Iterable[float], axis: int, size: float) -> tuple[Places, str]:
    """Places from the edge that the strip is set to: the one that the first hole is nearer to."""
    low = tuple(round(place, PLACES) for place in places)
    high = tuple(round(size - place, PLACES) for place in reversed(low))
    return (low, EDGES[axis][0]) if low <= high else (high, EDGES[axis][1])


def nearer(place: float, axis: int, size: float) -> tuple[float, str]:
    """How far a line is from the nearer of the two edges beside it, and which that is."""
    if place <= size / 2:
        return round(place, PLACES), EDGES[axis][0]
    return round(size - place, PLACES), EDGES[axis][1]
