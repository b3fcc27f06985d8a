"""Every package stands on a floor, and the contracts bite."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.helpers.repository import ROOT, configuration, root_packages

LINTER = Path(sys.executable).with_name("lint-imports")


def contracts():
    return {entry["id"]: entry for entry in configuration()["tool"]["importlinter"]["contracts"]}


def test_every_root_package_is_under_the_import_contracts():
    assert sorted(configuration()["tool"]["importlinter"]["root_packages"]) == list(root_packages())


def test_every_root_package_is_shipped():
    wheel = configuration()["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert sorted(wheel["packages"]) == list(root_packages())


def test_every_root_package_is_type_checked_and_measured():
    tools = configuration()["tool"]
    assert set(root_packages()) <= set(tools["mypy"]["files"])
    assert sorted(tools["coverage"]["run"]["source"]) == list(root_packages())


def test_every_root_package_has_a_floor():
    named = {
        module.strip().split(".")[0]
        for layer in contracts()["floors"]["layers"]
        for module in layer.split("|")
    }
    assert named == set(root_packages())


def test_every_package_of_models_has_a_floor_of_its_own():
    below = {file.parent.name for file in (ROOT / "models").glob("*/__init__.py")}
    named = {
        module.strip().removeprefix("models.")
        for layer in contracts()["floors"]["layers"]
        for module in layer.split("|")
        if module.strip().startswith("models.")
    }
    assert named == below


def keeps(contract: str, *, tree: Path) -> bool:
    """Whether ``contract`` is kept by the packages copied to ``tree``."""
    command = [str(LINTER), "--no-cache", "--no-logo", "--contract", contract]
    ran = subprocess.run(command, cwd=tree, check=False, capture_output=True, text=True)
    assert f"{1 - ran.returncode} kept, {ran.returncode} broken" in ran.stdout, (
        ran.stdout + ran.stderr
    )
    return ran.returncode == 0


@pytest.fixture(scope="module")
def copied(tmp_path_factory):
    """A copy of the packages in which an import may be planted."""
    tree = tmp_path_factory.mktemp("house")
    shutil.copy(ROOT / "pyproject.toml", tree)
    for package in root_packages():
        ignored = shutil.ignore_patterns("__pycache__")
        shutil.copytree(ROOT / package, tree / package, ignore=ignored)
    return tree


@pytest.mark.parametrize(
    ("contract", "floor", "planted"),
    [
        ("floors", "checks", "import models.solids"),
        ("floors", "ground", "import specs"),
        ("floors", "specs", "import models.parts"),
        ("floors", "planning", "import drawings"),
        ("kernel", "models/setting_out", "import cadquery"),
        ("kernel", "drawings", "import ezdxf"),
        ("kernel", "checks", "import OCP"),
        ("formats", "models/solids", "import trimesh"),
        ("plain", "models/parts", "import numpy"),
        ("plain", "ground", "import pydantic"),
        ("facets", "exporters", "import manifold3d"),
        ("terminal", "exporters", "import typer"),
    ],
)
def test_an_import_that_points_up_or_out_is_caught(copied, contract, floor, planted):
    file = copied / floor / "planted.py"
    file.write_text(f"{planted}\n", encoding="utf-8")
    try:
        assert not keeps(contract, tree=copied)
    finally:
        file.unlink()
