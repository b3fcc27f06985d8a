"""Answer at the bench: what a wrong setting has made of a part, and what saves it."""

from pathlib import Path

from ground.errors import WorkError


class QuestionError(WorkError):
    """The question names no part or step, or says nothing that can be understood."""


def answer(spec: Path, label: str, order: int, words: str) -> list[str]:
    """What ``words`` at one step make of the part ``label``, in lines.

    Raises:
        SpecError: the spec cannot be used.
        QuestionError: the question cannot be understood.
        WhatIfError: the step cannot be set so, or the place is not on it.
    """
    from casewright.checking import check
    from casewright.what_if_told import told
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
    job = Job.of(part, shop)
    steps = part_set_ups(job, edged_first(checked.assembly, part))
    found = what_if(job, steps, order, said)
    return told(job, found, checked.spec.units)
