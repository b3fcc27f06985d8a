"""A small piece built for real, kernel and all; and what happens when a part cannot be made."""

import csv
import io
import json
from dataclasses import replace
from functools import partial

import pytest
from jsonschema import Draft202012Validator

from casewright import building, kernel
from casewright.workers import Workers
from exporters import threemf
from exporters.record import schema
from ground.errors import PackageError
from ground.vectors import Frame, Plane
from models.parts.features import Trim, TrimKind
from tests.helpers import jobs
from tests.helpers.packages import beside
from tests.helpers.small_piece import BOARD, EXAMPLES, FRONT, PIECE
from tests.helpers.stand_ins import stand_in

pytestmark = pytest.mark.kernel

SPEC = EXAMPLES / "reading-room-cabinet.yaml"
NAMES = ("B10-board", "F2-front", "L1-dowel")
PATHS = {
    "piece.step",
    "piece.glb",
    "piece.html",
    "piece.3mf",
    "cut-list.csv",
    "buying-list.csv",
    "saw-list.csv",
    *(f"sheets/{name}.{kind}" for name in ("board-1", "sheet-1") for kind in ("dxf", "svg")),
    "hardware.csv",
    "drilling.csv",
    "saw-set-ups.csv",
    "drawings/assembly.dxf",
    "drawings/exploded.dxf",
    *(f"drawings/exploded-{number}.dxf" for number in (1, 2)),
    "drawings/openings.dxf",
    "plan-book.pdf",
    "templates.pdf",
    "rod.pdf",
    "rod.dxf",
    *(f"parts/{name}.{kind}" for name in NAMES for kind in ("step", "stl", "3mf", "dxf")),
    *(f"drawings/{name}.dxf" for name in NAMES),
    "set-ups/B10-board.svg",
}


