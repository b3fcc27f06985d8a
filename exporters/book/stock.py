"""How sheets and boards are sawn up: a picture as wide as the page, the saw list under it."""

from collections.abc import Iterable
from typing import Any

from exporters.book.tables import TIMES, size
from exporters.names import plain
from exporters.stock_picture import SAW_WORDS, laid_out
from exporters.stock_svg import drawn
from exporters.svg_kit import number
from ground.quantities import Units, angle_text
from planning.cutting.records import NodeKind, Stock, leaves, yielded

WIDE, HIGH, TALL = 172.0, 92.0, 165.0
"""Room of a picture (mm); a sheet that stands upright may be ``TALL``."""
UPRIGHT = 1.2
"""A sheet this much wider than it is long stands upright on the page."""
LETTERS = 1.9
"""Height of capitals on the page (mm)."""
LINE = 0.2
"""Width of a line on the page (mm)."""
EDGE = 5.0
"""Room for the grain arrow outside the sheet (mm on the page)."""


def told(found: Iterable[Stock], units: Units) -> tuple[list[dict[str, Any]], dict[str, str]]:
    """Every sheet and board with its saw list, and the pictures by name."""
    entries: list[dict[str, Any]] = []
    pictures: dict[str, str] = {}
    for place, stock in enumerate(found, 1):
        name = f"layout-{place}.svg"
        pictures[name], wide = picture(stock, units)
        entries.append(
            {
                "title": plain(f"{stock.id}: {stock.material}"),
                "facts": plain(facts(stock, units)),
                "picture": name,
                "wide": wide,
                "steps": list(steps(stock, units)),
            }
        )
    return entries, pictures


def facts(stock: Stock, units: Units) -> str:
    """Its size, where it is from, how many parts it gives, how much of it becomes parts."""
    made = TIMES.join(size(side, units) for side in stock.size)
    unit = " mm" if units is Units.MM else ""
    where = "to buy" if stock.new else "in the rack"
    parts = sum(leaf.kind is NodeKind.PART for leaf in leaves(stock.root))
    pieces = f"{parts} {'piece' if parts == 1 else 'pieces'}"
    return f"{made}{unit}, {where}; {pieces}, {yielded(stock):.0%} of it becomes parts"


def steps(stock: Stock, units: Units) -> Iterable[dict[str, Any]]:
    """The saw list: number, what is cut which way, the fence, what comes off."""
    for step in stock.steps:
        tilt = f", blade {angle_text(step.tilt)}°" if step.tilt else ""
        yield {
            "number": step.number,
            "what": plain(f"{step.of}, {SAW_WORDS[step.saw]}{tilt}"),
            "fence": size(step.setting, units),
            "gives": plain(step.gives or "nothing"),
        }


def picture(stock: Stock, units: Units) -> tuple[str, float]:
    """The sheet as it is cut, and how wide it stands on the page (mm)."""
    length, width = stock.size[:2]
    high = TALL if width > UPRIGHT * length else HIGH
    scale = min((WIDE - EDGE) / length, (high - EDGE) / width)
    room = EDGE / scale
    box = f"{number(-room)} {number(-1 / scale)} {number(length + room + 1 / scale)}"
    wide, tall = (length + room) * scale + 1, (width + room) * scale + 1
    body = "".join(
        line
        for mark in laid_out(stock, units, LETTERS / scale)
        for line in drawn(mark, width, LINE / scale)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(wide)}mm"'
        f' height="{number(tall)}mm" viewBox="{box} {number(width + room + 1 / scale)}"'
        f' font-family="Inter">{body}</svg>'
    ), wide
