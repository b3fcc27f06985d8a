"""The saw set-ups: a card each, its picture beside what is set, the checks after."""

import json
import re
from collections.abc import Iterable
from typing import Any

from exporters.book.jigs import slant
from exporters.book.set_up_pictures import picture
from exporters.book.tables import with_unit
from exporters.names import plain
from exporters.set_ups_table import places, said
from ground.order import natural
from ground.quantities import Units
from models.parts.assembly import Assembly
from models.parts.part import Part
from planning.machines import SAWN
from planning.saw.job import Job
from planning.saw.pictures import pictures
from planning.saw.records import Expect, SetUp, Wedge
from planning.saw.settings import FROM_EDGE, Lean
from planning.saw.words import faced
from specs.shop import Shop

BLANK = re.compile(r"\bstock\.(\w+)")
"""A face that the finished part no longer has."""
SHOWN = 0.05
"""A smaller angle is not printed (degrees)."""
LEANS = {Lean.TOWARD: "leaning toward", Lean.AWAY: "leaning away from"}
SIDES = frozenset({"length", "width", "thickness"})


def told(
    found: Iterable[SetUp], assembly: Assembly, shop: Shop, units: Units
) -> tuple[dict[str, Any], dict[str, str]]:
    """The set-ups at the saws part by part, and their pictures by name.

    A set-up that is the same as an earlier one is only named: it is set once.
    """
    every: dict[str, list[SetUp]] = {}
    for one in found:
        every.setdefault(one.part, []).append(one)
    always = said_of_all(one for each in every.values() for one in each if sawn(one))
    drawn: dict[str, str] = {}
    known: dict[str, str] = {}
    parts: list[dict[str, Any]] = []
    for label in sorted(every, key=natural):
        part = assembly.part(label)
        job = Job(part=part, machines=shop.machines, kerf=shop.kerf)
        shown = {one.order: one for one in pictures(job, every[label])}
        cards = []
        for one in filter(sawn, every[label]):
            made, here = card(one, units, always), f"{label} no. {one.order}"
            first = known.setdefault(json.dumps(made), here)
            name = f"set-up-{label}-{one.order}.svg"
            kept = one.order in shown and first == here
            if kept:
                drawn[name] = picture(shown[one.order], one, units)
            cards.append(
                {
                    "number": one.order,
                    "same": "" if first == here else first,
                    "picture": name if kept else None,
                    **made,
                }
            )
        if cards:
            parts.append({"title": title(part, assembly), "cards": cards})
    return {"always": [plain(text) for text in always], "parts": parts}, drawn


def title(part: Part, assembly: Assembly) -> str:
    """The head over a part's set-ups."""
    copies = len(assembly.copies_of(part.label))
    return plain(f"{part.label} {part.name}" + (f", {copies} times" if copies > 1 else ""))


def sawn(one: SetUp) -> bool:
    """Tell whether a saw is set: what is only sawn to size stands in the cut list."""
    return one.machine in SAWN and (one.distance is not None or one.cutter is not None)


def said_of_all(found: Iterable[SetUp]) -> tuple[str, ...]:
    """The cautions of every set-up that has any: they stand once, at the head."""
    each = [one.cautions for one in found if one.cautions]
    if not each:
        return ()
    return tuple(text for text in each[0] if all(text in cautions for cautions in each))


def card(one: SetUp, units: Units, always: tuple[str, ...]) -> dict[str, Any]:
    """One set-up: what is done on what, the settings, what to measure, what to mind."""
    return {
        "does": plain(said(one.does, units)),
        "machine": plain(one.machine.value),
        "settings": [[key, plain(value)] for key, value in settings(one, units) if value],
        "first": plain(faces(said(one.first_cut, units))),
        "checks": [[plain(what), value] for what, value in checks(one.expect, units)],
        "mind": plain(
            " ".join(
                faces(said(text, units)) for text in (one.note, *one.cautions) if text not in always
            )
        ),
    }


def settings(one: SetUp, units: Units) -> Iterable[tuple[str, str]]:
    """What is set, in the order of setting."""
    edge = "" if one.reference_edge is None else f"{faces(one.reference_edge)} edge at the fence"
    stop = "" if one.stop is None else f"{faces(one.stop)} end at the stop"
    down = "" if one.table_face is None else f"{faces(one.table_face)} {faced(one)}"
    yield "lay", ", ".join(text for text in (down, edge, stop) if text)
    yield "mitre", mitre(one)
    if one.tilt:
        guide = "fence" if one.measured == FROM_EDGE else "stop"
        lean = "" if one.tilt_to is None else f", {LEANS[one.tilt_to]} the {guide}"
        yield "blade", f"{slant(one.tilt)}{lean}"
    if one.distance is not None:
        measured = f", {one.measured}" if one.measured else ""
        yield "distance", f"{with_unit(one.distance, units)}{measured}"
    if one.depth is not None:
        yield "depth", with_unit(one.depth, units)
    yield "wedge", "" if one.wedge is None else wedge(one.wedge, units)
    yield "cuts", faces("; ".join(places(one, units)))
    fence = f"fence {one.fence.value} of the blade" if one.fence is not None else ""
    falls = f"the offcut falls to the {one.offcut}" if one.offcut else ""
    show = f"show face {one.show}" if one.show else ""
    yield "watch", "; ".join(text for text in (show, fence, falls) if text)


def mitre(one: SetUp) -> str:
    """How the cut runs: from square across the piece, askew to the edge along it."""
    if not one.mitre:
        return ""
    hand = "" if one.mitre_to is None else f" to the {one.mitre_to.value}"
    if one.measured == FROM_EDGE:
        askew = 90.0 - one.mitre
        return f"{slant(askew)} askew to the edge,{hand}" if askew > SHOWN else ""
    return f"{slant(one.mitre)}{hand}"


def wedge(one: Wedge, units: Units) -> str:
    """A wedge in words."""
    return (
        f"rises {with_unit(one.rise, units)} in {with_unit(one.length, units)}, "
        f"under {faces(one.under)}, thin end at {faces(one.thin_at)}: {faces(one.made_from)}"
    )


def checks(expects: Iterable[Expect], units: Units) -> Iterable[tuple[str, str]]:
    """What to measure after the cut, and what it should be."""
    for found in expects:
        yield check_words(found), with_unit(found.value, units)


def check_words(found: Expect) -> str:
    """What to measure, and where."""
    one, _, other = found.at.partition(" / ")
    if found.what == "edge" and other:
        return f"edge of {faces(one)} and {faces(other)}"
    if found.what in SIDES and found.at == "stock":
        return found.what
    return f"{found.what}, {faces(found.at)}" if found.at else found.what


def faces(text: str) -> str:
    """Face names as they are said: ``stock.front`` has a star, as the page explains."""
    return BLANK.sub(r"\1*", text)
