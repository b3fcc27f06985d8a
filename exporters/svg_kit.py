"""Paths and lettering of SVG 1.1 as the PDF's pages take them in: y down, numbers in paper mm."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from typing import assert_never

from drawings.lettering import DIAMETER, FRACTION, STACKED
from drawings.records import Align, Text
from exporters.names import plain
from models.parts.views import Arc, Curve, Line, Point, Stroke

FONT = "Inter"
CAPITAL = 2048 / 2816
"""Height of a capital to the font's size (the font's own OS/2 table): heights are capitals'."""
NARROWED = 0.97
"""Lettering is drawn this much smaller than its height, so that no line outgrows its room."""
FULL_TURN = 360.0
ANCHORS = {Align.LEFT: "start", Align.CENTRE: "middle", Align.RIGHT: "end"}


def number(value: float) -> str:
    """A length on paper, to a tenth of a micrometre: sizes stay true at full size."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def page(size: Point, body: Iterable[str]) -> str:
    """A whole picture ``size`` paper mm wide and high."""
    wide, high = number(size[0]), number(size[1])
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm"'
        f' viewBox="0 0 {wide} {high}">{"".join(body)}</svg>'
    )


class Paper:
    """Puts points of a view (v up) onto a page (y down) at a scale."""

    def __init__(self, *, scale: float, left: float, floor: float) -> None:
        self.scale, self.left, self.floor = scale, left, floor

    def at(self, point: Point) -> Point:
        """Where a point lies on the page."""
        return (self.left + point[0] * self.scale, self.floor - point[1] * self.scale)

    def said(self, point: Point) -> str:
        """A point as a path names it."""
        x, y = self.at(point)
        return f"{number(x)} {number(y)}"

    def path(self, stroke: Stroke) -> str:
        """A stroke as a piece of a path."""
        match stroke:
            case Line(start=start, end=end):
                return f"M{self.said(start)}L{self.said(end)}"
            case Curve(points=points):
                first, *rest = points
                return f"M{self.said(first)}" + "".join(f"L{self.said(point)}" for point in rest)
            case Arc():
                return self._arc(stroke)
        assert_never(stroke)

    def _arc(self, arc: Arc) -> str:
        """An arc counter-clockwise on paper; a full circle in two halves."""
        if arc.end - arc.start >= FULL_TURN - 1e-9:
            middle = arc.start + FULL_TURN / 2
            halves = (arc.start, middle), (middle, arc.start + FULL_TURN)
            return "".join(self._arc(Arc(arc.centre, arc.radius, a, b)) for a, b in halves)
        radius = number(arc.radius * self.scale)
        large = 1 if arc.end - arc.start > FULL_TURN / 2 else 0
        start, end = (self.said(on_circle(arc, turn)) for turn in (arc.start, arc.end))
        return f"M{start}A{radius} {radius} 0 {large} 0 {end}"


def on_circle(arc: Arc, degrees: float) -> Point:
    """The point of an arc's circle at an angle."""
    turn = math.radians(degrees)
    (u, v), r = arc.centre, arc.radius
    return (u + r * math.cos(turn), v + r * math.sin(turn))


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How lines are drawn: ``width`` and ``dashes`` in paper mm."""

    width: float
    colour: str = "#000"
    dashes: tuple[float, ...] = ()


def lines(strokes: Iterable[Stroke], paper: Paper, look: Look) -> str:
    """Strokes as one path."""
    drawn = "".join(paper.path(stroke) for stroke in strokes)
    if not drawn:
        return ""
    dashed = " ".join(map(number, look.dashes))
    dashes = f' stroke-dasharray="{dashed}"' if look.dashes else ' stroke-linecap="round"'
    return (
        f'<path d="{drawn}" fill="none" stroke="{look.colour}"'
        f' stroke-width="{number(look.width)}" stroke-linejoin="round"{dashes}/>'
    )


def lettered(text: Text, at: Point, *, fill: str = "#000") -> str:
    """One line of text at a place of the page, capitals ``text.height`` high, fractions stacked."""
    shown = plain(text.text).replace(DIAMETER, "\N{LATIN CAPITAL LETTER O WITH STROKE}")
    if not shown:
        return ""
    size = text.height / CAPITAL * NARROWED
    x, y = number(at[0]), number(at[1])
    turned = f' transform="rotate({number(-text.turned)} {x} {y})"' if text.turned else ""
    return (
        f'<text x="{x}" y="{y}" font-family="{FONT}" font-size="{number(size)}" fill="{fill}"'
        f' text-anchor="{ANCHORS[text.align]}" xml:space="preserve"{turned}>'
        f"{stacked(shown, size)}</text>"
    )


def stacked(text: str, size: float) -> str:
    """A text's fractions with their figures up and down."""
    found: list[str] = []
    last = 0
    small, rise = number(size * STACKED), size * 0.32
    for match in FRACTION.finditer(text):
        found.append(escape(text[last : match.start()]))
        whole = f"{match['whole']} " if match["whole"] else ""
        top, under = match["top"] or match["t"], match["under"] or match["u"]
        found.append(
            f'{whole}<tspan font-size="{small}" dy="{number(-rise)}">{top}</tspan>'
            f'<tspan font-size="{small}" dy="{number(rise)}">/</tspan>'
            f'<tspan font-size="{small}">{under}</tspan>'
        )
        last = match.end()
    return "".join((*found, escape(text[last:])))
