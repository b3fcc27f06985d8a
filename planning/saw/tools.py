"""Which machine makes what a cutter or a bit makes, within what the shop's machines reach."""

from typing import assert_never

from models.parts.blank import FACES
from models.parts.features import Channel, ChannelKind, Countersink, Hole, HoleKind, Mortise
from planning.machines import Tool
from planning.saw.job import Job
from planning.saw.mouths import Cutter, Mouth
from planning.saw.records import Pass

UPRIGHT = 1e-4
"""A cutter that leans less than this stands square (degrees)."""

ENDS = frozenset({"left", "right"})

BY_CHISEL = frozenset({ChannelKind.MORTISE, ChannelKind.NOTCH, ChannelKind.RECESS})
"""Square corners that no round cutter leaves."""


def tool_for(job: Job, feature: Cutter, where: Mouth, made: Pass) -> Tool:
    """The machine for one feature."""
    match feature:
        case Channel():
            return for_channel(job, feature, where, made)
        case Mortise():
            return for_mortise(job, feature)
        case Hole() | Countersink():
            return for_hole(job, feature, where, made)
    assert_never(feature)


def for_channel(job: Job, feature: Channel, where: Mouth, made: Pass) -> Tool:
    """Dado stack where it runs right through and square; else a router; chisels at corners."""
    saw, router = job.machines.table_saw, job.machines.router
    if feature.kind is ChannelKind.MORTISE:
        return Tool.DRILL_PRESS if job.machines.drill_press.owned else Tool.HAND_SAW
    longest = max(job.part.blank.length, job.part.blank.width)
    low, high = saw.dado
    stacked = (
        saw.owned
        and feature.kind not in BY_CHISEL
        and through(job, feature)
        and made.lean < UPRIGHT
        and where.enters in FACES
        and where.enters not in ENDS
        and low <= feature.width <= high
        and feature.depth <= saw.dado_depth
        and longest <= (saw.largest if job.sheet else saw.sled * 2)
    )
    if stacked:
        return Tool.DADO
    if not router.owned or feature.depth > router.deepest:
        return Tool.HAND_SAW
    easy = made.lean < UPRIGHT and feature.kind not in BY_CHISEL
    return Tool.ROUTER_TABLE if easy and longest <= router.table else Tool.ROUTER


def through(job: Job, feature: Channel) -> bool:
    """Tell whether a channel comes out at both ends of its run."""
    seat = feature.seat
    low, high = job.finished.span(seat.along)
    start = sum(a * b for a, b in zip(seat.origin, seat.along, strict=True))
    slack = 1e-3
    return start <= low + slack and start + feature.length >= high - slack


def for_mortise(job: Job, feature: Mortise) -> Tool:
    """The loose-tenon mortiser where it reaches, else a guided router, else bits and a chisel."""
    own, router = job.machines.mortiser, job.machines.router
    if own.owned and feature.width <= own.widest and feature.depth <= own.deepest:
        return Tool.MORTISER
    if router.owned and feature.depth <= router.deepest and feature.width <= router.widest:
        return Tool.ROUTER
    return Tool.HAND_SAW


def for_hole(job: Job, feature: Hole | Countersink, where: Mouth, made: Pass) -> Tool:
    """The drill press where it reaches and the piece lies flat; else a drill in a guide."""
    press = job.machines.drill_press
    flat = where.enters in FACES and where.enters not in ENDS and made.lean < UPRIGHT
    pocket = isinstance(feature, Hole) and feature.kind is HoleKind.POCKET
    blank = job.part.blank
    high = blank.width if where.enters in {"front", "back"} else blank.thickness
    far = min(abs(made.at[1]), abs(blank.width - made.at[1]))
    deep = made.depth or high
    reached = far <= press.reach and high <= press.height and deep <= press.stroke
    return Tool.DRILL_PRESS if press.owned and flat and reached and not pocket else Tool.DRILL
