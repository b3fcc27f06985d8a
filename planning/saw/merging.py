"""What a maker does in one go: cuts that differ by no more than where they are, told once."""

from collections.abc import Iterable
from dataclasses import fields, replace

from planning.machines import BY_HAND, Tool
from planning.saw.records import Alike, Pass, SetUp

PLACES = 2
"""Lengths alike to 0.01 mm and angles alike to 0.01 degree are set alike."""

BITS = frozenset({Tool.DRILL_PRESS, Tool.DRILL})
"""They go where the mark is: no fence has to be moved for the next hole."""

Key = tuple[object, ...]


def merged(found: Iterable[SetUp]) -> list[SetUp]:
    """The same work with what is set alike told as one, where the first of it stood."""
    together: dict[Key, list[SetUp]] = {}
    for one in found:
        together.setdefault(key(one), []).append(one)
    return [
        replace(first, alike=tuple(alike(one) for one in others))
        for first, *others in together.values()
    ]


def alike(one: SetUp) -> Alike:
    """One set-up as a further cut of another."""
    return Alike(**{field.name: getattr(one, field.name) for field in fields(Alike)})


def key(one: SetUp) -> Key:
    """What has to be set anew for a cut that differs in it."""
    what = (one.machine, one.does, one.wedge, one.note)
    if one.cutter is not None:
        return (*what, *cutter_key(one, one.cutter))
    if one.machine in BY_HAND:
        return (*what, one.table_face, rounded(one.depth))
    numbers = (one.mitre, one.tilt, one.distance, one.depth)
    return (*what, one.mitre_to, one.tilt_to, one.measured, one.keeps, *map(rounded, numbers))


def cutter_key(one: SetUp, done: Pass) -> Key:
    """What a cutter or a bit is set to: its size, its depth, how it leans, the fence."""
    sizes = (done.width, done.diameter, done.depth, done.lean)
    where: Key = (one.table_face, one.reference_edge, *map(rounded, sizes))
    if one.machine in BITS:
        return where
    if one.distance is None:
        return (*where, rounded(done.at[1]))
    return (*where, one.measured, rounded(one.distance), rounded(one.mitre), done.ends)


def rounded(value: float | None) -> float | None:
    """A number as it is set."""
    return None if value is None else round(value, PLACES) + 0.0
