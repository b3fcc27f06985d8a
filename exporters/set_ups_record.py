"""The saw set-ups as build.json has them.

How a planar cut is read back: stand at the reference edge, the piece away from you, the table face
down. ``mitre`` is the angle between the cut and the square to the edge, its far end to the left or
right. ``distance`` leads to the near side of the kerf, ``measured`` square to the edge (at the
stop) or along it from the stop. ``tilt`` is off square to the table face; rising from the table the
cut leans toward or away from what the distance is measured from. What a cutter makes has ``pass``:
where its middle starts (from the stop, from the edge, into the wood), the headings of its run and
its lean (0 away from the edge, 90 away from the stop), its depth and size. ``alike`` are the other
cuts of the same set-up, each read in the same way.
"""

from collections.abc import Iterable
from typing import Any

from exporters.json_text import number
from planning.saw.records import Alike, Expect, Pass, SetUp, Wedge

ANGLE_PLACES = 9
"""Angles are rounded to 1e-9 degrees."""


def entries(found: Iterable[SetUp]) -> list[dict[str, Any]]:
    """Every set-up in its order."""
    return [entry(one) for one in found]


def entry(one: SetUp) -> dict[str, Any]:
    """One set-up, keys in the contract's order, those of its own after them."""
    return {
        "part": one.part,
        "order": one.order,
        "machine": one.machine.value,
        "table_face": one.table_face,
        "reference_edge": one.reference_edge,
        "mitre": angle(one.mitre),
        "mitre_to": None if one.mitre_to is None else one.mitre_to.value,
        "tilt": angle(one.tilt),
        "tilt_to": None if one.tilt_to is None else one.tilt_to.value,
        "distance": length(one.distance),
        "keeps": None if one.keeps is None else one.keeps.value,
        "wedge": None if one.wedge is None else wedge(one.wedge),
        "makes_face": one.makes_face,
        "expect": [expect(check) for check in one.expect],
        "note": one.note,
        "does": one.does,
        "stop": one.stop,
        "measured": one.measured,
        "kerf": length(one.kerf),
        "depth": length(one.depth),
        "pass": None if one.cutter is None else cutter(one.cutter),
        "show": one.show,
        "fence": None if one.fence is None else one.fence.value,
        "leans": None if one.leans is None else one.leans.value,
        "offcut": one.offcut,
        "first_cut": one.first_cut,
        "cautions": list(one.cautions),
        "alike": [alike(cut) for cut in one.alike],
    }


def alike(one: Alike) -> dict[str, Any]:
    """A further cut of a set-up, by what it differs in."""
    return {
        "table_face": one.table_face,
        "reference_edge": one.reference_edge,
        "stop": one.stop,
        "mitre": angle(one.mitre),
        "mitre_to": None if one.mitre_to is None else one.mitre_to.value,
        "tilt": angle(one.tilt),
        "tilt_to": None if one.tilt_to is None else one.tilt_to.value,
        "measured": one.measured,
        "distance": length(one.distance),
        "keeps": None if one.keeps is None else one.keeps.value,
        "kerf": length(one.kerf),
        "depth": length(one.depth),
        "makes_face": one.makes_face,
        "pass": None if one.cutter is None else cutter(one.cutter),
        "expect": [expect(check) for check in one.expect],
    }


def wedge(one: Wedge) -> dict[str, Any]:
    """A wedge."""
    return {
        "rise": number(one.rise),
        "length": number(one.length),
        "under": one.under,
        "thin_at": one.thin_at,
        "made_from": one.made_from,
        "restores": one.restores,
    }


def expect(one: Expect) -> dict[str, Any]:
    """One check."""
    return {"what": one.what, "at": one.at, "value": number(one.value)}


def cutter(one: Pass) -> dict[str, Any]:
    """What a cutter or a bit does."""
    return {
        "enters": one.enters,
        "at": [number(value) for value in one.at],
        "run": angle(one.run),
        "lean": angle(one.lean),
        "lean_to": angle(one.lean_to),
        "depth": length(one.depth),
        "width": length(one.width),
        "length": length(one.length),
        "diameter": length(one.diameter),
        "ends": one.ends,
        "count": one.count,
        "pitch": number(one.pitch),
        "makes": list(one.makes),
    }


def length(value: float | None) -> float | None:
    """A length, where there is one."""
    return None if value is None else number(value)


def angle(value: float | None) -> float | None:
    """An angle, where there is one; never a negative zero."""
    return None if value is None else round(value, ANGLE_PLACES) + 0.0
