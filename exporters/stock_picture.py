"""The picture of a sheet or board as it is cut: lines and words at full size, by layer.

Parts with their labels, the grain, the cuts numbered in order of work with the fence settings
listed beside them, offcuts named and dimensioned. Two writers draw it: DXF and SVG.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from ground.quantities import Units, length_text
from models.parts.blank import Grain
from planning.cutting.records import Node, NodeKind, Saw, Step, Stock, walk
from planning.cutting.steps import names

LETTER = 1 / 110
"""Height of letters as a share of the picture's longer side."""
SMALLEST = 4.0
"""No letter is smaller than this at full size (mm)."""
PITCH = 1.7
"""From one line to the next, in letter heights."""
WIDE = 0.62
"""Mean width of a letter in its heights."""

SAW_WORDS = {Saw.ALONG: "along", Saw.ACROSS: "across", Saw.RESAW: "resaw"}


class Layer(StrEnum):
    """What a line or a word belongs to."""

    STOCK = "STOCK"
    PART = "PARTS"
    OFFCUT = "OFFCUTS"
    WASTE = "WASTE"
    CUT = "CUTS"
    GRAIN = "GRAIN"
    KEEP_OUT = "KEEP-OUT"
    TEXT = "TEXT"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line (mm)."""

    layer: Layer
    start: tuple[float, float]
    end: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A closed rectangle: its lower left corner and its size (mm)."""

    layer: Layer
    at: tuple[float, float]
    size: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of text, its lower left corner and the height of its letters (mm)."""

    layer: Layer
    at: tuple[float, float]
    text: str
    height: float


Mark = Line | Box | Words


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """Everything to draw, and the corner it reaches to (mm)."""

    marks: tuple[Mark, ...]
    size: tuple[float, float]


def picture(stock: Stock, units: Units) -> Picture:
    """Draw a sheet or board, its saw list on the right."""
    letter = max(SMALLEST, max(stock.size[:2]) * LETTER)
    numbers = {step.piece: step for step in stock.steps}
    table = list(saw_lines(stock, units))
    left = stock.size[0] + 4 * letter
    lines = [
        Words(
            layer=Layer.TEXT,
            at=(left, stock.size[1] - (n + 1) * PITCH * letter),
            text=text,
            height=letter,
        )
        for n, text in enumerate(table)
    ]
    longest = max((len(text) for text in table), default=0)
    return Picture(
        marks=(*_pieces(stock, units, letter), *_cuts(stock, numbers, letter), *lines),
        size=(
            left + longest * WIDE * letter,
            max(stock.size[1], (len(table) + 1) * PITCH * letter),
        ),
    )


# ---- pieces


def _pieces(stock: Stock, units: Units, letter: float) -> Iterator[Mark]:
    yield Box(layer=Layer.STOCK, at=(0.0, 0.0), size=stock.size[:2])
    for x, y, length, width in stock.keep_out:
        yield Box(layer=Layer.KEEP_OUT, at=(x, y), size=(length, width))
        yield Line(layer=Layer.KEEP_OUT, start=(x, y), end=(x + length, y + width))
    called = names(stock.root, {step.piece: step.number for step in stock.steps})
    for node in walk(stock.root):
        layer = _layer(node)
        if layer is not None:
            yield Box(layer=layer, at=(node.x, node.y), size=(node.l, node.w))
            yield from _label(node, called[node.id], units, letter)
    yield from _grain(stock, letter)


def _layer(node: Node) -> Layer | None:
    match node.kind:
        case NodeKind.PART | NodeKind.SPARE:
            return Layer.PART
        case NodeKind.OFFCUT:
            return Layer.OFFCUT
        case NodeKind.WASTE:
            return Layer.WASTE
        case NodeKind.CUT:
            return None


def _label(node: Node, called: str, units: Units, letter: float) -> Iterator[Mark]:
    """The name and the size of a piece, as large as it has room for."""
    layer = _layer(node)
    if layer is None or layer is Layer.WASTE:
        return
    size = f"{length_text(node.l, units)} x {length_text(node.w, units)}"
    words = [called, size]
    if node.placed is not None:
        words = [f"{node.placed.copy} {node.placed.name}", size + _which(node)]
    if node.w < len(words) * PITCH * SMALLEST:
        words = [" ".join(words)]
    longest = max(map(len, words))
    height = min(letter, node.l / (longest * WIDE + 1), node.w / (len(words) * PITCH + 0.5))
    for place, text in enumerate(words):
        at = (node.x + height / 2, node.y + node.w - (place + 1) * PITCH * height)
        yield Words(layer=layer, at=at, text=text, height=height)


def _which(node: Node) -> str:
    """Which layer or stave of a glued-up part it is, and whether it lies turned."""
    placed = node.placed
    if placed is None:
        return ""
    notes = [f"layer {placed.layer}"] if placed.layer > 1 else []
    notes += [f"piece {placed.stave}"] if placed.stave > 1 else []
    return f" {', '.join(notes)}" if notes else ""


def _grain(stock: Stock, letter: float) -> Iterator[Mark]:
    """An arrow with two heads along the grain, beside the lower left corner."""
    if stock.grain is Grain.NONE:
        return
    long = 12 * letter
    along = stock.grain is Grain.LENGTH
    start = (0.0, -letter) if along else (-letter, 0.0)
    end = (start[0] + long, start[1]) if along else (start[0], start[1] + long)
    yield Line(layer=Layer.GRAIN, start=start, end=end)
    for tip, way in ((start, 1.0), (end, -1.0)):
        for side in (-0.4, 0.4):
            u, v = (way, side) if along else (side, way)
            back = (tip[0] + u * letter, tip[1] + v * letter)
            yield Line(layer=Layer.GRAIN, start=tip, end=back)


# ---- cuts


def _cuts(stock: Stock, numbers: dict[str, Step], letter: float) -> Iterator[Mark]:
    """The line of every saw cut, with its number halfway along."""
    for node in walk(stock.root):
        if node.cut is None:
            continue
        middle = node.at + node.kerf / 2
        if node.cut is Saw.ACROSS:
            start, end = (node.x + middle, node.y), (node.x + middle, node.y + node.w)
        elif node.cut is Saw.ALONG:
            start, end = (node.x, node.y + middle), (node.x + node.l, node.y + middle)
        else:
            continue
        yield Line(layer=Layer.CUT, start=start, end=end)
        number = str(numbers[node.id].number)
        height = min(0.8 * letter, max(SMALLEST, min(node.l, node.w) / 3))
        yield Words(layer=Layer.CUT, at=middle_of(start, end), text=number, height=height)


def middle_of(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """Halfway along a cut, clear of its line."""
    return ((start[0] + end[0]) / 2 + 1.0, (start[1] + end[1]) / 2 + 1.0)


def saw_lines(stock: Stock, units: Units) -> Iterator[str]:
    """The saw list as lines of text: number, way, fence setting, what comes off."""
    length, width, thick = (length_text(side, units) for side in stock.size)
    bought = "to buy" if stock.new else "in the rack"
    yield f"{stock.id}: {stock.material}, {length} x {width} x {thick} {units.value}, {bought}"
    yield "no.  piece, cut, fence: what comes off"
    for step in stock.steps:
        tilt = f", blade at {step.tilt:g} degrees" if step.tilt else ""
        setting = length_text(step.setting, units)
        gives = step.gives or "nothing"
        what = f"{step.of}, {SAW_WORDS[step.saw]}, {setting}{tilt}"
        yield f"{step.number}.  {what}: {gives}"
