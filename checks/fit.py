"""Gaps as they were asked for, fronts in their openings, holes that come out of the far side."""

from collections.abc import Iterator

from checks.leaves import leaves
from checks.placed import Piece, Placed
from checks.solid_geometry import chord
from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC, Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec
from models.parts.assembly import Opening as Clear
from models.parts.features import Hole, HoleKind
from models.parts.lowering import row
from models.parts.part import Part
from specs.openings import Opening

LEFT_BEHIND = 1.5
"""Least wood between a blind hole's floor and the far side (mm). Common practice, no source."""
BLIND = (
    HoleKind.PILOT,
    HoleKind.DOWEL,
    HoleKind.SHELF_PIN,
    HoleKind.HINGE_CUP,
    HoleKind.FITTING,
    HoleKind.RECESS,
)
"""Holes that must not come out where they are not bored through."""
ENOUGH = 0.05
"""Gaps may be off by this: half of the finest step that a rule shows (mm)."""

Outline = tuple[Vec, Vec, str]
"""A front's lower and upper corner, and its mover."""


def find_fit(piece: Piece) -> Iterator[Finding]:
    """Say which gap is not as asked, and which hole comes through."""
    specs = leaves(piece.spec)
    for clear in piece.assembly.openings:
        asked = specs.get(clear.id)
        if asked is not None:
            yield from _gaps(piece, clear, asked)
    for part in piece.assembly.parts:
        yield from _through(piece, part)


def _gaps(piece: Piece, clear: Clear, asked: Opening) -> Iterator[Finding]:
    """Measured gaps round and between fronts, edging counted, against the gap of the spec."""
    gap = asked.drawers.front.gap if asked.drawers else asked.doors.gap if asked.doors else None
    if gap is None:
        return
    boxes = _outlines(piece, clear, drawers=asked.drawers is not None)
    if not boxes:
        return
    x, _, z = clear.corner
    ends = ((x, x + clear.width), (z, z + clear.height))
    axis = 2 if asked.drawers is not None else 0
    yield from _row(boxes, axis, ends[0 if axis == 0 else 1], gap)
    for box in boxes:
        yield from _row([box], 2 - axis, ends[1 if axis == 0 else 0], gap)


def _row(
    boxes: list[Outline], axis: int, ends: tuple[float, float], gap: float
) -> Iterator[Finding]:
    """The gaps before, between and after fronts along an axis."""
    before = ends[0]
    ordered = sorted(boxes, key=lambda one: one[0][axis])
    for lo, hi, subject in ordered:
        yield from _gap(subject, lo[axis] - before, gap)
        before = hi[axis]
    yield from _gap(ordered[-1][2], ends[1] - before, gap)


def _outlines(piece: Piece, clear: Clear, *, drawers: bool) -> list[Outline]:
    """Each front's outline with its edging: lower and upper corner, and its mover."""
    found = []
    movers = {piece.by_id[copy].copy.mover for copy in clear.contents} - {None}
    for mover in sorted(str(one) for one in movers):
        first = "drawer front" if drawers else "door"
        parts = [one for one in piece.on(mover) if _is_front(one, first)]
        if parts:
            lo = tuple(min(one.lo[i] for one in parts) for i in range(3))
            hi = tuple(max(one.hi[i] for one in parts) for i in range(3))
            found.append(((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]), mover))
    return found


def _is_front(one: Placed, first: str) -> bool:
    """Whether a copy is a front or its edging."""
    return one.part.kind.value in {"lumber", "sheet", "edging"} and one.name.startswith(first)


def _gap(subject: str, measured: float, asked: float) -> Iterator[Finding]:
    if abs(measured - asked) <= ENOUGH:
        return
    yield Finding(
        code="fit.gap",
        severity=Severity.ERROR if measured < LENGTH_EPS else Severity.WARNING,
        subject=subject,
        message=f"{measured:.2f} mm where a gap of {asked:.2f} mm is asked for"
        + ("; the front is wider than its opening" if measured < 0 else ""),
        value=round(measured, 6),
        limit=asked,
        unit="mm",
        source=FROM_THE_SPEC,
    )


def _through(piece: Piece, part: Part) -> Iterator[Finding]:
    """Blind holes of a part that come out, or nearly, on the far side."""
    if not part.made:
        return
    planes = tuple(part.base_planes().values())
    for hole in part.features:
        if not isinstance(hole, Hole) or hole.kind not in BLIND or hole.depth is None:
            continue
        left = min(
            chord(mouth, hole.seat.into, planes) for mouth in row(hole.seat, hole.count, hole.pitch)
        )
        # A hole as deep as its part is meant to go through: a clearance by another name.
        if left <= LENGTH_EPS or abs(left - hole.depth) <= LENGTH_EPS:
            continue
        if left - hole.depth < LEFT_BEHIND:
            copies = piece.assembly.copies_of(part.label)
            comes = "comes out of" if left < hole.depth else "nearly reaches"
            yield Finding(
                code="fit.comes_through",
                severity=Severity.ERROR if left < hole.depth else Severity.WARNING,
                subject=f"{part.label} {part.name}",
                message=f"the {hole.kind.value} of {hole.made_by}, {hole.depth:.1f} mm deep, "
                f"{comes} the far side, {left:.1f} mm away; make it "
                f"{max(left - LEFT_BEHIND, 0):.1f} mm deep, or the part thicker",
                copies=tuple(copy.id for copy in copies),
                at=copies[0].placement.point(hole.seat.origin),
                value=round(left - hole.depth, 6),
                limit=LEFT_BEHIND,
                unit="mm",
                source=COMMON_PRACTICE,
            )
