"""The setting-out rod: plumb and level sections at full size, every part's edges on lines beside.

Level sections lie with the front below; plumb ones are laid down, the floor to the left, the front
below, so that heights run along the rod. Beside each section stands a lane for every edge: two
ticks and a label, to be taken off with a knife. Lengths in mm.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import assert_never

from drawings.lettering import text_box, text_width
from drawings.records import Align, Pen, Text
from drawings.tiling import Piece
from ground.order import natural
from ground.vectors import Plane, Vec, X, Y, Z, neg
from models.parts.assembly import Assembly, Opening
from models.parts.part import PartKind
from models.parts.scenes import Crossed
from models.parts.views import Arc, Curve, Line, Point, SectionCut, Stroke

OFF = 0.137
"""Planes stand this much off the middle (mm): no part is cut along one of its own faces."""
LETTER = 3.5
"""Height of the lettering (ISO 3098's list)."""
LANE = 7.0
"""From lane to lane beside a section."""
TICK = 2.2
CLEAR = 2.0
BESIDE = 6.0
"""From a section to its first lane."""
APART = 40.0
"""Between two sections on the rod."""
SAME = 3
"""Sections that are alike to so many decimals are drawn once."""

Span = tuple[float, float]


# ---- where to cut


def cuts(assembly: Assembly) -> tuple[SectionCut, ...]:
    """The planes of the rod: level through base and openings, plumb through legs and openings."""
    made = {part.label for part in assembly.parts if part.made}
    reaches = {copy.id: reach(assembly, copy.id) for copy in assembly.copies if copy.label in made}
    base = [reaches[c.id] for c in assembly.copies if c.group[0] == "base" and c.id in reaches]
    found: list[SectionCut] = []
    if base:
        found.append(level("level, through the base", busiest([low_high(r, 2) for r in base])))
    for names, at in stabbed(
        [(o.id, (o.corner[2], o.corner[2] + o.height)) for o in in_order(assembly)]
    ):
        found.append(level(f"level, through {openings_said(names)}", at))
    if base:
        found.append(plumb("plumb, through the legs", busiest([low_high(r, 0) for r in base])))
    for names, at in stabbed(
        [(o.id, (o.corner[0], o.corner[0] + o.width)) for o in in_order(assembly)]
    ):
        found.append(plumb(f"plumb, through {openings_said(names)}", at))
    return tuple(found)


def in_order(assembly: Assembly) -> list[Opening]:
    """The openings in natural order."""
    return sorted(assembly.openings, key=lambda opening: natural(opening.id))


def level(name: str, at: float) -> SectionCut:
    """A level section, seen from above, the front below."""
    return SectionCut(name=name, plane=Plane(Z, at + OFF), right=X, up=Y)


def plumb(name: str, at: float) -> SectionCut:
    """A plumb section, seen from the left and laid down: heights to the right, the front below."""
    return SectionCut(name=name, plane=Plane(neg(X), -(at + OFF)), right=Z, up=Y)


def reach(assembly: Assembly, copy_id: str) -> tuple[Vec, Vec]:
    """The box of a copy's blank in its place."""
    copy = next(one for one in assembly.copies if one.id == copy_id)
    length, width, thickness = assembly.part(copy.label).blank.size
    points = [
        copy.placement.point((x, y, z))
        for x in (0.0, length)
        for y in (0.0, width)
        for z in (0.0, thickness)
    ]
    low, high = (tuple(pick(p[axis] for p in points) for axis in range(3)) for pick in (min, max))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def low_high(box: tuple[Vec, Vec], axis: int) -> Span:
    """A box's reach along one axis."""
    return box[0][axis], box[1][axis]


def busiest(spans: list[Span]) -> float:
    """The middle of the stretch that the most spans cover, the longest of those."""
    edges = sorted({end for span in spans for end in span})
    middles = [((a + b) / 2, b - a) for a, b in pairwise(edges)]

    def covered(at: float) -> int:
        return sum(low < at < high for low, high in spans)

    return max(middles, key=lambda one: (covered(one[0]), round(one[1], SAME), -one[0]))[0]


def stabbed(spans: list[tuple[str, Span]]) -> list[tuple[tuple[str, ...], float]]:
    """As few planes as go through every span, each in the middle of what its spans share."""
    waiting = sorted(spans, key=lambda one: one[1][1])
    found: list[tuple[tuple[str, ...], float]] = []
    while waiting:
        end = waiting[0][1][1]
        mine = [one for one in waiting if one[1][0] < end]
        low, high = max(span[0] for _, span in mine), min(span[1] for _, span in mine)
        found.append((tuple(sorted((name for name, _ in mine), key=natural)), (low + high) / 2))
        waiting = [one for one in waiting if one not in mine]
    return sorted(found, key=lambda one: natural(one[0][0]))


def openings_said(names: tuple[str, ...]) -> str:
    """``opening 1``, ``openings 1, 2 and 3``."""
    if len(names) == 1:
        return f"opening {names[0]}"
    return f"openings {', '.join(names[:-1])} and {names[-1]}"


# ---- the rod


@dataclass(frozen=True, slots=True, kw_only=True)
class Edges:
    """A part in a section: its label and how far it reaches both ways."""

    label: str
    name: str
    across: Span
    along: Span
    fills: bool


def rod(crossings: Iterable[Crossed], assembly: Assembly) -> tuple[Piece, ...]:
    """Every section with its lanes; sections alike are drawn once."""
    found: dict[tuple[object, ...], Crossed] = {}
    names: dict[tuple[object, ...], list[str]] = {}
    for crossing in crossings:
        if crossing.lines:
            key = alike(crossing)
            found.setdefault(key, crossing)
            names.setdefault(key, []).append(crossing.cut.name)
    return tuple(
        section(crossing, assembly, said_together(names[key])) for key, crossing in found.items()
    )


def alike(crossing: Crossed) -> tuple[object, ...]:
    """What two sections have in common that are one on the rod: what is cut, and how far it is."""
    shapes = sorted(
        (copy.rsplit(".", 1)[0], *(round(v, SAME) for v in (*spans[0], *spans[1])), len(lines))
        for copy, lines in crossing.lines
        for spans in (reaches(lines),)
    )
    return (crossing.cut.right, *shapes)


def reaches(lines: Iterable[Stroke]) -> tuple[Span, Span]:
    """How far lines reach along and across."""
    points = [point for line in lines for point in ends(line)]
    us, vs = [u for u, _ in points], [v for _, v in points]
    return (min(us), max(us)), (min(vs), max(vs))


def ends(stroke: Stroke) -> tuple[Point, ...]:
    """Points that say how far a stroke reaches."""
    match stroke:
        case Line(start=start, end=end):
            return (start, end)
        case Arc(centre=(u, v), radius=r):
            turns = [
                math.radians(stroke.start + (stroke.end - stroke.start) * k / 8) for k in range(9)
            ]
            return tuple((u + r * math.cos(turn), v + r * math.sin(turn)) for turn in turns)
        case Curve(points=points):
            return points
    assert_never(stroke)


def said_together(names: list[str]) -> str:
    """The names of sections that are alike: ``plumb, through opening 1; through opening 3``."""
    first, *rest = names
    return "; ".join([first, *(name.split(", ", 1)[-1] for name in rest)])


def section(crossing: Crossed, assembly: Assembly, title: str) -> Piece:
    """One section with a lane for every edge, along it below and across it to the left."""
    parts = tuple(edges_of(crossing, assembly))
    strokes: list[tuple[Pen, Stroke]] = [
        (Pen.VISIBLE, line) for _, lines in crossing.lines for line in lines
    ]
    low = (min(p.along[0] for p in parts), min(p.across[0] for p in parts))
    high = (max(p.along[1] for p in parts), max(p.across[1] for p in parts))
    texts = [
        text
        for part in parts
        if part.fills
        and not any(covers(other, text_box(inside(part))) for other in parts if other != part)
        for text in (inside(part),)
    ]
    below = lanes([(p.along, p) for p in parts])
    beside = lanes([(p.across, p) for p in parts])
    for place, lane in enumerate(below):
        level_at = low[1] - BESIDE - place * LANE
        for span, said in lane:
            strokes += ticks(span, level_at, turned=False)
            spot = (span[1] + CLEAR, level_at - LETTER / 2)
            texts.append(Text(at=spot, text=said, height=LETTER))
    for place, lane in enumerate(beside):
        at = low[0] - BESIDE - place * LANE
        for span, said in lane:
            strokes += ticks(span, at, turned=True)
            spot = (at + LETTER / 2, span[1] + CLEAR)
            texts.append(Text(at=spot, text=said, height=LETTER, turned=90.0))
    label_room = 2 * CLEAR + max(
        text_width(said, LETTER) for lane in (*below, *beside) for _, said in lane
    )
    return Piece(
        title=title,
        note="",
        low=(low[0] - BESIDE - len(beside) * LANE, low[1] - BESIDE - len(below) * LANE),
        high=(high[0] + label_room, high[1] + label_room),
        strokes=tuple(strokes),
        texts=tuple(texts),
    )


def edges_of(crossing: Crossed, assembly: Assembly) -> Iterator[Edges]:
    """Every part that is cut, its reach, and whether its label goes inside it."""
    for copy, lines in crossing.lines:
        part = assembly.part(copy.rsplit(".", 1)[0])
        if part.kind is PartKind.HARDWARE:
            continue
        along, across = reaches(lines)
        words = f"{part.label} {part.name}"
        wide = text_width(words, LETTER) + 2 * CLEAR
        long, tall = along[1] - along[0], across[1] - across[0]
        fills = (long > wide and tall > 2 * LETTER) or (tall > wide and long > 2 * LETTER)
        yield Edges(label=part.label, name=words, across=across, along=along, fills=fills)


def inside(part: Edges) -> Text:
    """A label in the middle of its part, along its longer side."""
    u, v = sum(part.along) / 2, sum(part.across) / 2
    level_text = part.along[1] - part.along[0] > text_width(part.name, LETTER) + 2 * CLEAR
    if level_text:
        return Text(at=(u, v - LETTER / 2), text=part.name, height=LETTER, align=Align.CENTRE)
    at = (u + LETTER / 2, v)
    return Text(at=at, text=part.name, height=LETTER, align=Align.CENTRE, turned=90.0)


def labels(parts: tuple[Edges, ...]) -> Iterator[Text]:
    """The labels that go inside their parts without lying on another part's edge."""
    for part in parts:
        text = inside(part)
        others = (other for other in parts if other != part)
        if part.fills and not any(covers(other, text_box(text)) for other in others):
            yield text


def covers(part: Edges, box: tuple[Point, Point]) -> bool:
    """Tell whether a part's box and a text share room, the part not being much larger."""
    (a, b), (c, d) = box
    meets = part.along[0] < c and a < part.along[1] and part.across[0] < d and b < part.across[1]
    around = part.along[0] < a and c < part.along[1] and part.across[0] < b and d < part.across[1]
    return meets and not around


Lane = list[tuple[Span, str]]


def lanes(spans: list[tuple[Span, Edges]]) -> list[Lane]:
    """Spans with their labels in as few lanes as keep them apart; parts alike share a span."""
    alike: dict[Span, tuple[Span, list[str]]] = {}
    for span, part in spans:
        rounded = (round(span[0], 2) + 0.0, round(span[1], 2) + 0.0)
        names = alike.setdefault(rounded, (span, []))[1]
        if part.label not in names:
            names.append(part.label)
    found: list[Lane] = []
    ends: list[float] = []
    for span, names in sorted(alike.values()):
        said = ", ".join(sorted(names, key=natural))
        place = next((i for i, last in enumerate(ends) if last <= span[0] - CLEAR), None)
        if place is None:
            found.append([])
            ends.append(0.0)
            place = len(ends) - 1
        found[place].append((span, said))
        ends[place] = span[1] + 2 * CLEAR + text_width(said, LETTER)
    return found


def ticks(span: Span, at: float, *, turned: bool) -> Iterator[tuple[Pen, Stroke]]:
    """Two ticks and the line between them."""
    for end in span:
        yield (Pen.VISIBLE, placed((end, at - TICK), (end, at + TICK), turned=turned))
    yield (Pen.THIN, placed((span[0], at), (span[1], at), turned=turned))


def placed(start: Point, end: Point, *, turned: bool) -> Line:
    """A line of a lane below, or of one at the side."""
    if turned:
        return Line((start[1], start[0]), (end[1], end[0]))
    return Line(start, end)


def strip(pieces: Iterable[Piece]) -> tuple[tuple[Piece, Point], ...]:
    """The sections one after the other on one long rod: each with where its corner lies."""
    at = 0.0
    found: list[tuple[Piece, Point]] = []
    for piece in pieces:
        found.append((piece, (at, 0.0)))
        at += piece.size[0] + APART
    return tuple(found)
