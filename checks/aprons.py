"""Sag of a base's long aprons, and every load of the spec at once."""

from collections.abc import Iterator

from checks.beams import Loading, rectangle, sag
from checks.limits import SHELF_TEST_SOURCE, shelf_test
from checks.placed import GRAVITY, Piece
from ground import wood
from ground.findings import COMMON_PRACTICE, Finding, Severity
from specs.base import Plinth
from specs.materials import Lumber


def apron_sag(piece: Piece) -> Iterator[Finding]:
    """Long aprons of a base on legs, carrying half the piece and its loads each."""
    base = piece.spec.base
    if isinstance(base, Plinth):
        return
    material = piece.spec.materials[base.aprons.material]
    known = wood.stiffness(material.species) if isinstance(material, Lumber) else None
    for apron in piece.named("long apron")[:1]:
        if known is None:
            yield Finding(
                code="sag.unknown",
                severity=Severity.NOTE,
                subject=apron.spoken,
                message=f"no stiffness is known of {base.aprons.material}, so its sag is not "
                "worked; name a wood of the tables",
                copies=(apron.id,),
                source="no published value at hand",
            )
            continue
        force = (piece.kg * GRAVITY + loads_of(piece)) / 2
        span = apron.part.blank.length
        section = rectangle(base.aprons.thickness, base.aprons.height, known.value)
        bent = sag(Loading.UNIFORM, force, span, section)
        if bent > span / shelf_test(span):
            higher = base.aprons.height * (bent * shelf_test(span) / span) ** (1 / 3)
            yield Finding(
                code="sag.apron",
                severity=Severity.WARNING,
                subject=apron.spoken,
                message=f"it sags {bent:.1f} mm over {span:.0f} mm under half of the piece and its "
                f"loads, {force:.0f} N; an apron {higher + 0.5:.0f} mm high would be enough",
                copies=(apron.id,),
                value=round(bent, 6),
                limit=round(span / shelf_test(span), 6),
                unit="mm",
                source=f"{SHELF_TEST_SOURCE}, taken for aprons: {COMMON_PRACTICE}",
            )


def loads_of(piece: Piece) -> float:
    """Every load of the spec at once (N)."""
    loads = piece.spec.loads
    shelves = sum(1 for one in piece.named("shelf") if one.wood)
    drawers = sum(1 for mover in piece.movers if mover.startswith("drawer"))
    each = ((loads.top, 1), (loads.bottom, 1), (loads.shelf, shelves), (loads.drawer, drawers))
    spread = sum((force or 0.0) * times for force, times in each)
    return spread + (loads.top_point or 0.0)
