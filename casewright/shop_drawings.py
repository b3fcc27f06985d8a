"""The shop drawings of a build: a sheet a part, the assembly, the exploded view, the openings."""

from dataclasses import replace
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any

from casewright import kernel
from casewright.selection import EXPLODED_DRAWING, OPENINGS_DRAWING, PLAN_BOOK, piece_drawings
from drawings.exploding import Group, apart, away, leaves
from ground.errors import BuildError
from models.parts.assembly import Assembly
from models.parts.part import Part

if TYPE_CHECKING:
    from casewright.workers import Failure, Workers
    from casewright.works import Works
    from drawings.records import Issue, Sheet
    from models.solids.records import Made


def drawings_of(assembly: Assembly) -> tuple[str, ...]:
    """The sheets of the whole piece in their order."""
    return piece_drawings(len(leaves(assembly)))


def shown_on(assembly: Assembly, path: str) -> "tuple[Group, ...]":
    """The groups that are taken apart on the sheet at ``path``; none on any other sheet."""
    place = drawings_of(assembly).index(path) - 2
    every = leaves(assembly)
    return every[place] if 0 <= place < len(every) else ()


def submit_part_drawings(works: "Works", workers: "Workers") -> None:
    """Lay out the sheet of every part that was made and is wanted; the workers write them."""
    for part in works.assembly.parts:
        path = works.files_of(part).get("drawing")
        made = works.made.get(part.label)
        if path is not None and made is not None:
            submit_drawing(works, workers, path, sheet_of(works, part, made))


def submit_drawing(works: "Works", workers: "Workers", path: str, sheet: "Sheet") -> None:
    """Hand a sheet over to be written at ``path``; that it is comes back under the path's key."""
    workers.submit(written(path), kernel.write_drawing, sheet, works.stage.place(path))


def written(path: str) -> str:
    """The key of the job that writes the drawing at ``path``."""
    return f"write {path}"


def drawing_ended(works: "Works", key: str, failure: "Failure | None") -> None:
    """Keep that a drawing is written, or that it is not and why."""
    path = key.removeprefix("write ")
    part = next((p for p in works.assembly.parts if works.files_of(p).get("drawing") == path), None)
    if failure is not None:
        works.stage.place(path).unlink(missing_ok=True)
        subject = works.assembly.name if part is None else f"{part.label} {part.name}"
        works.fail(subject, f"{path} cannot be written: {failure.reason}", code="make.file")
    elif part is not None:
        works.files.setdefault(part.label, {})["drawing"] = path


def sheet_of(works: "Works", part: Part, made: "Made") -> "Sheet":
    """The drawing of a part as a record, worked out once for every file that shows it."""
    from drawings.part_sheet import part_sheet

    if part.label not in works.sheets:
        spec = works.checked.spec
        works.sheets[part.label] = part_sheet(
            part,
            made.views,
            units=spec.units,
            standard=spec.drawings.standard,
            paper=spec.drawings.paper,
            piece=issue_of_part(works, part),
        )
    return works.sheets[part.label]


def wants_drawings(works: "Works") -> bool:
    """Tell whether any sheet is to be drawn."""
    drawn = any("drawing" in works.files_of(part) for part in works.assembly.parts)
    return drawn or PLAN_BOOK in works.wanted


def issue_of_part(works: "Works", part: Part) -> "Issue":
    """What the title block of a part's sheet says, and where the part stands."""
    from drawings.standing import standing

    made = [other.label for other in works.assembly.parts if other.made]
    issue = replace(
        _issue(works, len(drawings_of(works.assembly)) + made.index(part.label) + 1),
        quantity=len(works.assembly.copies_of(part.label)),
    )
    if works.whole is None:
        return issue
    views = {label: made.views for label, made in works.made.items()}
    return replace(issue, standing=standing(works.assembly, works.whole, part.label, views))


def _issue(works: "Works", sheet: int) -> "Issue":
    from drawings.records import Issue

    sheets = len(drawings_of(works.assembly)) + sum(part.made for part in works.assembly.parts)
    return replace(Issue.of(works.checked.spec), sheet=sheet, sheets=sheets)


def submit_sheet(works: "Works", workers: "Workers", path: str, value: Any) -> None:
    """Lay out one sheet of the whole piece from what the kernel drew for it; a worker writes it."""
    if not {path, PLAN_BOOK} & works.wanted:
        return
    try:
        works.sheets[path] = piece_sheet(works, path, value)
        if path in works.wanted:
            submit_drawing(works, workers, path, works.sheets[path])
    except BuildError as error:
        works.fail(
            works.assembly.name, f"{path} cannot be written: {error.reason}", code="make.file"
        )


def piece_sheet(works: "Works", path: str, value: Any) -> "Sheet":
    """The sheet that belongs at ``path``: ``value`` is one view, or all that the assembly has."""
    from drawings.apart_pictures import Apart
    from drawings.assembly_sheet import assembly_sheet
    from drawings.exploded_sheet import exploded_sheet
    from drawings.groups_sheet import Leaf, groups_sheet
    from drawings.openings_sheet import openings_sheet

    spec, assembly = works.checked.spec, works.assembly
    how: dict[str, Any] = {
        "units": spec.units,
        "standard": spec.drawings.standard,
        "paper": spec.drawings.paper,
        "piece": _issue(works, drawings_of(assembly).index(path) + 1),
    }
    if path == EXPLODED_DRAWING:
        return exploded_sheet(assembly, Apart(view=value, moves=away(assembly)), **how)
    if path == OPENINGS_DRAWING:
        return openings_sheet(assembly, value, **how)
    groups = shown_on(assembly, path)
    if groups:
        pictures = tuple(
            (group, Apart(view=view, moves=apart(assembly, group)))
            for group, view in zip(groups, value, strict=True)
        )
        leaf = Leaf(name=PurePosixPath(path).stem, pictures=pictures)
        return groups_sheet(assembly, leaf, **how)
    return assembly_sheet(value, openings=assembly.openings, **how)


def titled(path: str) -> str:
    """What the sheet of the whole piece at ``path`` is called in the book's list."""
    name = PurePosixPath(path).stem
    return name.replace("exploded-", "exploded, groups ").capitalize()
