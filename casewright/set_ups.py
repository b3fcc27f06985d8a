"""The saw set-ups of a build: planned once, while the kernel is busy elsewhere."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from casewright.works import Works
    from planning.saw.plan import SawPlan


def planned(works: "Works") -> "SawPlan":
    """The plan of every part, worked out when it is first asked for."""
    from planning.saw.plan import saw_plan

    if works.saw is None:
        works.saw = saw_plan(works.assembly, works.checked.spec.shop)
    return works.saw


def saw_list(works: "Works") -> bytes:
    """saw-set-ups.csv."""
    from exporters.set_ups_table import saw_table
    from planning.saw.grouping import groups

    found = planned(works).set_ups
    together = groups(found, works.assembly)
    return saw_table(found, together, works.assembly, works.checked.spec.units)
