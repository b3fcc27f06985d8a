"""Full-size templates of the parts: shaped faces, joints and holes, cut down to where they are.

Taken from the worked faces, as the machine's files are. Lengths in mm.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from drawings.laying import is_shaped, laid, shaped_faces
from drawings.lettering import size, text_box
from drawings.loops import Loop, Shape, as_loop, box
from drawings.marks import Mark
from drawings.records import Align, Pen, Text
from drawings.tiling import Piece
from drawings.worked import worked_faces
from ground.quantities import Units
from models.parts.assembly import Assembly
from models.parts.features import Channel, ChannelKind, Countersink, Hole, Mortise, Waste
from models.parts.part import Part, PartKind
from models.parts.views import Arc, Line, Point, Stroke

WHOLE = 380.0
"""A shaped face up to this long is shown whole; of a longer one, its ends."""
END = 150.0
"""So much of each end of a long shaped face."""
AROUND = 18.0
"""Wood shown around what is to be laid out."""
NEAR = 40.0
"""Windows nearer to one another than this are one."""
EDGE = 90.0
"""A window this near an edge goes out to it."""
LONGEST = 120.0
"""Of a channel longer than this, which is run along a fence, its ends are laid out."""
CHANNEL_END = 30.0
"""So much of each end."""
SQUARE = 1e-6
CROSS = 2.5
"""Half the length of a centre mark beyond its hole's edge."""
LETTER = 2.5
"""Height of the lettering on a template (ISO 3098's list)."""


def templates(assembly: Assembly, units: Units) -> tuple[Piece, ...]:
    """Every template of the piece, part by part."""
    wanted = (PartKind.LUMBER, PartKind.SHEET)
    return tuple(
        piece
        for part in assembly.parts
        if part.made and part.kind in wanted
        for piece in of_part(part, units)
    )


def of_part(part: Part, units: Units) -> Iterator[Piece]:
    """The templates of one part: each face that is shaped, jointed or drilled, its windows."""
    seen: set[str] = set()
    edges = {one.face: one.edge for one in laid(part)}
    for face in worked_faces(part):
        seen.add(face.name)
        if isinstance(face.outline, Loop) and not face.outline.corners:
            continue  # nothing is left of the face: there is nothing to lay a template on
        marks = [spot for mark in face.marks for spot in spots(mark)]
        shaped = is_shaped(face.outline)
        for window in windows(face.outline, marks, shaped=shaped):
            made = piece(part, face.name, face.outline, face.marks, window, units)
            yield with_edge(made, edges.get(face.name))
    for name, outline in shaped_faces(part):
        if name not in seen:
            for window in windows(outline, (), shaped=True):
                yield with_edge(piece(part, name, outline, (), window, units), edges.get(name))


def with_edge(made: Piece, edge: str | None) -> Piece:
    """A template that says on which edge of the part it is laid, where its angles count from."""
    if edge is None:
        return made
    return replace(made, title=f"{made.title}, laid on the {edge}")


def laid_out(mark: Mark) -> bool:
    """Tell whether a mark is one that a template helps to place."""
    match mark.feature:
        case Hole() | Mortise() | Waste() | Countersink():
            return True
        case Channel(length=length):
            return length <= LONGEST
        case _:
            return False


Box = tuple[Point, Point]
"""The lower left and the upper right corner of an upright rectangle."""


def spots(mark: Mark) -> list[Box]:
    """What of a mark is to be laid out: all of it, or the two ends of a long channel."""
    if laid_out(mark):
        return [box(mark.shape)]
    (left, low), (right, high) = box(mark.shape)
    if not isinstance(mark.feature, Channel) or mark.feature.kind is ChannelKind.RABBET:
        return []
    if right - left > high - low:
        return [
            ((left, low), (left + CHANNEL_END, high)),
            ((right - CHANNEL_END, low), (right, high)),
        ]
    return [
        ((left, low), (right, low + CHANNEL_END)),
        ((left, high - CHANNEL_END), (right, high)),
    ]


def windows(outline: Shape, marks: Iterable[Box], *, shaped: bool) -> list[Box]:
    """The stretches of a face that are worth paper, each out to an edge that it is laid on."""
    whole = box(outline)
    (low_u, low_v), (high_u, high_v) = whole
    found = [grown(spot, AROUND) for spot in marks]
    if shaped:
        ends = [(low_u, high_u)]
        if high_u - low_u > WHOLE:
            ends = [(low_u, low_u + END), (high_u - END, high_u)]
        found += [((a, low_v), (b, high_v)) for a, b in ends]
    return sorted(to_edges(one, whole) for one in together(found))


