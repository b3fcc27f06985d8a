"""Reading, checking and helping load no CAD kernel and no library of a file format.

Proved by the modules that a fresh process loads, not by the clock.
"""

import re
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.helpers.repository import ROOT

HEAVY = frozenset(
    {"cadquery", "OCP", "vtkmodules", "ezdxf", "trimesh", "numba", "numpy", "lib3mf", "typst"}
    | {"manifold3d", "starlette", "uvicorn", "watchfiles"}
)
EXAMPLES = sorted((ROOT / "examples").glob("*.yaml"))
UNUSABLE = 2


class Run(NamedTuple):
    """What a fresh process loaded, said and returned."""

    roots: set[str]
    messages: str
    status: int


def run(*arguments: str, cwd: Path) -> Run:
    """Run ``python ARGUMENTS`` and note the root package of every module that it imports."""
    command = [sys.executable, "-P", "-X", "importtime", *arguments]
    ran = subprocess.run(command, cwd=cwd, check=False, capture_output=True, text=True)
    names, messages = set(), []
    for line in ran.stderr.splitlines():
        found = re.fullmatch(r"import time:\s+\d+ \|\s+\d+ \|\s+([\w.]+)", line)
        if found:
            names.add(found.group(1).split(".")[0])
        elif not line.startswith("import time:"):
            messages.append(line)
    return Run(names, "\n".join(messages), ran.returncode)


@pytest.mark.parametrize(
    "arguments",
    [("--help",), ("schema",), ("check", "--help"), ("build", "--help"), ("view", "--help")],
    ids=" ".join,
)
def test_help_and_schema_load_nothing_heavy(arguments, tmp_path):
    ran = run("-m", "casewright", *arguments, cwd=tmp_path)
    assert ran.status == 0, ran.messages
    assert "casewright" in ran.roots
    assert ran.roots & HEAVY == set()


def test_there_are_examples_to_check():
    assert {"reading-room-cabinet", "plan-chest"} <= {path.stem for path in EXAMPLES}


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_check_loads_nothing_heavy(example, tmp_path):
    ran = run("-m", "casewright", "check", str(example), cwd=tmp_path)
    assert ran.status < UNUSABLE, ran.messages
    assert {"specs", "models"} <= ran.roots, ran.messages
    assert ran.roots & HEAVY == set()


@pytest.mark.kernel
def test_a_process_that_loads_the_kernel_is_seen_to(tmp_path):
    ran = run("-c", "import cadquery, trimesh, lib3mf, typst", cwd=tmp_path)
    assert ran.status == 0, ran.messages
    assert {"cadquery", "OCP", "ezdxf", "trimesh", "lib3mf", "typst"} <= ran.roots
