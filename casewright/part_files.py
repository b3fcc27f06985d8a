"""The files of one part, written as soon as its solid is there."""

from typing import TYPE_CHECKING

from ground.errors import BuildError
from models.parts.part import Part

if TYPE_CHECKING:
    from casewright.works import Works
    from models.solids.records import Made


def write_part(works: "Works", part: Part, made: "Made") -> None:
    """Write every file that is wanted of ``part``; its STEP file is there already."""
    for kind, path in works.files_of(part).items():
        if kind == "drawing":  # it shows the whole piece too, and waits for all parts
            continue
        try:
            content = None if kind == "step" else file_of(works, part, made, kind)
        except BuildError as error:
            works.fail(
                f"{part.label} {part.name}",
                f"{path} cannot be written: {error.reason}",
                code="make.file",
            )
            continue
        if content is not None:
            works.stage.write(path, content)
        works.files.setdefault(part.label, {})[kind] = path


def file_of(works: "Works", part: Part, made: "Made", kind: str) -> bytes:
    """The content of one file of a part.

    Raises:
        BuildError: the part's mesh or outline is not fit for it.
    """
    name = f"{part.label} {part.name}"
    match kind:
        case "stl":
            from exporters.stl import stl

            return stl(made.mesh, name)
        case "3mf":
            from exporters.threemf import part_3mf

            return part_3mf(made.mesh, name, works.looks[part.label])
        case "dxf":
            from exporters.part_dxf import part_dxf

            return part_dxf(part)
        case _:
            raise AssertionError(kind)
