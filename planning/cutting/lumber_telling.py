"""What a plan of boards has to say."""

from collections.abc import Iterator, Sequence

from ground.findings import FROM_THE_SPEC, Finding, Severity
from models.parts.part import PartKind
from planning.cutting.records import Unmade
from planning.cutting.stacks import SPARE, Stack, spare
from planning.cutting.sticks import Blank, Stick
from planning.cutting.yard import Yard, nearest
from specs.materials import Board

Used = tuple[Board, bool, tuple[Stack, ...]]
"""A board, whether it is bought, and what is cut from it."""


def _copies(sticks: Sequence[Stick]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(b.placed.copy for stick in sticks for b in stick.blanks))


def _names(sticks: Sequence[Stick]) -> str:
    found = dict.fromkeys(
        f"{b.placed.label} {b.placed.name}" for stick in sticks for b in stick.blanks
    )
    return ", ".join(found)


def staves_told(found: Sequence[Blank]) -> Iterator[Finding]:
    """Parts wider than a board: their staves, and where the joints lie."""
    seen: set[str] = set()
    for blank in found:
        placed = blank.placed
        own = [b.placed.copy for b in found if b.placed.label == placed.label]
        staves = max((b.placed.stave for b in found if b.placed.copy == placed.copy), default=1)
        if staves == 1 or placed.label in seen:
            continue
        seen.add(placed.label)
        joints = ", ".join(f"{blank.across * n:.1f}" for n in range(1, staves))
        yield Finding(
            code="plan.staves",
            severity=Severity.NOTE,
            subject=f"{placed.label} {placed.name}",
            message=(
                f"its grain runs across it: {staves} pieces {blank.across:.1f} mm long end to end"
                if blank.kind is PartKind.LOOSE
                else f"wider than a board: {staves} staves {blank.across:.1f} mm wide glued up,"
                f" joints {joints} mm from one edge; turn every second one end for end"
            ),
            copies=tuple(dict.fromkeys(own)),
            value=float(staves),
            unit="staves",
        )


def no_board_told(
    stick: Stick, longest: float, widest: float, material: str
) -> tuple[Finding, Unmade]:
    """A stick that no board is large enough for: which part, and by how much."""
    over: list[str] = []
    if stick.length > longest:
        over.append(
            f"{stick.length - longest:.1f} mm longer than the longest board ({longest:.1f})"
        )
    if widest <= 0.0:
        over.append(f"{stick.thick:.1f} mm thick, and no board is")
    elif stick.width > widest:
        over.append(f"{stick.width - widest:.1f} mm wider than the widest board ({widest:.1f})")
    if not over:
        over.append("left over: the boards in the rack are used up, and none is sold so large,")
    reason = (
        f"rough {stick.length:.1f} x {stick.width:.1f} x {stick.thick:.1f} mm is"
        f" {' and '.join(over)} of {material}"
    )
    finding = Finding(
        code="plan.too_large",
        severity=Severity.ERROR,
        subject=_names([stick]),
        message=reason,
        copies=_copies([stick]),
        value=stick.length,
        limit=longest,
        unit="mm",
        source=FROM_THE_SPEC,
    )
    lost = Unmade(label=stick.blanks[0].placed.label, copies=_copies([stick]), reason=reason)
    return finding, lost


def spoilt_told(board: Board, material: str) -> Finding:
    """A board that defects leave nothing of."""
    return Finding(
        code="plan.board_spoilt",
        severity=Severity.WARNING,
        subject=material,
        message=(
            f"defects cover the board of {board.thickness:g} x {board.width:g} x"
            f" {board.length:g} mm; nothing is cut from it"
        ),
        source=FROM_THE_SPEC,
    )


def figure_told(poor: Sequence[Stack], material: str) -> Finding:
    """Parts that cannot have the figure they want."""
    sticks = [stick for stack in poor for stick in stack.sticks]
    return Finding(
        code="plan.figure",
        severity=Severity.WARNING,
        subject=_names(sticks),
        message=f"want straight grain, and no board of {material} has room for it; cut from others",
        copies=_copies(sticks),
        source=FROM_THE_SPEC,
    )


def board_findings(used: Sequence[Used], yard: Yard) -> Iterator[Finding]:
    """What a step of thickness wastes, and what has little to spare."""
    told: set[tuple[str, str]] = set()
    for board, _, stacks in used:
        for stack in stacks:
            for finding in (_step(board, stack, yard), _little(board, stack)):
                if finding is not None and (finding.code, finding.subject) not in told:
                    told.add((finding.code, finding.subject))
                    yield finding


def _step(board: Board, stack: Stack, yard: Yard) -> Finding | None:
    """One stick out of a board that is thicker than it need be."""
    stick = stack.sticks[0]
    thin = nearest(yard.thicknesses, stick.thick)
    if len(stack.sticks) > 1 or thin is None or thin >= board.thickness:
        return None
    milled = stick.fine[1]
    return Finding(
        code="plan.thickness_step",
        severity=Severity.NOTE,
        subject=_names(stack.sticks),
        message=(
            f"{milled:.1f} mm thick out of {board.thickness:.1f}: {board.thickness - milled:.1f} mm"
            f" planed away; a board {thin:.1f} mm thick would do"
        ),
        copies=_copies(stack.sticks),
        value=board.thickness,
        limit=thin,
        unit="mm",
    )


def _little(board: Board, stack: Stack) -> Finding | None:
    """A stick that the board hardly holds."""
    left = spare(stack.sticks[0], board.width, board.thickness)
    if len(stack.sticks) > 1 or left >= SPARE:
        return None
    stick = stack.sticks[0]
    return Finding(
        code="plan.little_to_spare",
        severity=Severity.WARNING,
        subject=_names(stack.sticks),
        message=(
            f"{stick.fine[0]:.1f} x {stick.fine[1]:.1f} mm milled out of {board.width:.1f} x"
            f" {board.thickness:.1f}: {left:.1f} mm to spare, under {SPARE:g}; it must be clean"
        ),
        copies=_copies(stack.sticks),
        value=left,
        limit=SPARE,
        unit="mm",
    )
