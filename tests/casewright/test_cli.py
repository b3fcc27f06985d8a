"""The command line in this process: statuses, what goes where, and never a traceback."""

import json
import os
import re
import signal
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from casewright import building, cli, kernel
from ground.errors import Problem
from ground.findings import Finding, Severity
from models.setting_out.trouble import SettingOutError
from specs.reading import load
from tests.helpers import jobs
from tests.helpers.packages import beside
from tests.helpers.small_piece import EXAMPLES, PIECE
from tests.helpers.stand_ins import stand_in

SPEC = EXAMPLES / "reading-room-cabinet.yaml"
SOUND = replace(PIECE, findings=())


@pytest.fixture
def run(monkeypatch, capfd):
    """Run the program and give its status, results and messages."""
    before = signal.getsignal(signal.SIGTERM)

    def running(*words: object) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["casewright", *map(str, words)])
        status = cli.main()
        results, messages = capfd.readouterr()
        assert "Traceback" not in results + messages
        return status, results, messages

    yield running
    signal.signal(signal.SIGTERM, before)


@pytest.fixture
def sound(monkeypatch):
    stand_in(monkeypatch, SOUND)


@pytest.mark.usefixtures("sound")
def test_a_sound_piece_checks_with_status_0(run):
    status, results, messages = run("check", SPEC)
    assert (status, messages) == (0, "")
    assert "drawer 2/1, depth: 20 + 3 + 350 + 39 = 412" in results
    assert results.endswith("no errors, no warnings, 1 note\n")


def test_an_error_finding_makes_status_1(run, monkeypatch):
    stand_in(monkeypatch, PIECE)
    status, results, messages = run("check", SPEC)
    assert (status, messages) == (1, "")
    assert "Errors\n  drawer 2/1: too long (value 450 mm, limit 412 mm" in results


def test_findings_as_json_are_those_of_the_record(run, monkeypatch):
    stand_in(monkeypatch, PIECE)
    status, results, _ = run("check", SPEC, "--json")
    assert status == 1
    error, note = json.loads(results)
    assert error == {
        "code": "fit.runner_depth",
        "severity": "error",
        "subject": "drawer 2/1",
        "copies": ["F2.1"],
        "at": [1, 2, 3],
        "message": "too long",
        "value": 450,
        "limit": 412,
        "unit": "mm",
        "source": "the data sheet",
    }
    assert note["code"] == "mass.unknown"


@pytest.mark.usefixtures("sound")
def test_exact_adds_what_the_solids_say(run, monkeypatch):
    said = Finding(
        code="exact.overlap", severity=Severity.ERROR, subject="A1 and B1", message="they share"
    )
    monkeypatch.setattr("casewright.exact.exact_findings", lambda _: (said,))
    status, results, _ = run("check", SPEC, "--exact")
    assert status == 1
    assert "Errors\n  A1 and B1: they share [exact.overlap]" in results
    status, results, _ = run("check", SPEC)
    assert (status, "exact.overlap" in results) == (0, False)


def test_a_spec_error_is_told_with_its_place_and_status_2(run, tmp_path):
    spec = tmp_path / "my chest.yaml"
    spec.write_text(SPEC.read_text().replace("height: 190", "heihgt: 190"))
    status, results, messages = run("check", spec)
    assert (status, results) == (2, "")
    assert re.fullmatch(
        rf"{re.escape(str(spec))}:\d+:3: base: .*height.*", messages.splitlines()[0]
    )
    assert "'heihgt' is not a key here; did you mean height?" in messages


def test_numbers_that_no_piece_can_be_set_out_from_are_told_with_their_place(run, monkeypatch):
    problem = Problem(path=("base", "height"), message="no leg is so short; write 100 or more")
    stand_in(monkeypatch, SettingOutError(problem))
    status, results, messages = run("check", SPEC)
    line, column = load(SPEC).marks.place(("base", "height"))
    assert (status, results) == (2, "")
    assert messages == (
        f"{SPEC}:{line}:{column}: base.height: no leg is so short; write 100 or more\n"
    )


