"""What it weighs by group, who carries it, and what finish it takes."""

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from checks.placed import Piece
from checks.solid_geometry import Body
from checks.volumes import body_of
from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import add, cross, norm, scale, sub

ONE_CARRIES = 25.0
"""What one person lifts, kg (reference mass of ISO 11228-1, from memory)."""
TWO_CARRY = 50.0
"""What two lift, kg: twice as much. Common practice, no source."""
COATS = 3
"""Coats of a film finish. Common practice, no source."""
COVERS = 11.0
"""What a litre of film finish covers, m2 a coat: 10 to 12. Common practice, no source."""
WASTE = 1.1
"""Finish that stays in brush and pot. Common practice, no source."""


def area(body: Body) -> float:
    """Surface of a convex body (mm2)."""
    total = 0.0
    for face in body:
        way = (0.0, 0.0, 0.0)
        for one, two in pairwise(face[1:]):
            way = add(way, cross(sub(one, face[0]), sub(two, face[0])))
        total += norm(scale(way, 0.5))
    return total


def find_totals(piece: Piece) -> Iterator[Finding]:
    """Say what it weighs and who carries it, and how much finish it takes."""
    groups: dict[str, float] = defaultdict(float)
    for one in piece.placed:
        weight = piece.masses.get(one.id)
        if weight is not None:
            groups[one.copy.group[0]] += weight.kg
    yield _carried(piece, dict(groups))
    yield _finish(piece)


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


def _finish(piece: Piece) -> Finding:
    """All faces of what is made, joints not taken off: more than is brushed, never less."""
    surfaces: dict[str, float] = defaultdict(float)
    for one in piece.placed:
        if one.part.made and one.wood:
            surfaces[one.copy.group[0]] += area(body_of(one.part)) * 1e-6
    whole = sum(surfaces.values())
    told = ", ".join(f"{group} {square:.2f}" for group, square in sorted(surfaces.items()))
    litres = whole * COATS / COVERS * WASTE
    return Finding(
        code="finish.area",
        severity=Severity.NOTE,
        subject="the piece",
        message=f"{whole:.2f} m2 on every face of every part ({told}): {litres:.1f} l for {COATS} "
        f"coats at {COVERS:g} m2 a litre and {WASTE - 1:.0%} over; leave out what is not finished; "
        "hours are the maker's own to reckon",
        value=round(whole, 6),
        unit="m2",
        source=COMMON_PRACTICE,
    )
