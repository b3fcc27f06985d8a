"""The same piece gives the same bytes in every 3D file, whatever the process around it."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from exporters import threemf
from tests.helpers.repository import ROOT

pytestmark = pytest.mark.kernel


def written(folder: Path, before: int, **around: str) -> dict[str, bytes]:
    """Every file of a fresh process by name."""
    folder.mkdir()
    here = folder.parent if before else ROOT
    kept = {key: value for key, value in os.environ.items() if key != "SOURCE_DATE_EPOCH"}
    command = [sys.executable, "-m", "tests.helpers.write_door_and_leg", str(folder), str(before)]
    subprocess.run(
        command,
        cwd=here,
        env=kept | around | {"PYTHONPATH": str(ROOT)},
        check=True,
        capture_output=True,
        timeout=120,
    )
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_two_processes_write_the_same_bytes(tmp_path):
    one = written(tmp_path / "one", 0, PYTHONHASHSEED="1", TZ="UTC", LC_ALL="C")
    time.sleep(2)  # a zip archive counts time in steps of two seconds
    two = written(
        tmp_path / "Zwei ü", 2, PYTHONHASHSEED="77", TZ="Pacific/Chatham", LC_ALL="C.UTF-8"
    )
    assert set(one) == {"many.step", "part.step", "part.stl", "piece.glb", "piece.step"} | (
        {"part.3mf", "piece.3mf"} if threemf.available() else set()
    )
    assert [name for name in one if one[name] != two[name]] == []


def test_a_date_asked_for_is_the_only_difference(tmp_path):
    plain = written(tmp_path / "plain", 0)
    dated = written(tmp_path / "dated", 0, SOURCE_DATE_EPOCH="1700000000")
    changed = {name for name in plain if plain[name] != dated[name]}
    assert changed == {"many.step", "part.step", "piece.step"}
    for name in changed:
        text = dated[name].replace(b"2023-11-14T22:13:20", b"1980-01-01T00:00:00")
        assert text == plain[name]
