"""Which files a build writes: all of them, or those that ``--only`` names."""

from collections.abc import Iterable
from pathlib import PurePosixPath

from ground.errors import PackageError
from ground.order import natural

PIECE = (
    "piece.step",
    "piece.glb",
    "piece.3mf",
    "cut-list.csv",
    "buying-list.csv",
    "saw-list.csv",
    "hardware.csv",
    "drilling.csv",
    "saw-set-ups.csv",
)
"""The files of the whole piece that a build can write, next to its record."""

ASSEMBLY_DRAWING = "drawings/assembly.dxf"
EXPLODED_DRAWING = "drawings/exploded.dxf"
OPENINGS_DRAWING = "drawings/openings.dxf"
PIECE_DRAWINGS = (ASSEMBLY_DRAWING, EXPLODED_DRAWING, OPENINGS_DRAWING)
GROUPS_DRAWING = "drawings/exploded-{number}.dxf"
"""Groups of the piece taken apart; how many sheets they take is the piece's."""

PAGE = "piece.html"
"""The piece to turn and open in a browser."""

PLAN_BOOK = "plan-book.pdf"
"""Written last: it shows what all the others found."""

TEMPLATES = "templates.pdf"
ROD_PDF, ROD_DXF = "rod.pdf", "rod.dxf"
"""Full-size paper."""

STOCK_DRAWING, STOCK_PICTURE = "sheets/{name}.dxf", "sheets/{name}.svg"
"""The drawing and the picture of one sheet or board."""

SET_UPS = "set-ups/{name}.svg"
"""The pictures of one part's set-ups; a part that nothing is cut from has none."""

OF_PART = {
    "step": "parts/{name}.step",
    "stl": "parts/{name}.stl",
    "3mf": "parts/{name}.3mf",
    "dxf": "parts/{name}.dxf",
    "drawing": "drawings/{name}.dxf",
}
"""The files of one part by their kind in the record."""


def of_part(name: str, wanted: frozenset[str]) -> dict[str, str]:
    """The files to write for the part whose files are called ``name``, by kind."""
    paths = {kind: path.format(name=name) for kind, path in OF_PART.items()}
    return {kind: path for kind, path in paths.items() if path in wanted}


def piece_drawings(leaves: int) -> tuple[str, ...]:
    """The sheets of the whole piece in their order, ``leaves`` of them of its groups."""
    apart = (GROUPS_DRAWING.format(number=number) for number in range(1, leaves + 1))
    return (ASSEMBLY_DRAWING, EXPLODED_DRAWING, *apart, OPENINGS_DRAWING)


def every_path(
    names: Iterable[str],
    stock: Iterable[str] = (),
    drawings: Iterable[str] = PIECE_DRAWINGS,
) -> frozenset[str]:
    """Every file of a whole package but its record; ``names`` are the parts'.

    ``stock`` are the ids of the sheets and boards, ``drawings`` those of the whole piece.
    """
    cut = (path.format(name=id_) for id_ in stock for path in (STOCK_DRAWING, STOCK_PICTURE))
    paths = (*OF_PART.values(), SET_UPS)
    parts = (path.format(name=name) for name in names for path in paths)
    paper = (PLAN_BOOK, TEMPLATES, ROD_PDF, ROD_DXF)
    return frozenset((*PIECE, *drawings, *paper, PAGE, *parts, *cut))


def selected(only: tuple[str, ...], paths: frozenset[str]) -> frozenset[str]:
    """The files that ``only`` names: a file, with or without its ending, a folder, a part.

    Raises:
        PackageError: nothing is called so.
    """
    if not only:
        return paths
    chosen: set[str] = set()
    for name in only:
        found = {path for path in paths if names(name.rstrip("/"), PurePosixPath(path))}
        if not found and name != "build.json":
            raise PackageError(unknown(name, paths))
        chosen |= found
    return frozenset(chosen)


def names(name: str, path: PurePosixPath) -> bool:
    """Tell whether ``name`` means ``path``: itself, its folder, or either without the ending."""
    bare = path.with_suffix("")
    return name in {str(path), str(bare), bare.name, *map(str, path.parents)} - {"."}


def unknown(name: str, paths: frozenset[str]) -> str:
    """What there is instead of ``name``."""
    folders = sorted({f"{PurePosixPath(path).parent}" for path in paths} - {"."})
    stems = sorted({PurePosixPath(p).stem for p in paths if p.startswith("parts/")}, key=natural)
    part = f", or a part such as {stems[0]}" if stems else ""
    shown = name if name.isprintable() else ascii(name)
    return f"--only {shown}: there is no such file; name {', '.join((*PIECE, *folders))}{part}"
