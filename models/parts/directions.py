"""Whether joints can be closed: part after part, each along one way, or a group all at once.

Looked at from the end: a piece comes apart if its parts fall into blocks that slide off one another
along one line, or that part as a group with a way for each, and if every block comes apart in turn.
What does not is a knot: some part of it is asked for two directions at once.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from ground.vectors import Vec, angle, dot, neg, norm, sub, unit
from models.parts.assembly import Joint

SAME_WAY = 0.1
"""Directions closer than this are one (degrees): the play of a dry fit takes it up. Common
practice, no source."""
UNGUIDED = frozenset({"butt", "screw", "pocket screw"})
"""Joints that only bring face to face: their parts may also slide along one another."""
_STILL = 1e-9

Parts = frozenset[str]


@dataclass(frozen=True, slots=True)
class Way:
    """How ``second`` may come home against ``first``: ``home`` is its way, None where any will do.

    ``each`` is the way of both in a ``group`` that closes at once. An unguided way is ``loose``.
    """

    joint: str
    first: str
    second: str
    home: Vec | None
    loose: bool = False
    group: str | None = None
    each: tuple[Vec, Vec] | None = None

    def allows(self, move: Vec) -> bool:
        """Tell whether ``second`` may come home by ``move``, seen from ``first``."""
        if norm(move) < _STILL:
            return False
        if self.home is None:
            return True
        if self.loose:
            return dot(self.home, unit(move)) >= -_STILL
        return angle(self.home, move) <= SAME_WAY


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two joints whose ways lie ``apart`` (degrees), too far to be closed in one move."""

    joints: tuple[str, str]
    apart: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Knot:
    """Parts that cannot be put together, and the pairs of joints that hinder it, closest first."""

    parts: tuple[str, ...]
    pairs: tuple[Pair, ...]

    def apart(self, one: str, other: str) -> float:
        """The angle between the ways of two joints of the knot (degrees).

        Raises:
            KeyError: they are no pair of this knot.
        """
        for pair in self.pairs:
            if set(pair.joints) == {one, other}:
                return pair.apart
        raise KeyError(one, other)


def knots(joints: Iterable[Joint]) -> tuple[Knot, ...]:
    """Every set of parts that no order of closing puts together; none where all goes together."""
    ways = tuple(way for joint in joints for way in ways_of(joint))
    names = dict.fromkeys(name for way in ways for name in (way.first, way.second))
    return tuple(_knots(frozenset(names), ways))


def between(one: Vec, other: Vec) -> float:
    """The angle between two lines (degrees, 0 to 90)."""
    found = angle(one, other)
    return min(found, 180.0 - found)


def ways_of(joint: Joint) -> Iterator[Way]:
    """The last part comes home against every other."""
    *others, last = joint.parts
    for place, other in enumerate(others):
        each = (joint.each[place], joint.each[-1]) if joint.each else None
        if not isinstance(joint.closes, str):
            loose = joint.kind in UNGUIDED
            yield Way(joint.id, other, last, unit(joint.closes), loose)
            continue
        move = sub(each[1], each[0]) if each else (0.0, 0.0, 0.0)
        home = unit(move) if norm(move) > _STILL else None
        yield Way(joint.id, other, last, home, group=joint.closes, each=each)


def _knots(parts: Parts, ways: Sequence[Way]) -> Iterator[Knot]:
    """Take ``parts`` apart as far as it goes."""
    inside = [way for way in ways if way.first in parts and way.second in parts]
    blocks = joined(parts, ((way.first, way.second) for way in inside))
    if len(blocks) == 1 and len(parts) > 1:
        blocks = _split(parts, inside)
        if len(blocks) == 1:
            yield _knot(parts, inside)
            return
    for block in blocks:
        if len(block) > 1:
            yield from _knots(block, inside)


def _split(parts: Parts, ways: Sequence[Way]) -> list[Parts]:
    """The blocks that ``parts`` fall into by one line, or by one group; all of it if neither."""
    tried: list[Vec] = []
    for line in (way.home for way in ways if way.home is not None):
        if any(between(line, other) <= SAME_WAY for other in tried):
            continue
        tried.append(line)
        blocks = blocks_along(parts, ways, line)
        if len(blocks) > 1:
            return blocks
    for group in dict.fromkeys(way.group for way in ways if way.group is not None):
        blocks, _ = blocks_at_once(parts, ways, group)
        if len(blocks) > 1:
            return blocks
    return [parts]


