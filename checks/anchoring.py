"""Whether the wall anchors of the spec hold what the piece lacks in its worst load case."""

from collections.abc import Iterator

from checks.placed import Piece
from checks.tipping import Case, anchor_force, anchor_holds, anchors_needed, cases
from ground.findings import Finding, Severity


def find_anchoring(piece: Piece) -> Iterator[Finding]:
    """Say where the anchors asked for are too few."""
    asked = piece.spec.case.anchor
    if asked is None:
        return
    worst = max(cases(piece), key=lambda case: _force(piece, case), default=None)
    if worst is None:
        return
    force, high = anchor_force(piece, worst)
    each = force / asked.count
    if each > anchor_holds():
        needed = anchors_needed(force)
        yield Finding(
            code="load.anchor",
            severity=Severity.WARNING,
            subject="the wall anchor",
            message=f"{worst.words}: {force:.0f} N hang on it, {high:.0f} mm up, {each:.0f} N on "
            f"each of {asked.count}, and its screw into the top holds {anchor_holds():.0f} N; "
            f"write count: {needed}",
            value=round(each, 6),
            limit=round(anchor_holds(), 6),
            unit="N",
            source="lateral resistance of wood screws, Wood Handbook, from memory (low confidence)",
        )


def _force(piece: Piece, case: Case) -> float:
    return anchor_force(piece, case)[0]
