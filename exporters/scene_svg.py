"""A drawn scene as SVG: what stands in thin grey-black, what moves bold in a colour, arrows."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from drawings.book.tags import Tag
from drawings.records import Align, Text
from exporters import svg_kit
from models.parts.scenes import Drawn
from models.parts.views import Arc, Curve, Line, Point, Stroke

STANDING, MOVING, HIDDEN = 0.22, 0.42, 0.18
"""Line widths (mm on paper)."""
MARKED = "#b4441c"
"""The colour of what moves: dark enough to stay readable in grey."""
PLAIN = "#2b2b2b"
HEAD, SHAFT = 4.2, 1.0
"""Length of an arrow's head, width of its shaft (mm)."""
MARGIN = 4.0
LETTERS = 2.1
"""Height of a label's capitals (mm)."""
HIGH, BESIDE = 3.7, 0.95
"""Height of a label's field, and what it leaves free at either end (mm)."""
WIDE = 0.86
"""Mean width of a label's sign in its heights."""
SMALL, CLEAR = 2.2, 0.7
"""What is less than so many labels long has its label beside it, this far off (mm)."""
SEEN, CROWDED = 0.35, 0.15
"""What moves is drawn through where less than this share of its lines is seen; many, or few."""
MANY = 400
"""More lines than this, dashed, say nothing any more."""

Arrow = tuple[Point, Point]


