"""From the text of a spec to all that can be said of it without the CAD kernel."""

from dataclasses import dataclass, replace
from pathlib import Path as FilePath
from typing import Any

from casewright.checking import Checked, assembled, look
from casewright.live.fields import Field, fields
from casewright.live.moved import moved
from ground.errors import Path, Problem, SpecError, spoken
from ground.findings import Finding
from models.parts.assembly import Assembly
from specs.reading import read

AT_MOST = 60
"""Changes that are told one by one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """A piece that was looked at: what was found, and what moved since the one before."""

    number: int
    checked: Checked
    moved: tuple[str, ...] = ()
    failed: tuple[Finding, ...] = ()

    @property
    def assembly(self) -> Assembly:
        """The parts and where they stand."""
        return self.checked.assembly

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All that was found, what the kernel could not do first."""
        return (*self.failed, *self.checked.findings)

    def with_failed(self, failed: tuple[Finding, ...]) -> "Looked":
        """The same with what the kernel could not do."""
        return replace(self, failed=failed)


def looked(
    number: int,
    text: str,
    name: str,
    before: Looked | None,
) -> Looked:
    """Read, set out, look, and tell what moved since the piece before.

    Raises:
        SpecError: the text cannot be used, or no piece can be set out from it.
    """
    loaded = read(text, name)
    assembly = assembled(loaded)
    checked = look(loaded.spec, assembly)
    changes = () if before is None else moved(before.checked, checked)
    return Looked(number=number, checked=checked, moved=changes)


def told(found: Looked) -> dict[str, Any]:
    """What the windows are told of a piece that could be set out."""
    from exporters.page_record import finding_entry

    return {
        "number": found.number,
        "piece": found.checked.spec.name,
        "problems": [],
        "findings": [finding_entry(one) for one in found.findings],
        "moved": list(found.moved[:AT_MOST]),
        "more": max(0, len(found.moved) - AT_MOST),
    }


def told_of_error(number: int, error: SpecError) -> dict[str, Any]:
    """What the windows are told of a text that cannot be used."""
    file = FilePath(error.file).name
    return {"number": number, "file": file, "problems": [problem(one) for one in error.problems]}


def problem(found: Problem) -> dict[str, Any]:
    """One mistake in the text: where, and what would be right."""
    return {
        "line": found.line,
        "column": found.column,
        "where": spoken(found.path),
        "message": found.message,
    }


def told_numbers(number: int, text: str) -> dict[str, Any]:
    """The numbers of the text as fields; they are told even where the rest cannot be used."""
    return {"number": number, "fields": [entry(one) for one in fields(text)]}


def entry(one: Field) -> dict[str, Any]:
    """A field for the page."""
    return {
        "path": list(one.path),
        "words": one.words,
        "group": one.group,
        "text": one.text,
        "line": one.line,
        "main": one.main,
        "comment": one.comment,
    }


def order(found: Looked, bounds: Any) -> dict[str, Any]:
    """The steps of assembly, and how far each copy comes off when the piece is taken apart."""
    from exporters.apart import apart
    from exporters.json_text import point
    from exporters.page_record import reach_of, step_entry
    from planning.steps.plan import steps

    assembly = found.assembly
    plan = steps(assembly)
    away = apart(assembly, plan, reach_of(bounds))
    return {
        "number": found.number,
        "steps": [step_entry(step) for step in plan],
        "apart": {id_: point(shift) for id_, shift in away.items()},
    }


def sheets(assembly: Assembly) -> tuple[str, ...]:
    """The drawings that a package has of a piece, by their paths."""
    from casewright.selection import OF_PART
    from casewright.shop_drawings import drawings_of
    from exporters.names import file_names

    names = file_names([(part.label, part.name) for part in assembly.parts if part.made])
    return (
        *drawings_of(assembly),
        *(OF_PART["drawing"].format(name=name) for name in names.values()),
    )


def path_of(given: Any) -> Path | None:
    """A path as a window sends it; None where it is none."""
    if not isinstance(given, list) or not 0 < len(given) <= 40:  # noqa: PLR2004 - as deep as a text
        return None
    for step in given:
        if isinstance(step, bool) or not isinstance(step, str | int):
            return None
    return tuple(given)
