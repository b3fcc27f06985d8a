"""Where the repository lies, what git tracks in it, and its configuration."""

import shutil
import subprocess
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]


@cache
def configuration() -> dict[str, Any]:
    """Return pyproject.toml."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


@cache
def root_packages() -> tuple[str, ...]:
    """Return the folders at the top of the tree that are import packages, the tests aside."""
    return tuple(
        sorted(
            file.parent.name for file in ROOT.glob("*/__init__.py") if file.parent.name != "tests"
        )
    )


def tracked(*patterns: str) -> list[Path]:
    """Return the files that git tracks or would track; skip the test outside a checkout."""
    if not (ROOT / ".git").exists() or shutil.which("git") is None:
        pytest.skip("not a git checkout")
    command = [
        "git",
        "ls-files",
        "-z",
        "--cached",
        "--others",
        "--exclude-standard",
        "--",
        *patterns,
    ]
    listed = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    return [ROOT / name for name in listed.split("\0") if name and (ROOT / name).is_file()]


def text_of(path: Path) -> str | None:
    """Return the text of ``path``, or None where it is not text."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None
