"""rod.dxf and rod.pdf: the setting-out rod at full size, on one strip, on rolls, on leaves."""

from typing import Any

from drawings.records import Pen, Text
from drawings.rod import strip
from drawings.tiling import HEAD, Patch, Piece, leaves
from drawings.title_block import size_of
from exporters import dxf_kit, svg_kit
from exporters.names import dxf_text, plain
from exporters.templates import leaf_entries, numbered
from exporters.tiles import BARS, foot, leaves_svg, patch_svg
from exporters.typeset import pdf
from models.parts.views import Point
from specs.spec import Paper

HOW = (
    (
        "The rod shows the piece cut plumb and level, at full size. Take sizes off it with a knife;"
        " do not measure twice."
    ),
    (
        "Beside every section stands a line for each part's edges: two ticks and the part's label."
        " Lay the stock on the rod and prick the ticks over."
    ),
    (
        "First come the sections whole, for a roll of paper; then the same on leaves. Print at"
        " 100 %, “actual size”, and measure both bars with a steel rule."
    ),
    (
        "Join leaves by their letters and numbers: A1, A2 … from the left, B1 … above. Cut one"
        " along its dashed line and lay it on the next so that the crosses meet."
    ),
)
EDGE = 12.0
"""Paper around a section on a roll (mm)."""
FOOT = 18.0
LAYERS = {
    Pen.VISIBLE: ("OUTLINE", dxf_kit.Pen(width=35)),
    Pen.THIN: ("LINES", dxf_kit.Pen(colour=8, width=18)),
}
NOTES = "LABELS"


def rod_dxf(pieces: tuple[Piece, ...]) -> bytes:
    """The whole rod as one strip in model space, full size, millimetres."""
    document = dxf_kit.new_document()
    dxf_kit.add_layers(document, dict(LAYERS.values()) | {NOTES: dxf_kit.Pen(width=25)})
    space = document.modelspace()
    for piece, at in strip(pieces):
        shift = (at[0] - piece.low[0], at[1] - piece.low[1])
        for pen, stroke in piece.strokes:
            dxf_kit.draw_stroke(space, stroke, LAYERS[pen][0], shift)
        title = Text(at=(piece.low[0], piece.high[1] + HEAD), text=piece.title, height=5.0)
        for text in (*piece.texts, title):
            shown = dxf_text(text.text)
            place = (text.at[0] + shift[0], text.at[1] + shift[1])
            line = space.add_text(
                shown, height=text.height, rotation=text.turned, dxfattribs={"layer": NOTES}
            )
            line.dxf.insert = place
            if text.align.value == "centre":
                line.dxf.halign = 1
                line.dxf.align_point = place
    return dxf_kit.dxf_bytes(document)


def rod_pdf(pieces: tuple[Piece, ...], paper: Paper, title: str) -> bytes:
    """The sections on rolls, then on leaves.

    Raises:
        BuildError: the pages cannot be set.
    """
    laid = leaves(pieces, paper)
    pictures = leaves_svg(laid, paper, plain(f"{title}, rod"))
    rolls: list[dict[str, Any]] = []
    for place, piece in enumerate(pieces, 1):
        name = f"roll-{place}.svg"
        size = roll_size(piece)
        pictures[name] = roll_svg(piece, size, plain(title))
        entry = {"title": plain(f"roll: {piece.title}"), "picture": name, "size": list(size)}
        rolls.append(entry)
    shown = {name: picture for name, picture in pictures.items() if name.startswith("leaf")}
    data = {
        "title": plain(title),
        "what": "setting-out rod",
        "paper": list(size_of(paper)),
        "how": numbered(HOW),
        "bars": [list(bar) for bar in BARS],
        "list-head": "",
        "list": [],
        "rolls": rolls,
        "leaves": leaf_entries(laid, shown),
    }
    return pdf("leaves", data, pictures)


def roll_size(piece: Piece) -> Point:
    """Paper for one section with its title and the bars."""
    wide = max(piece.size[0], 240.0)
    return (wide + 2 * EDGE, piece.size[1] + 2 * EDGE + HEAD + FOOT)


def roll_svg(piece: Piece, size: Point, title: str) -> str:
    """One section on a piece of roll."""
    at = (EDGE, EDGE + FOOT)
    window = (at, (at[0] + piece.size[0], at[1] + piece.size[1]))
    page = svg_kit.Paper(scale=1.0, left=0.0, floor=size[1])
    patch = Patch(piece=piece, at=at, window=window, title=piece.title)
    body = (*patch_svg(patch, page, 0), *foot(page, size, f"{title}, rod"))
    return svg_kit.page(size, body)
