"""Clamps for a glue-up: along which line, how many, how long, with what cauls. Lengths in mm.

Sizes and spacing are common practice, no source.
"""

import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from ground.vectors import Vec, angle, dot, neg, sub, unit
from models.parts.assembly import Joint
from models.parts.directions import Parts
from planning.steps.bodies import Array, Body, around
from planning.steps.parting import Closing
from planning.steps.records import Clamp

SPACING = 200.0
"""From clamp to clamp along a joint."""
CAUL = 20.0
"""Thickness of a caul under each jaw."""
SIZE = 100.0
"""Clamps are told in steps of this."""
LEAST = 0.5
"""A wedge flatter than this is not worth making (degrees)."""
OPPOSITE = -0.5
"""Ways this far turned from one another (cosine) are closed by one clamp across."""
AXES = ("along the length", "from front to back", "up and down")
MAIN = 0.9


def clamps(
    closing: Closing, glued: Sequence[Joint], bodies: Mapping[str, Body], sets: int
) -> tuple[Clamp, ...]:
    """The clamp settings of one closing."""
    found: list[Clamp] = []
    for line, ways in settings(closing):
        closed = {way: _closed(closing, glued, way) for way in ways}
        joints = [joint for one in closed.values() for joint in one]
        if not joints:
            continue
        body = around(bodies, sorted(closing.parts))
        reach = body.corners @ np.array(line)
        opens = float(reach.max() - reach.min()) + 2 * CAUL
        sides = [needed(one, bodies, line) for one in closed.values()]
        wedge = max(angle(line, way if dot(line, way) > 0 else neg(way)) for way in ways)
        found.append(
            Clamp(
                count=max(sides),
                opens=math.ceil(opens / SIZE) * SIZE,
                along=direction(line),
                caul=caul_words(joints, wedge),
                wedge=wedge if wedge >= LEAST else 0.0,
                sets=sets,
            )
        )
    return tuple(found)


def _closed(closing: Closing, glued: Sequence[Joint], way: Vec) -> list[Joint]:
    """The glued joints that what moves ``way`` closes."""
    return [
        joint
        for joint in glued
        for block, own in closing.blocks
        if own == way and across(joint, block)
    ]


def settings(closing: Closing) -> list[tuple[Vec, tuple[Vec, ...]]]:
    """The lines to clamp along, with the ways that each closes."""
    waiting = list(dict.fromkeys(way for _, way in closing.blocks))
    found: list[tuple[Vec, tuple[Vec, ...]]] = []
    while waiting:
        way = waiting.pop(0)
        against = min(waiting, key=lambda other: dot(way, other), default=None)
        if against is not None and dot(way, against) < OPPOSITE:
            waiting.remove(against)
            found.append((unit(sub(way, against)), (way, against)))
        else:
            found.append((way, (way,)))
    return found


def across(joint: Joint, block: Parts) -> bool:
    """Tell whether a joint binds a block to the rest."""
    inside = sum(part in block for part in joint.parts)
    return 0 < inside < len(joint.parts)


def needed(joints: Iterable[Joint], bodies: Mapping[str, Body], line: Vec) -> int:
    """How many clamps some joints want: those behind one another along the line share theirs."""
    lines: list[list[Shared]] = []
    for joint in joints:
        found = shared(joint, bodies)
        behind: list[list[Shared]] = []
        apart: list[list[Shared]] = []
        for one in lines:
            meets = any(in_line(found, other, line) for other in one)
            (behind if meets else apart).append(one)
        lines = [*apart, [found, *(other for one in behind for other in one)]]
    return sum(max(rows(found, line) for found in one) for one in lines)


Shared = tuple[Array, Array]
"""The box that the two parts of a joint share: lower and upper corner."""


def shared(joint: Joint, bodies: Mapping[str, Body]) -> Shared:
    """Where the two parts of a joint meet."""
    first, second = (bodies[joint.parts[0]], bodies[joint.parts[-1]])
    return np.maximum(first.low, second.low), np.minimum(first.high, second.high)


def in_line(one: Shared, other: Shared, line: Vec) -> bool:
    """Tell whether one joint lies behind the other along a line."""
    beside = np.abs(np.array(line)) < MAIN
    if beside.all():
        return False  # askew: no box tells it
    overlap = np.minimum(one[1], other[1]) - np.maximum(one[0], other[0])
    return bool((overlap[beside] > 0).all())


def rows(found: Shared, line: Vec) -> int:
    """How many clamps a joint wants: one every ``SPACING`` along it."""
    run = float((np.maximum(found[1] - found[0], 0.0) * (1 - np.abs(np.array(line)))).max())
    return max(1, math.ceil(run / SPACING))


def direction(line: Vec) -> str:
    """Which way a clamp lies."""
    for axis, words in enumerate(AXES):
        if abs(line[axis]) >= MAIN:
            return words
    return "square across the joint"


def caul_words(joints: Sequence[Joint], wedge: float) -> str:
    """What goes under the jaws."""
    if any("mitre" in joint.kind for joint in joints):
        return "45-degree blocks along both sides of each mitre"
    if wedge >= LEAST:
        return "wedges cut from the parts' own offcuts, so that the jaws stand square to the joint"
    return "flat cauls as long as the joint"
