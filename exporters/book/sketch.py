"""A small sketch with sizes: shapes at a scale that fits, lettering always the same height."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

from drawings.records import Align, Text
from exporters import svg_kit
from models.parts.views import Line, Point

LETTERS = 2.4
"""Height of capitals (mm)."""
THICK, THIN = 0.35, 0.18
"""Width of outlines and of dimension lines (mm)."""
ARROW = 1.8
"""Length of an arrow (mm)."""
SIGN = 0.8
"""Mean width of a sign in its heights."""
WOOD, PALE, DARK = "#efe0c4", "#f7f2e8", "#b9b2a8"
INK, SOFT, ACCENT = "#1f1f1f", "#6b6660", "#b4441c"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A closed outline; one that only shows where something lies is drawn dashed."""

    points: tuple[Point, ...]
    fill: str = WOOD
    dashed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A round hole."""

    at: Point
    radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A size between two points, its line ``off`` (paper mm) to the left of the way there."""

    start: Point
    end: Point
    text: str
    off: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Words at a place, ``shift`` paper mm from it, turned by degrees."""

    at: Point
    text: str
    shift: Point = (0.0, 0.0)
    turned: float = 0.0
    align: Align = Align.CENTRE
    colour: str = INK


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """Everything on it; ``margins`` (left, under, right, over; paper mm) hold what is lettered."""

    shapes: tuple[Shape, ...]
    rings: tuple[Ring, ...] = ()
    sizes: tuple[Size, ...] = ()
    notes: tuple[Note, ...] = ()
    lines: tuple[tuple[Point, Point], ...] = ()
    margins: tuple[float, float, float, float] = field(default=(6.0, 8.0, 6.0, 8.0))


def svg(sketch: Sketch, room: Point) -> str:
    """Draw a sketch as large as ``room`` (paper mm) lets it, always as wide as the room."""
    points = [point for shape in sketch.shapes for point in shape.points]
    low = (min(u for u, _ in points), min(v for _, v in points))
    high = (max(u for u, _ in points), max(v for _, v in points))
    left, under, right, over = sketch.margins
    wide, tall = max(high[0] - low[0], 1e-6), max(high[1] - low[1], 1e-6)
    scale = min((room[0] - left - right) / wide, (room[1] - under - over) / tall)
    spare = (room[0] - wide * scale - left - right) / 2
    paper = svg_kit.Paper(
        scale=scale, left=left + spare - low[0] * scale, floor=over + high[1] * scale
    )
    return svg_kit.page((room[0], tall * scale + under + over), body(sketch, paper))


def body(sketch: Sketch, paper: svg_kit.Paper) -> Iterable[str]:
    """Shapes first, lettering on top."""
    for shape in sketch.shapes:
        yield outline(shape, paper)
    for ring in sketch.rings:
        x, y = paper.at(ring.at)
        yield (
            f'<circle cx="{svg_kit.number(x)}" cy="{svg_kit.number(y)}"'
            f' r="{svg_kit.number(max(ring.radius * paper.scale, 0.35))}" fill="#fff"'
            f' stroke="{INK}" stroke-width="{THICK}"/>'
        )
    thin = svg_kit.Look(width=THIN, colour=SOFT, dashes=(2.2, 0.8, 0.4, 0.8))
    yield svg_kit.lines([Line(a, b) for a, b in sketch.lines], paper, thin)
    for size in sketch.sizes:
        yield from sized(size, paper)
    for note in sketch.notes:
        x, y = paper.at(note.at)
        text = Text(
            at=(0.0, 0.0), text=note.text, height=LETTERS, align=note.align, turned=note.turned
        )
        yield svg_kit.lettered(text, (x + note.shift[0], y - note.shift[1]), fill=note.colour)


def outline(shape: Shape, paper: svg_kit.Paper) -> str:
    """A closed outline."""
    points = " ".join(paper.said(point).replace(" ", ",") for point in shape.points)
    dashes = ' stroke-dasharray="1.4 0.8"' if shape.dashed else ""
    return (
        f'<polygon points="{points}" fill="{"none" if shape.dashed else shape.fill}"'
        f' stroke="{INK}" stroke-width="{THIN if shape.dashed else THICK}"'
        f' stroke-linejoin="round"{dashes}/>'
    )


def sized(size: Size, paper: svg_kit.Paper) -> Iterable[str]:
    """A dimension: two thin lines out, one between with arrows, the number over it."""
    (x1, y1), (x2, y2) = paper.at(size.start), paper.at(size.end)
    long = math.hypot(x2 - x1, y2 - y1)
    if long < 1e-9:  # noqa: PLR2004 - nothing to measure
        return
    u, v = (x2 - x1) / long, (y2 - y1) / long
    aside = (v * size.off, -u * size.off)
    (a1, b1), (a2, b2) = (x1 + aside[0], y1 + aside[1]), (x2 + aside[0], y2 + aside[1])
    reach = 1.0 + 1.0 / max(abs(size.off), 1.0)
    rules = [(x1, y1, x1 + aside[0] * reach, y1 + aside[1] * reach)]
    rules += [(x2, y2, x2 + aside[0] * reach, y2 + aside[1] * reach), (a1, b1, a2, b2)]
    path = "".join(f"M{number(a)} {number(b)}L{number(c)} {number(d)}" for a, b, c, d in rules)
    yield f'<path d="{path}" fill="none" stroke="{SOFT}" stroke-width="{THIN}"/>'
    inside = long >= 2 * ARROW + 1
    for x, y, way in ((a1, b1, 1.0), (a2, b2, -1.0)):
        yield head(x, y, (u * way, v * way) if inside else (-u * way, -v * way))
    yield number_of(size, ((a1 + a2) / 2, (b1 + b2) / 2), (u, v), long)


def wide(text: str) -> float:
    """About how wide a number is (mm)."""
    return len(text) * LETTERS * SIGN


def number_of(size: Size, middle: Point, way: Point, long: float) -> str:
    """The number of a dimension, on the outer side of its line and never upside down."""
    u, v = way
    turned = -math.degrees(math.atan2(v, u))
    if abs(turned) > 90.0 - 1e-6 and not math.isclose(turned, 90.0):
        turned -= math.copysign(180.0, turned)
    side = math.copysign(1.0, size.off)
    out = (v * side, -u * side)
    rise = (-math.sin(math.radians(turned)), -math.cos(math.radians(turned)))
    above = rise[0] * out[0] + rise[1] * out[1] > 0
    far = LETTERS * (0.4 if above else 1.4)
    # where the number is longer than its line it stands beside the line's end
    beside = wide(size.text) / 2 + long / 2 + 2 * ARROW if wide(size.text) > long else 0.0
    if beside:
        far = LETTERS * (-0.5 if above else 0.5)
    place = (middle[0] + out[0] * far + u * beside, middle[1] + out[1] * far + v * beside)
    text = Text(at=(0.0, 0.0), text=size.text, height=LETTERS, align=Align.CENTRE, turned=turned)
    return svg_kit.lettered(text, place, fill=INK)


def head(x: float, y: float, way: Point) -> str:
    """An arrow's head with its tip at a place; ``way`` leads from the tip to its back."""
    u, v = way
    back = (x + u * ARROW, y + v * ARROW)
    wing = ARROW * 0.16
    return (
        f'<path d="M{number(x)} {number(y)}L{number(back[0] - v * wing)}'
        f" {number(back[1] + u * wing)}L{number(back[0] + v * wing)}"
        f' {number(back[1] - u * wing)}Z" fill="{SOFT}"/>'
    )


number = svg_kit.number
