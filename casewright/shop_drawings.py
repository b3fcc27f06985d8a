"""The shop drawings of a build: a sheet a part, the assembly, the exploded view, the openings."""

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from casewright.selection import EXPLODED_DRAWING, OPENINGS_DRAWING, PLAN_BOOK
from casewright.selection import PIECE_DRAWINGS as OF_PIECE
from ground.errors import BuildError
from models.parts.part import Part

if TYPE_CHECKING:
    from casewright.works import Works
    from drawings.records import Issue, Sheet
    from models.solids.records import Made


def write_part_drawings(works: "Works") -> None:
    """Write the sheet of every part that was made and is wanted."""
    from exporters.drawing_dxf import sheet_dxf

    for part in works.assembly.parts:
        path = works.files_of(part).get("drawing")
        made = works.made.get(part.label)
        if path is not None and made is not None:
            works.stage.write(path, sheet_dxf(sheet_of(works, part, made)))
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
        _issue(works, len(OF_PIECE) + made.index(part.label) + 1),
        quantity=len(works.assembly.copies_of(part.label)),
    )
    if works.whole is None:
        return issue
    return replace(issue, standing=standing(works.assembly, works.whole, part.label))


def _issue(works: "Works", sheet: int) -> "Issue":
    from drawings.records import Issue

    sheets = len(OF_PIECE) + sum(part.made for part in works.assembly.parts)
    return replace(Issue.of(works.checked.spec), sheet=sheet, sheets=sheets)


def write_sheet(works: "Works", path: str, value: Any) -> None:
    """Write one sheet of the whole piece from what the kernel drew for it."""
    from exporters.drawing_dxf import sheet_dxf

    if path not in works.wanted:
        return
    try:
        works.sheets[path] = _sheet(works, path, value)
        works.stage.write(path, sheet_dxf(works.sheets[path]))
    except BuildError as error:
        works.fail(
            works.assembly.name, f"{path} cannot be written: {error.reason}", code="make.file"
        )


def _sheet(works: "Works", path: str, value: Any) -> "Sheet":
    """The sheet that belongs at ``path``: ``value`` is one view, or all that the assembly has."""
    from drawings.assembly_sheet import assembly_sheet
    from drawings.exploded_sheet import Apart, exploded_sheet
    from drawings.exploding import away
    from drawings.openings_sheet import openings_sheet

    spec, assembly = works.checked.spec, works.assembly
    asked = spec.drawings
    issue = _issue(works, OF_PIECE.index(path) + 1)
    if path == EXPLODED_DRAWING:
        return exploded_sheet(
            assembly,
            Apart(view=value, moves=away(assembly)),
            units=spec.units,
            standard=asked.standard,
            paper=asked.paper,
            piece=issue,
        )
    if path == OPENINGS_DRAWING:
        return openings_sheet(
            assembly,
            value,
            units=spec.units,
            standard=asked.standard,
            paper=asked.paper,
            piece=issue,
        )
    return assembly_sheet(
        value,
        units=spec.units,
        standard=asked.standard,
        paper=asked.paper,
        piece=issue,
        openings=assembly.openings,
    )
