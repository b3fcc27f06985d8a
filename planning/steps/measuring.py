"""What to measure in a glue-up, with its true value: diagonals, and how far apart ends stand."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from models.parts.assembly import Joint
from models.parts.directions import Parts
from planning.steps.bodies import Array, Body, around
from planning.steps.clamps import settings
from planning.steps.parting import Closing
from planning.steps.records import Measure

WITHIN = 1.0
"""Diagonals differ by no more than this (mm): common practice, no source."""
SPREAD = 0.5
"""Ends are no further out than this (mm): common practice, no source."""
LEVEL = 1.0
"""Corners within this of the outermost lie in one plane (mm)."""
LEVEL_LINE = 0.1
"""A line steeper than this is not measured along (cosine)."""
FLAT = 60.0
"""Most joints of a ring lie within this of one plane (mm)."""
EVEN = 1e-3
"""Where most joints lie in one plane both ways, the rest of them say which it is."""
RING = 4
UPRIGHT = 2
"""The axis that runs up."""
CORNERS = ((1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0))
NAMES = ("seen from the side", "seen from the front", "seen from above")


def measures(
    parts: Parts, joints: Sequence[Joint], closed: Sequence[Joint], bodies: Mapping[str, Body]
) -> tuple[Measure, ...]:
    """The diagonals where one of ``closed`` is in a ring; nothing else is known to be square."""
    ring = ring_of(parts, joints)
    if len(ring) < RING or not any(set(joint.parts) <= ring for joint in closed):
        return ()
    axis = flat_axis(ring, joints, bodies)
    if axis is None:
        return ()
    body = around(bodies, sorted(ring))
    corners = body.corners
    if axis == UPRIGHT:  # a frame is measured over its top: its legs may lean
        corners = corners[np.abs(corners[:, axis] - corners[:, axis].max()) <= LEVEL]
    flat = np.delete(corners, axis, axis=1)
    one, other = (across(flat, CORNERS[0], CORNERS[1]), across(flat, CORNERS[2], CORNERS[3]))
    what = f"both diagonals, corner to corner, {NAMES[axis]}"
    if abs(one - other) > WITHIN:
        return ()
    return (Measure(what=what, value=(one + other) / 2, within=WITHIN),)


def spread(closing: Closing, bodies: Mapping[str, Body]) -> tuple[Measure, ...]:
    """How far apart two ends stand that are brought home against one another, above and below."""
    found: list[Measure] = []
    for line, ways in settings(closing):
        if len(ways) < 2 or abs(line[2]) > LEVEL_LINE:  # noqa: PLR2004 - one end alone
            continue
        moved = [block for block, way in closing.blocks if way in ways]
        corners = around(bodies, sorted(frozenset().union(*moved))).corners
        for what, far in (("at the top", corners[:, 2].max()), ("below", corners[:, 2].min())):
            reach = corners[np.abs(corners[:, 2] - far) <= LEVEL] @ np.array(line)
            value = float(reach.max() - reach.min())
            found.append(Measure(what=f"outside over both {what}", value=value, within=SPREAD))
    one_size = len({round(measure.value, 1) for measure in found}) == 1
    return (replace(found[0], what="outside over both"),) if one_size else tuple(found)


def across(flat: Array, first: tuple[float, float], second: tuple[float, float]) -> float:
    """From the outermost corner one way to the outermost the other way."""
    ends = [flat[int(np.argmax(flat @ np.array(way)))] for way in (first, second)]
    return float(np.linalg.norm(ends[0] - ends[1]))


def ring_of(parts: Parts, joints: Sequence[Joint]) -> Parts:
    """The parts that are left when every one with a single neighbour is taken away."""
    left = set(parts)
    while True:
        mates: dict[str, set[str]] = {part: set() for part in left}
        for joint in joints:
            inside = [part for part in joint.parts if part in left]
            for one in inside:
                mates[one] |= set(inside) - {one}
        alone = {part for part, near in mates.items() if len(near) < 2}  # noqa: PLR2004 - no ring
        if not alone:
            return frozenset(left)
        left -= alone


def flat_axis(ring: Parts, joints: Sequence[Joint], bodies: Mapping[str, Body]) -> int | None:
    """The axis square to the ring: that along which most of its joints lie nearest to one plane."""
    places = []
    for joint in joints:
        if all(part in ring for part in joint.parts):
            first, second = bodies[joint.parts[0]], bodies[joint.parts[-1]]
            low = np.maximum(first.low, second.low)
            places.append((low + np.minimum(first.high, second.high)) / 2)
    # by the middle one, for a rail or a divider may stand in front of the rest
    off = np.abs(np.array(places) - np.median(np.array(places), axis=0))
    order = np.median(off, axis=0) + off.mean(axis=0) * EVEN
    axis = int(np.argmin(order))
    return axis if np.median(off[:, axis]) <= FLAT else None