def files(folder) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def record(folder):
    content = json.loads((folder / "build.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema()).validate(content)
    assert {file["path"] for file in content["files"]} == files(folder) - {"build.json"}
    return content


@pytest.fixture
def out(tmp_path):
    return tmp_path / "out with spaces" / "Chest of Ünser"


@pytest.fixture
def piece(monkeypatch):
    stand_in(monkeypatch, PIECE)


@pytest.mark.usefixtures("piece")
def test_a_build_writes_every_file_and_lists_it(out):
    result = building.build(SPEC, str(out))
    assert files(out) == PATHS | {"build.json"}
    assert result.files == len(PATHS) + 1
    content = record(out)
    assert {part["label"]: part["files"] for part in content["parts"]}["B10"] == {
        "step": "parts/B10-board.step",
        "stl": "parts/B10-board.stl",
        "3mf": "parts/B10-board.3mf",
        "dxf": "parts/B10-board.dxf",
        "drawing": "drawings/B10-board.dxf",
    }
    assert beside(out) == []


@pytest.mark.usefixtures("piece")
def test_the_record_says_what_the_solids_measure(out):
    """The dowel is a rod 8 across and 40 long: pi x 16 x 40 = 2010.619298 mm3."""
    building.build(SPEC, str(out), only=("build.json",))
    content = record(out)
    assert files(out) == {"build.json"}
    dowel = content["parts"][3]
    assert dowel["label"] == "L1"
    assert dowel["volume"] == pytest.approx(2010.619298, abs=1e-3)
    assert dowel["finished"] == [40, 8, 8]
    assert content["parts"][0]["volume"] < 400 * 100 * 20
    assert {"front", "groove-1.floor", "mitre-1"} <= {
        face["name"] for face in content["parts"][0]["faces"]
    }


@pytest.mark.usefixtures("piece")
def test_only_some_of_it_is_all_that_the_folder_then_holds(out):
    building.build(SPEC, str(out))
    building.build(SPEC, str(out), only=("cut-list.csv", "parts/F2-front.stl"))
    assert files(out) == {"build.json", "cut-list.csv", "parts/F2-front.stl"}
    front = record(out)["parts"][1]["files"]
    assert front == {
        "step": None,
        "stl": "parts/F2-front.stl",
        "3mf": None,
        "dxf": None,
        "drawing": None,
    }


@pytest.mark.usefixtures("piece")
def test_a_name_that_means_nothing_leaves_the_older_package(out):
    building.build(SPEC, str(out), only=("cut-list.csv",))
    with pytest.raises(PackageError, match="--only nonsense: there is no such file"):
        building.build(SPEC, str(out), only=("nonsense",))
    assert files(out) == {"build.json", "cut-list.csv"}


def test_a_part_that_cannot_be_made_is_a_finding_and_the_rest_is_written(out, monkeypatch):
    """Everything beyond x = -1 is sawn off: nothing is left of the board."""
    gone = Trim(kind=TrimKind.END, plane=Plane((1.0, 0.0, 0.0), -1.0), made_by="a", id="end-1")
    board = replace(BOARD, features=(gone,))
    stand_in(monkeypatch, replace(PIECE, parts=(board, *PIECE.parts[1:]), findings=()))
    result = building.build(SPEC, str(out))
    (finding,) = [found for found in result.findings if found.severity == "error"]
    assert finding.code == "make.solid"
    assert finding.subject == "B10 board"
    assert "end-1" in finding.message
    assert finding.copies == ("B10.10", "B10.2")
    assert files(out) == {path for path in PATHS if "B10" not in path} | {"build.json"}
    content = record(out)
    assert content["parts"][0]["volume"] is None
    assert content["parts"][0]["files"] is None
    rows = list(csv.DictReader(io.StringIO((out / "cut-list.csv").read_text(encoding="utf-8"))))
    assert [row["finished length (mm)"] for row in rows] == ["", "300", "40"]


def test_parts_that_share_wood_are_an_error_with_the_volume(out, monkeypatch):
    """The dowel lies 10 of its 40 deep in the front's corner: pi x 16 x 10 = 502.655 mm3."""
    dowel = replace(PIECE.copies[3], placement=Frame(origin=(290.03, 600.0, 5.0)))
    copies = (*PIECE.copies[:3], dowel, PIECE.copies[4])
    stand_in(monkeypatch, replace(PIECE, copies=copies, findings=()))
    result = building.build(SPEC, str(out), only=("build.json",))
    (clash,) = [found for found in result.findings if found.severity == "error"]
    assert clash.code == "fit.clash"
    assert clash.subject == "F2.1 front and L1.1 dowel"
    assert clash.copies == ("F2.1", "L1.1")
    assert clash.value == pytest.approx(502.655, abs=1e-3)
    assert clash.limit == 1.0
    assert record(out)["findings"][0]["code"] == "fit.clash"


@pytest.mark.parametrize(
    ("job", "reason"),
    [
        (jobs.hang_on_the_front, "took longer than 3 s and was ended"),
        (jobs.crash_on_the_front, "the process that made it was ended by SIGSEGV"),
    ],
)
@pytest.mark.usefixtures("piece")
def test_a_kernel_that_hangs_or_crashes_costs_one_part(out, monkeypatch, job, reason):
    monkeypatch.setattr(kernel, "make_part", job)
    monkeypatch.setattr(building, "Workers", partial(Workers, limit=3.0))
    result = building.build(SPEC, str(out))
    assert [found.message for found in result.findings if found.code == "make.solid"] == [
        f"the solid cannot be made: {reason}; its files are missing"
    ]
    assert files(out) == {path for path in PATHS if "F2" not in path} | {"build.json"}


@pytest.mark.usefixtures("piece")
def test_without_the_3mf_library_the_rest_is_written_and_a_note_says_so(out, monkeypatch):
    monkeypatch.setattr(threemf, "_library", lambda: (None, "no library here"))
    result = building.build(SPEC, str(out))
    assert files(out) == {path for path in PATHS if not path.endswith(".3mf")} | {"build.json"}
    (note,) = [found for found in result.findings if found.code == "package.no_3mf"]
    assert note.message == "no 3MF file is written: no library here"
    assert record(out)["parts"][1]["files"]["3mf"] is None


def test_names_from_the_spec_reach_no_path_and_no_formula(out, monkeypatch):
    names = ("../../../etc/passwd", "CON", "=1+1", "a\\b\0c", "\u202eexe.fdp", "Tür")
    parts = tuple(
        replace(FRONT, label=f"F{number}", name=name, note=f"={name}")
        for number, name in enumerate(names, 1)
    )
    copies = tuple(
        replace(PIECE.copies[2], id=f"{part.label}.1", label=part.label, mover=None)
        for part in parts
    )
    wild = replace(PIECE, parts=parts, copies=copies, joints=(), movers=(), findings=())
    stand_in(monkeypatch, wild)
    building.build(SPEC, str(out))
    record(out)  # its schema allows only plain paths
    assert sorted(path.name for path in (out / "parts").glob("*.stl")) == [
        "F1-.-.-.-etc-passwd.stl",
        "F2-CON.stl",
        "F3-1-1.stl",
        "F4-a-b-c.stl",
        "F5-exe.fdp.stl",
        "F6-Tur.stl",
    ]
    rows = csv.reader(io.StringIO((out / "cut-list.csv").read_text(encoding="utf-8")))
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row)
