"""Fronts of solid wood through the year: what is left of the gaps round them."""

from collections.abc import Iterator
from dataclasses import dataclass

from checks.air import Air, Board, air_of, board
from checks.leaves import leaves
from checks.placed import Piece, Placed
from ground.findings import COMMON_PRACTICE, Finding, Severity
from models.parts.assembly import Opening as Clear
from specs.doors import PanelDoors, SlabDoors
from specs.drawers import FrontGrain
from specs.materials import Cut
from specs.openings import Opening

LEAST = 0.5
"""What should be left of a gap in the dampest month (mm). Common practice, no source."""
GAPES = 4.0
"""A gap wider than this in the driest month catches the eye (mm). Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moving:
    """One front and how its edges move: ``low`` and ``high`` are shares of its change of width.

    ``width`` is the wood that moves across the grain (mm); along ``axis`` of the piece.
    """

    front: Placed
    lo: float
    hi: float
    width: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """The room between two neighbours, or a front and its opening; mm when it is milled."""

    between: tuple[str, str]
    copies: tuple[str, ...]
    now: float
    moving: float
    """Width of wood whose change this gap takes up, each front by its own share (mm)."""

    def at_dampest(self, wood: Board, air: Air, cut: Cut | None = None) -> float:
        """What is left in the dampest month."""
        return self.now - wood.swells(self.moving, air, cut)

    def at_driest(self, wood: Board, air: Air, cut: Cut | None = None) -> float:
        """What it is in the driest month."""
        return self.now + wood.shrinks(self.moving, air, cut)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Fronts in a row along one axis of an opening, of one wood, and where each is fixed."""

    subject: str
    wood: Board
    fixed: str
    gaps: tuple[Gap, ...]


def find_fronts(piece: Piece) -> Iterator[Finding]:
    """Say of every row of solid fronts what is left of the tightest gap."""
    air = air_of(piece)
    specs = leaves(piece.spec)
    for clear in piece.assembly.openings:
        asked = specs.get(clear.id)
        if asked is None:
            continue
        for stack in (*_drawers(piece, clear, asked), *_doors(piece, clear, asked)):
            yield _finding(stack, air)


def _drawers(piece: Piece, clear: Clear, asked: Opening) -> Iterator[Stack]:
    if asked.drawers is None:
        return
    wood = board(piece, asked.drawers.front.material, asked.drawers.front.cut)
    fronts = _named(piece, clear, "drawer front")
    if wood is None or not fronts:
        return
    if asked.drawers.front.grain is FrontGrain.LEVEL:
        moving = [_whole(front, 2, (0.5, 0.5)) for front in fronts]
        edges = (clear.corner[2], clear.corner[2] + clear.height)
        rows = [_row(moving, edges, ("the opening's floor", "the opening's head"))]
    else:
        edges = (clear.corner[0], clear.corner[0] + clear.width)
        names = ("the left side of the opening", "the right side")
        rows = [_row([_whole(front, 0, (0.5, 0.5))], edges, names) for front in fronts]
    yield Stack(
        subject=f"drawer fronts of opening {clear.id}",
        wood=wood,
        fixed="each is fixed at its middle and moves half at either edge",
        gaps=tuple(gap for row in rows for gap in row),
    )


def _doors(piece: Piece, clear: Clear, asked: Opening) -> Iterator[Stack]:
    doors = asked.doors
    if doors is None:
        return
    hinged = [side.value for side in doors.hung_on]
    match doors:
        case SlabDoors():
            wood = board(piece, doors.material, doors.cut)
            fronts = _named(piece, clear, "door")
            if doors.grain is not FrontGrain.UPRIGHT:
                wood = None  # a slab with level grain keeps its width; its height has both gaps
            widths = [front.size[0] for front in fronts]
        case PanelDoors():
            wood = board(piece, doors.frame.material)
            fronts = _outlines(piece, clear)
            widths = [2 * doors.frame.stiles for _ in fronts]
    if wood is None or len(fronts) != len(hinged):
        return
    moving = [
        Moving(
            front=front,
            lo=front.lo[0],
            hi=front.hi[0],
            width=width,
            low=0.0 if side == "left" else 1.0,
            high=1.0 if side == "left" else 0.0,
        )
        for front, width, side in zip(fronts, widths, hinged, strict=True)
    ]
    edges = (clear.corner[0], clear.corner[0] + clear.width)
    yield Stack(
        subject=f"doors of opening {clear.id}",
        wood=wood,
        fixed="each is held by its hinges and moves at the edge that opens",
        gaps=_row(moving, edges, ("the left side of the opening", "the right side")),
    )


