"""Cuts into one part from two opposite faces: what wood they leave between them.

Holes and mortises are all one shape here: a round-ended bar square to its face. A plain hole's bar
has no length.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

from ground.vectors import Vec, add, along, cross, dot, norm, scale, sub
from models.parts.blank import Blank
from models.parts.cuts import Bore, Slot
from models.parts.features import Channel, ChannelKind, Feature, Hole, Mortise
from models.parts.part import Part, cuts_of

IN_DEPTH = 2.0
"""Wood left between the floors of two holes from opposite faces (mm): design rule."""
IN_PLAN = 1.5
"""Else their middles stay this many diameters (of the larger) apart: design rule."""
SHARE_OF_PANEL = 0.5
"""Two dadoes back to back take no more of a panel together (check values 7.3: sum <= 1/2)."""
HOUSES = (ChannelKind.DADO, ChannelKind.RABBET, ChannelKind.MORTISE)
"""Channels that take another part's end: a hole must not come out in them. A drawer runner's hook
may well go on into the groove of the bottom."""
_SQUARE = 1e-6
_HOUSINGS = (ChannelKind.DADO, ChannelKind.GROOVE, ChannelKind.RABBET)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opposed:
    """Two cuts that meet, or nearly, inside a part (part axes, mm).

    ``depth`` is the wood between their floors (less than nothing where they pass one another),
    ``plan`` the distance between their middles seen along them, ``least`` what that should be.
    """

    features: tuple[Feature, Feature]
    at: Vec
    depth: float
    plan: float
    least: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BackToBack:
    """Two channels in opposite faces that lie over one another: ``taken`` of ``thickness`` (mm)."""

    features: tuple[Channel, Channel]
    at: Vec
    taken: float
    thickness: float

    @property
    def most(self) -> float:
        """What the two should take together at most (mm)."""
        return self.thickness * SHARE_OF_PANEL


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bar:
    """A hole or mortise: the middle line of its mouth from ``start`` to ``end``."""

    feature: Hole | Mortise
    start: Vec
    end: Vec
    into: Vec
    width: float
    depth: float


def opposite_holes(part: Part) -> tuple[Opposed, ...]:
    """Holes and mortises from opposite faces of ``part`` with too little wood between them.

    What one joint or fitting bores on one axis from both sides belongs together and is left out;
    so is a hole bored right through. Channels count as well, save where a hole is bored to come
    out at their floor.
    """
    return _opposite_holes(*part.shape)


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def _opposite_holes(blank: Blank, features: tuple[Feature, ...]) -> tuple[Opposed, ...]:
    bars = tuple(_bars(blank, features))
    channels = tuple(f for f in features if isinstance(f, Channel))
    found = [met for bar in bars for it in channels if (met := _over_channel(bar, it)) is not None]
    for one, other in combinations(bars, 2):
        if dot(one.into, other.into) > -1 + _SQUARE:
            continue
        depth = dot(sub(other.start, one.start), one.into) - one.depth - other.depth
        plan = _apart(one, other)
        least = IN_PLAN * max(one.width, other.width)
        coaxial = one.feature.made_by == other.feature.made_by and plan < _SQUARE
        if depth < IN_DEPTH - _SQUARE and plan < least - _SQUARE and not coaxial:
            found.append(
                Opposed(
                    features=(one.feature, other.feature),
                    at=along(one.start, one.into, one.depth + depth / 2),
                    depth=depth,
                    plan=plan,
                    least=least,
                )
            )
    return tuple(found)


def left_under(channel: Channel, mouth: Vec, into: Vec, depth: float) -> float | None:
    """The wood between a channel and a hole from the other face; None where none is opposite (mm).

    ``mouth``, ``into`` and ``depth`` are the hole's; its place beside the channel is not asked for.
    """
    if dot(channel.seat.into, into) > -1 + _SQUARE:
        return None
    return dot(sub(channel.seat.origin, mouth), into) - depth - channel.depth


def beside_channel(channel: Channel, point: Vec) -> float:
    """How far ``point`` lies outside a channel, seen along its depth; 0 over it (mm)."""
    seat = channel.seat
    off = sub(point, seat.origin)
    run, aside = dot(off, seat.along), abs(dot(off, seat.across))
    past = max(0.0, -run, run - channel.length)
    return math.hypot(past, max(0.0, aside - channel.width / 2))


def _over_channel(bar: _Bar, channel: Channel) -> Opposed | None:
    if bar.feature.made_by == channel.made_by or channel.kind not in HOUSES:
        return None
    depth = left_under(channel, bar.start, bar.into, bar.depth)
    if depth is None or depth >= IN_DEPTH - _SQUARE or abs(depth) < _SQUARE:
        return None
    middle = scale(add(bar.start, bar.end), 0.5)
    plan = min(beside_channel(channel, at) for at in (bar.start, middle, bar.end))
    least = bar.width / 2
    if plan >= least - _SQUARE:
        return None
    return Opposed(
        features=(bar.feature, channel),
        at=along(middle, bar.into, bar.depth + depth / 2),
        depth=depth,
        plan=plan,
        least=least,
    )


def opposed_channels(part: Part) -> tuple[BackToBack, ...]:
    """Dadoes and grooves in opposite faces that lie over one another and take over half of it."""
    housings = [f for f in part.features if isinstance(f, Channel) and f.kind in _HOUSINGS]
    found: list[BackToBack] = []
    for one, other in combinations(housings, 2):
        if dot(one.seat.into, other.seat.into) > -1 + _SQUARE or not _overlap(one, other):
            continue
        if _at_a_tongue(one, other):
            continue
        thickness = dot(sub(other.seat.origin, one.seat.origin), one.seat.into)
        taken = one.depth + other.depth
        if taken > thickness * SHARE_OF_PANEL + _SQUARE:
            found.append(
                BackToBack(
                    features=(one, other),
                    at=along(one.seat.origin, one.seat.into, one.depth),
                    taken=taken,
                    thickness=thickness,
                )
            )
    return tuple(found)


def _at_a_tongue(one: Channel, other: Channel) -> bool:
    """Tell whether two channels leave a tongue between them, or one notches another's tongue.

    Two rabbets of one joint are the shoulders of its tongue, which is weighed as such; a channel
    that crosses a rabbet's tongue only takes a notch out of it.
    """
    rabbets = [it for it in (one, other) if it.kind is ChannelKind.RABBET]
    crossing = abs(dot(one.seat.along, other.seat.along)) < _SQUARE
    return bool(rabbets) and (crossing or (len(rabbets) > 1 and one.made_by == other.made_by))


def _bars(blank: Blank, features: tuple[Feature, ...]) -> Iterator[_Bar]:
    for feature, cut in cuts_of(blank, features):
        if not isinstance(feature, Hole | Mortise) or not isinstance(cut, Bore | Slot):
            continue
        if isinstance(feature, Hole) and feature.depth is None:
            continue
        slot = isinstance(cut, Slot)
        half = (cut.length - cut.width) / 2 if isinstance(cut, Slot) else 0.0
        run = feature.seat.along if slot else (0.0, 0.0, 0.0)
        yield _Bar(
            feature=feature,
            start=along(cut.start, run, -half),
            end=along(cut.start, run, half),
            into=cut.into,
            width=cut.width if isinstance(cut, Slot) else cut.diameter,
            depth=cut.depth,
        )


def _apart(one: _Bar, other: _Bar) -> float:
    """The distance between two middle lines, seen along the holes (mm)."""

    def flat(point: Vec) -> Vec:
        return sub(point, scale(one.into, dot(point, one.into)))

    a, b, c, d = (flat(point) for point in (one.start, one.end, other.start, other.end))
    if _cross(a, b, c, d, one.into):
        return 0.0
    return min(_to_line(a, c, d), _to_line(b, c, d), _to_line(c, a, b), _to_line(d, a, b))


def _cross(a: Vec, b: Vec, c: Vec, d: Vec, up: Vec) -> bool:
    """Tell whether two lines in one plane cross."""

    def side(p: Vec, q: Vec, r: Vec) -> float:
        return dot(up, cross(sub(q, p), sub(r, p)))

    return side(a, b, c) * side(a, b, d) < 0.0 and side(c, d, a) * side(c, d, b) < 0.0


def _to_line(point: Vec, start: Vec, end: Vec) -> float:
    """From a point to the nearest of a straight line from ``start`` to ``end`` (mm)."""
    run = sub(end, start)
    length = dot(run, run)
    share = dot(sub(point, start), run) / length if length > 0.0 else 0.0
    nearest = add(start, scale(run, min(1.0, max(0.0, share))))
    return norm(sub(point, nearest))


def _overlap(one: Channel, other: Channel) -> bool:
    """Tell whether two channels in opposite faces lie over one another, seen along their depth.

    Two rectangles are apart if a line along a side of either parts them.
    """
    return not any(
        _parted(one, other, axis)
        for seat in (one.seat, other.seat)
        for axis in (seat.along, seat.across)
    )


def _parted(one: Channel, other: Channel, axis: Vec) -> bool:
    (a, b), (c, d) = _extent(one, axis), _extent(other, axis)
    return b <= c + _SQUARE or d <= a + _SQUARE


def _extent(it: Channel, axis: Vec) -> tuple[float, float]:
    start = dot(it.seat.origin, axis)
    run = it.length * dot(it.seat.along, axis)
    half = math.fabs(it.width / 2 * dot(it.seat.across, axis))
    return min(start, start + run) - half, max(start, start + run) + half
