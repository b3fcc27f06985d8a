"""What ``--only`` names, and what it does not."""

import pytest

from casewright.selection import every_path, of_part, selected
from ground.errors import PackageError

PATHS = every_path(["D2-drawer-side", "D10-front", "D2.5-odd"])


@pytest.mark.parametrize(
    ("only", "expected"),
    [
        ((), PATHS),
        (("piece.step",), {"piece.step"}),
        (("cut-list",), {"cut-list.csv"}),
        (("piece",), {"piece.step", "piece.glb", "piece.3mf", "piece.html"}),
        (("drawings/",), {path for path in PATHS if path.startswith("drawings/")}),
        (("drawings/assembly",), {"drawings/assembly.dxf"}),
        (("build.json",), set()),
        (
            ("D2-drawer-side",),
            {path for path in PATHS if "/D2-drawer-side." in path},
        ),
        (
            ("parts/D2-drawer-side",),
            {path for path in PATHS if path.startswith("parts/D2-drawer-side.")},
        ),
        (("parts/D2.5-odd.stl", "hardware"), {"parts/D2.5-odd.stl", "hardware.csv"}),
    ],
)
def test_a_name_means_a_file_a_folder_or_a_part(only, expected):
    assert selected(only, PATHS) == expected


@pytest.mark.parametrize("name", ["piece.stp", "D2", "..", ".", "/", "parts/../piece.step", "*"])
def test_what_is_not_there_is_named_with_what_is(name):
    with pytest.raises(PackageError) as told:
        selected(("cut-list.csv", name), PATHS)
    assert str(told.value) == (
        f"--only {name}: there is no such file; name piece.step, piece.glb, piece.3mf,"
        " cut-list.csv, buying-list.csv, saw-list.csv, hardware.csv, drilling.csv,"
        " saw-set-ups.csv, drawings, parts, set-ups, or a part such as D2-drawer-side"
    )


def test_sheets_and_boards_are_files_too():
    paths = every_path(["D10-front"], ["sheet-1", "board-2"])
    assert selected(("sheets",), paths) == {
        f"sheets/{name}.{kind}" for name in ("sheet-1", "board-2") for kind in ("dxf", "svg")
    }
    assert selected(("sheet-1",), paths) == {"sheets/sheet-1.dxf", "sheets/sheet-1.svg"}


def test_a_part_has_five_files_or_those_wanted():
    assert of_part("D10-front", PATHS) == {
        "step": "parts/D10-front.step",
        "stl": "parts/D10-front.stl",
        "3mf": "parts/D10-front.3mf",
        "dxf": "parts/D10-front.dxf",
        "drawing": "drawings/D10-front.dxf",
    }
    assert of_part("D10-front", frozenset({"parts/D10-front.stl"})) == {
        "stl": "parts/D10-front.stl"
    }
