"""How far each copy stands off in an exploded view: along the ways in which joints come apart."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from drawings import polyhedron
from ground.vectors import ORIGIN, Vec, add, neg, norm, scale, unit
from models.parts.assembly import Assembly, Copy, Joint

SHARE = 0.28
"""One step apart is this share of the piece's depth."""

OF_GROUP: Mapping[str, Vec] = {
    "base": (0.0, 0.0, -2.4),
    "shelves": (0.0, -2.2, 0.0),
    "doors": (0.0, -6.0, 0.0),
    "drawers": (0.0, -4.2, 0.0),
}
"""Steps by which a whole group stands off; what is not named stays."""

STILL = 1e-9
TOUCHING = 1.0
"""Boxes nearer than this touch (mm)."""

Box = tuple[Vec, Vec]


def away(assembly: Assembly) -> dict[str, Vec]:
    """How far each copy is moved (mm), by its id."""
    boxes = {copy.id: _box(assembly, copy) for copy in assembly.copies}
    step = SHARE * _depth(boxes.values())
    own = _ways(assembly)
    loose = {name: joint for joint in assembly.joints for name in joint.loose}
    joined = {name for joint in assembly.joints for name in joint.parts}
    moves: dict[str, Vec] = {name: scale(way, step) for name, way in own.items()}
    for copy in assembly.copies:
        if copy.id in loose:
            moves[copy.id] = _between(loose[copy.id], moves)
        elif copy.id not in joined:
            neighbour = _neighbour(copy, assembly.copies, boxes, joined)
            moves[copy.id] = moves.get(neighbour, ORIGIN)
    return {
        copy.id: add(moves.get(copy.id, ORIGIN), scale(_of_group(copy), step))
        for copy in assembly.copies
    }


def _of_group(copy: Copy) -> Vec:
    """Steps of the group that a copy belongs to."""
    return OF_GROUP.get(copy.group[0], ORIGIN) if copy.group else ORIGIN


def _depth(boxes: Iterable[Box]) -> float:
    found = list(boxes)
    return max(high[1] for _, high in found) - min(low[1] for low, _ in found)


def _ways(assembly: Assembly) -> dict[str, Vec]:
    """The way that each copy comes off, one step long, from the joints within its group."""
    groups = {copy.id: copy.group for copy in assembly.copies}
    found: dict[str, set[Vec]] = defaultdict(set)
    for joint in assembly.joints:
        for name, way in _leaving(joint):
            same = all(groups[name][:1] == groups[other][:1] for other in joint.parts)
            if same and norm(way) > STILL:
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


def _neighbour(
    copy: Copy, copies: Iterable[Copy], boxes: Mapping[str, Box], joined: set[str]
) -> str:
    """The jointed copy of the same group that a copy without a joint touches most."""
    near = [
        (_shared(boxes[copy.id], boxes[other.id]), other.id)
        for other in copies
        if other.id in joined and other.group == copy.group
    ]
    return max(near, default=(0.0, ""), key=lambda found: found[0])[1]


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


def middle(assembly: Assembly, copy: Copy, moved: Vec) -> Vec:
    """The middle of a copy's blank where it stands, moved off."""
    return add(copy.placement.point(assembly.part(copy.label).blank.centre), moved)