def together(boxes: list[Box]) -> list[Box]:
    """Rectangles that are near one another made one."""
    found: list[Box] = []
    for one in sorted(boxes):
        joined = one
        while True:
            near = next((other for other in found if meet(joined, other)), None)
            if near is None:
                break
            found.remove(near)
            joined = around(joined, near)
        found.append(joined)
    return found


def grown(one: Box, by: float) -> Box:
    """A rectangle with a margin."""
    (a, b), (c, d) = one
    return (a - by, b - by), (c + by, d + by)


def meet(one: Box, other: Box) -> bool:
    """Tell whether two rectangles are near one another."""
    (a, b), (c, d) = one
    (e, f), (g, h) = other
    return a - NEAR < g and e < c + NEAR and b - NEAR < h and f < d + NEAR


def around(one: Box, other: Box) -> Box:
    """The rectangle around two."""
    (a, b), (c, d) = one
    (e, f), (g, h) = other
    return (min(a, e), min(b, f)), (max(c, g), max(d, h))


def to_edges(one: Box, whole: Box) -> Box:
    """A rectangle kept on the face, out to its nearer edges: across always, along where near."""
    (a, b), (c, d) = one
    (low_u, low_v), (high_u, high_v) = whole
    a, b, c, d = max(a, low_u), max(b, low_v), min(c, high_u), min(d, high_v)
    below, above = b - low_v, high_v - d
    b = low_v if below <= max(above, EDGE) else b
    d = high_v if above <= max(below, EDGE) and (b > low_v or above <= EDGE) else d
    a = low_u if a - low_u <= EDGE else a
    c = high_u if high_u - c <= EDGE else c
    return (a, b), (c, d)


def piece(
    part: Part, name: str, outline: Shape, marks: Iterable[Mark], window: Box, units: Units
) -> Piece:
    """One window of a face as a full-size drawing."""
    (low_u, low_v), (high_u, high_v) = whole = box(outline)
    strokes: list[tuple[Pen, Stroke]] = [
        (Pen.VISIBLE, stroke) for stroke in within(sides(outline), window)
    ]
    taken: list[Box] = []
    texts: list[Text] = []
    for mark in marks:
        strokes += marked(mark, window)
        taken += [box(mark.shape), *around_cross(mark)]
    told: set[str] = set()
    for mark in marks:
        if mark.feature.id not in told and (text := said(mark, window, taken, units)) is not None:
            texts.append(text)
            taken.append(text_box(text))
            told.add(mark.feature.id)
    (a, b), (c, d) = window
    breaks = (
        (a > low_u + SQUARE, (a, b), (a, d)),
        (c < high_u - SQUARE, (c, b), (c, d)),
        (b > low_v + SQUARE, (a, b), (c, b)),
        (d < high_v - SQUARE, (a, d), (c, d)),
    )
    strokes += [(Pen.CENTRE, Line(start, end)) for cut, start, end in breaks if cut]
    return Piece(
        title=f"{part.label} {part.name}, {name} {where(window, whole, units)}".rstrip(),
        note="",
        low=window[0],
        high=window[1],
        strokes=tuple(strokes),
        texts=tuple(texts),
    )


def where(window: Box, whole: Box, units: Units) -> str:
    """Where a window begins, from the part's left end."""
    (low, _), (high, _) = whole
    (left, _), (right, _) = window
    if left - low <= SQUARE:
        return "" if high - right <= SQUARE else "(left end)"
    if high - right <= SQUARE:
        return "(right end)"
    return f"(begins {size(left - low, units)} from the left end)"


def sides(shape: Shape) -> Iterator[Stroke]:
    """A closed shape as lines and arcs."""
    if isinstance(shape, Arc):
        yield shape
        return
    corners = as_loop(shape).corners
    for (u, v, bulge), (next_u, next_v, _) in pairwise((*corners, corners[0])):
        if abs(bulge) < SQUARE:
            yield Line((u, v), (next_u, next_v))
        else:
            yield arc((u, v), (next_u, next_v), bulge)


def arc(start: Point, end: Point, bulge: float) -> Arc:
    """The arc of an edge with a bulge, counter-clockwise."""
    if bulge < 0:
        start, end, bulge = end, start, -bulge
    sweep = 4 * math.atan(bulge)
    chord = math.dist(start, end)
    radius = chord / 2 / math.sin(sweep / 2)
    rise = radius * math.cos(sweep / 2)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    along = ((end[0] - start[0]) / chord, (end[1] - start[1]) / chord)
    centre = (middle[0] - along[1] * rise, middle[1] + along[0] * rise)
    turn = math.degrees(math.atan2(start[1] - centre[1], start[0] - centre[0]))
    return Arc(centre, radius, turn, turn + math.degrees(sweep))


