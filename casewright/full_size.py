"""Full-size paper of a build: the templates and the setting-out rod."""

from typing import TYPE_CHECKING

from casewright.piece_files import write
from casewright.selection import ROD_DXF, ROD_PDF, TEMPLATES

if TYPE_CHECKING:
    from casewright.works import Works
    from models.parts.scenes import Crossed


def write_templates(works: "Works") -> None:
    """Write the templates; they need no solid."""
    if TEMPLATES in works.wanted:
        write(works, TEMPLATES, templates)


def templates(works: "Works") -> bytes:
    """templates.pdf.

    Raises:
        BuildError: the pages cannot be set.
    """
    from drawings.templates import templates as found
    from exporters.templates import templates_pdf

    spec = works.checked.spec
    return templates_pdf(found(works.assembly, spec.units), spec.drawings.paper, spec.name)


def wants_rod(works: "Works") -> bool:
    """Tell whether the rod is to be written."""
    return not works.wanted.isdisjoint((ROD_DXF, ROD_PDF))


def write_rod(works: "Works", crossings: "tuple[Crossed, ...]") -> None:
    """Write the rod from what its planes cut through."""
    from drawings.rod import rod
    from exporters.rod import rod_dxf, rod_pdf

    pieces = rod(crossings, works.assembly)
    spec = works.checked.spec

    def as_pdf(_: "Works") -> bytes:
        return rod_pdf(pieces, spec.drawings.paper, spec.name)

    def as_dxf(_: "Works") -> bytes:
        return rod_dxf(pieces)

    for path, content in ((ROD_PDF, as_pdf), (ROD_DXF, as_dxf)):
        if path in works.wanted and pieces:
            write(works, path, content)
