"""Whether it takes what it is for."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from checks.contents import drawer_inside
from checks.placed import GRAVITY, Piece
from ground.findings import FROM_THE_SPEC, Finding, Severity
from specs.place import Held, Things

FINGERS = 10.0
"""Room over a book to take it out (mm). Common practice, no source."""

Size = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """A clear space: an opening between two shelves, or the inside of a drawer (mm)."""

    where: str
    opening: str
    width: float
    height: float
    depth: float
    drawer: bool


def spaces(piece: Piece) -> Iterator[Space]:
    """Every clear space of the piece, from the openings' order."""
    for clear in piece.assembly.openings:
        inside = [piece.by_id[copy] for copy in clear.contents]
        movers = sorted({str(one.copy.mover) for one in inside if one.copy.mover is not None})
        for mover in movers:
            box = drawer_inside(piece, mover)
            if box is not None:
                size = tuple(b - a for a, b in zip(*box, strict=True))
                yield Space(
                    where=mover,
                    opening=clear.id,
                    width=size[0],
                    depth=size[1],
                    height=size[2],
                    drawer=True,
                )
        if clear.kind == "drawers":
            continue
        shelves = sorted(
            (one for one in inside if one.wood and one.name.startswith("shelf")),
            key=lambda one: one.lo[2],
        )
        levels = [clear.corner[2]]
        for one in shelves:
            levels += [one.lo[2], one.hi[2]]
        levels.append(clear.corner[2] + clear.height)
        deep = min([clear.depth, *(one.size[1] for one in shelves)])
        for number, (low, high) in enumerate(list(pairwise(levels))[::2], 1):
            yield Space(
                where=f"opening {clear.id}, space {number} from below",
                opening=clear.id,
                width=clear.width,
                height=high - low,
                depth=deep,
                drawer=False,
            )


def find_purpose(piece: Piece) -> Iterator[Finding]:
    """Say what does not fit in."""
    every = tuple(spaces(piece))
    for held in piece.spec.holds:
        yield from _held(piece, held, every)


def _held(piece: Piece, held: Held, every: tuple[Space, ...]) -> Iterator[Finding]:
    open_to_it = [one for one in every if held.opening in (None, one.opening)]
    fitting = [one for one in open_to_it if _fits(held, one)]
    named = _named(held)
    if not fitting:
        yield _too_small(held, open_to_it)
        return
    takes = sum(_count(held, one) for one in fitting)
    if held.count is not None and takes < held.count:
        yield Finding(
            code="holds.too_few",
            severity=Severity.WARNING,
            subject=named,
            message=f"{takes} go in and {held.count} are asked for; one more shelf or a wider "
            "opening is needed",
            value=takes,
            limit=held.count,
            source=FROM_THE_SPEC,
        )
    else:
        yield Finding(
            code="holds.fits",
            severity=Severity.NOTE,
            subject=named,
            message=f"{len(fitting)} spaces take it, {takes} in all; the first is "
            f"{_sizes(fitting[0])}",
            value=takes,
            limit=held.count,
            source=FROM_THE_SPEC,
        )
    if held.mass is not None:
        yield from _heavy(piece, held, fitting)


def _too_small(held: Held, open_to_it: list[Space]) -> Finding:
    best = max(open_to_it, key=lambda one: (one.height, one.width), default=None)
    told = "no such opening" if best is None else _sizes(best)
    return Finding(
        code="holds.too_small",
        severity=Severity.ERROR,
        subject=_named(held),
        message=f"no space takes it; the largest is {told}; make the opening higher or wider, "
        "move a shelf, or hold something smaller",
        value=None if best is None else round(best.height, 6),
        limit=held.height,
        unit="mm",
        source=FROM_THE_SPEC,
    )


def _needs(held: Held) -> Size:
    """Width, height and depth that one of them needs; 0 where nothing is said."""
    high = 0.0 if held.height is None else held.height
    if held.what is Things.BOOKS:
        high += FINGERS
    return (held.width or 0.0, high, held.depth or 0.0)


def _fits(held: Held, space: Space) -> bool:
    wide, high, deep = _needs(held)
    if high > space.height:
        return False
    ways = ((wide, deep), (deep, wide)) if held.what is Things.SHEETS else ((wide, deep),)
    return any(w <= space.width and d <= space.depth for w, d in ways)


def _count(held: Held, space: Space) -> int:
    """How many go into one space: books and bottles in rows, sheets as one pile."""
    wide, high, deep = _needs(held)
    along = math.floor(space.width / wide) if wide else 1
    back = math.floor(space.depth / deep) if deep else 1
    match held.what:
        case Things.SHEETS:
            return held.count or 1
        case Things.BOOKS:
            return along if wide else held.count or 1
        case Things.BOTTLES:
            return along * max(back, 1)
        case Things.THINGS:
            up = math.floor(space.height / high) if high else 1
            return along * max(back, 1) * max(up, 1)


def _heavy(piece: Piece, held: Held, fitting: list[Space]) -> Iterator[Finding]:
    """What they weigh against the load that everything else was checked for."""
    mass = held.mass or 0.0
    share = (held.count or 1) / len(fitting)
    for space in fitting[:1]:
        load = piece.spec.loads.drawer if space.drawer else piece.spec.loads.shelf
        force = mass * min(share, max(_count(held, space), 1)) * GRAVITY
        if load is not None and force > load:
            yield Finding(
                code="holds.load",
                severity=Severity.WARNING,
                subject=_named(held),
                message=f"in {space.where} they weigh {force:.0f} N and the spec's loads say "
                f"{load:g} N, which sag and runners were checked for; write the larger load",
                value=round(force, 6),
                limit=load,
                unit="N",
                source=FROM_THE_SPEC,
            )


def _named(held: Held) -> str:
    sizes = [
        f"{word} {size:.0f}"
        for word, size in (("high", held.height), ("wide", held.width), ("deep", held.depth))
        if size is not None
    ]
    where = "" if held.opening is None else f" in opening {held.opening}"
    return f"{held.what.value} {', '.join(sizes)} mm{where}"


def _sizes(space: Space) -> str:
    return f"{space.where}, {space.width:.0f} x {space.height:.0f} x {space.depth:.0f} mm"
