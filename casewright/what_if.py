"""Answer at the bench: what a wrong setting has made of a part, and what saves it."""

from pathlib import Path
from typing import TYPE_CHECKING

from ground.errors import WorkError

if TYPE_CHECKING:
    from ground.quantities import Units
    from planning.saw.job import Job
    from planning.saw.what_if import Outcome, Rescue


class QuestionError(WorkError):
    """The question names no part or step, or says nothing that can be understood."""


def answer(spec: Path, label: str, order: int, words: str) -> list[str]:
    """What ``words`` at one step make of the part ``label``, in lines.

    Raises:
        SpecError: the spec cannot be used.
        QuestionError: the question cannot be understood.
        WhatIfError: the step is no saw cut, or the place is not on it.
    """
    from casewright.checking import check
    from planning.saw.edgings import edged_first
    from planning.saw.heard import heard
    from planning.saw.job import Job
    from planning.saw.plan import part_set_ups
    from planning.saw.what_if import what_if

    checked = check(spec)
    made = [part for part in checked.assembly.parts if part.made]
    part = next((part for part in made if part.label.lower() == label.lower()), None)
    if part is None:
        there = ", ".join(part.label for part in made)
        message = f"{label}: there is no such part; the parts: {there}"
        raise QuestionError(message)
    try:
        said = heard(words, checked.spec.units)
    except ValueError as error:
        raise QuestionError(str(error)) from None
    shop = checked.spec.shop
    job = Job(part=part, machines=shop.machines, kerf=shop.kerf)
    steps = part_set_ups(job, edged_first(checked.assembly, part))
    found = what_if(job, steps, order, said)
    return told(job, found, checked.spec.units)


def told(job: "Job", found: "Outcome", units: "Units") -> list[str]:
    """The answer in lines."""
    step = found.step
    head = f"{job.part.label} {job.part.name}, step {step.order}: {step.machine.value}"
    lines = [f"{head}, {step.does}, makes {step.makes_face}"]
    if not found.changed and not found.missing and not found.left_on:
        return [*lines, "Nothing that a rule can measure has changed."]
    lines.append("Now it measures:")
    lines += [
        f"  {shown(slip.got, units)} instead of {shown(slip.wanted, units)}"
        f" where {slip.face} meets {slip.end}"
        for slip in found.changed
    ]
    if found.missing:
        lines.append(f"Wood is missing, up to {shown(found.missing, units)} deep.")
    if found.left_on:
        lines.append(f"Wood is left on, up to {shown(found.left_on, units)}.")
    if found.spoils:
        lines.append("What else it touches:")
        lines += [f"  {what}" for what in found.spoils]
    return [*lines, saved(found.rescue, units)]


def saved(rescue: "Rescue | None", units: "Units") -> str:
    """What saves the part."""
    if rescue is None:
        return "No cut within the blank saves it: make the part anew."
    made = rescue.setting
    numbers = (
        f"mitre {made.mitre:.1f}, tilt {made.tilt:.1f}, {shown(made.distance, units)}"
        f" {made.measured}"
    )
    if rescue.moved is not None:
        ways = zip(("length", "width", "thickness"), rescue.moved, strict=True)
        moves = ", ".join(f"{shown(abs(by), units)} along its {way}" for way, by in ways if by)
        return (
            f"The whole part still fits into what is left, moved {moves}: set {numbers}, and move"
            " every other cut by as much."
        )
    if rescue.whole:
        return f"Nothing is lost: set it as planned ({numbers}) and cut again."
    return (
        f"Cut it again {shown(rescue.deeper, units)} deeper with the right settings ({numbers}):"
        " every angle comes right, and the part is so much smaller there; what fits to it follows."
    )


def shown(value: float, units: "Units") -> str:
    """A length as a rule shows it."""
    from ground.quantities import length_text

    return length_text(value, units)
