"""saw-set-ups.csv: every saw setting in the order of the cuts, for the wall beside the saw."""

import math
from collections.abc import Iterable

from exporters.tables import Row, marked, table
from ground.quantities import Rounding, Units
from models.parts.assembly import Assembly
from planning.saw.grouping import Group
from planning.saw.records import Expect, SetUp, Wedge

HEAD = (
    "part", "name", "quantity", "order", "machine", "work", "table face", "reference edge", "stop",
    "mitre (deg)", "mitre (in 100)", "mitre to", "tilt (deg)", "tilt (in 100)", "tilt to",
    "measured", "keeps", "wedge", "show face", "offcut falls", "first cut", "measure afterwards",
    "note", "cautions", "set together",
)  # fmt: skip

AFTER = "measured"
"""The column that the lengths stand behind."""


def saw_table(
    found: Iterable[SetUp], grouped: Iterable[Group], assembly: Assembly, units: Units
) -> bytes:
    """Every set-up, one a row."""
    together: dict[tuple[str, int], list[str]] = {}
    for group in grouped:
        for member in group.members:
            together.setdefault(member, []).append(group.said)
    place = HEAD.index(AFTER) + 1
    head = [*HEAD[:place], *length_heads(units), *HEAD[place:]]
    return table(head, (row(one, assembly, units, together) for one in found))


def length_heads(units: Units) -> list[str]:
    """The columns of lengths: in the piece's units, then in mm if those are others."""
    return [
        f"{name} ({unit.value})"
        for unit in dict.fromkeys((units, Units.MM))
        for name in ("distance", "depth")
    ]


def row(
    one: SetUp, assembly: Assembly, units: Units, together: dict[tuple[str, int], list[str]]
) -> Row:
    """One set-up."""
    part = assembly.part(one.part)
    return {
        "part": one.part,
        "name": part.name,
        "quantity": str(len(assembly.copies_of(one.part))),
        "order": str(one.order),
        "machine": one.machine.value,
        "work": one.does,
        "table face": one.table_face or "",
        "reference edge": one.reference_edge or "",
        "stop": one.stop or "",
        "mitre (deg)": degrees(one.mitre),
        "mitre (in 100)": rise(one.mitre),
        "mitre to": "" if one.mitre_to is None else one.mitre_to.value,
        "tilt (deg)": degrees(one.tilt),
        "tilt (in 100)": rise(one.tilt),
        "tilt to": "" if one.tilt_to is None else one.tilt_to.value,
        "measured": one.measured or "",
        **lengths(one, units),
        "keeps": "" if one.keeps is None else one.keeps.value,
        "wedge": "" if one.wedge is None else wedge(one.wedge, units),
        "show face": one.show or "",
        "offcut falls": one.offcut or "",
        "first cut": one.first_cut,
        "measure afterwards": "; ".join(check(found, units) for found in one.expect),
        "note": one.note,
        "cautions": " ".join(one.cautions),
        "set together": "; ".join(together.get((one.part, one.order), ())),
    }


def lengths(one: SetUp, units: Units) -> Row:
    """The cells of the lengths."""
    cells = {}
    for unit in dict.fromkeys((units, Units.MM)):
        for name, value in (("distance", one.distance), ("depth", one.depth)):
            cell = "" if value is None else marked(value, unit, Rounding.NEAREST)
            cells[f"{name} ({unit.value})"] = cell
    return cells


def degrees(value: float | None) -> str:
    """An angle as a saw's scale shows it."""
    return "" if value is None else f"{value:.1f}"


def rise(value: float | None) -> str:
    """An angle as a rise in 100; along the edge there is none."""
    if value is None or 90.0 - value < 1.0:
        return ""
    return f"{100 * math.tan(math.radians(value)):.1f}"


def wedge(one: Wedge, units: Units) -> str:
    """A wedge in words."""
    rises, long = (marked(v, units, Rounding.NEAREST) for v in (one.rise, one.length))
    return f"rises {rises} in {long}, under {one.under}, thin end at {one.thin_at}: {one.made_from}"


def check(one: Expect, units: Units) -> str:
    """One thing to measure."""
    return f"{one.what} {one.at}: {marked(one.value, units, Rounding.NEAREST)}"
