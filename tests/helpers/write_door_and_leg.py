"""Write the small piece in every 3D format: run by a test in processes that differ.

Usage: python -m tests.helpers.write_door_and_leg FOLDER [BEFORE]; BEFORE is how many files to
write and forget first.
"""

import sys
from dataclasses import replace
from pathlib import Path

import cadquery as cq

from exporters.glb import piece_glb
from exporters.step import part_step, piece_step
from exporters.stl import stl
from exporters.threemf import available, part_3mf, piece_3mf
from ground.vectors import Frame
from models.parts.assembly import Assembly, Copy
from tests.helpers import door_and_leg as small


def many_step(path: Path) -> None:
    """Write twenty parts of as many colours, two copies of each."""
    count = 20
    labels = [f"P{number}" for number in range(count)]
    parts = tuple(replace(small.LEG_PART, label=label, name="block") for label in labels)
    copies = tuple(
        Copy(
            id=f"{label}.{turn}",
            label=label,
            group=(f"group {number % 3}", f"row {turn}"),
            placement=Frame(origin=(number * 100.0, turn * 100.0, 0.0)),
        )
        for number, label in enumerate(labels)
        for turn in (1, 2)
    )
    piece = Assembly(name="many", parts=parts, copies=copies)
    solids = {label: cq.Solid.makeBox(50, 40, 20 + n) for n, label in enumerate(labels)}
    colours = {label: (n / count, 0.5, 1 - n / count) for n, label in enumerate(labels)}
    piece_step(piece, solids, colours, path=path, name="many")


def main(folder: Path, before: int) -> None:
    """Write every file into ``folder``."""
    colours = {label: look.colour for label, look in small.LOOKS.items()}
    meshes = small.meshes()
    door = cq.Solid.makeBox(*small.DOOR).cut(
        cq.Solid.makeCylinder(small.BORE / 2, 40, cq.Vector(*small.BORE_AT, -10))
    )
    solids = {"F1": door, "B1": cq.Solid.makeBox(190, 58, 58), "L1": cq.Solid.makeCylinder(4, 40)}
    for number in range(before):
        part_step(door, name=f"{number}", colour=(0.1, 0.2, 0.3), path=folder / "part.step")
        piece_step(small.PIECE, solids, colours, path=folder / "piece.step", name="earlier")
        piece_glb(small.PIECE, meshes, small.LOOKS)
    part_step(door, name="F1 Tür", colour=colours["F1"], path=folder / "part.step")
    piece_step(small.PIECE, solids, colours, path=folder / "piece.step", name=small.PIECE.name)
    many_step(folder / "many.step")
    (folder / "piece.glb").write_bytes(piece_glb(small.PIECE, meshes, small.LOOKS))
    (folder / "part.stl").write_bytes(stl(meshes["F1"], "F1 Tür"))
    if available():
        (folder / "part.3mf").write_bytes(part_3mf(meshes["F1"], "F1 Tür", small.LOOKS["F1"]))
        (folder / "piece.3mf").write_bytes(piece_3mf(small.PIECE, meshes, small.LOOKS))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0)
