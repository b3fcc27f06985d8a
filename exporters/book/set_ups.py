"""One saw set-up in a row of the book: what is set, and what is measured afterwards."""

from exporters.book.tables import size
from exporters.set_ups_table import check, places, wedge
from ground.quantities import Units, angle_text, rise_in_100
from planning.saw.records import SetUp
from planning.saw.words import faced

STEEP = 80.0
"""Beyond this the rise in 100 says nothing at the bench (degrees)."""


def row(one: SetUp, units: Units) -> tuple[str, ...]:
    """Number, machine, work, settings, what to measure afterwards."""
    after = [check(found, units) for found in one.expect]
    return (
        str(one.order),
        one.machine.value,
        one.does,
        "; ".join(settings(one, units)),
        "; ".join(after),
    )


def settings(one: SetUp, units: Units) -> list[str]:
    """What is set, in the order of setting: table face, edge, angles, distance, depth, wedge."""
    said = []
    if one.table_face:
        said.append(f"{one.table_face} {faced(one)}")
    if one.reference_edge:
        said.append(f"{one.reference_edge} edge along")
    if one.mitre:
        said.append(
            f"mitre {slant(one.mitre)} {'' if one.mitre_to is None else one.mitre_to.value}"
        )
    if one.tilt:
        lean = "" if one.tilt_to is None else one.tilt_to.value
        said.append(f"tilt {slant(one.tilt)} {lean}")
    if one.distance is not None:
        measured = f" {one.measured}" if one.measured else ""
        said.append(f"distance {size(one.distance, units)}{measured}")
    if one.depth is not None:
        said.append(f"{size(one.depth, units)} deep")
    if one.wedge is not None:
        said.append(f"wedge {wedge(one.wedge, units)}")
    said += places(one, units)
    return [text.strip() for text in said]


def slant(degrees: float) -> str:
    """An angle two ways: from square, and as a rise in 100."""
    said = f"{angle_text(degrees)}°"
    return said if degrees > STEEP else f"{said} ({rise_in_100(degrees):.1f} in 100)"
