"""What else moved when a number of the spec was changed, in a maker's words."""

import re
from collections.abc import Iterator, Mapping

from casewright.checking import Checked
from casewright.report import figure
from ground.findings import Finding, Severity
from ground.quantities import Units, length_text
from ground.tolerances import LENGTH_EPS
from models.parts.assembly import Assembly, Opening
from models.parts.part import Part

SIDES = ("long", "wide", "thick")

CLAUSE = re.compile(r"[;:]\s|\s\(")
"""Where the first clause of a message ends."""

SHORT = 80
"""Characters of a message that stand in the line; the list of findings has the whole of it."""


def moved(before: Checked, after: Checked) -> tuple[str, ...]:
    """What is not as it was: new troubles first, then sizes, then what else was found."""
    units = after.spec.units
    changes = list(findings(before.findings, after.findings))
    return (
        *(words for severity, words in changes if severity is not Severity.NOTE),
        *openings(before.assembly, after.assembly, units),
        *parts(before.assembly, after.assembly, units),
        *(words for severity, words in changes if severity is Severity.NOTE),
    )


def findings(
    before: tuple[Finding, ...], after: tuple[Finding, ...]
) -> Iterator[tuple[Severity, str]]:
    """Findings that are new, whose number is another, or that are gone.

    Another number alone is as good as a note.
    """
    old, new = keyed(before), keyed(after)
    for key, found in new.items():
        was = old.get(key)
        if was is None:
            yield found.severity, f"new {found.severity.value}: {said(found)}"
        elif was.value is not None and found.value is not None:
            then, now = figure(was.value, None), figure(found.value, None)
            if then != now:
                change = f"{then} to {figure(found.value, found.unit)}"
                yield Severity.NOTE, f"{found.subject} {change}: {clause(found.message)}"
    for key, found in old.items():
        if key not in new:
            yield found.severity, f"no longer: {said(found)}"


def said(found: Finding) -> str:
    """A finding in a few words."""
    return f"{found.subject}: {clause(found.message)}"


def clause(message: str) -> str:
    """The first clause of a message."""
    first = CLAUSE.split(message, maxsplit=1)[0]
    return first if len(first) <= SHORT else f"{first[: SHORT - 1].rstrip()}…"


def keyed(found: tuple[Finding, ...]) -> dict[tuple[str, str, int], Finding]:
    """Findings by what they are about, those alike by their place."""
    keys: dict[tuple[str, str, int], Finding] = {}
    for one in found:
        place = 0
        while (one.code, one.subject, place) in keys:
            place += 1
        keys[one.code, one.subject, place] = one
    return keys


def openings(before: Assembly, after: Assembly, units: Units) -> Iterator[str]:
    """Openings that are wider, higher or deeper than they were."""
    old = {opening.id: opening for opening in before.openings}
    for opening in after.openings:
        if opening.id in old:
            changes = list(sides(clear(old[opening.id]), clear(opening), units))
            if changes:
                yield f"opening {opening.id} {', '.join(changes)}"


def clear(opening: Opening) -> Mapping[str, float]:
    """The clear size of an opening."""
    return {"wide": opening.width, "high": opening.height, "deep": opening.depth}


def parts(before: Assembly, after: Assembly, units: Units) -> Iterator[str]:
    """Parts of another size, parts that are new or gone, and how many there are of each."""
    old = {one.label: one for one in before.parts}
    new = {one.label: one for one in after.parts}
    for label, part in new.items():
        if label not in old or old[label].name != part.name:
            yield f"new: {label} {part.name}"
            continue
        yield from resized(old[label], part, units)
        count, was = len(after.copies_of(label)), len(before.copies_of(label))
        if count != was:
            yield f"{label} {part.name} {was} to {count} pieces"
    for label, part in old.items():
        if label not in new or new[label].name != part.name:
            yield f"gone: {label} {part.name}"


def resized(old: Part, new: Part, units: Units) -> Iterator[str]:
    """A part whose blank is of another size."""
    before = dict(zip(SIDES, old.blank.size, strict=True))
    changes = list(sides(before, dict(zip(SIDES, new.blank.size, strict=True)), units))
    if changes:
        yield f"{new.label} {new.name} {', '.join(changes)}"


def sides(before: Mapping[str, float], after: Mapping[str, float], units: Units) -> Iterator[str]:
    """Each side that is another: ``115.7 to 118.2 wide``."""
    for side, size in after.items():
        if abs(size - before[side]) > LENGTH_EPS:
            was, now = length_text(before[side], units), length_text(size, units)
            if was != now:
                yield f"{was} to {now} {side}"