def blocks_along(parts: Parts, ways: Sequence[Way], line: Vec) -> list[Parts]:
    """The blocks that slide apart along ``line``; what lies behind one another stays together."""
    behind: dict[str, set[str]] = {part: set() for part in parts}
    for way in ways:
        forth, back = way.allows(line), way.allows(neg(line))
        if not forth:
            behind[way.second].add(way.first)
        if not back:
            behind[way.first].add(way.second)
    return _rings(parts, behind)


def _rings(parts: Parts, behind: dict[str, set[str]]) -> list[Parts]:
    """Parts that reach one another both ways belong together."""
    reached = {part: _reach(part, behind) for part in parts}
    return joined(
        parts,
        (
            (one, other)
            for one, other in combinations(sorted(parts), 2)
            if other in reached[one] and one in reached[other]
        ),
    )


def _reach(start: str, behind: dict[str, set[str]]) -> set[str]:
    found, open_ = {start}, [start]
    while open_:
        fresh = behind[open_.pop()] - found
        found |= fresh
        open_ += fresh
    return found


def blocks_at_once(
    parts: Parts, ways: Sequence[Way], group: str
) -> tuple[list[Parts], dict[str, Vec]]:
    """The blocks that part when ``group`` opens, and the way by which each part comes home."""
    speed: dict[str, Vec] = {}
    for way in ways:
        if way.group != group or way.each is None:
            continue
        for part, own in ((way.first, way.each[0]), (way.second, way.each[1])):
            if norm(sub(speed.setdefault(part, own), own)) > _STILL:
                return [parts], {}
    # Parts that the group does not name stand still, or go along with one that it does.
    tried = tuple(dict.fromkeys([(0.0, 0.0, 0.0), *speed.values()]))
    rest = parts - set(speed)
    touching = ((way.first, way.second) for way in ways if {way.first, way.second} <= rest)
    for block in joined(rest, touching):
        chosen = _speed(block, tried, speed, ways, group)
        if chosen is None:
            return [parts], {}
        speed |= dict.fromkeys(block, chosen)
    if not all(_fits(way, speed, group) for way in ways):
        return [parts], {}
    still = (
        (way.first, way.second)
        for way in ways
        if norm(sub(speed[way.first], speed[way.second])) < _STILL
    )
    return joined(parts, still), speed


def _speed(
    block: Parts,
    tried: Iterable[Vec],
    speed: dict[str, Vec],
    ways: Sequence[Way],
    group: str,
) -> Vec | None:
    """The first of ``tried`` by which ``block`` comes home beside all whose way is known."""
    touching = [way for way in ways if (way.first in block) != (way.second in block)]
    for own in tried:
        known = speed | dict.fromkeys(block, own)
        if all(
            _fits(way, known, group)
            for way in touching
            if way.first in known and way.second in known
        ):
            return own
    return None


def _fits(way: Way, speed: dict[str, Vec], group: str) -> bool:
    move = sub(speed[way.second], speed[way.first])
    if norm(move) < _STILL or (way.group == group and way.each is None):
        return True
    return way.allows(move)


def joined(parts: Iterable[str], pairs: Iterable[tuple[str, str]]) -> list[Parts]:
    """The blocks that ``pairs`` bind ``parts`` into, in a steady order."""
    block = {part: {part} for part in parts}
    for one, other in pairs:
        if block[one] is not block[other]:
            block[one] |= block[other]
            for part in block[other]:
                block[part] = block[one]
    return [frozenset(found) for found in {id(it): it for _, it in sorted(block.items())}.values()]


def _knot(parts: Parts, ways: Sequence[Way]) -> Knot:
    """Every two ways in the knot that are not one."""
    guided = [(way.joint, way.home) for way in ways if way.home is not None and not way.loose]
    found = {
        (between(one, other), (first, second))
        for (first, one), (second, other) in combinations(guided, 2)
        if first != second and between(one, other) > SAME_WAY
    }
    pairs = tuple(Pair(joints=names, apart=apart) for apart, names in sorted(found))
    return Knot(parts=tuple(sorted(parts)), pairs=pairs)
