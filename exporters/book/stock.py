"""How sheets and boards are sawn up: a picture as wide as the page, the saw list under it."""

from collections.abc import Iterable
from itertools import pairwise
from typing import Any

from exporters.book.tables import TIMES, size
from exporters.names import plain
from exporters.stock_picture import SAW_WORDS, Mark, Words, laid_out
from exporters.stock_svg import drawn
from exporters.svg_kit import number
from ground.quantities import Units, angle_text
from planning.cutting.records import NodeKind, Stock, leaves, yielded

WIDE, HIGH, TALL = 172.0, 92.0, 165.0
"""Room of a picture (mm); a sheet that stands upright may be ``TALL``."""
UPRIGHT = 1.2
"""A sheet this much wider than it is long stands upright on the page."""
SLIM, PARTS, LONGER = 7.0, 2, 0.56
"""A board this much longer than wide is drawn in two parts, either up to so much of its length."""
SIGN = 0.8
"""Mean width of a letter in its heights."""
LETTERS = 2.2
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
        drawings = {
            f"layout-{place}-{part}.svg": found
            for part, found in enumerate(pictures_of(stock, units), 1)
        }
        pictures |= {name: drawing for name, (drawing, _) in drawings.items()}
        entries.append(
            {
                "title": plain(f"{stock.id}: {stock.material}"),
                "facts": plain(facts(stock, units)),
                "pictures": [[name, wide] for name, (_, wide) in drawings.items()],
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


def pictures_of(stock: Stock, units: Units) -> list[tuple[str, float]]:
    """The sheet as it is cut, and how wide it stands on the page (mm); a slim board in two parts.

    A board is parted on the page only, where the fewest words are cut.
    """
    length, width = stock.size[:2]
    slim = length > SLIM * width
    parts = PARTS if slim else 1
    high = TALL if width > UPRIGHT * length else HIGH
    scale = min((WIDE - EDGE) / (length / parts), (high - EDGE) / width)
    if slim:
        scale = (WIDE - EDGE) / (length * LONGER)
    marks = laid_out(stock, units, LETTERS / scale)
    ends = [0.0, parting(marks, length), length] if slim else [0.0, length]
    body = "".join(line for mark in marks for line in drawn(mark, width, LINE / scale))
    return [window(body, (low, high), width, scale) for low, high in pairwise(ends)]


def parting(marks: Iterable[Mark], length: float) -> float:
    """Where a slim board is parted on the page: near its middle, through as few words as can be."""
    words = [
        (mark.at[0], mark.at[0] + len(mark.text) * SIGN * mark.height)
        for mark in marks
        if isinstance(mark, Words)
    ]
    middle = length / 2
    places = [middle + side * n * length / 200 for n in range(11) for side in (1, -1)]
    return min(
        places,
        key=lambda place: (sum(a < place < b for a, b in words), abs(place - middle), place),
    )


def window(body: str, ends: tuple[float, float], width: float, scale: float) -> tuple[str, float]:
    """What of a picture lies between two places along it, and how wide that is (mm)."""
    room, hair = EDGE / scale, 1 / scale
    left = -room if ends[0] == 0 else ends[0]
    right = ends[1] + hair
    box = " ".join(map(number, (left, -hair, right - left, width + room + hair)))
    wide, tall = (right - left) * scale, (width + room + hair) * scale
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(wide)}mm"'
        f' height="{number(tall)}mm" viewBox="{box}" font-family="Inter">{body}</svg>'
    ), wide
