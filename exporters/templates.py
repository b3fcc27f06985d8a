"""templates.pdf: full-size paper templates, tiled, after a page that says how to print them."""

import re
from typing import Any

from drawings.tiling import Leaf, Piece, leaves
from drawings.title_block import size_of
from exporters.names import plain
from exporters.tiles import BARS, leaves_svg
from exporters.typeset import pdf
from specs.spec import Paper

WINDOW = re.compile(r" \((?:left end|right end|begins [^()]*)\)")
"""What a template's title says of the stretch of its face."""

HOW = (
    "Print every page at 100 %: “actual size”, never “fit to page”.",
    (
        "Measure both bars below and those on each leaf with a steel rule. Off by more than"
        " 0.2 mm: do not use the leaf."
    ),
    (
        "Leaves of one large template bear letters and numbers: A1, A2 … from the left, B1 …"
        " above. Cut one along its dashed line and lay it on the next so that the crosses meet."
    ),
    (
        "Stick the paper to the wood with its edge on the edge that the line shows; prick the"
        " crosses of holes through with an awl."
    ),
)


def templates_pdf(pieces: tuple[Piece, ...], paper: Paper, title: str) -> bytes:
    """Set all templates.

    Raises:
        BuildError: the pages cannot be set.
    """
    laid = leaves(pieces, paper)
    pictures = leaves_svg(laid, paper, plain(title))
    data = {
        "title": plain(title),
        "what": "full-size templates",
        "paper": list(size_of(paper)),
        "how": numbered(HOW),
        "bars": [list(bar) for bar in BARS],
        "list-head": "What is here, and on which leaf",
        "list": [list(entry) for entry in listed(laid)],
        "rolls": [],
        "leaves": leaf_entries(laid, pictures),
    }
    return pdf("leaves", data, pictures)


def numbered(lines: tuple[str, ...]) -> list[list[str]]:
    """Lines with their numbers."""
    return [[f"{place}.", line] for place, line in enumerate(lines, 1)]


def leaf_entries(laid: tuple[Leaf, ...], pictures: dict[str, str]) -> list[dict[str, Any]]:
    """The pages: a title for the bookmarks, and the picture."""
    return [
        {"title": plain(title_of(leaf)), "picture": name}
        for leaf, name in zip(laid, pictures, strict=True)
    ]


def title_of(leaf: Leaf) -> str:
    """What a leaf's bookmark says."""
    titles = [patch.title for patch in leaf.patches]
    return titles[0] if len(titles) == 1 else f"{titles[0]} and {len(titles) - 1} more"


def listed(laid: tuple[Leaf, ...]) -> list[tuple[str, str]]:
    """Every face with the leaves that its templates are on."""
    found: dict[str, list[int]] = {}
    for place, leaf in enumerate(laid, 1):
        for patch in leaf.patches:
            face = WINDOW.sub("", patch.piece.title)
            found.setdefault(plain(face), []).append(place)
    return [(title, runs(places)) for title, places in found.items()]


def runs(places: list[int]) -> str:
    """Numbers of leaves, those that follow one another as from – to: ``1–3, 7``."""
    found: list[list[int]] = []
    for place in sorted(set(places)):
        if found and place == found[-1][-1] + 1:
            found[-1].append(place)
        else:
            found.append([place])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in found)
