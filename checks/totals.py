"""What it weighs by group, and who carries it."""

from collections import defaultdict
from collections.abc import Iterator

from checks.placed import Piece
from ground.findings import Finding, Severity

ONE_CARRIES = 25.0
"""What one person lifts, kg (reference mass of ISO 11228-1, from memory)."""
TWO_CARRY = 50.0
"""What two lift, kg: twice as much. Common practice, no source."""


def find_totals(piece: Piece) -> Iterator[Finding]:
    """Say what it weighs and who carries it."""
    groups: dict[str, float] = defaultdict(float)
    for one in piece.placed:
        weight = piece.masses.get(one.id)
        if weight is not None:
            groups[one.copy.group[0]] += weight.kg
    yield _carried(piece, dict(groups))


def _carried(piece: Piece, groups: dict[str, float]) -> Finding:
    told = ", ".join(f"{group} {kg:.1f}" for group, kg in sorted(groups.items()))
    moving = sum(weight.kg for weight in piece.masses.values() if weight.mover is not None)
    bare = piece.kg - moving
    if piece.kg <= ONE_CARRIES:
        who = "one person carries it"
    elif piece.kg <= TWO_CARRY:
        who = "two carry it"
    else:
        who = f"it takes more than two; with drawers and doors out {bare:.1f} kg are left, for " + (
            "one" if bare <= ONE_CARRIES else "two" if bare <= TWO_CARRY else "more than two"
        )
    return Finding(
        code="carry.mass",
        severity=Severity.NOTE,
        subject="the piece",
        message=f"{piece.kg:.1f} kg without hardware ({told}): {who}",
        value=round(piece.kg, 6),
        limit=TWO_CARRY,
        unit="kg",
        source="reference mass of ISO 11228-1, 25 kg a person, from memory",
    )