def test_a_fault_of_ours_is_one_plain_line_and_status_70(run, monkeypatch):
    stand_in(monkeypatch, KeyError("bo\nttom"))
    status, results, messages = run("check", SPEC)
    assert (status, results) == (70, "")
    assert messages.count("\n") == 1
    assert re.fullmatch(
        r"a fault in casewright [\d.]+, not in your spec: KeyError: 'bo\\nttom'"
        r" \(stand_ins\.py, line \d+\); nothing was written;"
        r" please report this line together with the spec\n",
        messages,
    )


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("make-it",), "No such command 'make-it'."),
        (("check",), "Missing argument 'SPEC'."),
        (("check", "--jsn", "x"), "No such option: --jsn"),
        (("build", "x.yaml"), "Missing option '--out'."),
        (("build", "x.yaml", "--out"), "Option '--out' requires an argument."),
        (("check", "a.yaml", "b.yaml"), "unexpected extra argument"),
        (("new",), "Missing argument 'DIR'."),
    ],
)
def test_a_call_that_cannot_be_read_is_status_2(run, words, message):
    status, results, messages = run(*words)
    assert (status, results) == (2, "")
    assert message in messages


def test_no_verb_at_all_says_which_there_are(run):
    status, results, messages = run()
    assert status == 2
    assert all(verb in results + messages for verb in ("new", "check", "build", "schema"))


@pytest.mark.parametrize("verb", ["new", "check", "build", "what-if", "schema"])
def test_every_verb_explains_itself(run, verb):
    status, results, messages = run(verb, "--help")
    assert (status, messages) == (0, "")
    assert results.startswith(f"Usage: casewright {verb}")
    assert "\x1b" not in results


def test_the_version_is_printed(run):
    status, results, _ = run("--version")
    assert status == 0
    assert re.fullmatch(r"casewright \d+\.\d+\.\d+\n", results)