def extent(drawn: Drawn, arrows: Iterable[Arrow] = ()) -> tuple[Point, Point]:
    """What the lines of a scene and its arrows reach over (mm in the scene's own size)."""
    strokes = (*drawn.standing, *drawn.moving, *drawn.hidden)
    points = [point for stroke in strokes for point in ends(stroke)]
    points += [point for arrow in arrows for point in arrow]
    us, vs = [u for u, _ in points] or [0.0], [v for _, v in points] or [0.0]
    return (min(us), min(vs)), (max(us), max(vs))


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What is drawn over a scene: arrows from tail to head, labels."""

    arrows: tuple[Arrow, ...] = ()
    tags: tuple[Tag, ...] = ()


def scene_svg(drawn: Drawn, room: Point, marks: Marks = Marks(), tint: str = "") -> str:
    """Draw a scene as large as ``room`` (paper mm) lets it; ``tint`` lies under its lines."""
    arrows = marks.arrows
    low, high = extent(drawn, arrows)
    wide, tall = max(high[0] - low[0], 1.0), max(high[1] - low[1], 1.0)
    scale = min((room[0] - 2 * MARGIN) / wide, (room[1] - 2 * MARGIN) / tall)
    size = (wide * scale + 2 * MARGIN, tall * scale + 2 * MARGIN)
    paper = svg_kit.Paper(scale=scale, left=MARGIN - low[0] * scale, floor=MARGIN + high[1] * scale)
    under = (
        f'<image x="{MARGIN}" y="{MARGIN}" width="{svg_kit.number(wide * scale)}"'
        f' height="{svg_kit.number(tall * scale)}" preserveAspectRatio="none" href="{tint}"/>'
        if tint
        else ""
    )
    return svg_kit.page(size, (under, *body(drawn, paper, marks, size)))


def body(drawn: Drawn, paper: svg_kit.Paper, marks: Marks, size: Point) -> Iterable[str]:
    """Everything on the page, what matters most on top."""
    yield svg_kit.lines(drawn.standing, paper, svg_kit.Look(width=STANDING, colour=PLAIN))
    if through(drawn):
        look = svg_kit.Look(width=HIDDEN, colour=MARKED, dashes=(1.1, 0.7))
        yield svg_kit.lines(drawn.hidden, paper, look)
    yield svg_kit.lines(drawn.moving, paper, svg_kit.Look(width=MOVING, colour=MARKED))
    far = size[0] + size[1]
    wide, tall = size
    # what lies outside the page is taken
    taken: list[Field] = [
        (-far, -far, 0.0, far),
        (wide, -far, far, far),
        (-far, -far, far, 0.0),
        (-far, tall, far, far),
    ]
    for tail, head in marks.arrows:
        start, end = paper.at(tail), paper.at(head)
        taken.append(around(start, end))
        yield arrow(start, end)
    for tag in marks.tags:
        yield from label(tag, paper, taken)


def through(drawn: Drawn) -> bool:
    """Tell whether what moves is mostly hidden."""
    seen, unseen = sum(map(reach, drawn.moving)), sum(map(reach, drawn.hidden))
    if not drawn.standing:
        return False
    crowded = len(drawn.moving) + len(drawn.hidden) > MANY
    return seen < (CROWDED if crowded else SEEN) * (seen + unseen)


def reach(stroke: Stroke) -> float:
    """About how long a stroke is."""
    points = ends(stroke)
    return math.fsum(math.hypot(a[0] - b[0], a[1] - b[1]) for a, b in pairwise(points))


def ends(stroke: Stroke) -> tuple[Point, ...]:
    """Points that say how far a stroke reaches."""
    match stroke:
        case Line(start=start, end=end):
            return (start, end)
        case Arc():
            turns = [stroke.start + (stroke.end - stroke.start) * part / 8 for part in range(9)]
            return tuple(svg_kit.on_circle(stroke, turn) for turn in turns)
        case Curve(points=points):
            return points


def arrow(tail: Point, head: Point) -> str:
    """A broad arrow of even size, whatever the scale."""
    du, dv = head[0] - tail[0], head[1] - tail[1]
    long = math.hypot(du, dv)
    if long < HEAD:
        return ""
    u, v = du / long, dv / long
    neck = (head[0] - u * HEAD, head[1] - v * HEAD)
    half, wing = SHAFT / 2, HEAD * 0.38
    corners = (
        (tail[0] - v * half, tail[1] + u * half),
        (neck[0] - v * half, neck[1] + u * half),
        (neck[0] - v * wing, neck[1] + u * wing),
        head,
        (neck[0] + v * wing, neck[1] - u * wing),
        (neck[0] + v * half, neck[1] - u * half),
        (tail[0] + v * half, tail[1] - u * half),
    )
    path = "L".join(f"{svg_kit.number(x)} {svg_kit.number(y)}" for x, y in corners)
    return f'<path d="M{path}Z" fill="{MARKED}" stroke="#fff" stroke-width="0.25"/>'


Field = tuple[float, float, float, float]
"""A rectangle of the page: left, top, right, bottom (mm)."""


def around(start: Point, end: Point) -> Field:
    """What an arrow covers."""
    return (
        min(start[0], end[0]) - 1.0,
        min(start[1], end[1]) - 1.0,
        max(start[0], end[0]) + 1.0,
        max(start[1], end[1]) + 1.0,
    )


def label(tag: Tag, paper: svg_kit.Paper, taken: list[Field]) -> Iterable[str]:
    """A label in its field, at the first of its places that is free; none where none is."""
    wide = len(tag.text) * LETTERS * WIDE + 2 * BESIDE
    for x, y in spots(tag, paper, wide):
        field = (x - wide / 2, y - HIGH / 2, x + wide / 2, y + HIGH / 2)
        if not any(meet(field, other) for other in taken):
            break
    else:
        return
    taken.append(field)
    colour = MARKED if tag.marked else PLAIN
    number = svg_kit.number
    yield (
        f'<rect x="{number(field[0])}" y="{number(field[1])}" width="{number(wide)}"'
        f' height="{HIGH}" rx="0.9" fill="#fff" stroke="{colour}" stroke-width="0.2"/>'
    )
    text = Text(at=(0.0, 0.0), text=tag.text, height=LETTERS, align=Align.CENTRE)
    yield svg_kit.lettered(text, (x, y + LETTERS / 2), fill=colour)


def spots(tag: Tag, paper: svg_kit.Paper, wide: float) -> list[Point]:
    """Where a label may stand: on what it names, or beside it where it would cover it."""
    across, high = tag.half[0] * paper.scale, tag.half[1] * paper.scale
    if 2 * across > SMALL * wide or 2 * high > SMALL * HIGH:
        return [paper.at(place) for place in tag.places]
    x, y = paper.at(tag.places[0])
    aside, over = across + wide / 2 + CLEAR, high + HIGH / 2 + CLEAR
    return [(x + aside, y), (x - aside, y), (x, y - over), (x, y + over)]


def meet(one: Field, other: Field) -> bool:
    """Tell whether two fields overlap."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
