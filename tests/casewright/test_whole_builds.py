"""Whole builds in processes of their own: same bytes, killed at any moment, no one left behind."""

import hashlib
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from exporters import exchange
from exporters.record import schema
from tests.helpers.small_piece import EXAMPLES

pytestmark = [pytest.mark.kernel, pytest.mark.slow]

PROGRAM = [sys.executable, "-P", "-m", "casewright"]
SMALL = EXAMPLES / "bedside-cabinet.yaml"
DEMO = EXAMPLES / "reading-room-cabinet.yaml"


def sums(folder: Path) -> dict[str, str]:
    """The sum of every file in a folder by its path."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


def whole(folder: Path) -> dict[str, str]:
    """The sums of a package that is whole: what its record lists, all of it and nothing else."""
    found = sums(folder)
    record = json.loads((folder / "build.json").read_text(encoding="utf-8"))
    assert {file["path"]: file["sha256"] for file in record["files"]} == {
        path: total for path, total in found.items() if path != "build.json"
    }
    return found


def build(
    spec: Path, out: Path, cwd: Path, **surroundings: str
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*PROGRAM, "build", str(spec), "--out", str(out)],
        cwd=cwd,
        env=os.environ | surroundings,
        capture_output=True,
        text=True,
        check=False,
    )


def children(pid: int) -> list[int]:
    """Every process that ``pid`` has started."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        if int(fields[1]) == pid and fields[0] != "Z":
            found.append(int(stat.parent.name))
    return found


def running(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def all_gone(pids: list[int]) -> bool:
    """Tell whether processes have ended, within 5 s."""
    for _ in range(100):
        if not any(map(running, pids)):
            return True
        time.sleep(0.05)
    return False


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_example_builds_quietly_to_a_record_that_satisfies_its_schema(example, tmp_path):
    built = build(example, tmp_path / "out", tmp_path)
    assert built.returncode in {0, 1}, built.stderr
    assert built.stderr == ""
    assert "[make." not in built.stdout
    whole(tmp_path / "out")
    record = json.loads((tmp_path / "out" / "build.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema()).validate(record)
    assert all(part["volume"] for part in record["parts"])
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_the_same_spec_gives_the_same_bytes_whatever_surrounds_it(tmp_path):
    """Hash seed, time zone, locale, folder of the call, of the spec and of the package differ."""
    surroundings = [
        {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland", "LC_ALL": "C"},
        {"PYTHONHASHSEED": "4242", "TZ": "America/St_Johns", "LC_ALL": "C.UTF-8", "COLUMNS": "33"},
    ]
    found = []
    for number, surrounding in enumerate(surroundings):
        here = tmp_path / ("a", "another folder")[number]
        here.mkdir()
        shutil.copy(DEMO, here / f"spec {number}.yaml")
        built = build(here / f"spec {number}.yaml", here / f"out{number}", here, **surrounding)
        assert built.returncode in {0, 1}, built.stderr
        found.append(whole(here / f"out{number}"))
    assert found[0] == found[1]
    assert len(found[0]) > 100


@pytest.fixture(scope="module")
def package(tmp_path_factory) -> Path:
    """A package of another piece than the demo."""
    here: Path = tmp_path_factory.mktemp("older")
    built = build(SMALL, here / "out", here)
    assert built.returncode in {0, 1}, built.stderr
    return here / "out"


@pytest.fixture
def older(package, tmp_path) -> tuple[Path, dict[str, str]]:
    """That package at the place that is built to, and the sums of its files."""
    out = tmp_path / "out"
    shutil.copytree(package, out)
    return out, whole(out)


@pytest.mark.parametrize("moment", [0.3, 1.5, 2.5, 3.5])
def test_a_build_killed_at_any_moment_leaves_the_older_package_whole(older, tmp_path, moment):
    out, before = older
    command = [*PROGRAM, "build", str(DEMO), "--out", str(out)]
    with subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.PIPE) as victim:
        time.sleep(moment)
        workers = children(victim.pid)
        finished = victim.poll() is not None
        victim.kill()
    assert finished or whole(out) == before
    assert all_gone(workers)
    with exchange.locked(out):
        exchange.sweep(out)  # as the next build does first
    assert finished or whole(out) == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize(("how", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_build_that_is_asked_to_stop_leaves_nothing_of_its_own(older, tmp_path, how, status):
    out, before = older
    command = [*PROGRAM, "build", str(DEMO), "--out", str(out)]
    with subprocess.Popen(
        command, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as victim:
        # while cut plans are searched, an interrupt ends the search only; so wait for the folder
        while len(list(tmp_path.iterdir())) < 2:
            assert victim.poll() is None
            time.sleep(0.01)
        workers = children(victim.pid)
        assert len(workers) == 2
        victim.send_signal(how)
        results, messages = victim.communicate(timeout=20)
    assert victim.returncode == status
    assert "Traceback" not in results + messages
    assert all_gone(workers)
    assert whole(out) == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_reader_that_goes_away_is_no_fault():
    """The results are cut short, as ``head -1`` does."""
    command = [*PROGRAM, "schema"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as program:
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.close()
        assert program.stderr.read() == b""
