"""Full-size templates of the parts: shaped faces, joints and holes, cut down to where they are.

Taken from the worked faces, as the machine's files are. Lengths in mm.
"""

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise

from drawings import polyhedron
from drawings.lettering import size, text_width
from drawings.loops import Loop, Shape, as_loop, box, hull
from drawings.marks import Mark, flat
from drawings.records import Align, Pen, Text
from drawings.seats import face_plane
from drawings.tiling import Piece
from drawings.worked import face_frame, worked_faces
from ground.quantities import Units
from ground.vectors import Plane
from models.parts.assembly import Assembly
from models.parts.blank import FACES
from models.parts.features import Channel, Countersink, Hole, Mortise, Waste
from models.parts.part import Part, PartKind
from models.parts.views import Arc, Line, Point, Stroke

WHOLE = 460.0
"""A shaped face up to this long is shown whole; of a longer one, its ends."""
END = 150.0
"""So much of each end of a long shaped face."""
AROUND = 18.0
"""Wood shown around what is to be laid out."""
NEAR = 70.0
"""Windows nearer to one another than this are one."""
LONGEST = 120.0
"""Channels longer than this are run along a fence, not laid out."""
SQUARE = 1e-6
CROSS = 2.5
"""Half the length of a centre mark beyond its hole's edge."""
LETTER = 2.5
"""Height of the lettering on a template (ISO 3098's list)."""

Span = tuple[float, float]


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
    for face in worked_faces(part):
        seen.add(face.name)
        marks = tuple(mark for mark in face.marks if laid_out(mark))
        shaped = is_shaped(face.outline)
        for window in windows(face.outline, marks, shaped=shaped):
            yield piece(part, face.name, face.outline, face.marks, window, units)
    for name, outline in shaped_faces(part):
        if name not in seen:
            for window in windows(outline, (), shaped=True):
                yield piece(part, name, outline, (), window, units)


def laid_out(mark: Mark) -> bool:
    """Tell whether a mark is one that a template helps to place."""
    match mark.feature:
        case Hole() | Mortise() | Waste() | Countersink():
            return True
        case Channel(length=length):
            return length <= LONGEST
        case _:
            return False


def is_shaped(outline: Shape) -> bool:
    """Tell whether an outline is anything but an upright rectangle."""
    if not isinstance(outline, Loop):
        return False
    (low_u, low_v), (high_u, high_v) = box(outline)
    corners = outline.points
    return any(
        min(abs(u - low_u), abs(u - high_u)) > SQUARE
        or min(abs(v - low_v), abs(v - high_v)) > SQUARE
        for u, v in corners
    )


def shaped_faces(part: Part) -> Iterator[tuple[str, Shape]]:
    """The long faces of a part with slanted sides, each in its true shape."""
    body = polyhedron.base(part)
    names = [facet.name for facet in body]
    if all(name in FACES for name in names):
        return
    for name in dict.fromkeys(names):
        plane = face_plane(part, body, name)
        if abs(plane.normal[0]) > math.cos(math.pi / 4):
            continue
        outline = true_shape(part, body, name, plane)
        if is_shaped(outline):
            yield name, outline


def true_shape(part: Part, body: polyhedron.Body, name: str, plane: Plane) -> Shape:
    """What a face itself covers, seen square to it."""
    frame = face_frame(name, plane, part.blank, body)
    corners = (corner for facet in body if facet.name == name for corner in facet.corners)
    return hull(flat(frame, corners))


def windows(outline: Shape, marks: Iterable[Mark], *, shaped: bool) -> list[Span]:
    """The stretches along a face that are worth paper."""
    (low, _), (high, _) = box(outline)
    spans: list[Span] = []
    for mark in marks:
        (left, _), (right, _) = box(mark.shape)
        spans.append((left - AROUND, right + AROUND))
    if shaped:
        whole = high - low <= WHOLE
        spans += [(low, high)] if whole else [(low, low + END), (high - END, high)]
    found: list[Span] = []
    for start, end in sorted((max(low, a), min(high, b)) for a, b in spans):
        if found and start - found[-1][1] < NEAR:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return [(low if a - low < NEAR else a, high if high - b < NEAR else b) for a, b in found]


