"""Holes bored into one panel from two sides, or beside one another, must not meet inside it."""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from ground.findings import Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec, add, along, dot, norm, scale, sub
from models.parts.features import Channel, ChannelKind, Hole, HoleKind
from models.parts.lowering import row
from models.parts.opposite import HOUSES, beside_channel, left_under
from models.setting_out.draft import Draft

BETWEEN_IN_DEPTH = 2.0
"""Wood left between the bottoms of two holes bored from opposite faces (mm): design rule."""
BETWEEN_IN_PLAN = 1.5
"""Else their axes stay this many diameters (of the larger) apart: design rule."""
BETWEEN_WALLS = 2.0
"""Wood left between holes that are not opposite (mm). Common practice, no source."""
OPPOSITE = -0.99
ALIKE = 0.99
SOURCE = "design rule: 2 mm in depth, or 1.5 diameters in plan"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bored:
    """One bored hole: ``mouth`` and the unit vector ``into`` in part axes, sizes in mm.

    A channel that a hole would meet is spoken of in the same way.
    """

    kind: HoleKind | ChannelKind
    mouth: Vec
    into: Vec
    diameter: float
    depth: float

    @property
    def bottom(self) -> Vec:
        """The middle of its floor."""
        return along(self.mouth, self.into, self.depth)


def bored(draft: Draft) -> Iterator[Bored]:
    """Every hole of a part on the bench, rows hole by hole."""
    for feature in draft.features:
        if isinstance(feature, Hole):
            yield from _each(feature, draft)


def meeting(draft: Draft, hole: Hole) -> tuple[Bored, float, float] | None:
    """The first hole of ``draft`` that ``hole`` (piece axes) would meet: it, the room, the least.

    Room and least are both in mm: between axes for holes side by side, between walls for others,
    in depth for a channel in the opposite face.
    """
    fresh = tuple(_each(hole.moved(draft.frame.inverse()), draft))
    for channel in (f for f in draft.features if isinstance(f, Channel) and f.kind in HOUSES):
        for here in fresh:
            met = _over(channel, here)
            if met is not None and channel.made_by != hole.made_by:
                return met, met.depth, BETWEEN_IN_DEPTH
    for there in bored(draft):
        for here in fresh:
            room, least = _room(here, there, draft.blank.thickness)
            if room < least - 1e-9:
                return there, room, least
    return None


def _over(channel: Channel, hole: Bored) -> Bored | None:
    """A channel in the opposite face that a hole comes too near, its ``depth`` the wood left."""
    left = left_under(channel, hole.mouth, hole.into, hole.depth)
    meant = left is None or left >= BETWEEN_IN_DEPTH - LENGTH_EPS or abs(left) < LENGTH_EPS
    if left is None or meant or beside_channel(channel, hole.mouth) >= hole.diameter / 2:
        return None
    return Bored(
        kind=channel.kind,
        mouth=hole.mouth,
        into=channel.seat.into,
        diameter=channel.width,
        depth=left,
    )


def first_clear(draft: Draft, tries: Iterable[Hole]) -> Hole | None:
    """The first of ``tries`` (piece axes) that meets no hole of ``draft``; None where all do."""
    return next((hole for hole in tries if meeting(draft, hole) is None), None)


def placed(
    draft: Draft, tries: Iterable[Hole], complain: Callable[[Finding], None], what: str
) -> Hole:
    """The first of ``tries`` that is clear; else the first of all, and a finding with its number.

    Raises:
        ValueError: nothing was tried: a fault of ours.
    """
    kept = tuple(tries)
    if not kept:
        reason = f"no place was tried for {what}"
        raise ValueError(reason)
    clear = first_clear(draft, kept)
    if clear is not None:
        return clear
    met = meeting(draft, kept[0])
    if met is not None:
        there, room, least = met
        complain(
            Finding(
                code="drilling.holes_meet",
                severity=Severity.ERROR,
                subject=what,
                message=f"{kept[0].kind} comes within {max(room, 0.0):.1f} mm of a {there.kind} of "
                f"the same panel; move one of them, or bore less deep",
                copies=(draft.key,),
                at=kept[0].seat.origin,
                value=room,
                limit=least,
                unit="mm",
                source=SOURCE,
            )
        )
    return kept[0]


def _each(hole: Hole, draft: Draft) -> Iterator[Bored]:
    depth = draft.blank.thickness if hole.depth is None else hole.depth
    for mouth in row(hole.seat, hole.count, hole.pitch):
        yield Bored(
            kind=hole.kind,
            mouth=mouth,
            into=hole.seat.into,
            diameter=hole.diameter,
            depth=depth,
        )


def _room(one: Bored, other: Bored, thickness: float) -> tuple[float, float]:
    """What lies between two holes, and the least that should (mm)."""
    way = dot(one.into, other.into)
    widest = max(one.diameter, other.diameter)
    between = sub(other.mouth, one.mouth)
    plan = norm(sub(between, scale(one.into, dot(between, one.into))))
    if way < OPPOSITE:
        if one.depth + other.depth + BETWEEN_IN_DEPTH <= thickness + 1e-9:
            return math.inf, 0.0
        return plan, BETWEEN_IN_PLAN * widest
    if way > ALIKE:
        return plan - (one.diameter + other.diameter) / 2, BETWEEN_WALLS
    walls = (one.diameter + other.diameter) / 2
    return _apart(one, other) - walls, BETWEEN_WALLS


def _apart(one: Bored, other: Bored) -> float:
    """Least distance between the axes of two bores (two segments)."""
    p, q = sub(one.bottom, one.mouth), sub(other.bottom, other.mouth)
    r = sub(one.mouth, other.mouth)
    a, e, f = dot(p, p), dot(q, q), dot(q, r)
    b, c = dot(p, q), dot(p, r)
    denominator = a * e - b * b
    s = min(1.0, max(0.0, (b * f - c * e) / denominator)) if denominator > 0.0 else 0.0
    t = (b * s + f) / e
    if not 0.0 <= t <= 1.0:
        t = min(1.0, max(0.0, t))
        s = min(1.0, max(0.0, (b * t - c) / a))
    return norm(sub(add(one.mouth, scale(p, s)), add(other.mouth, scale(q, t))))
