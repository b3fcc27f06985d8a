"""The saw set-ups of a build: planned once, while the kernel is busy elsewhere."""

from typing import TYPE_CHECKING

from casewright.selection import SET_UPS

if TYPE_CHECKING:
    from casewright.works import Works
    from planning.saw.plan import SawPlan


def planned(works: "Works") -> "SawPlan":
    """The plan of every part, worked out when it is first asked for."""
    from planning.saw.plan import saw_plan

    if works.saw is None:
        works.saw = saw_plan(works.assembly, works.checked.spec.shop)
    return works.saw


def write_pictures(works: "Works") -> None:
    """A sheet of pictures for each part that is cut."""
    from exporters.set_ups_svg import pictures_svg
    from planning.saw.job import Job
    from planning.saw.pictures import pictures

    shop = works.checked.spec.shop
    for part in works.assembly.parts:
        path = SET_UPS.format(name=works.names[part.label]) if part.made else ""
        if path not in works.wanted or part.label not in works.made:
            continue
        set_ups = planned(works).of(part.label)
        found = pictures(Job.of(part, shop), set_ups)
        if found:
            title = f"{part.label} {part.name}"
            drawn = pictures_svg(found, set_ups, title, works.checked.spec.units)
            works.stage.write(path, drawn)


def saw_list(works: "Works") -> bytes:
    """saw-set-ups.csv."""
    from exporters.set_ups_table import saw_table
    from planning.saw.grouping import groups

    found = planned(works).set_ups
    together = groups(found, works.assembly)
    return saw_table(found, together, works.assembly, works.checked.spec.units)
