"""Small packages to write, break and look at."""

import hashlib
import json
from pathlib import Path

from exporters.package import FORMAT, Stage, staged


def fill(stage: Stage, generation: int, files: int = 12) -> None:
    """Write files that all carry the same number, and the record that lists them."""
    for number in range(files):
        stage.write(f"parts/P{number}.txt", f"{generation}\n".encode() * 2000)
    listed = [
        {"path": file.path, "bytes": file.bytes, "sha256": file.sha256} for file in stage.files()
    ]
    stage.write("build.json", json.dumps({"format": FORMAT, "files": listed}).encode())


def build(place: Path, generation: int = 1) -> None:
    """Build one small package."""
    with staged(place) as stage:
        fill(stage, generation)


def generation_of(place: Path) -> int:
    """Read the one number that every file of a whole package carries; fails on anything less."""
    record = json.loads((place / "build.json").read_text())
    there = {p.relative_to(place).as_posix() for p in place.rglob("*") if p.is_file()}
    assert there == {file["path"] for file in record["files"]} | {"build.json"}
    numbers = set()
    for file in record["files"]:
        content = (place / file["path"]).read_bytes()
        assert hashlib.sha256(content).hexdigest() == file["sha256"]
        numbers.add(int(content.split()[0]))
    (number,) = numbers
    return number


def beside(place: Path) -> list[str]:
    """What lies hidden beside a target."""
    return sorted(p.name for p in place.parent.iterdir() if p.name.startswith("."))
