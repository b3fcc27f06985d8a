"""A solid panel on its base: whether what holds it lets it move across the grain.

The panel is taken to stay where its middle is, as it does on fasteners spread evenly, and to creep
either way from there.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from checks.across import both_ways, moves_along
from checks.air import Air, Board, air_of, board
from checks.placed import Piece, Placed
from ground.findings import Finding, Severity
from ground.vectors import Vec, X, Y, dot
from models.parts.features import Hole
from models.parts.joints.figure_eight import (
    BREAKS_OUT,
    CLIP,
    CLIP_SHORT,
    CLIP_SLOT,
    DISC,
    HOLES,
    RECESS,
    WAIST,
)
from specs.base import FixingKind

MADE_BY = "base.fixing"
ALONG = 0.7
"""Cosine from which a rail runs along the way that the panel moves."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far a fastener lets a panel move (mm): along its rail, and square to it."""

    along: float
    square: float


def swing() -> float:
    """How far a figure-eight fastener swings along its rail (mm).

    Its waist turns in the mouth of its recess, which is open at the rail's inner face, until it
    meets the mouth's corner: d tan a + w / cos a = m, with d from the recess's middle to the face,
    w half of the waist and m half of the mouth.
    """
    deep, half = RECESS / 2 - BREAKS_OUT, WAIST[1] / 2
    mouth = math.sqrt((RECESS / 2) ** 2 - deep**2)
    # d sin a + w = m cos a, so r cos(a + b) = w with tan b = d / m; r is the recess's radius.
    turn = math.acos(half / math.hypot(mouth, deep)) - math.atan2(deep, mouth)
    return HOLES * math.sin(max(turn, 0.0))


def reach(kind: FixingKind) -> Reach:
    """What a fastener allows by its own shape; screws allow nothing."""
    match kind:
        case FixingKind.FIGURE_EIGHT:
            return Reach(along=swing(), square=(RECESS - DISC) / 2)
        case FixingKind.SLOTTED_CLIP:
            return Reach(along=(CLIP_SLOT[1] - CLIP[1]) / 2, square=CLIP_SHORT)
        case FixingKind.SCREW | FixingKind.SCREW_BLOCK:
            return Reach(along=0.0, square=0.0)


def find_on_base(piece: Piece) -> Iterator[Finding]:
    """Say which solid panel its fasteners hold across the grain."""
    air = air_of(piece)
    for panel in piece.placed:
        if panel.copy.group[:1] != ("case",):
            continue
        ways = [way for way in (X, Y) if moves_along(panel, way)]
        wood = board(piece, panel.part.material or "") if ways and panel.thin_along(2) else None
        if wood is None:
            continue
        worst = max(
            (one for way in ways for one in _held(piece, panel, wood, (air, way))),
            key=lambda one: one[0] - one[1],
            default=None,
        )
        if worst is not None and worst[0] > worst[1]:
            yield _finding(piece, panel, wood, worst)


Held = tuple[float, float, float, bool]
"""How far the panel moves at a fastener, how far that reaches, how far it is from the middle (mm);
whether its rail runs the way that the panel moves."""


def _held(piece: Piece, panel: Placed, wood: Board, year: tuple[Air, Vec]) -> Iterator[Held]:
    """Every fastener in a panel."""
    air, way = year
    frame = panel.copy.placement
    free = reach(piece.spec.base.fixing.kind)
    for hole in panel.part.features:
        if isinstance(hole, Hole) and hole.made_by == MADE_BY:
            arm = abs(dot(frame.point(hole.seat.origin), way) - dot(panel.middle, way))
            moves = max(abs(wood.swells(arm, air)), abs(wood.shrinks(arm, air)))
            runs = abs(dot(frame.direction(hole.seat.along), way)) > ALONG
            yield (moves, free.along if runs else free.square, arm, runs)


def _finding(piece: Piece, panel: Placed, wood: Board, worst: Held) -> Finding:
    moves, free, arm, runs = worst
    kind = piece.spec.base.fixing.kind
    where = "along its rail" if runs else "square to its rail"
    return Finding(
        code="movement.base_fixing",
        severity=Severity.WARNING,
        subject=panel.spoken,
        message=f"solid {wood.species} on a base: {arm:.0f} mm from its middle it moves "
        f"{moves:.2f} mm ({both_ways(wood, arm, air_of(piece))}), and the {kind.value} there gives "
        f"{free:.2f} mm {where}; {_mend(kind, moves, runs=runs)}",
        copies=(panel.id,),
        value=round(moves, 6),
        limit=round(free, 6),
        unit="mm",
        source="the fastener's own shape, from memory",
    )


def _mend(kind: FixingKind, moves: float, *, runs: bool) -> str:
    ways = []
    for other in (FixingKind.FIGURE_EIGHT, FixingKind.SLOTTED_CLIP):
        free = reach(other)
        if other is not kind and moves <= (free.along if runs else free.square):
            ways.append(f"a {other.value} reaches far enough")
    if not runs:
        ways.append("fasten it along the middle of the rails that the grain crosses only")
    ways.append("quartered boards, sheet goods, or wood milled nearer the room's moisture")
    return "; or ".join(ways)
