"""Set-ups that are alike for many parts: set once, cut them all."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from models.parts.assembly import Assembly
from planning.machines import BY_HAND, Tool
from planning.saw.records import SetUp
from planning.saw.settings import FROM_EDGE

PLACES = 2
"""Distances alike to 0.01 mm are one setting."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """One setting and all that it makes: ``members`` are (part, order), ``pieces`` with copies."""

    setting: str
    machine: Tool
    members: tuple[tuple[str, int], ...]
    pieces: int
    names: tuple[str, ...]

    @property
    def said(self) -> str:
        """Say it: ``fence at 412.0: 8 drawer sides``."""
        return f"{self.setting}: {self.pieces} pieces ({', '.join(self.names)})"


Key = tuple[object, ...]


def groups(found: Iterable[SetUp], assembly: Assembly) -> tuple[Group, ...]:
    """Every setting that makes more than one piece, in the order of first use."""
    members: dict[Key, list[SetUp]] = {}
    for one in found:
        for key in keys(one):
            members.setdefault(key, []).append(one)
    made = (group(key, alike, assembly) for key, alike in members.items())
    return tuple(one for one in made if one.pieces > 1)


def group(key: Key, alike: list[SetUp], assembly: Assembly) -> Group:
    """One setting with all that it makes."""
    labels = tuple(dict.fromkeys(one.part for one in alike))
    copies = {label: len(assembly.copies_of(label)) for label in labels}
    return Group(
        setting=str(key[1]),
        machine=alike[0].machine,
        members=tuple((one.part, one.order) for one in alike),
        pieces=sum(copies.values()),
        names=tuple(f"{copies[label]} x {label} {assembly.part(label).name}" for label in labels),
    )


def keys(one: SetUp) -> Iterator[Key]:
    """What a set-up is alike by: the machine and every number that is set on it."""
    if one.makes_face is None and one.cutter is None:
        for check in one.expect:
            if check.what in {"length", "width"} and check.at == "stock":
                stop = "stop" if check.what == "length" else "fence"
                yield (one.machine, f"{stop} at {check.value:.1f} mm", round(check.value, PLACES))
        return
    if one.cutter is not None:
        yield (one.machine, cutter_words(one), *cutter_key(one))
        return
    if one.distance is None or one.mitre is None or one.tilt is None:
        return
    yield (
        one.machine,
        words(one),
        round(one.distance, PLACES),
        round(one.mitre, PLACES),
        one.mitre_to,
        round(one.tilt, PLACES),
        one.tilt_to,
        one.measured,
        one.keeps,
    )


def words(one: SetUp) -> str:
    """A planar setting in words."""
    at = "fence" if one.measured == FROM_EDGE else "stop"
    if one.machine in BY_HAND:
        at = "line"
    told = f"{at} at {one.distance:.1f} mm"
    if one.tilt:
        told += f", blade at {one.tilt:.1f} degrees"
    if one.measured != FROM_EDGE and one.mitre:
        told += f", gauge at {one.mitre:.1f} degrees"
    return told


def cutter_key(one: SetUp) -> Key:
    """What a cutter is set to."""
    done = one.cutter
    if done is None:
        return ()
    sizes = (done.width, done.diameter, done.depth, done.at[1], done.lean)
    numbers = tuple(None if size is None else round(size, PLACES) for size in sizes)
    return (one.does, *numbers, round(done.at[0], PLACES) if done.length is None else None)


def cutter_words(one: SetUp) -> str:
    """A cutter's setting in words."""
    done = one.cutter
    if done is None:
        return one.does
    size = done.width if done.width is not None else done.diameter
    deepness = "through" if done.depth is None else f"{done.depth:.1f} mm deep"
    return f"{one.does} {size:.1f} mm wide, {deepness}, {done.at[1]:.1f} mm from the edge"
