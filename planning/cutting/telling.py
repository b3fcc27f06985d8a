"""What a cut plan has to say."""

from collections.abc import Sequence

from ground.findings import FROM_THE_SPEC, Finding, Severity
from planning.cutting.layout import mm
from planning.cutting.loads import Load
from planning.cutting.matching import Match
from planning.cutting.records import Unmade
from planning.cutting.strips import Strip
from planning.cutting.task import Zone

MITRE_WAY = (
    "part them along the mitre, blade at 45 degrees: that leaves one good end, on the piece whose"
    " face is longest there; cut the other piece's end again from its own face edge, the whole"
    " kerf in the waste"
)


def strip_told(match: Match, load: Load, longest: int, kerf: float) -> Finding:
    """A strip that fits: how long it is, and how it is parted."""
    length = mm(load.bit.size[0])
    how = f"; {MITRE_WAY}" if match.tilt else ""
    return Finding(
        code="plan.strip",
        severity=Severity.NOTE,
        subject=match.what,
        message=(
            f"the grain runs on through one strip {length:.1f} mm long out of {mm(longest):.1f}:"
            f" each cut takes {match.gap(kerf):.1f} mm off the face{how}"
        ),
        copies=match.copies,
        value=length,
        limit=mm(longest),
        unit="mm",
        source=FROM_THE_SPEC,
    )


def break_told(match: Match, load: Load, strip: Strip, longest: int) -> Finding:
    """A strip that is too long: what is kept, what is lost."""
    length, kept = mm(load.bit.size[0]), mm(strip.kept.bit.size[0])
    sizes = " + ".join(f"{need.fine[0]:g}" for need in load.needs)
    gaps = (length - sum(need.fine[0] for need in load.needs)) / (len(load.needs) - 1)
    keeps = next(n.placed.name for n in strip.needs if n.placed.copy == strip.keeps)
    loses = next(n.placed.name for n in strip.needs if n.placed.copy == strip.loses)
    how = f"; {MITRE_WAY}" if match.tilt else ""
    return Finding(
        code="plan.strip_too_long",
        severity=Severity.WARNING,
        subject=match.what,
        message=(
            f"one strip would be {sizes} + {len(load.needs) - 1} x {gaps:.2f} = {length:.1f} mm"
            f" long; a trimmed sheet has {mm(longest):.1f}. The top stays with the {keeps}"
            f" ({kept:.1f} mm); the {loses} loses its match and is cut from the strip beside,"
            f" at the sheet's end, where the grain is nearest{how}"
        ),
        copies=match.copies,
        value=length,
        limit=mm(longest),
        unit="mm",
        source=FROM_THE_SPEC,
    )


def run_told(match: Match, load: Load, longest: int, widest: int) -> Finding:
    """A run that fits no sheet: planned piece by piece."""
    length, width = (mm(value) for value in load.bit.size[:2])
    over = length > mm(longest)
    return Finding(
        code="plan.run_too_long",
        severity=Severity.WARNING,
        subject=match.what,
        message=(
            f"in one run they take {length:.1f} x {width:.1f} mm, a trimmed sheet has"
            f" {mm(longest):.1f} x {mm(widest):.1f}; they are planned one by one, and the grain"
            " does not run on"
        ),
        copies=match.copies,
        value=length if over else width,
        limit=mm(longest if over else widest),
        unit="mm",
        source=FROM_THE_SPEC,
    )


def too_large_told(load: Load, zones: Sequence[Zone], material: str) -> tuple[Finding, Unmade]:
    """A part that no stock is large enough for: which, and by how much."""
    length, width = (mm(value) for value in load.bit.size[:2])
    largest = max(zones, key=lambda zone: zone.w * zone.h)
    over = [
        f"{value - mm(room):.1f} mm {what}"
        for value, room, what in ((length, largest.w, "longer"), (width, largest.h, "wider"))
        if value > mm(room)
    ]
    placed = load.needs[0].placed
    reason = (
        f"{length:.1f} x {width:.1f} mm along and across the grain is"
        f" {' and '.join(over) or 'turned, and so too large,'} for the largest {material}"
        f" ({mm(largest.w):.1f} x {mm(largest.h):.1f} mm once trimmed)"
    )
    copies = tuple(dict.fromkeys(need.placed.copy for need in load.needs))
    finding = Finding(
        code="plan.too_large",
        severity=Severity.ERROR,
        subject=f"{placed.label} {placed.name}",
        message=reason,
        copies=copies,
        value=max(length, width),
        limit=mm(max(largest.w, largest.h)),
        unit="mm",
        source=FROM_THE_SPEC,
    )
    return finding, Unmade(label=placed.label, copies=copies, reason=reason)


def interrupted_told(piece: str) -> Finding:
    """The plan was broken off; it is the best so far."""
    return Finding(
        code="plan.interrupted",
        severity=Severity.WARNING,
        subject=piece,
        message="cut plans were broken off; they are the best found until then",
        source="the plan itself",
    )