def test_the_schema_is_json(run):
    status, results, messages = run("schema")
    assert (status, messages) == (0, "")
    assert json.loads(results)["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_new_writes_a_spec_that_loads_and_never_over_another(run, tmp_path):
    folder = tmp_path / "my new_stand"
    status, results, messages = run("new", folder)
    assert (status, results, messages) == (0, f"{folder / 'piece.yaml'}\n", "")
    assert load(folder / "piece.yaml").spec.name == "My new stand"
    (folder / "piece.yaml").write_text("mine")
    status, results, messages = run("new", folder)
    assert (status, results) == (2, "")
    assert messages == f"{folder / 'piece.yaml'}: is there already; name another folder\n"
    assert (folder / "piece.yaml").read_text() == "mine"


def test_new_in_place_of_a_file_is_refused(run, tmp_path):
    (tmp_path / "stand").write_text("mine")
    status, results, messages = run("new", tmp_path / "stand")
    assert (status, results) == (2, "")
    assert messages == (
        f"{tmp_path / 'stand'}: cannot be made: a file is in its place; name another folder\n"
    )


# ---- build


@pytest.mark.kernel
@pytest.mark.usefixtures("sound")
def test_a_build_says_what_it_found_and_where_it_lies(run, tmp_path):
    out = tmp_path / "out put"
    status, results, messages = run("build", SPEC, "--out", out, "--only", "cut-list, hardware")
    assert (status, messages) == (0, "")
    last = re.escape(f"{out}: 3 files\n")
    assert re.search(rf"no errors, no warnings, \d+ notes?\n{last}\Z", results)
    assert (out / "cut-list.csv").exists()


@pytest.mark.kernel
def test_a_build_with_an_error_finding_is_written_all_the_same(run, tmp_path, monkeypatch):
    stand_in(monkeypatch, PIECE)
    status, results, _ = run("build", SPEC, "--out", tmp_path / "out", "--only", "hardware.csv")
    assert status == 1
    assert "Errors" in results
    assert json.loads((tmp_path / "out" / "build.json").read_text())["findings"][0]["code"] == (
        "fit.runner_depth"
    )


@pytest.mark.usefixtures("sound")
def test_a_kernel_that_does_not_load_is_told_plainly_and_nothing_is_written(
    run, tmp_path, monkeypatch
):
    monkeypatch.setattr(kernel, "prepare", jobs.prepare_in_vain)
    status, results, messages = run("build", SPEC, "--out", tmp_path / "out")
    assert (status, results) == (2, "")
    assert messages.startswith("the CAD kernel cannot be loaded: ")
    assert "libNone.so.1: cannot open shared object file" in messages
    assert list(tmp_path.iterdir()) == []


@pytest.mark.usefixtures("sound")
def test_a_build_that_is_stopped_leaves_nothing(run, tmp_path, monkeypatch):
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(building, "make_parts", stopped)
    status, results, messages = run("build", SPEC, "--out", tmp_path / "out")
    assert (status, results) == (130, "")
    assert messages == "stopped; nothing was written\n"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.usefixtures("sound")
def test_a_fault_in_the_middle_of_a_build_leaves_the_older_package(run, tmp_path, monkeypatch):
    def faulty(*_: object) -> None:
        raise ZeroDivisionError

    out = tmp_path / "out"
    out.mkdir()
    monkeypatch.setattr(building, "make_parts", faulty)
    status, _, messages = run("build", SPEC, "--out", out)
    assert status == 70
    assert messages.startswith("a fault in casewright")
    assert list(out.iterdir()) == []
    assert beside(out) == []


@pytest.mark.parametrize("bad", [".", "..", "~", "/", "{spec}", "{home}", "{link}", "{mine}"])
@pytest.mark.usefixtures("sound")
def test_no_folder_of_the_users_is_ever_replaced(run, tmp_path, monkeypatch, bad):
    for name in ("home", "mine", "specs", "here"):
        (tmp_path / name).mkdir()
    (tmp_path / "mine" / "photo.jpg").write_text("mine")
    (tmp_path / "link").symlink_to(tmp_path / "here")
    spec = tmp_path / "specs" / "chest.yaml"
    spec.write_text(SPEC.read_text())
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path / "here")
    places = {"spec": spec.parent, "home": tmp_path / "home", "link": tmp_path / "link"}
    out = bad.format(**places, mine=tmp_path / "mine")
    before = sorted(tmp_path.rglob("*"))
    status, results, messages = run("build", spec, "--out", out)
    assert (status, results) == (2, "")
    assert out in messages
    assert sorted(tmp_path.rglob("*")) == before


# ---- what is no spec at all


def vast(place):
    """A file of 200 MB that takes no room."""
    with place.open("wb") as file:
        file.truncate(200 * 1024 * 1024)


BAD_SPECS: dict[str, Callable[[Path], object]] = {
    "empty": lambda place: place.write_text(""),
    "directory": lambda place: place.mkdir(),
    "pipe": os.mkfifo,
    "link": lambda place: place.symlink_to(SPEC),
    "200 MB": vast,
    "not UTF-8": lambda place: place.write_bytes(b"name: T\xfcr\n"),
    "5,000 brackets": lambda place: place.write_text("name: " + "[" * 5000),
    "absent": str,
}


@pytest.mark.parametrize("verb", ["check", "build"])
@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("empty", "empty"),
        ("directory", "folder"),
        ("pipe", "pipe"),
        ("link", "link"),
        ("200 MB", "1 MiB"),
        ("not UTF-8", "UTF-8"),
        ("5,000 brackets", "40"),
        ("absent", "no such file"),
    ],
)
def test_what_is_no_spec_is_status_2_with_one_line_and_nothing_written(
    run, tmp_path, verb, kind, words
):
    place = tmp_path / "chest.yaml"
    BAD_SPECS[kind](place)
    before = sorted(tmp_path.iterdir())
    call = (verb, place) if verb == "check" else (verb, place, "--out", tmp_path / "out")
    status, results, messages = run(*call)
    assert (status, results) == (2, "")
    assert messages.startswith(f"{place}:")
    assert words in messages
    assert messages.count("\n") == 1
    assert sorted(tmp_path.iterdir()) == before
