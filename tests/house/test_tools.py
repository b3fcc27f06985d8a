"""What make says when something is missing, and what it says at the end."""

import runpy
import shutil
import subprocess

import pytest

from tests.helpers.repository import ROOT

TOOLS = ROOT / "tools"


@pytest.mark.parametrize(
    ("message", "told"),
    [
        (
            "libGL.so.1: cannot open shared object file: No such file or directory",
            ("libGL.so", "libgl1", "mesa-libGL"),
        ),
        (
            "libXrender.so.1: cannot open shared object file: No such file",
            ("libxrender1", "libXrender"),
        ),
        (
            "libstdc++.so.6: cannot open shared object file: No such file",
            ("libstdc++6", "libstdc++"),
        ),
        (
            "libodd.so.3: cannot open shared object file: No such file",
            ("libodd.so", "the package it is in"),
        ),
        ("No module named 'casadi'", ("No module named 'casadi'",)),
    ],
)
def test_a_missing_system_library_is_named_with_its_package(message, told):
    advice = runpy.run_path(str(TOOLS / "check_kernel.py"))["advice"](message)
    assert [word for word in told if word not in advice] == []


def test_what_lies_where_is_told_of_what_is_there_and_of_nothing_else(tmp_path):
    (tmp_path / "parts").mkdir()
    for name in ("a.step", "a.stl"):
        (tmp_path / "parts" / name).touch()
    (tmp_path / "cut-list.csv").touch()
    told = runpy.run_path(str(TOOLS / "what_lies_where.py"))["told"](tmp_path)
    assert [line.split()[0] for line in told] == ["parts/", "cut-list.csv"]
    assert told[0].endswith("(2 files)")


def make_venv(tmp_path, **environment):
    shell = shutil.which("sh")
    command = [str(shell), str(TOOLS / "make_venv.sh"), str(tmp_path / "made")]
    return subprocess.run(command, env=environment, check=False, capture_output=True, text=True)


def test_a_machine_without_a_new_enough_python_is_told_so(tmp_path):
    old = tmp_path / "bin" / "python3"
    old.parent.mkdir()
    old.write_text("#!/bin/sh\nexit 1\n", encoding="utf-8")
    old.chmod(0o755)
    ran = make_venv(tmp_path, PATH=str(old.parent))
    assert ran.returncode == 1
    assert ran.stderr.startswith("Casewright needs Python 3.11, 3.12, 3.13 or 3.14")
    assert not (tmp_path / "made").exists()


def test_a_python_without_venv_is_told_which_package_to_install(tmp_path):
    half = tmp_path / "bin" / "python3"
    half.parent.mkdir()
    half.write_text('#!/bin/sh\n[ "$1" = -m ] && exit 1\nexit 0\n', encoding="utf-8")
    half.chmod(0o755)
    ran = make_venv(tmp_path, PATH=f"{half.parent}:/usr/bin:/bin")
    assert ran.returncode == 1
    assert "apt-get install python3-venv" in ran.stderr
