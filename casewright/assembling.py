"""The steps of assembly of a build: found once, while the kernel is busy elsewhere."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from casewright.works import Works
    from planning.steps.records import Step


def step_plan(works: "Works") -> tuple["Step", ...]:
    """Every step, worked out when it is first asked for."""
    from planning.steps.plan import steps

    if works.steps is None:
        works.steps = steps(works.assembly)
    return works.steps