def within(strokes: Iterable[Stroke], window: Box) -> Iterator[Stroke]:
    """What of straight strokes lies in a window; arcs are kept where their centres are in it."""
    (left, low), (right, high) = window
    for stroke in strokes:
        match stroke:
            case Line(start=start, end=end):
                clipped = clip(start, end, window)
                if clipped is not None:
                    yield clipped
            case Arc(centre=(u, v)):
                if left <= u <= right and low <= v <= high:
                    yield stroke
            case _:
                yield stroke


def clip(start: Point, end: Point, window: Box) -> Line | None:
    """A line cut off at the edges of a window; None where nothing is left of it."""
    first, last = 0.0, 1.0
    for axis in (0, 1):
        run = end[axis] - start[axis]
        low, high = window[0][axis] - start[axis], window[1][axis] - start[axis]
        if abs(run) < SQUARE:
            if low > SQUARE or high < -SQUARE:
                return None
            continue
        near, far = sorted((low / run, high / run))
        first, last = max(first, near), min(last, far)
    if first >= last:
        return None

    def at(part: float) -> Point:
        return (start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part)

    return Line(at(first), at(last))


def inside(shape: Shape, window: Box) -> bool:
    """Tell whether the middle of a shape is in a window."""
    (left, low), (right, high) = box(shape)
    u, v = (left + right) / 2, (low + high) / 2
    return window[0][0] <= u <= window[1][0] and window[0][1] <= v <= window[1][1]


def marked(mark: Mark, window: Box) -> Iterator[tuple[Pen, Stroke]]:
    """The outline of a mark, and a centre mark where it is round."""
    for stroke in within(sides(mark.shape), window):
        yield (Pen.THIN, stroke)
    if mark.centre is None or not isinstance(mark.feature, Hole | Countersink):
        return
    arms = around_cross(mark)
    if not inside(mark.shape, window):
        return
    u, v = mark.centre
    for (left, low), (right, high) in arms:
        ends = ((left, v), (right, v)) if right - left > high - low else ((u, low), (u, high))
        arm = clip(*ends, window)
        if arm is not None:
            yield (Pen.THIN, arm)


def around_cross(mark: Mark) -> list[Box]:
    """The boxes of the two arms of a hole's centre mark; it is where the bit goes in."""
    if mark.centre is None or not isinstance(mark.feature, Hole | Countersink):
        return []
    u, v = mark.centre
    arm = (mark.size or 0.0) / 2 + CROSS
    return [
        ((u - arm, v - SQUARE), (u + arm, v + SQUARE)),
        ((u - SQUARE, v - arm), (u + SQUARE, v + arm)),
    ]


def said(mark: Mark, window: Box, taken: Iterable[Box], units: Units) -> Text | None:
    """Bit and depth beside a mark, where there is room; the part's sheet says them in any case."""
    if not inside(mark.shape, window) or not laid_out(mark):
        return None
    deep = "through" if mark.depth is None else f"{size(mark.depth, units)} deep"
    match mark.feature:
        case Hole(diameter=diameter):
            words = f"\N{DIAMETER SIGN}{size(diameter, Units.MM)} {deep}"
        case Countersink(diameter=diameter):
            words = f"countersink \N{DIAMETER SIGN}{size(diameter, Units.MM)}"
        case _:
            words = f"{mark.feature.kind} {deep}"
    (left, low), (right, high) = box(mark.shape)
    u, v, clear = (left + right) / 2, (low + high) / 2, CROSS + 1.0
    places = (
        ((right + clear, v - LETTER / 2), Align.LEFT),
        ((left - clear, v - LETTER / 2), Align.RIGHT),
        ((u, high + clear), Align.CENTRE),
        ((u, low - clear - LETTER), Align.CENTRE),
    )
    for at, align in places:
        text = Text(at=at, text=words, height=LETTER, align=align)
        (a, b), (c, d) = text_box(text)
        free = a >= window[0][0] and c <= window[1][0] and b >= window[0][1] and d <= window[1][1]
        if free and not any(cross((a, b), (c, d), other) for other in taken):
            return text
    return None


def cross(low: Point, high: Point, other: Box) -> bool:
    """Tell whether two rectangles share room."""
    (a, b), (c, d) = other
    return low[0] < c and a < high[0] and low[1] < d and b < high[1]
