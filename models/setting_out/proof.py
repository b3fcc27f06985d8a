"""What can only be said of the whole piece: cuts that meet in a panel, joints that never close."""

from collections.abc import Iterator
from dataclasses import replace

from ground.findings import Finding, Severity
from models.parts.assembly import Assembly, Copy
from models.parts.directions import SAME_WAY, Knot, knots
from models.parts.opposite import IN_DEPTH, BackToBack, Opposed, opposed_channels, opposite_holes
from models.parts.part import Part

OPPOSED = "joint.opposed_dados"
TOLD = 4
"""Names that a message spells out before it counts the rest."""


def proved(assembly: Assembly) -> Assembly:
    """The same piece with what is found against it as a whole."""
    found = (*_panels(assembly), *_knots(assembly))
    return replace(assembly, findings=(*assembly.findings, *found))


def _panels(assembly: Assembly) -> Iterator[Finding]:
    # What was seen while one opening was set out is not said twice.
    said = {copy for found in assembly.findings if found.code == OPPOSED for copy in found.copies}
    for part in assembly.parts:
        copies = assembly.copies_of(part.label)
        for holes in opposite_holes(part):
            yield _holes(part, copies, holes)
        if not said.intersection(copy.id for copy in copies):
            for channels in opposed_channels(part):
                yield _channels(part, copies, channels)


def _holes(part: Part, copies: tuple[Copy, ...], met: Opposed) -> Finding:
    one, other = met.features
    return Finding(
        code="fit.opposite_holes",
        severity=Severity.ERROR,
        subject=f"{part.label} {part.name}",
        message=f"the {one.kind} of {one.made_by} and the {other.kind} of {other.made_by}, from "
        f"opposite faces, leave {met.depth:.1f} mm between their floors and stand "
        f"{met.plan:.1f} mm apart; leave {IN_DEPTH:g} mm in depth, or move one until they stand "
        f"{met.least:.1f} mm apart",
        copies=tuple(copy.id for copy in copies),
        at=copies[0].placement.point(met.at),
        value=round(met.depth, 6),
        limit=IN_DEPTH,
        unit="mm",
        source="design rule: 2 mm in depth, or 1.5 diameters in plan",
    )


def _channels(part: Part, copies: tuple[Copy, ...], met: BackToBack) -> Finding:
    one, other = met.features
    cut_through = met.taken >= met.thickness
    return Finding(
        code=OPPOSED,
        severity=Severity.ERROR if cut_through else Severity.WARNING,
        subject=f"{part.label} {part.name}",
        message=f"the {one.kind} of {one.made_by} and the {other.kind} of {other.made_by} lie "
        f"back to back and take {met.taken:.1f} of {met.thickness:.1f} mm; make them shallower",
        copies=tuple(copy.id for copy in copies),
        at=copies[0].placement.point(met.at),
        value=round(met.taken, 6),
        limit=round(met.most, 6),
        unit="mm",
        source="common practice (opposed dadoes: half the panel together), no source",
    )


def _knots(assembly: Assembly) -> Iterator[Finding]:
    names = {copy.id: assembly.part(copy.label).name for copy in assembly.copies}
    for knot in knots(assembly.joints):
        yield _knot(knot, names)


def _knot(knot: Knot, names: dict[str, str]) -> Finding:
    spoken = [f"{copy} {names[copy]}" for copy in knot.parts]
    told = ", ".join(spoken[:TOLD])
    if len(spoken) > TOLD:
        told += f" and {len(spoken) - TOLD} more"
    pair = knot.pairs[0] if knot.pairs else None
    why = (
        f"{pair.joints[0]} and {pair.joints[1]} ask for ways {pair.apart:.2f} degrees apart"
        if pair
        else "each lies behind another"
    )
    return Finding(
        code="assembly.two_directions",
        severity=Severity.ERROR,
        subject=told,
        message=f"these parts cannot be put together: {why}; let the last one slide in along one "
        f"line, or close the joints as a group",
        copies=knot.parts,
        value=round(pair.apart, 6) if pair else None,
        limit=SAME_WAY if pair else None,
        unit="degrees" if pair else None,
        source="design rule: the joints of one move share a direction",
    )
