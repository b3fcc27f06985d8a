"""How far each copy stands off where the piece is taken apart: by groups, then group by group.

The whole comes apart into the groups that a maker puts together by themselves. Each of them is
taken apart in a picture of its own, along the ways in which its joints come apart.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import ceil

from drawings import polyhedron
from ground.vectors import ORIGIN, Vec, X, Y, Z, add, neg, norm, scale, unit
from models.parts.assembly import Assembly, Copy, Joint

SHARE = 0.28
"""One step apart is this share of the piece's depth, of a group's middle size."""

OF_GROUP: Mapping[str, Vec] = {
    "base": (0.0, 0.0, -2.4),
    "shelves": (0.0, -2.2, 0.0),
    "doors": (0.0, -6.0, 0.0),
    "drawers": (0.0, -4.2, 0.0),
}
"""Steps by which a whole group stands off; what is not named stays."""

CASE = "case"
WITH_CASE = frozenset({CASE, "inside"})
"""Groups that are put together in one."""

OWN_SHARE = 0.5
"""What is made and no joint holds, an edging, stands this share of a step off what it sits on."""

FIRST = ("base", CASE)
"""Groups that come before the others."""

MOST = 6
"""Pictures on one sheet."""

STILL = 1e-9
TOUCHING = 1.0
"""Boxes nearer than this touch (mm)."""

Box = tuple[Vec, Vec]


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """What is put together by itself: a base, a case, a drawer; ``like`` it are others."""

    name: str
    copies: tuple[Copy, ...]
    like: tuple[str, ...] = ()


def groups(assembly: Assembly) -> tuple[Group, ...]:
    """The groups of a piece in the order in which its parts are counted."""
    found: dict[str, list[Copy]] = defaultdict(list)
    for copy in assembly.copies:
        found[group_of(copy)].append(copy)
    return tuple(Group(name=name, copies=tuple(copies)) for name, copies in found.items())


def shown(assembly: Assembly) -> tuple[Group, ...]:
    """The groups that want a picture: those with a part that no picture before them shows."""
    order = sorted(groups(assembly), key=lambda group: _rank(group.name))
    seen: set[str] = set()
    kept: list[Group] = []
    for group in order:
        labels = _labels(group)
        if not labels <= seen:
            kept.append(group)
            seen |= labels
    return tuple(
        Group(
            name=group.name,
            copies=group.copies,
            like=tuple(o.name for o in order if o not in kept and _labels(o) == _labels(group)),
        )
        for group in kept
    )


def leaves(assembly: Assembly) -> tuple[tuple[Group, ...], ...]:
    """The groups that share a sheet: base and case have their own."""
    every = shown(assembly)
    first = tuple(group for group in every if group.name in FIRST)
    rest = tuple(group for group in every if group not in first)
    count = ceil(len(rest) / MOST)
    each = ceil(len(rest) / count) if count else 1
    others = tuple(rest[start : start + each] for start in range(0, len(rest), each))
    return (first, *others) if first else others


def group_of(copy: Copy) -> str:
    """The name of the group that a copy is put together with."""
    if not copy.group or copy.group[0] in WITH_CASE:
        return CASE
    return copy.group[-1]


def _rank(name: str) -> int:
    """The base and the case come first, then the others as they stand."""
    return FIRST.index(name) if name in FIRST else len(FIRST)


def _labels(group: Group) -> set[str]:
    return {copy.label for copy in group.copies}


def away(assembly: Assembly) -> dict[str, Vec]:
    """How far each copy moves with its whole group (mm), by its id."""
    step = SHARE * size_of(assembly, assembly.copies)[1]
    return {copy.id: scale(_of_group(copy), step) for copy in assembly.copies}


def apart(assembly: Assembly, group: Group) -> dict[str, Vec]:
    """How far each copy of a group is moved (mm) to take it apart, by its id."""
    boxes = {copy.id: _box(assembly, copy) for copy in group.copies}
    joints = [joint for joint in assembly.joints if boxes.keys() >= set(joint.parts)]
    step = SHARE * sorted(size_of(assembly, group.copies))[1]
    moves = {name: scale(way, step) for name, way in _ways(joints).items()}
    loose = {name: joint for joint in joints for name in joint.loose}
    joined = {name for joint in joints for name in joint.parts}
    for copy in group.copies:
        if copy.id in loose:
            moves[copy.id] = _between(loose[copy.id], moves)
    hosts = joined or {_largest(group, boxes)}
    for copy in group.copies:
        if copy.id not in loose and copy.id not in hosts:
            near = _neighbour(copy, group.copies, boxes, hosts)
            far = step * (OWN_SHARE if assembly.part(copy.label).made else 1.0)
            off = scale(_off(boxes[copy.id], boxes[near]), far)
            moves[copy.id] = add(moves.get(near, ORIGIN), off)
    return {copy.id: moves.get(copy.id, ORIGIN) for copy in group.copies}


def _of_group(copy: Copy) -> Vec:
    """Steps of the group that a copy belongs to."""
    return OF_GROUP.get(copy.group[0], ORIGIN) if copy.group else ORIGIN


def size_of(assembly: Assembly, copies: Iterable[Copy]) -> Vec:
    """Length, depth and height of what some copies fill (mm)."""
    found = [_box(assembly, copy) for copy in copies]
    spans = [
        max(high[axis] for _, high in found) - min(low[axis] for low, _ in found)
        for axis in range(3)
    ]
    return (spans[0], spans[1], spans[2])


def _ways(joints: Iterable[Joint]) -> dict[str, Vec]:
    """The way that each copy comes off, one step long, from the joints of its group."""
    found: dict[str, set[Vec]] = defaultdict(set)
    for joint in joints:
        for name, way in _leaving(joint):
            if norm(way) > STILL:
                found[name].add(_rounded(unit(way)))
    ways: dict[str, Vec] = {}
    for name, several in found.items():
        total = ORIGIN
        for way in sorted(several):
            total = add(total, way)
        ways[name] = unit(total) if norm(total) > STILL else ORIGIN
    return ways


def _leaving(joint: Joint) -> Iterable[tuple[str, Vec]]:
    """The parts of a joint that move when it opens, and how."""
    if isinstance(joint.closes, str):
        return [(name, neg(way)) for name, way in zip(joint.parts, joint.each, strict=False)]
    return [(joint.parts[-1], neg(joint.closes))]


def _rounded(way: Vec) -> Vec:
    """A direction to six decimals, so that equal ones are met once."""
    return (round(way[0], 6) + 0.0, round(way[1], 6) + 0.0, round(way[2], 6) + 0.0)


def _between(joint: Joint, moves: Mapping[str, Vec]) -> Vec:
    """Where a loose piece stands: midway between what it joins."""
    total = ORIGIN
    for name in joint.parts:
        total = add(total, moves.get(name, ORIGIN))
    return scale(total, 1.0 / len(joint.parts))


def _largest(group: Group, boxes: Mapping[str, Box]) -> str:
    """The copy of a group that fills the most."""
    return max(group.copies, key=lambda copy: (_volume(boxes[copy.id]), copy.id)).id


def _volume(box: Box) -> float:
    low, high = box
    return (high[0] - low[0]) * (high[1] - low[1]) * (high[2] - low[2])


def _off(box: Box, host: Box) -> Vec:
    """The way, along an axis, on which a box comes off the box it sits on: the shortest."""
    ways: list[tuple[float, Vec]] = []
    for axis, up in enumerate((X, Y, Z)):
        ways.append((round(host[1][axis] - box[0][axis], 3), up))
        ways.append((round(box[1][axis] - host[0][axis], 3), neg(up)))
    return min(ways)[1]


def _neighbour(
    copy: Copy, copies: Iterable[Copy], boxes: Mapping[str, Box], hosts: set[str]
) -> str:
    """The copy of ``hosts`` that a copy without a joint touches most."""
    near = [
        (_shared(boxes[copy.id], boxes[other.id]), _volume(boxes[other.id]), other.id)
        for other in copies
        if other.id in hosts
    ]
    return max(near)[2]


def _shared(a: Box, b: Box) -> float:
    """How much two boxes share when both are a little wider (mm3); nothing where they are apart."""
    spans = [
        min(a[1][axis], b[1][axis]) - max(a[0][axis], b[0][axis]) + TOUCHING for axis in range(3)
    ]
    if min(spans) <= 0.0:
        return 0.0
    return spans[0] * spans[1] * spans[2]


def _box(assembly: Assembly, copy: Copy) -> Box:
    """The box around a copy in the piece."""
    corners = [
        copy.placement.point(corner)
        for corner in polyhedron.corners(polyhedron.block(assembly.part(copy.label).blank))
    ]
    low, high = (
        tuple(pick(corner[axis] for corner in corners) for axis in range(3)) for pick in (min, max)
    )
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])
