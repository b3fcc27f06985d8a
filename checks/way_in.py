"""From the workshop to the room: the doorway, the stair and its turn, the lift; base on and off."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, assert_never

from checks.passage import Rectangle, Size, in_rectangle, lain, round_corner, square_to
from checks.placed import Piece
from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC, Finding, Severity
from specs.place import Way

HANDS: Final = 20.0
"""Room that carrying takes at a doorway or on a stair, both sides together (mm). Common practice,
no source."""
STEP: Final = 5.0
WIDEST: Final = 4000.0
"""What would be wide enough is looked for in such steps, and no further than this (mm)."""
LYING: Final = ("on end", "on its back", "upright")
"""How a piece lies by the side that stands up: its length, its depth, its height."""


@dataclass(frozen=True, slots=True)
class Doorway:
    """A hole: clear width and height."""

    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Stair:
    """A straight flight: clear width, and headroom square to its slope where it is given."""

    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Turn:
    """A square turn of a stair or passage: clear widths before and after it, and headroom."""

    width: float
    after: float
    height: float


@dataclass(frozen=True, slots=True)
class Lift:
    """A room that the piece rides in."""

    width: float
    depth: float
    height: float


Place = Doorway | Stair | Turn | Lift


def find_way(piece: Piece) -> Iterator[Finding]:
    """Say where the piece does not go through, and how it does elsewhere."""
    if piece.spec.way is None:
        return
    passes: list[str] = []
    for place in places(piece.spec.way):
        how = goes(_whole(piece), place)
        if how is None:
            yield _stuck(piece, piece.spec.way, place)
        else:
            passes.append(f"{_named(place)} {how}")
    if passes:
        yield Finding(
            code="way.passes",
            severity=Severity.NOTE,
            subject="the piece",
            message=f"{_sizes(_whole(piece))} with its base on goes through the "
            + ", the ".join(passes),
            source=_source(None),
        )


def places(way: Way) -> Iterator[Place]:
    """Every narrow place that the spec gives."""
    if way.door_width is not None and way.door_height is not None:
        yield Doorway(way.door_width, way.door_height)
    high = math.inf if way.stair_height is None else way.stair_height
    if way.stair_width is not None:
        yield Stair(way.stair_width, high)
        if way.turn_width is not None:
            yield Turn(way.stair_width, way.turn_width, high)
    if way.lift_width and way.lift_depth and way.lift_height:
        yield Lift(way.lift_width, way.lift_depth, way.lift_height)


def goes(size: Size, place: Place) -> str | None:
    """How a box goes through a place, in a few words; None where it does not."""
    ways = sorted(lain(size), key=lambda one: -_side(size, one[1]))
    for plan, high in ways:
        if _takes(place, plan, high):
            return LYING[_side(size, high)]
    if isinstance(place, Doorway):
        hole = (place.width - HANDS, place.height - HANDS)
        if any(in_rectangle((plan[1], high), hole) for plan, high in ways):
            return "tilted"
    return None


def _side(size: Size, high: float) -> int:
    """Which side stands up; the highest of those alike."""
    return max(side for side in range(3) if size[side] == high)


def _takes(place: Place, plan: Rectangle, high: float) -> bool:
    """Whether a place takes a box lain so, its long side first."""
    match place:
        case Doorway():
            return plan[1] <= place.width - HANDS and high <= place.height - HANDS
        case Stair():
            return plan[1] <= place.width - HANDS and high <= place.height - HANDS
        case Turn():
            clear = (place.width - HANDS, place.after - HANDS)
            return round_corner(plan, *clear) and high <= place.height - HANDS
        case Lift():
            floor = (place.width, place.depth)
            return high <= place.height and (square_to(plan, floor) or in_rectangle(plan, floor))
    assert_never(place)


def _whole(piece: Piece) -> Size:
    lo, hi = piece.lo, piece.hi
    return (hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2])


def _parted(piece: Piece) -> tuple[Size, Size]:
    """The case without its base, and the base."""
    long, deep, high = _whole(piece)
    base = piece.spec.base.height
    return ((long, deep, high - base), (long, deep, base))


def _stuck(piece: Piece, way: Way, place: Place) -> Finding:
    whole = _whole(piece)
    case, base = _parted(piece)
    off = goes(case, place)
    parted = off is not None and goes(base, place) is not None
    needed = _enough(whole, place)
    if parted:
        mend = f"with the base off, {case[2]:.0f} high, it does, {off}"
        if not way.base_off:
            mend += ": screw the base on in the room and write base_off: true"
    else:
        mend = "with the base off it does not either; make it smaller or in two cases"
    wider = "" if needed is None else f"; {needed:.0f} mm of width would be enough"
    return Finding(
        code=f"way.{_word(place)}",
        severity=Severity.NOTE if parted and way.base_off else Severity.ERROR,
        subject="the piece",
        message=f"{_sizes(whole)} does not go through the {_named(place)} with the base on, turned "
        f"or tilted; {mend}{wider}",
        value=round(place.width, 6),
        limit=needed,
        unit="mm",
        source=_source(place),
    )


def _enough(size: Size, place: Place) -> float | None:
    """The width at which a place takes a box; None where no width does."""
    steps = math.ceil((WIDEST - place.width) / STEP)
    tried = (place.width + STEP * step for step in range(1, steps + 1))
    return next((wide for wide in tried if goes(size, _as_wide(place, wide)) is not None), None)


def _as_wide(place: Place, wide: float) -> Place:
    match place:
        case Doorway():
            return Doorway(wide, place.height)
        case Stair():
            return Stair(wide, place.height)
        case Turn():
            return Turn(wide, place.after, place.height)
        case Lift():
            return Lift(wide, place.depth, place.height)
    assert_never(place)


def _word(place: Place) -> str:
    match place:
        case Doorway():
            return "doorway"
        case Stair():
            return "stair"
        case Turn():
            return "turn"
        case Lift():
            return "lift"
    assert_never(place)


def _named(place: Place) -> str:
    """What a place is called, with its sizes."""
    match place:
        case Doorway():
            return f"doorway ({place.width:.0f} x {place.height:.0f} mm)"
        case Stair():
            return f"stair ({place.width:.0f} mm wide{_headroom(place.height)})"
        case Turn():
            after = f"{place.width:.0f} mm into {place.after:.0f} mm"
            return f"turn of the stair ({after}{_headroom(place.height)})"
        case Lift():
            return f"lift ({place.width:.0f} x {place.depth:.0f} x {place.height:.0f} mm)"
    assert_never(place)


def _headroom(high: float) -> str:
    return "" if high == math.inf else f", {high:.0f} mm of headroom"


def _sizes(size: Size) -> str:
    return " x ".join(f"{side:.0f}" for side in size) + " mm"


def _source(place: Place | None) -> str:
    if isinstance(place, Lift):
        return FROM_THE_SPEC
    return f"the spec and {HANDS:g} mm for hands, {COMMON_PRACTICE}"
