"""Jobs for the workers that hold the CAD kernel; nothing here loads it before a job runs."""

from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from drawings.records import Sheet
from ground.vectors import Vec
from models.parts.assembly import Assembly
from models.parts.part import Part
from models.parts.scenes import Crossed, Drawn, Scene
from models.parts.views import LineView, SectionCut

if TYPE_CHECKING:
    from drawings.exploding import Group
    from models.solids.mesh_record import Mesh
    from models.solids.records import Clash, Made

RGB = tuple[float, float, float]

MOVED = (("doors",), ("drawers",), ("shelves",))
"""Groups that stand in openings, and are left out where the openings themselves are shown."""


def prepare() -> None:
    """Load the kernel and what works with it.

    Raises:
        ImportError: it cannot be loaded here, most often for want of a library of the system.
    """
    for module in ("models.solids.made", "exporters.step"):
        import_module(module)


def make_part(part: Part, colour: RGB, step: Path | None) -> "Made":
    """Make one part, and write its STEP file when ``step`` says where.

    Raises:
        BuildError: the kernel cannot make it.
    """
    from drawings.choosing import wanted_views
    from drawings.sections import wanted_cuts
    from exporters.step import part_step
    from exporters.tree import title
    from models.solids.made import make

    made = make(part, views=wanted_views(part), cuts=wanted_cuts(part))
    if step is not None:
        part_step(made.brep, name=title(part.label, part.name), colour=colour, path=step)
    return made


def write_drawing(sheet: Sheet, path: Path) -> None:
    """Write the DXF file of one sheet; it needs no kernel, but as much time as a part."""
    from exporters.drawing_dxf import sheet_dxf

    path.write_bytes(sheet_dxf(sheet))


def write_piece(
    assembly: Assembly, breps: Mapping[str, bytes], colours: Mapping[str, RGB], path: Path
) -> None:
    """Write the STEP file of the closed piece."""
    from exporters.step import piece_step

    piece_step(assembly, breps, colours, path=path, name=assembly.name)


def measure_piece(assembly: Assembly, made: Mapping[str, "Made"]) -> tuple[Vec, Vec]:
    """The exact box of the closed piece, of the parts in ``made``."""
    from models.solids.clash import piece_bounds
    from models.solids.made import solid_of

    return piece_bounds(assembly.copies, {label: solid_of(part) for label, part in made.items()})


def draw_piece(assembly: Assembly, made: Mapping[str, "Made"]) -> tuple[LineView, ...]:
    """The closed piece seen from the front, the right and above, and a section of it.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    from drawings.assembly_sheet import piece_cut
    from models.solids.made import solid_of
    from models.solids.whole import piece_section, piece_views

    solids = {label: solid_of(part) for label, part in made.items()}
    views = piece_views(assembly.copies, solids)
    cut = piece_cut(assembly.openings)
    return views if cut is None else (*views, piece_section(assembly.copies, solids, cut))


def draw_whole(assembly: Assembly, made: Mapping[str, "Made"]) -> LineView:
    """The closed piece in isometric view.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    return _picture(assembly, made, "whole", None)


def draw_exploded(assembly: Assembly, made: Mapping[str, "Made"]) -> LineView:
    """The piece taken apart, in isometric view.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    from drawings.exploding import away

    return _picture(assembly, made, "exploded", away(assembly))


def draw_groups(
    assembly: Assembly, made: Mapping[str, "Made"], groups: tuple["Group", ...]
) -> tuple[LineView, ...]:
    """Groups of the piece taken apart, each by itself, in isometric view.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    from drawings.exploding import apart
    from models.solids.made import solid_of
    from models.solids.whole import piece_picture

    solids = {label: solid_of(part) for label, part in made.items()}
    return tuple(
        piece_picture(group.copies, solids, group.name, apart(assembly, group)) for group in groups
    )


def _picture(
    assembly: Assembly, made: Mapping[str, "Made"], name: str, moves: Mapping[str, Vec] | None
) -> LineView:
    from models.solids.made import solid_of
    from models.solids.whole import piece_picture

    solids = {label: solid_of(part) for label, part in made.items()}
    return piece_picture(assembly.copies, solids, name, moves)


def draw_openings(assembly: Assembly, made: Mapping[str, "Made"]) -> LineView:
    """The piece from the front without what stands in its openings.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    from models.solids.made import solid_of
    from models.solids.whole import piece_front

    copies = [copy for copy in assembly.copies if copy.group[:1] not in MOVED]
    solids = {label: solid_of(part) for label, part in made.items()}
    return piece_front(copies, solids, "openings")


def draw_page(assembly: Assembly, made: Mapping[str, "Made"]) -> tuple[dict[str, "Mesh"], LineView]:
    """What a page shows: the coarser mesh of every part, and a still drawing of the closed piece.

    Raises:
        BuildError: the kernel cannot make one of them.
    """
    from models.solids.faceted import stay_on_one_core
    from models.solids.made import solid_of
    from models.solids.shown import picture_of
    from models.solids.whole import piece_picture

    stay_on_one_core()  # the other process has work for the other core
    solids = {label: solid_of(part) for label, part in made.items()}
    meshes = {
        part.label: picture_of(part, solids[part.label], made[part.label].measured)
        for part in assembly.parts
        if part.label in made
    }
    return meshes, piece_picture(assembly.copies, solids, "still")


def find_clashes(assembly: Assembly, made: Mapping[str, "Made"]) -> tuple["Clash", ...]:
    """Every two copies of the closed piece that share wood.

    Raises:
        BuildError: the kernel cannot compare two copies.
    """
    from models.solids.clash import clashes
    from models.solids.made import solid_of

    return clashes(assembly, {label: solid_of(part) for label, part in made.items()})


def draw_scenes(
    assembly: Assembly, made: Mapping[str, "Made"], scenes: tuple[Scene, ...]
) -> tuple[Drawn, ...]:
    """Pictures of some copies each.

    Raises:
        BuildError: the kernel cannot draw one.
    """
    from models.solids.made import solid_of
    from models.solids.scenes import drawn

    solids = {label: solid_of(part) for label, part in made.items()}
    return tuple(drawn(scene, assembly.copies, solids) for scene in scenes)


def cut_rod(
    assembly: Assembly, made: Mapping[str, "Made"], cuts: tuple[SectionCut, ...]
) -> tuple[Crossed, ...]:
    """What each plane of the rod cuts through.

    Raises:
        BuildError: the kernel cannot cut a part.
    """
    from models.solids.crossing import crossed
    from models.solids.made import solid_of

    solids = {label: solid_of(part) for label, part in made.items()}
    return tuple(crossed(cut, assembly.copies, solids) for cut in cuts)