def piece(
    part: Part, name: str, outline: Shape, marks: Iterable[Mark], window: Span, units: Units
) -> Piece:
    """One window of a face as a full-size drawing."""
    (low_u, low_v), (high_u, high_v) = box(outline)
    strokes: list[tuple[Pen, Stroke]] = [
        (Pen.VISIBLE, stroke) for stroke in within(sides(outline), window)
    ]
    texts: list[Text] = []
    for mark in marks:
        strokes += marked(mark, window)
        texts += said(mark, window, units)
    for at, end in ((window[0], low_u), (window[1], high_u)):
        if abs(at - end) > SQUARE:
            strokes.append((Pen.CENTRE, Line((at, low_v), (at, high_v))))
    return Piece(
        title=f"{part.label} {part.name}, {name} {where(window, (low_u, high_u), units)}".rstrip(),
        note="",
        low=(window[0], low_v),
        high=(window[1], high_v),
        strokes=tuple(strokes),
        texts=tuple(texts),
    )


def where(window: Span, whole: Span, units: Units) -> str:
    """Where a window begins, from the part's left end."""
    if window[0] - whole[0] <= SQUARE:
        return "" if whole[1] - window[1] <= SQUARE else "(left end)"
    if whole[1] - window[1] <= SQUARE:
        return "(right end)"
    return f"(from {size(window[0] - whole[0], units)} on)"


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


def within(strokes: Iterable[Stroke], window: Span) -> Iterator[Stroke]:
    """What of straight strokes lies between two plumb lines; arcs are kept where they begin in."""
    for stroke in strokes:
        match stroke:
            case Line(start=(u, v), end=(s, t)):
                clipped = clip((u, v), (s, t), window)
                if clipped is not None:
                    yield clipped
            case Arc(centre=(u, _)):
                if window[0] <= u <= window[1]:
                    yield stroke
            case _:
                yield stroke


def clip(start: Point, end: Point, window: Span) -> Line | None:
    """A line cut off at both plumb lines; None where nothing is left."""
    if start[0] > end[0]:
        start, end = end, start
    if end[0] < window[0] or start[0] > window[1]:
        return None
    long = end[0] - start[0]

    def at(u: float) -> Point:
        part = (u - start[0]) / long
        return (u, start[1] + (end[1] - start[1]) * part)

    first = at(window[0]) if start[0] < window[0] else start
    last = at(window[1]) if end[0] > window[1] else end
    return Line(first, last)


def marked(mark: Mark, window: Span) -> Iterator[tuple[Pen, Stroke]]:
    """The outline of a mark, and a centre mark where it is round."""
    (left, low), (right, high) = box(mark.shape)
    if right < window[0] or left > window[1]:
        return
    for stroke in within(sides(mark.shape), window):
        yield (Pen.THIN, stroke)
    if isinstance(mark.feature, Hole | Countersink):
        u, v = (left + right) / 2, (low + high) / 2
        arm = (right - left) / 2 + CROSS
        yield (Pen.THIN, Line((u - arm, v), (u + arm, v)))
        yield (Pen.THIN, Line((u, v - arm), (u, v + arm)))


def said(mark: Mark, window: Span, units: Units) -> Iterator[Text]:
    """Bit and depth beside a mark."""
    (left, low), (right, high) = box(mark.shape)
    if right < window[0] or left > window[1] or not laid_out(mark):
        return
    deep = "through" if mark.depth is None else f"{size(mark.depth, units)} deep"
    match mark.feature:
        case Hole(diameter=diameter):
            text = f"\N{DIAMETER SIGN}{size(diameter, Units.MM)} {deep}"
        case Countersink(diameter=diameter):
            text = f"countersink \N{DIAMETER SIGN}{size(diameter, Units.MM)}"
        case _:
            text = f"{mark.feature.kind} {deep}"
    level = (low + high) / 2 - LETTER / 2
    wide, clear = text_width(text, LETTER), CROSS + 1.0
    if wide <= window[1] - right - clear:
        yield Text(at=(right + clear, level), text=text, height=LETTER)
    elif wide <= left - window[0] - clear:
        yield Text(at=(left - clear, level), text=text, height=LETTER, align=Align.RIGHT)
