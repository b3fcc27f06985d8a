"""Which machine makes what a cutter or a bit makes, within what the shop's machines reach."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import assert_never

from ground.vectors import Plane, X, Y, Z, along, angle, dot, neg
from models.parts.blank import FACES
from models.parts.features import Channel, ChannelKind, Countersink, Hole, HoleKind, Mortise
from planning.machines import Limit, Tool, over, under
from planning.saw.job import Job
from planning.saw.mouths import Cutter

UPRIGHT = 1e-4
"""A cutter that leans less than this stands square (degrees)."""

ENDS = frozenset({"left", "right"})

BY_CHISEL = frozenset({ChannelKind.MORTISE, ChannelKind.NOTCH, ChannelKind.RECESS})
"""Square corners that no round cutter leaves."""

SLACK = 1e-3
"""A channel that comes this near to an end runs out there (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A tool for one feature, with those of its limits that it goes over."""

    tool: Tool
    over: tuple[Limit, ...] = ()


def tool_for(job: Job, feature: Cutter, entered: tuple[str, Plane]) -> Tool:
    """The machine for one feature, that goes in by the face ``entered``."""
    return next(offer.tool for offer in offers(job, feature, entered) if not offer.over)


def hindered(job: Job, feature: Cutter, entered: tuple[str, Plane]) -> Limit | None:
    """The limit that keeps every machine from a feature, so that it is made by hand; else None."""
    found = tuple(offers(job, feature, entered))
    over = [limit for offer in found[:-1] for limit in offer.over]
    chosen = next(offer for offer in found if not offer.over)
    if chosen is not found[-1] or not over:
        return None
    return min(over, key=lambda limit: abs(limit.asked - limit.limit) / max(limit.limit, 1.0))


def plainly_in_reach(job: Job, feature: Cutter) -> bool:
    """Tell whether a hole is small enough to be in reach from every side."""
    press = job.machines.drill_press
    small, middle, _ = sorted(job.part.blank.size)
    return (
        isinstance(feature, Hole | Countersink)
        and middle <= min(press.height, 2 * press.reach)
        and small <= press.stroke
        and (isinstance(feature, Countersink) or (feature.depth or small) <= press.stroke)
    )


def offers(job: Job, feature: Cutter, entered: tuple[str, Plane]) -> Iterator[Offer]:
    """What could make a feature, best first; last what always can, by hand."""
    match feature:
        case Channel(kind=ChannelKind.MORTISE):
            yield from bored(job, feature, entered)
            yield Offer(tool=Tool.HAND_SAW)
        case Channel():
            yield from channelled(job, feature, entered)
            yield Offer(tool=Tool.HAND_SAW)
        case Mortise():
            yield from mortised(job, feature)
            yield Offer(tool=Tool.HAND_SAW)
        case Hole() | Countersink():
            pocket = isinstance(feature, Hole) and feature.kind is HoleKind.POCKET
            if not pocket:
                yield from bored(job, feature, entered)
            yield Offer(tool=Tool.DRILL)
        case _:
            assert_never(feature)


def channelled(job: Job, feature: Channel, entered: tuple[str, Plane]) -> Iterator[Offer]:
    """Dado stack where it runs right through and square; else a router; chisels at corners."""
    saw, router = job.machines.table_saw, job.machines.router
    name, _ = entered
    longest = max(job.part.blank.length, job.part.blank.width)
    easy = upright(feature, entered) and feature.kind not in BY_CHISEL
    lies = easy and name in FACES and name not in ENDS
    if saw.owned and lies and through(job, feature):
        low, high = saw.dado
        stack = Tool.DADO.value
        yield Offer(
            tool=Tool.DADO,
            over=(
                *under(stack, "cuts no narrower than", feature.width, low),
                *over(stack, "cuts as wide as", feature.width, high),
                *over(stack, "cuts as deep as", feature.depth, saw.dado_depth),
                *over(
                    stack, "takes pieces up to", longest, saw.largest if job.sheet else saw.sled * 2
                ),
            ),
        )
    if not router.owned:
        return
    if lies:
        # on an end or a mitre a piece does not stand on the table: the router comes to it
        yield Offer(
            tool=Tool.ROUTER_TABLE,
            over=(
                *over(Tool.ROUTER_TABLE.value, "takes pieces up to", longest, router.table),
                *over(Tool.ROUTER_TABLE.value, "cuts as deep as", feature.depth, router.deepest),
            ),
        )
    deep = over(Tool.ROUTER.value, "cuts as deep as", feature.depth, router.deepest)
    yield Offer(tool=Tool.ROUTER, over=deep)


def mortised(job: Job, feature: Mortise) -> Iterator[Offer]:
    """The loose-tenon mortiser where it reaches, else a guided router."""
    own, router = job.machines.mortiser, job.machines.router
    for tool, machine in ((Tool.MORTISER, own), (Tool.ROUTER, router)):
        if machine.owned:
            yield Offer(
                tool=tool,
                over=(
                    *over(tool.value, "mortises as wide as", feature.width, machine.widest),
                    *over(tool.value, "mortises as deep as", feature.depth, machine.deepest),
                ),
            )


def bored(
    job: Job, feature: Channel | Hole | Countersink, entered: tuple[str, Plane]
) -> Iterator[Offer]:
    """The drill press where the piece lies flat under it."""
    press = job.machines.drill_press
    name, _ = entered
    if not press.owned or name not in FACES or name in ENDS or not upright(feature, entered):
        return
    blank = job.part.blank
    high = blank.width if name in {"front", "back"} else blank.thickness
    depth = None if isinstance(feature, Countersink) else feature.depth
    drill = Tool.DRILL_PRESS.value
    yield Offer(
        tool=Tool.DRILL_PRESS,
        over=(
            *over(drill, "reaches in from an edge", reach(job, feature, name), press.reach),
            *over(drill, "takes pieces as high as", high, press.height),
            *over(drill, "bores as deep as", high if depth is None else depth, press.stroke),
        ),
    )


def reach(job: Job, feature: Channel | Hole | Countersink, entered: str) -> float:
    """How far in from the nearest edge of the face the farthest hole of a row is (mm)."""
    count, pitch = (1, 0.0) if isinstance(feature, Channel) else (feature.count, feature.pitch)
    sides = [
        (axis, size)
        for axis, size in zip((X, Y, Z), job.part.blank.size, strict=True)
        if abs(dot(axis, FACES[entered])) < UPRIGHT
    ]
    farthest = 0.0
    for place in range(count):
        spot = along(feature.seat.origin, feature.seat.along, place * pitch)
        nearest = min(min(dot(axis, spot), size - dot(axis, spot)) for axis, size in sides)
        farthest = max(farthest, nearest)
    return farthest


def upright(feature: Cutter, entered: tuple[str, Plane]) -> bool:
    """Tell whether a cutter stands square to the face that it goes in by."""
    return angle(neg(entered[1].normal), feature.seat.into) < UPRIGHT


def through(job: Job, feature: Channel) -> bool:
    """Tell whether a channel comes out at both ends of its run."""
    seat = feature.seat
    low, high = job.finished.span(seat.along)
    start = dot(seat.origin, seat.along)
    return start <= low + SLACK and start + feature.length >= high - SLACK