def _named(piece: Piece, clear: Clear, name: str) -> list[Placed]:
    """Fronts of an opening, from the left or from the floor up."""
    mine = [piece.by_id[copy] for copy in clear.contents]
    found = [one for one in mine if one.wood and not one.fixed and one.kind_of(name)]
    return sorted(found, key=lambda one: (one.lo[2], one.lo[0]))


def _outlines(piece: Piece, clear: Clear) -> list[Placed]:
    """One stile or rail of each framed door, with the door's own outline."""
    found: list[Placed] = []
    movers = {piece.by_id[copy].copy.mover for copy in clear.contents} - {None}
    for mover in sorted(str(one) for one in movers):
        parts = [one for one in piece.on(mover) if one.wood]
        if not parts:
            continue
        first = parts[0]
        lo = (min(one.lo[0] for one in parts), first.lo[1], min(one.lo[2] for one in parts))
        hi = (max(one.hi[0] for one in parts), first.hi[1], max(one.hi[2] for one in parts))
        found.append(Placed(copy=first.copy, part=first.part, lo=lo, hi=hi))
    return sorted(found, key=lambda one: one.lo[0])


def _whole(front: Placed, axis: int, shares: tuple[float, float]) -> Moving:
    return Moving(
        front=front,
        lo=front.lo[axis],
        hi=front.hi[axis],
        width=front.size[axis],
        low=shares[0],
        high=shares[1],
    )


def _row(
    fronts: list[Moving], edges: tuple[float, float], names: tuple[str, str]
) -> tuple[Gap, ...]:
    """Every gap of a row, from its low end to its high one."""
    gaps: list[Gap] = []
    before, spoken, taken = edges[0], names[0], 0.0
    copies: tuple[str, ...] = ()
    for one in fronts:
        gaps.append(
            Gap(
                between=(spoken, one.front.spoken),
                copies=(*copies, one.front.id),
                now=one.lo - before,
                moving=taken + one.low * one.width,
            )
        )
        before, spoken = one.hi, one.front.spoken
        copies, taken = (one.front.id,), one.high * one.width
    last = Gap(between=(spoken, names[1]), copies=copies, now=edges[1] - before, moving=taken)
    return (*gaps, last)


def _finding(stack: Stack, air: Air) -> Finding:
    wood = stack.wood
    tight = min(stack.gaps, key=lambda gap: gap.at_dampest(wood, air))
    wide = max(stack.gaps, key=lambda gap: gap.at_driest(wood, air))
    left, open_ = tight.at_dampest(wood, air), wide.at_driest(wood, air)
    code, severity, mend = _verdict(stack, air, left, open_)
    value, limit = (open_, GAPES) if code == "movement.fronts_gape" else (left, LEAST)
    each = ", ".join(
        f"{cut.value} {tight.at_dampest(wood, air, cut):.2f}" for cut in (Cut.FLAT, Cut.QUARTERED)
    )
    return Finding(
        code=code,
        severity=severity,
        subject=stack.subject,
        message=f"{wood.species}, {wood.cut.value}, milled at {wood.milled:g} %: of the "
        f"{tight.now:.2f} mm between {tight.between[0]} and {tight.between[1]}, {left:.2f} mm are "
        f"left in the dampest month ({each}); the widest gap is {open_:.2f} mm in the driest; "
        f"{stack.fixed}; {air.words}; coefficients: {wood.movement.source}{mend}",
        copies=tight.copies,
        value=round(value, 6),
        limit=limit,
        unit="mm",
        source=COMMON_PRACTICE,
    )


def _verdict(stack: Stack, air: Air, left: float, widest: float) -> tuple[str, Severity, str]:
    """The code, how much it matters, and what would mend it."""
    wood = stack.wood
    if left >= LEAST:
        if widest <= GAPES:
            return ("movement.fronts_keep", Severity.NOTE, "")
        damper = f"; mill at {(air.dry + air.damp) / 2:.1f} % or ask for a smaller gap"
        return ("movement.fronts_gape", Severity.WARNING, damper)
    short = max(LEAST - gap.at_dampest(wood, air) for gap in stack.gaps)
    wanted = max(gap.now for gap in stack.gaps) + short
    mends = [f"a gap of {wanted + 0.05:.1f} mm"]
    quartered = min(gap.at_dampest(wood, air, Cut.QUARTERED) for gap in stack.gaps)
    if wood.cut is not Cut.QUARTERED and quartered >= LEAST:
        mends.append("quartered boards")
    if wood.milled < air.damp:
        mends.append("wood milled at a moisture nearer the room's dampest")
    mend = "; enough would be " + ", or ".join(mends)
    if left < 0:
        return ("movement.fronts_bind", Severity.ERROR, mend)
    return ("movement.fronts_tight", Severity.WARNING, mend)
