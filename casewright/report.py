"""What the program says to a person at a terminal, as plain lines."""

from collections.abc import Iterable, Iterator

from casewright.sums import worked
from ground.findings import Finding, Severity
from ground.quantities import Units, length_text
from models.parts.assembly import Assembly, Opening

HEADS = {Severity.ERROR: "Errors", Severity.WARNING: "Warnings", Severity.NOTE: "Notes"}


def of_check(assembly: Assembly, findings: tuple[Finding, ...], units: Units) -> Iterator[str]:
    """Everything ``check`` says."""
    copies = count(len(assembly.copies), "piece", "pieces")
    kinds = count(len(assembly.parts), "distinct part", "distinct parts")
    yield f"{assembly.name}: {kinds}, {copies} in all"
    yield ""
    yield from openings(assembly.openings, units)
    yield from sums(assembly, units)
    yield from of_findings(findings)


def openings(found: tuple[Opening, ...], units: Units) -> Iterator[str]:
    """The clear size of each opening: width, height, depth."""
    if not found:
        return
    yield f"Openings, clear ({units.value}): width x height x depth"
    width = max(len(opening.id) for opening in found)
    for opening in found:
        sizes = " x ".join(
            length_text(size, units) for size in (opening.width, opening.height, opening.depth)
        )
        yield f"  {opening.id:<{width}}  {sizes}  {opening.kind}"
    yield ""


def sums(assembly: Assembly, units: Units) -> Iterator[str]:
    """Sums to check on paper, with the names of their terms."""
    if not assembly.sums:
        return
    yield f"Sums to check on paper ({units.value})"
    for found in assembly.sums:
        terms = ", ".join(what for what, _ in found.terms)
        yield f"  {found.subject}, {found.what}: {worked(found, units)}"
        yield f"    ({terms})"
    yield ""


def of_findings(findings: tuple[Finding, ...]) -> Iterator[str]:
    """Findings, what matters most first."""
    for severity in Severity:
        mine = [found for found in findings if found.severity is severity]
        if mine:
            yield HEADS[severity]
            yield from (f"  {line(found)}" for found in mine)
            yield ""
    yield tally(findings)


def line(found: Finding) -> str:
    """One finding in one line: what it is about, what is wrong, the number and the limit."""
    facts = [
        f"{word} {figure(value, found.unit)}"
        for word, value in (("value", found.value), ("limit", found.limit))
        if value is not None
    ]
    if facts:
        facts.append(found.source)
    tail = f" ({', '.join(facts)})" if facts else ""
    return f"{found.subject}: {found.message}{tail} [{found.code}]"


def figure(value: float, unit: str | None) -> str:
    """A number with its unit, to three places at most."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return f"{text} {unit}" if unit else text


def tally(findings: Iterable[Finding]) -> str:
    """How many findings of each severity there are."""
    each = [found.severity for found in findings]
    return ", ".join(
        count(each.count(severity), severity.value, f"{severity.value}s") for severity in Severity
    )


def count(number: int, one: str, many: str) -> str:
    """``1 part``, ``2 parts``, ``no parts``."""
    return f"{number or 'no'} {one if number == 1 else many}"
