"""Leaves of full-size drawings as SVG, one a page: true size, marks to join them, bars to check."""

from collections.abc import Iterator

from drawings.paper import NARROW, WIDE
from drawings.records import Align, Pen, Text
from drawings.tiling import MARGIN, TITLE, Leaf, Patch
from drawings.title_block import size_of
from exporters import svg_kit
from models.parts.views import Arc, Curve, Line, Point, Stroke
from specs.spec import Paper

INCH = 25.4
BARS = ((100.0, "100 mm"), (4 * INCH, "4 in"))
"""Check bars on every leaf: their length and what they say."""
BAR_RISE = 2.0
CROSS = 6.0
"""Arm of a registration cross (mm)."""
SMALL = 2.5
NEAR = 1e-6
"""A stroke on the edge of a window lies in it (mm)."""
LOOKS = {
    Pen.VISIBLE: svg_kit.Look(width=0.35),
    Pen.HIDDEN: svg_kit.Look(width=NARROW, colour="#444", dashes=(3.0, 0.75)),
    Pen.CENTRE: svg_kit.Look(width=NARROW, dashes=(6.0, 0.75, 0.2, 0.75)),
    Pen.THIN: svg_kit.Look(width=0.18),
    Pen.EDGED: svg_kit.Look(width=WIDE, dashes=(6.0, 1.5, 0.25, 1.5)),
    Pen.FRAME: svg_kit.Look(width=WIDE),
}
"""Lines of full-size drawings are thin: a knife is set on them."""
TRIM = svg_kit.Look(width=0.18, colour="#777", dashes=(2.0, 1.0))
MARK = svg_kit.Look(width=0.25)


def leaf_svg(leaf: Leaf, paper: Paper, piece: str, number: str) -> str:
    """One leaf: its patches, its marks, the bars and what it is of."""
    size = size_of(paper)
    page = svg_kit.Paper(scale=1.0, left=0.0, floor=size[1])
    return svg_kit.page(size, _body(leaf, page, size, f"{piece}, leaf {number}"))


def _body(leaf: Leaf, page: svg_kit.Paper, size: Point, named: str) -> Iterator[str]:
    for place, patch in enumerate(leaf.patches):
        yield from patch_svg(patch, page, place)
    yield svg_kit.lines([Line(a, b) for a, b in leaf.trims], page, TRIM)
    yield svg_kit.lines([line for at in leaf.crosses for line in _cross(at)], page, MARK)
    yield svg_kit.lines([Arc(at, CROSS / 3, 0.0, 360.0) for at in leaf.crosses], page, MARK)
    yield from foot(page, size, named)


def patch_svg(patch: Patch, page: svg_kit.Paper, place: int) -> Iterator[str]:
    """What of a piece lies on this leaf, clipped to its window."""
    (left, low), (right, high) = patch.window
    x, y = page.at((left, high))
    box = " ".join(
        f'{name}="{svg_kit.number(value)}"'
        for name, value in (("x", x), ("y", y), ("width", right - left), ("height", high - low))
    )
    grown = box if _clipped(patch) else None
    shift = (patch.at[0] - patch.piece.low[0], patch.at[1] - patch.piece.low[1])
    moved = svg_kit.Paper(scale=1.0, left=page.left + shift[0], floor=page.floor - shift[1])
    if grown is not None:
        yield f'<clipPath id="c{place}"><rect {grown}/></clipPath><g clip-path="url(#c{place})">'
    strokes: dict[Pen, list[Stroke]] = {}
    for pen, stroke in patch.piece.strokes:
        if _touches(stroke, shift, patch.window):
            strokes.setdefault(pen, []).append(stroke)
    for pen, drawn in strokes.items():
        yield svg_kit.lines(drawn, moved, LOOKS[pen])
    if grown is not None:
        yield "</g>"
    for text in patch.piece.texts:
        at = (text.at[0] + shift[0], text.at[1] + shift[1])
        if left <= at[0] <= right and low <= at[1] <= high:
            yield svg_kit.lettered(text, page.at(at))
    title = Text(at=(left, high + 1.6), text=patch.title, height=TITLE)
    yield svg_kit.lettered(title, page.at(title.at))


def _clipped(patch: Patch) -> bool:
    """Tell whether a piece reaches beyond its window."""
    (left, low), (right, high) = patch.window
    wide, tall = patch.piece.size
    return wide > right - left + NEAR or tall > high - low + NEAR


def _touches(stroke: Stroke, shift: Point, window: tuple[Point, Point]) -> bool:
    """Tell whether a stroke's box meets the window."""
    match stroke:
        case Line(start=a, end=b):
            points: tuple[Point, ...] = (a, b)
        case Arc(centre=(u, v), radius=r):
            points = ((u - r, v - r), (u + r, v + r))
        case Curve(points=found):
            points = found
    us, vs = [p[0] + shift[0] for p in points], [p[1] + shift[1] for p in points]
    (left, low), (right, high) = window
    level = max(us) >= left - NEAR and min(us) <= right + NEAR
    return level and max(vs) >= low - NEAR and min(vs) <= high + NEAR


def _cross(at: Point) -> tuple[Line, Line]:
    """The two arms of a registration mark."""
    u, v = at
    return Line((u - CROSS, v), (u + CROSS, v)), Line((u, v - CROSS), (u, v + CROSS))


def foot(page: svg_kit.Paper, size: Point, named: str) -> Iterator[str]:
    """The check bars, and what the leaf is of."""
    base = MARGIN + 2.0
    at = MARGIN + 2.0
    for long, said in BARS:
        bar = [
            Line((at, base), (at + long, base)),
            Line((at, base - BAR_RISE), (at, base + BAR_RISE)),
            Line((at + long, base - BAR_RISE), (at + long, base + BAR_RISE)),
        ]
        yield svg_kit.lines(bar, page, MARK)
        middle = (at + long / 2, base + 1.2)
        text = Text(at=middle, text=said, height=SMALL, align=Align.CENTRE)
        yield svg_kit.lettered(text, page.at(middle))
        base += 6.0
    place = (size[0] - MARGIN - 1.0, MARGIN + 2.0)
    yield svg_kit.lettered(
        Text(at=place, text=named, height=SMALL, align=Align.RIGHT), page.at(place)
    )


def _numbered(place: int, count: int) -> str:
    return f"{place} of {count}"


def leaves_svg(leaves: tuple[Leaf, ...], paper: Paper, piece: str) -> dict[str, str]:
    """Every leaf by the name that the page knows it by."""
    return {
        f"leaf-{place}.svg": leaf_svg(leaf, paper, piece, _numbered(place, len(leaves)))
        for place, leaf in enumerate(leaves, 1)
    }
