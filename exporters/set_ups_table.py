"""saw-set-ups.csv: every saw setting in the order of the cuts, for the wall beside the saw."""

import re
from collections import Counter
from collections.abc import Iterable

from exporters.tables import Row, marked, table
from ground.quantities import STEEP, Rounding, Units, rise_in_100
from models.parts.assembly import Assembly
from planning.machines import Tool
from planning.saw.grouping import Group
from planning.saw.records import Alike, Expect, Pass, SetUp, Wedge
from planning.saw.settings import FROM_EDGE, Lean
from planning.saw.words import faced

HEAD = (
    "part", "name", "quantity", "order", "machine", "work", "table face", "face lies",
    "reference edge", "stop",
    "mitre (deg)", "mitre (in 100)", "mitre to", "tilt (deg)", "tilt (in 100)", "tilt to",
    "measured", "keeps", "places", "wedge", "show face", "fence stands", "blade leans",
    "offcut falls", "first cut", "measure afterwards", "note", "cautions", "set together",
)  # fmt: skip

IN_MM = re.compile(r"(\d+(?:\.\d+)?) mm\b")

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
        "work": said(one.does, units),
        "table face": one.table_face or "",
        "face lies": faced(one) or "",
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
        "places": "; ".join(places(one, units)),
        "wedge": "" if one.wedge is None else wedge(one.wedge, units),
        "show face": one.show or "",
        "fence stands": "" if one.fence is None else f"{one.fence.value} of the blade",
        "blade leans": "" if one.leans is None else one.leans.value,
        "offcut falls": one.offcut or "",
        "first cut": said(one.first_cut, units),
        "measure afterwards": "; ".join(check(found, units) for found in one.expect),
        "note": said(one.note, units),
        "cautions": said(" ".join(one.cautions), units),
        "set together": said("; ".join(together.get((one.part, one.order), ())), units),
    }


def lengths(one: SetUp, units: Units) -> Row:
    """The cells of the lengths."""
    cells = {}
    for unit in dict.fromkeys((units, Units.MM)):
        for name, value in (("distance", one.distance), ("depth", one.depth)):
            cell = "" if value is None else marked(value, unit, Rounding.NEAREST)
            cells[f"{name} ({unit.value})"] = cell
    return cells


def said(text: str, units: Units) -> str:
    """Words of the planner, which speaks of mm, for a maker who measures in ``units``."""
    if units is Units.MM:
        return text
    return IN_MM.sub(
        lambda found: f"{marked(float(found[1]), units, Rounding.NEAREST)} ({found[0]})", text
    )


def places(one: SetUp, units: Units) -> list[str]:
    """Where each cut of a set-up lies, where there are several or no fence says it."""
    if not one.alike and (one.cutter is None or one.machine is Tool.DADO):
        return []
    found = []
    for cut in one.cuts:
        where = "" if cut.table_face == one.table_face else f"on {cut.table_face}: "
        found.append(where + (line(cut, units) if cut.cutter is None else spot(cut, units)))
    counted = Counter(found)
    return [place if often == 1 else f"{often} x {place}" for place, often in counted.items()]


def line(cut: SetUp | Alike, units: Units) -> str:
    """A line from the face that it is measured from, on the side that it leans to."""
    start = cut.reference_edge if cut.measured == FROM_EDGE or cut.stop is None else cut.stop
    told = f"{marked(cut.distance or 0.0, units, Rounding.NEAREST)} from {start}"
    if cut.tilt_to is not None:
        return f"{told}, leaning {'away' if cut.tilt_to is Lean.AWAY else 'back'}"
    return told if cut.mitre_to is None else f"{told}, its far end to the {cut.mitre_to.value}"


def spot(cut: SetUp | Alike, units: Units) -> str:
    """Where a cutter or a bit starts, and how often it goes on from there."""
    done = cut.cutter
    if done is None:
        return ""
    along, across = (marked(value, units, Rounding.NEAREST) for value in done.at[:2])
    told = f"{along} from {cut.stop}, {across} from {cut.reference_edge}"
    if done.length is not None:
        told += f", {marked(done.length, units, Rounding.NEAREST)} long"
    if done.count > 1:
        told += f", {done.count} of them {marked(done.pitch, units, Rounding.NEAREST)} apart"
    way = heading(done)
    return f"{told}, {way}" if way and (done.length is not None or done.count > 1) else told


def heading(done: Pass) -> str:
    """Which way a pass runs on the face."""
    names = {0: "away from the edge", 90: "away from the stop", -90: "toward the stop",
             180: "toward the edge"}  # fmt: skip
    return names.get(round(done.run), f"{done.run:.1f} degrees off the square to the edge")


def degrees(value: float | None) -> str:
    """An angle as a saw's scale shows it."""
    return "" if value is None else f"{value:.1f}"


def rise(value: float | None) -> str:
    """An angle as a rise in 100; along the edge, and nearly so, it says nothing at the bench."""
    if value is None or value > STEEP:
        return ""
    return f"{rise_in_100(value):.1f}"


def wedge(one: Wedge, units: Units) -> str:
    """A wedge in words."""
    rises, long = (marked(v, units, Rounding.NEAREST) for v in (one.rise, one.length))
    return f"rises {rises} in {long}, under {one.under}, thin end at {one.thin_at}: {one.made_from}"


def check(one: Expect, units: Units) -> str:
    """One thing to measure."""
    return f"{one.what} {one.at}: {marked(one.value, units, Rounding.NEAREST)}"
