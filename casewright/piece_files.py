"""The files of the whole piece: its meshes, its lists, its drawing."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from casewright.cut_plans import buying_list, write_stock
from casewright.cut_plans import saw_list as saw_list_of_stock
from casewright.set_ups import saw_list, write_pictures
from ground.errors import BuildError

if TYPE_CHECKING:
    from casewright.works import Works


def write_piece_files(works: "Works") -> None:
    """Write every file of the whole piece that needs no kernel."""
    contents: dict[str, Callable[[Works], bytes]] = {
        "piece.glb": picture,
        "piece.3mf": print_model,
        "cut-list.csv": cut_list,
        "buying-list.csv": buying_list,
        "saw-list.csv": saw_list_of_stock,
        "hardware.csv": hardware_list,
        "drilling.csv": drilling_list,
        "saw-set-ups.csv": saw_list,
    }
    for path, content in contents.items():
        if path in works.wanted:
            write(works, path, content)
    write_pictures(works)
    write_stock(works)


def write(works: "Works", path: str, content: "Callable[[Works], bytes]") -> None:
    """Write one file, or keep that it could not be made."""
    try:
        works.stage.write(path, content(works))
    except BuildError as error:
        works.fail(
            works.assembly.name, f"{path} cannot be written: {error.reason}", code="make.file"
        )


def picture(works: "Works") -> bytes:
    """The piece for viewers.

    Raises:
        BuildError: a mesh is not closed.
    """
    from exporters.glb import piece_glb

    meshes = {label: made.mesh for label, made in works.made.items()}
    return piece_glb(works.assembly, meshes, works.looks)


def print_model(works: "Works") -> bytes:
    """The piece as closed meshes.

    Raises:
        BuildError: a mesh is not closed.
    """
    from exporters.threemf import piece_3mf

    meshes = {label: made.mesh for label, made in works.made.items()}
    return piece_3mf(works.assembly, meshes, works.looks)


def cut_list(works: "Works") -> bytes:
    """What to cut."""
    from exporters.stock_record import stock_ids
    from exporters.tables import cut_list as table

    finished = {label: made.measured.size for label, made in works.made.items()}
    return table(works.checked.spec, works.assembly, finished, stock_ids(works.cuts))


def hardware_list(works: "Works") -> bytes:
    """What to buy that is not wood."""
    from exporters.tables import hardware_list as table

    return table(works.assembly.hardware)


def drilling_list(works: "Works") -> bytes:
    """Every hole to bore."""
    from exporters.drilling import drilling_list as table

    return table(works.assembly, works.checked.spec.units)
