"""Node's readers of DXF and GLB, which share no code with what wrote the files."""

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.helpers.repository import ROOT

READERS = ROOT / "tests" / "readers"


def _read(script: str, file: Path) -> dict[str, Any]:
    """Run one of the scripts of tests/readers on ``file``; skip where node or its modules lack."""
    node = shutil.which("node")
    if node is None or not (READERS / "node_modules").exists():
        reason = "node's readers are not installed; make test installs them where npm is"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    command = [node, script, str(file.resolve())]
    ran = subprocess.run(command, cwd=READERS, check=False, capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    found: dict[str, Any] = json.loads(ran.stdout)
    return found


def dxf_as_parsed(file: Path) -> dict[str, Any]:
    """Return the header, tables, blocks and entities that dxf-parser finds in a DXF file."""
    return _read("dxf.mjs", file)


def glb_report(file: Path) -> dict[str, Any]:
    """Return the Khronos validator's report on a GLB file; counts are in ``issues``."""
    return _read("gltf.mjs", file)
