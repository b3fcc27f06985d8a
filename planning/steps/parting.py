"""The order of closing, found from the joints: taken apart in thought, then told backwards.

What is taken away last stands first. From what is together, the smallest that slides off along
one line comes off first; where nothing slides off, a group parts all at once.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ground.order import natural
from ground.vectors import ORIGIN, Vec, X, Y, Z, neg, norm, scale, sub, unit
from models.parts.assembly import Joint
from models.parts.directions import (
    SAME_WAY,
    Parts,
    Way,
    between,
    blocks_along,
    blocks_at_once,
    joined,
    ways_of,
)
from planning.steps.bodies import Body, around, shifted
from planning.steps.sweeping import obstacles

OPEN = 60.0
"""A group stands so far open before it closes (mm): more than any joint is deep. Common practice,
no source."""
STILL = 1e-9
SIDES: tuple[Vec, ...] = (neg(Z), Z, Y, neg(Y), X, neg(X))
"""The ways by which a block may be brought in: down first, from the front, then any other."""
SAME_WEIGHT = 0.02
"""Blocks whose wood differs by less are a left and a right of one thing, and come off together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """Blocks that come home, each along its way, to what is ``standing``."""

    blocks: tuple[tuple[Parts, Vec], ...]
    standing: Parts
    group: str | None = None
    clear: bool = True

    @property
    def parts(self) -> Parts:
        """Everything that is together afterwards."""
        return self.standing.union(*(block for block, _ in self.blocks))


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What the order is found from: the ways of the joints, the bodies, the volumes."""

    ways: tuple[Way, ...]
    bodies: Mapping[str, Body]
    volumes: Mapping[str, float]

    @classmethod
    def of(
        cls, joints: Sequence[Joint], bodies: Mapping[str, Body], volumes: Mapping[str, float]
    ) -> "Bench":
        """Everything for a set of joints."""
        ways = tuple(way for joint in joints for way in ways_of(joint))
        return cls(ways=ways, bodies=bodies, volumes=volumes)

    def weight(self, parts: Parts) -> float:
        """The wood in a block (mm3)."""
        return sum(self.volumes[part] for part in sorted(parts))

    def within(self, parts: Parts) -> list[Way]:
        """The ways between members of ``parts``."""
        return [way for way in self.ways if way.first in parts and way.second in parts]


def closings(parts: Parts, bench: Bench) -> Iterator[Closing]:
    """Every closing of ``parts``, in the order of the bench."""
    ways = bench.within(parts)
    islands = joined(parts, ((way.first, way.second) for way in ways))
    if len(islands) > 1:
        for island in sorted(islands, key=first_name):
            yield from closings(island, bench)
        return
    if len(parts) < 2:  # noqa: PLR2004 - one part is together by itself
        return
    last = last_closing(parts, ways, bench)
    each = [block for block in (last.standing, *(block for block, _ in last.blocks)) if block]
    for block in sorted(each, key=first_name):
        if block != parts:
            yield from closings(block, bench)
    yield last


def first_name(parts: Parts) -> tuple[tuple[int, int, str], ...]:
    """A steady order of blocks."""
    return min(natural(part) for part in parts)


def last_closing(parts: Parts, ways: Sequence[Way], bench: Bench) -> Closing:
    """The closing that ends it: the smallest thing to go in along a clear line, or a group."""
    lines = sorted(sliding(parts, ways, bench), key=lambda one: moved_weight(one, bench))
    free = [one for one in lines if single(one, ways)]
    found = (*free, *at_once(parts, ways, bench), *(one for one in lines if one not in free))
    for closing in found:
        if closing.clear:
            return closing
    if found:
        return found[0]
    # a knot: setting out has found it and said so; told here as one closing without a way
    return Closing(blocks=(), standing=parts, clear=False)


def single(closing: Closing, ways: Sequence[Way]) -> bool:
    """Tell whether only single copies move, none of which a group names."""
    named = {name for way in ways if way.group is not None for name in (way.first, way.second)}
    return all(len(block) == 1 and not block & named for block, _ in closing.blocks)


def moved_weight(closing: Closing, bench: Bench) -> float:
    """The wood that a closing moves (mm3)."""
    return sum(bench.weight(block) for block, _ in closing.blocks)


def sliding(parts: Parts, ways: Sequence[Way], bench: Bench) -> Iterator[Closing]:
    """Every way to part ``parts`` along one line, the heaviest block standing."""
    tried: list[Vec] = []
    for line in (way.home for way in ways if way.home is not None):
        if any(between(line, other) <= SAME_WAY for other in tried):
            continue
        tried.append(line)
        blocks = blocks_along(parts, ways, line)
        if len(blocks) > 1:
            yield from ends(blocks, ways, bench, line)


def ends(blocks: list[Parts], ways: Sequence[Way], bench: Bench, line: Vec) -> Iterator[Closing]:
    """Blocks that slide off along a line, one by one and the whole stack of them.

    A block at an end of the stack may come off by itself: then the rest is one.
    """
    whole = frozenset().union(*blocks)
    main = max(blocks, key=lambda block: (bench.weight(block), sorted(block)))
    loose = [block for block in blocks if block != main]
    singles = [
        (block, way)
        for block in loose
        if (way := way_home(block, whole - block, ways, line)) is not None
    ]
    if singles:
        light = min(bench.weight(block) for block, _ in singles)
        alike = [one for one in singles if bench.weight(one[0]) <= light * (1 + SAME_WEIGHT)]
        standing = whole.difference(*(block for block, _ in alike))
        yield checked(tuple(sorted(alike, key=lambda one: first_name(one[0]))), standing, bench)
        return
    yield checked(stacked(main, loose, ways, line), main, bench)


def way_home(block: Parts, rest: Parts, ways: Sequence[Way], line: Vec) -> Vec | None:
    """The one way of ``line`` by which ``block`` comes home to ``rest``; None where it is held."""
    for home in (line, neg(line)):
        if all(
            way.allows(home if way.second in block else neg(home))
            for way in ways
            if (way.first in block and way.second in rest)
            or (way.second in block and way.first in rest)
        ):
            return home
    return None


def stacked(
    main: Parts, loose: list[Parts], ways: Sequence[Way], line: Vec
) -> tuple[tuple[Parts, Vec], ...]:
    """The blocks of a stack, from the one that stands outward."""
    placed, waiting = main, sorted(loose, key=first_name)
    found: list[tuple[Parts, Vec]] = []
    while waiting:
        ready = [
            (block, way)
            for block in waiting
            if touches(block, placed, ways)
            and (way := way_home(block, placed, ways, line)) is not None
        ]
        block, way = ready[0] if ready else (waiting[0], line)
        found.append((block, way))
        waiting.remove(block)
        placed |= block
    return tuple(found)


def touches(block: Parts, placed: Parts, ways: Sequence[Way]) -> bool:
    """Tell whether a joint binds two blocks."""
    return any(
        (way.first in block and way.second in placed)
        or (way.second in block and way.first in placed)
        for way in ways
    )


def checked(blocks: tuple[tuple[Parts, Vec], ...], standing: Parts, bench: Bench) -> Closing:
    """A closing, and whether every block of it has a clear way past what stands there."""
    placed, clear = standing, True
    for block, way in blocks:
        clear = clear and passes(block, way, placed, bench)
        placed |= block
    return Closing(blocks=blocks, standing=standing, clear=clear)


def passes(block: Parts, way: Vec, placed: Parts, bench: Bench) -> bool:
    """Tell whether a block has a clear way home: straight, or brought in from a side at the last.

    Its joints guide it over the last ``OPEN`` mm; what it is let into does not hinder it there.
    """
    guided = frozenset(
        name
        for known in bench.ways
        for name, other in ((known.first, known.second), (known.second, known.first))
        if other in block
    )
    unguided = placed - guided
    far = whole_reach(block | placed, bench)
    if not in_the_way(block, way, unguided, bench, far):
        return True
    if in_the_way(block, way, unguided, bench, OPEN):
        return False
    aside = scale(way, -OPEN)
    return any(not in_the_way(block, out, placed, bench, far, aside) for out in SIDES)


def whole_reach(parts: Parts, bench: Bench) -> float:
    """From clear of everything: the diagonal of the box around ``parts`` (mm)."""
    whole = around(bench.bodies, sorted(parts))
    x, y, z = (float(size) for size in whole.high - whole.low)
    return norm((x, y, z))


def in_the_way(
    block: Parts, way: Vec, placed: Parts, bench: Bench, travel: float, start: Vec = ORIGIN
) -> bool:
    """Tell whether anything placed hinders a block that comes ``travel`` mm to ``start``."""
    others = [bench.bodies[name] for name in sorted(placed)]
    return any(
        obstacles(shifted(bench.bodies[copy], start), way, travel, others) > 0
        for copy in sorted(block)
    )


def unjoined(block: Parts, other: Parts, ways: Sequence[Way]) -> Parts:
    """The members of ``other`` that no joint binds to ``block``."""
    return other - frozenset(
        name
        for way in ways
        for name, mate in ((way.first, way.second), (way.second, way.first))
        if mate in block
    )


def at_once(parts: Parts, ways: Sequence[Way], bench: Bench) -> Iterator[Closing]:
    """Every group that parts ``parts``."""
    for group in dict.fromkeys(way.group for way in ways if way.group is not None):
        blocks, speed = blocks_at_once(parts, ways, group)
        if len(blocks) < 2:  # noqa: PLR2004 - one block is not parted
            continue
        own = {block: speed[min(block)] for block in blocks}
        still = [block for block in blocks if norm(own[block]) < STILL]
        standing: Parts = frozenset().union(*still)
        moving = tuple(
            (block, unit(own[block]))
            for block in sorted(blocks, key=first_name)
            if block not in still
        )
        clear = all(
            not in_the_way(
                block, unit(sub(way, own[other])), unjoined(block, other, ways), bench, OPEN
            )
            for block, way in moving
            for other in blocks
            if other != block and norm(sub(way, own[other])) > STILL
        )
        yield Closing(blocks=moving, standing=standing, group=group, clear=clear)
