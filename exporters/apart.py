"""How far each copy stands off when the piece is shown taken apart, along the ways it closes."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from ground.vectors import ORIGIN, Frame, Vec, add, neg, norm, scale, sub
from models.parts.assembly import Assembly, Copy, Joint, Motion, Mover
from planning.steps.records import Step

SHARE = 0.11
"""Of the piece's longest side: how far two parts that meet come apart."""

SMALL = 0.5
"""Of that: how far things come off that no joint holds (edging, fittings)."""

FORWARD: Vec = (0.0, -1.0, 0.0)
"""Doors come off to the front."""

Pulls = dict[str, dict[str, Vec]]


def apart(assembly: Assembly, steps: Iterable[Step], reach: float) -> dict[str, Vec]:
    """The shift of every copy (mm, piece axes), by id; ``reach`` is the piece's longest side.

    What moves comes out as one first; inside it and in the rest, each part goes back the way its
    joints close. Loose pieces stay half-way between the parts that they join.
    """
    gap = SHARE * reach
    movers = {copy: mover for mover in assembly.movers for copy in mover.copies}
    pulls = _pulls(assembly.joints, movers, gap)
    loose = {copy for joint in assembly.joints for copy in joint.loose}
    away = _spread(pulls, [copy.id for copy in assembly.copies if copy.id not in loose])
    _follow_steps(away, steps, gap)
    _keep_with_hosts(assembly, away, loose, movers, gap)
    for copy, mover in movers.items():
        away[copy] = add(away.get(copy, ORIGIN), _out(mover, gap))
    for joint in assembly.joints:
        middle = _mean([away.get(part, ORIGIN) for part in joint.parts])
        away |= dict.fromkeys(joint.loose, middle)
    return {copy.id: away.get(copy.id, ORIGIN) for copy in assembly.copies}


def _pulls(joints: Iterable[Joint], movers: Mapping[str, Mover], gap: float) -> Pulls:
    """From each copy to those that it meets: how these come off it."""
    found: Pulls = defaultdict(dict)
    for joint in joints:
        ways = _ways(joint)
        for one, way in zip(joint.parts, ways, strict=True):
            for other, its in zip(joint.parts, ways, strict=True):
                if one != other and movers.get(one) == movers.get(other):
                    found[one].setdefault(other, scale(sub(way, its), gap))
    return found


def _ways(joint: Joint) -> tuple[Vec, ...]:
    """The way home of each part."""
    if joint.each:
        return joint.each
    if isinstance(joint.closes, str):
        return (ORIGIN,) * len(joint.parts)
    return (*(ORIGIN,) * (len(joint.parts) - 1), joint.closes)


def _spread(pulls: Pulls, copies: Sequence[str]) -> dict[str, Vec]:
    """Work outward from the copy with the most neighbours, again for each island of the rest."""
    away: dict[str, Vec] = {}
    for start in sorted(copies, key=lambda copy: -len(pulls.get(copy, {}))):
        if start in away or start not in pulls:
            continue
        away[start] = ORIGIN
        rim = [start]
        while rim:
            found: dict[str, list[Vec]] = defaultdict(list)
            for one in rim:
                for other, pull in pulls.get(one, {}).items():
                    if other not in away:
                        found[other].append(add(away[one], pull))
            away |= {copy: _mean(shifts) for copy, shifts in found.items()}
            rim = list(found)
    return away


def _mean(shifts: Sequence[Vec]) -> Vec:
    total = ORIGIN
    for shift in shifts:
        total = add(total, shift)
    return scale(total, 1 / len(shifts)) if shifts else ORIGIN


def _follow_steps(away: dict[str, Vec], steps: Iterable[Step], gap: float) -> None:
    """What no joint holds, and yet is put in along a way: back along it."""
    for step in steps:
        for move in step.moves:
            if move.copy not in away and move.way is not None:
                away[move.copy] = scale(move.way, -gap)


def _keep_with_hosts(
    assembly: Assembly,
    away: dict[str, Vec],
    loose: set[str],
    movers: Mapping[str, Mover],
    gap: float,
) -> None:
    """The rest goes with the nearest part that has a shift, and a little off its face."""
    held = [copy for copy in assembly.copies if copy.id in away]
    for copy in assembly.copies:
        hosts = [host for host in held if movers.get(host.id) == movers.get(copy.id)]
        if copy.id in away or copy.id in loose or not hosts:
            continue
        middle = copy.placement.point(assembly.part(copy.label).blank.centre)
        offs = [(_off(assembly, host, middle), host) for host in hosts]
        off, host = min(offs, key=lambda pair: norm(pair[0]))
        size = norm(off)
        step = scale(_main(off, host.placement), SMALL * gap) if size > 0 else ORIGIN
        away[copy.id] = add(away[host.id], step)


def _off(assembly: Assembly, host: Copy, point: Vec) -> Vec:
    """From the nearest place of the host's blank to ``point``, in the host's axes."""
    local = host.placement.inverse().point(point)
    size = assembly.part(host.label).blank.size
    x, y, z = (value - min(max(value, 0.0), top) for value, top in zip(local, size, strict=True))
    return (x, y, z)


def _main(off: Vec, frame: Frame) -> Vec:
    """The axis of the host that ``off`` points along most, in piece axes."""
    axis = max(range(3), key=lambda place: abs(off[place]))
    way = (frame.x, frame.y, frame.z)[axis]
    return way if off[axis] > 0 else neg(way)


def _out(mover: Mover, gap: float) -> Vec:
    """How a drawer or a door comes out as a whole."""
    if mover.kind is Motion.SLIDES:
        return scale(mover.axis, mover.limit + gap)
    return scale(FORWARD, 2 * gap)
