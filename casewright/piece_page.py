"""piece.html of a build: its meshes and its still drawing asked for, the page put together late."""

from typing import TYPE_CHECKING

from casewright.assembling import step_plan
from casewright.piece_files import write
from casewright.selection import PAGE
from ground.findings import Finding, Severity

if TYPE_CHECKING:
    from casewright.works import Works


def no_page(wanted: frozenset[str]) -> list[Finding]:
    """Say why no page is written, where it is wanted and its viewer was not built."""
    from exporters.page import viewer

    if PAGE not in wanted or viewer() is not None:
        return []
    return [
        Finding(
            code="package.no_page",
            severity=Severity.NOTE,
            subject=PAGE,
            message=(
                "no page is written: its viewer is not built; tools/build_viewer.py builds it and"
                " says what it lacks"
            ),
        )
    ]


def write_page(works: "Works") -> None:
    """Write the page, when all that it shows is known."""
    from exporters.page import viewer

    if PAGE in works.wanted and works.picture is not None and viewer() is not None:
        write(works, PAGE, piece_page)


def piece_page(works: "Works") -> bytes:
    """The whole page.

    Raises:
        BuildError: a mesh is not closed.
        ValueError: the viewer is not built.
    """
    from exporters.glb import piece_glb
    from exporters.page import page, viewer
    from exporters.page_record import Shown, page_record
    from exporters.still import still

    built = viewer()
    if built is None or works.picture is None:
        message = "the page has no viewer or no picture"
        raise ValueError(message)
    shown = Shown(
        spec=works.checked.spec,
        assembly=works.assembly,
        measured={label: made.measured for label, made in works.made.items()},
        looks=works.looks,
        bounds=works.bounds,
        findings=works.findings,
        steps=step_plan(works),
        drawings={
            label: files["drawing"] for label, files in works.files.items() if "drawing" in files
        },
    )
    meshes, view = works.picture
    glb = piece_glb(works.assembly, meshes, works.looks)
    return page(built, page_record(shown), glb, still=still(view))
