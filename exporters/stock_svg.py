"""sheets/NAME.svg: the picture of a sheet or board as it is cut, for a screen or a printer."""

from collections.abc import Iterator
from html import escape
from typing import assert_never

from exporters.names import plain
from exporters.stock_picture import Box, Layer, Line, Mark, Words, picture
from ground.quantities import Units
from planning.cutting.records import Stock

FILLS = {
    Layer.STOCK: "#ffffff",
    Layer.PART: "#efe0c4",
    Layer.OFFCUT: "#dcebdc",
    Layer.WASTE: "#f0f0f0",
    Layer.KEEP_OUT: "#e6c8c8",
}
INKS = {Layer.CUT: "#b00000", Layer.GRAIN: "#606060"}
INK = "#202020"
FONT = 1.35
"""Size of a font to the height of its capitals, about."""
PAPER = 380.0
"""Width of the picture as it is shown (mm): a landscape sheet of A3 within its margins."""


def stock_svg(stock: Stock, units: Units) -> bytes:
    """Draw a sheet or board with its saw list."""
    shown = picture(stock, units)
    wide, high = shown.size
    margin = wide / 60
    high -= shown.low
    box = f"{-margin:.1f} {-margin:.1f} {wide + 2 * margin:.1f} {high + 2 * margin:.1f}"
    thin = wide / 1600
    body = [line for mark in shown.marks for line in drawn(mark, stock.size[1], thin)]
    ratio = (high + 2 * margin) / (wide + 2 * margin)
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg"'
        f' width="{PAPER:.0f}mm" height="{PAPER * ratio:.1f}mm" viewBox="{box}"'
        f' font-family="sans-serif">'
    )
    title = f"<title>{escape(plain(stock.id))}</title>"
    return "\n".join([head, title, *body, "</svg>", ""]).encode()


def drawn(mark: Mark, top: float, thin: float) -> Iterator[str]:
    """One mark; y runs down from the sheet's upper edge."""
    ink = INKS.get(mark.layer, INK)
    match mark:
        case Line(start=(x1, y1), end=(x2, y2)):
            dashed = f' stroke-dasharray="{6 * thin:.2f}"' if mark.layer is Layer.CUT else ""
            yield (
                f'<line x1="{x1:.2f}" y1="{top - y1:.2f}" x2="{x2:.2f}" y2="{top - y2:.2f}"'
                f' stroke="{ink}" stroke-width="{thin:.2f}"{dashed}/>'
            )
        case Box(at=(x, y), size=(w, h)):
            yield (
                f'<rect x="{x:.2f}" y="{top - y - h:.2f}" width="{w:.2f}" height="{h:.2f}"'
                f' fill="{FILLS[mark.layer]}" stroke="{ink}" stroke-width="{thin:.2f}"/>'
            )
        case Words(at=(x, y), text=text, height=height):
            shown = escape(plain(text))
            look = f'font-size="{height * FONT:.2f}" fill="{ink}"'
            yield f'<text x="{x:.2f}" y="{top - y:.2f}" {look}>{shown}</text>'
        case _:
            assert_never(mark)
