"""Every check of a piece that needs no CAD kernel, one after the other."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from checks.across import find_across
from checks.air import unknown
from checks.anchoring import find_anchoring
from checks.bearing import find_bearing
from checks.cautions import cautions
from checks.costs import find_costs
from checks.cuts_meet import find_cuts_meet
from checks.finish import find_finish
from checks.fit import find_fit
from checks.fittings import find_fittings
from checks.fronts import find_fronts
from checks.motion import find_motion
from checks.on_base import find_on_base
from checks.placed import Piece, read
from checks.purpose import find_purpose
from checks.racking import find_racking
from checks.sag import find_sag
from checks.shared import find_shared
from checks.tipping import anchors, find_tipping
from checks.totals import find_totals
from checks.way_in import find_way
from ground.findings import Finding
from models.parts.assembly import Assembly, HardwareLine
from specs.spec import Spec

CHECKS: tuple[Callable[[Piece], Iterable[Finding]], ...] = (
    find_fit,
    find_shared,
    find_cuts_meet,
    find_motion,
    find_sag,
    find_bearing,
    find_fronts,
    find_across,
    find_on_base,
    unknown,
    find_tipping,
    find_anchoring,
    find_racking,
    find_fittings,
    find_purpose,
    find_way,
    find_totals,
    find_finish,
    find_costs,
)
"""In the order that their findings are told; the cautions come last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What the checks say, and what they put on the hardware list."""

    findings: tuple[Finding, ...]
    hardware: tuple[HardwareLine, ...]


def look(assembly: Assembly, spec: Spec) -> Looked:
    """Look at a piece with every check; the cautions are said every time."""
    piece = read(assembly, spec)
    found = tuple(finding for check in CHECKS for finding in check(piece))
    return Looked(findings=(*found, *cautions()), hardware=anchors(piece, found))
