"""Say in plain words what lies where in a folder that ``casewright build`` wrote."""

import sys
from pathlib import Path

CONTENTS = (
    ("plan-book.pdf", "the drawings and lists, for the bench"),
    ("templates.pdf", "full-size paper templates"),
    ("rod.pdf", "the setting-out rod, full size"),
    ("rod.dxf", "the setting-out rod, full size, to plot"),
    ("piece.html", "the whole piece, to turn and open in a browser"),
    ("piece.step", "the whole piece as solids, for CAD programs"),
    ("piece.glb", "the whole piece as a picture in three dimensions"),
    ("piece.3mf", "the whole piece as closed meshes"),
    ("parts", "each part by itself: STEP, STL, 3MF and a full-size DXF"),
    ("drawings", "dimensioned drawings: the assembly, and one for each part"),
    ("sheets", "each sheet and board as it is cut: DXF and a picture"),
    ("set-ups", "a picture of every saw set-up, one sheet a part"),
    ("cut-list.csv", "what to cut, rough size to finished size"),
    ("buying-list.csv", "what to buy"),
    ("saw-list.csv", "how to saw sheets and boards up, in order of work"),
    ("hardware.csv", "fittings and screws"),
    ("drilling.csv", "every hole: where, how wide, how deep, what for"),
    ("saw-set-ups.csv", "every saw setting, in the order of the cuts"),
    ("build.json", "all of it in numbers, for other programs"),
)
"""Each file or folder of a package, with what a maker finds there."""


def told(folder: Path) -> list[str]:
    """Return a line for each thing in ``folder``, with how many files a subfolder holds."""
    lines = []
    for name, meaning in CONTENTS:
        path = folder / name
        if path.is_dir():
            count = sum(1 for _ in path.iterdir())
            lines.append(f"  {name + '/':<18}{meaning} ({count} files)")
        elif path.exists():
            lines.append(f"  {name:<18}{meaning}")
    return lines


def main() -> int:
    """Print the contents of the folder named by the first argument."""
    folder = Path(sys.argv[1])
    lines = told(folder)
    if not lines:
        print(f"nothing of ours lies in {folder}", file=sys.stderr)
        return 1
    print(f"\nThe piece lies in {folder}/:", *lines, sep="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
