"""The picture of a sheet or board as it is cut: lines and words at full size, by layer.

Parts with their labels, the grain, the cuts numbered in order of work with the fence settings
listed beside them, offcuts named and dimensioned. Two writers draw it: DXF and SVG.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from ground.quantities import Units, length_text
from models.parts.blank import Grain
from planning.cutting.records import Node, NodeKind, Placed, Saw, Step, Stock, walk
from planning.cutting.steps import names

LETTER = 1 / 110
"""Height of letters as a share of the picture's longer side."""
SMALLEST = 4.0
"""No letter is smaller than this at full size (mm)."""
READABLE = 0.6
"""Letters are not made smaller than this share for the sake of a name."""
PITCH = 1.7
"""From one line to the next, in letter heights."""
WIDE = 0.8
"""Mean width of a letter in heights of its capitals."""

LOW = (0.2, *(place / 40 for place in range(1, 40)))
"""How far up a cut across its number may stand, and how far from the end of one along."""

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
    """Everything to draw, and how far it reaches (mm): right, up, and ``low`` below the stock."""

    marks: tuple[Mark, ...]
    size: tuple[float, float]
    low: float


def picture(stock: Stock, units: Units) -> Picture:
    """Draw a sheet or board, its saw list on the right; under a slim board, in columns."""
    letter = max(SMALLEST, max(stock.size[:2]) * LETTER)
    title, *table = saw_lines(stock, units)
    across = (max(map(len, table)) + 2) * WIDE * letter
    rows = len(table)
    left, top = stock.size[0] + 4 * letter, stock.size[1]
    if (rows + 2) * PITCH * letter > stock.size[1]:
        rows = math.ceil(rows / max(1, int(stock.size[0] / across)))
        left, top = 0.0, -2 * PITCH * letter
    at = [(left, top - PITCH * letter)]
    at += [
        (left + n // rows * across, top - (n % rows + 2) * PITCH * letter)
        for n in range(len(table))
    ]
    lines = [
        Words(layer=Layer.TEXT, at=place, text=text, height=letter)
        for place, text in zip(at, (title, *table), strict=True)
    ]
    columns = math.ceil(len(table) / rows)
    wide = left + max(columns * across, len(title) * WIDE * letter)
    return Picture(
        marks=(*laid_out(stock, units, letter), *lines),
        low=min(-2 * letter, top - (rows + 2) * PITCH * letter),
        size=(max(stock.size[0], wide), stock.size[1]),
    )


def laid_out(stock: Stock, units: Units, letter: float) -> tuple[Mark, ...]:
    """What lies where, and the cuts; letters are ``letter`` high at full size (mm)."""
    numbers = {step.piece: step for step in stock.steps}
    pieces = tuple(_pieces(stock, units, letter))
    named = [mark for mark in pieces if isinstance(mark, Words)]
    return (*pieces, *_cuts(stock, numbers, letter, named))


# ---- pieces


def _pieces(stock: Stock, units: Units, letter: float) -> Iterator[Mark]:
    yield Box(layer=Layer.STOCK, at=(0.0, 0.0), size=stock.size[:2])
    for x, y, length, width in stock.keep_out:
        yield Box(layer=Layer.KEEP_OUT, at=(x, y), size=(length, width))
        yield Line(layer=Layer.KEEP_OUT, start=(x, y), end=(x + length, y + width))
    called = names(stock.root, {step.piece: step.number for step in stock.steps})
    lying: dict[tuple[float, float, float, float], list[Node]] = defaultdict(list)
    for node in walk(stock.root):
        layer = _layer(node)
        if layer is not None:
            yield Box(layer=layer, at=(node.x, node.y), size=(node.l, node.w))
            lying[node.x, node.y, node.l, node.w].append(node)
    for nodes in lying.values():
        yield from _label(nodes, called, units, letter)
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


def _label(
    nodes: Sequence[Node], called: dict[str, str], units: Units, letter: float
) -> Iterator[Mark]:
    """The name and the size of a piece, or of resawn ones, as large as there is room for."""
    shown = [node for node in nodes if _layer(node) not in {None, Layer.WASTE}]
    if not shown:
        return
    node, *others = shown
    size = f"{length_text(node.l, units)} x {length_text(node.w, units)}"
    words = [called[node.id], size]
    if node.placed is not None:
        words = [_named([n.placed for n in shown if n.placed is not None]), size + _which(node)]
        words[1] += f", {len(shown)} resawn" if others else ""
    if node.w < len(words) * PITCH * SMALLEST:
        words = [" ".join(words)]
    height = _fitting(words, node, letter)
    if node.placed is not None and height < READABLE * letter:
        # the name is in every list: where there is no room for it the label says all
        words = [", ".join(dict.fromkeys(n.placed.copy for n in shown if n.placed is not None))]
        height = _fitting(words, node, letter)
    for place, text in enumerate(words):
        at = (node.x + height / 2, node.y + node.w - (place + 1) * PITCH * height)
        yield Words(layer=_layer(node) or Layer.TEXT, at=at, text=text, height=height)


def _fitting(words: Sequence[str], node: Node, letter: float) -> float:
    """How high letters may be for lines to fit into a piece (mm)."""
    longest = max(map(len, words))
    return min(letter, node.l / (longest * WIDE + 1), node.w / (len(words) * PITCH + 0.5))


def _named(parts: Sequence[Placed]) -> str:
    """Their copies, each with its name; a name is said once for those that share it."""
    copies: dict[str, list[str]] = defaultdict(list)
    for placed in parts:
        if placed.copy not in copies[placed.name]:
            copies[placed.name].append(placed.copy)
    return ", ".join(f"{', '.join(found)} {name}" for name, found in copies.items())


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
    word = (end[0] + letter, end[1] - letter / 2) if along else (start[0] - letter, end[1] + letter)
    yield Words(layer=Layer.GRAIN, at=word, text="grain", height=0.8 * letter)
    for tip, way in ((start, 1.0), (end, -1.0)):
        for side in (-0.4, 0.4):
            u, v = (way, side) if along else (side, way)
            back = (tip[0] + u * letter, tip[1] + v * letter)
            yield Line(layer=Layer.GRAIN, start=tip, end=back)


# ---- cuts


def _cuts(
    stock: Stock, numbers: dict[str, Step], letter: float, named: Sequence[Words]
) -> Iterator[Mark]:
    """The line of every saw cut, with its number beside it where no name of a piece stands."""
    taken = list(named)
    # the shortest first: they have the fewest places for their numbers
    for node in sorted(walk(stock.root), key=_cut_length):
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
        long = len(number) * WIDE if node.cut is Saw.ACROSS else 1.0
        room = min(_after(node) / long, min(node.l, node.w) / 3)
        height = min(0.8 * letter, max(SMALLEST, room))
        words = [
            Words(layer=Layer.CUT, at=place, text=number, height=tall)
            for tall in (height, SMALLEST)  # smaller where there is no room
            for place in _beside(start, end, (len(number) * WIDE * tall, tall))
        ]
        clear = min(words, key=lambda word: sum(_meet(word, other) for other in taken))
        taken.append(clear)
        yield clear


def _cut_length(node: Node) -> float:
    return node.w if node.cut is Saw.ACROSS else node.l


def _after(node: Node) -> float:
    """From a cut to the next one beside it, or to the end of the piece (mm)."""
    rest = node.children[-1]
    if rest.cut is node.cut:
        return rest.at or rest.kerf
    return rest.l if node.cut is Saw.ACROSS else rest.w


def _beside(
    start: tuple[float, float], end: tuple[float, float], size: tuple[float, float]
) -> Iterator[tuple[float, float]]:
    """Places close to a cut for a number of a ``size``: after it, then before it.

    The first is clear of the names in the upper left corners as they mostly are.
    """
    across = start[0] == end[0]
    for before in (False, True):
        off = (size[0] + 2.0, 0.0) if across else (0.0, size[1] + 2.0)
        for low in LOW:
            part = low if across else 1 - low
            x, y = (a + (b - a) * part for a, b in zip(start, end, strict=True))
            yield (x + 1.0 - before * off[0], y + 1.0 - before * off[1])


def _meet(one: Words, other: Words) -> bool:
    """Tell whether two lines of text share room."""
    (x, y), (u, v) = one.at, other.at
    beside = x + _long(one) <= u or u + _long(other) <= x
    return not beside and not (y + one.height <= v or v + other.height <= y)


def _long(words: Words) -> float:
    return len(words.text) * WIDE * words.height


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
