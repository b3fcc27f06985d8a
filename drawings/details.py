"""Details: what is too small on paper to be made out, drawn once more at a larger scale.

A circle on the view goes round the feature, a letter beside it names the detail. A round hole
has none: its centre and its note say all of it. Paper mm unless said otherwise.
"""

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from drawings.additions import Addition, Drawn, OnSheet
from drawings.clipping import within_circle
from drawings.drafting import on_sheet
from drawings.fixing import Extent, Fix
from drawings.lettering import text_box, text_width
from drawings.paper import LETTER, SCALES, TITLE_LETTER, Scale
from drawings.records import Align, Note, Pen, Text, View
from drawings.sections import MOST as SECTIONS
from drawings.sections import SEEN, title_note, title_room
from models.parts.features import Countersink, Hole
from models.parts.part import Part
from models.parts.views import Arc, LineView, Point

MOST = 5
"""Details on one sheet."""

LETTERS = "ABCDEFGHIJKL"

ROUND = (13.0, 10.0)
"""How large a detail's circle is on paper (its radius), tried in turn."""

OFF = 1.2
"""A letter stands so far off its circle."""

AIR = 0.4
"""Kept free around it."""

TURNS = tuple(range(45, 405, 45))
"""Directions in which a letter may stand off its circle (degrees), tried in turn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Small:
    """Features that are alike in one view, with the box of one of them (view mm)."""

    view: str
    ids: tuple[str, ...]
    spot: Extent

    @property
    def least(self) -> float:
        """Its smaller size (mm)."""
        (left, low), (right, high) = self.spot
        return min(right - left, high - low)


def detail_additions(part: Part, fixed: tuple[Fix, ...]) -> tuple[Addition, ...]:
    """All details of a part: features that a note words alike are drawn once."""
    round_ones = {f.id for f in part.features if isinstance(f, Hole | Countersink)}
    alike: dict[tuple[str, str], list[Fix]] = defaultdict(list)
    for fix in fixed:
        # a slanted cut has no box: its angle says what it is
        if fix.spot[0] != fix.spot[1] and fix.feature not in round_ones:
            alike[(fix.view, fix.note)].append(fix)
    smalls = tuple(
        Small(
            view=view,
            ids=tuple(fix.feature for fix in same),
            spot=same[0].spot,
        )
        for (view, _), same in alike.items()
    )
    return tuple(partial(_detail, small, smalls) for small in smalls)


def _detail(small: Small, every: tuple[Small, ...], sheet: OnSheet) -> Drawn | None:
    """The detail of one kind of feature, where it is too small and not drawn larger already."""
    view = next((one for one in sheet.views if one.name == small.view), None)
    shown = sheet.shown.get(small.view)
    if view is None or shown is None or sheet.seen & set(small.ids):
        return None
    if small.least * sheet.scale.factor * view.by >= SEEN or len(sheet.details) >= MOST:
        return None
    letter = LETTERS[SECTIONS + len(sheet.details)]
    for scale in _scales(small, sheet.scale.factor * view.by):
        for radius in ROUND:
            reach = radius / scale.factor
            centre = _centre(small.spot, reach)
            marked = _marked(letter, (centre, reach), view, sheet)
            if marked is None:
                continue
            drawn, room = _enlarged(shown, (centre, reach), f"{letter} ({scale})", (scale, sheet))
            placed = sheet.placed(drawn, room, sheet.frame[0])
            if placed is None:
                continue
            _keep(marked, sheet)
            sheet.details.append(letter)
            sheet.seen.update(_within(every, small.view, (centre, reach), scale))
            return Drawn(views=(*placed.views, *marked.views), notes=(*placed.notes, *marked.notes))
    return None


def _scales(small: Small, factor: float) -> Iterator[Scale]:
    """The two smallest scales at which the feature is large enough, the larger one first."""
    enough = [
        scale
        for scale in reversed(SCALES)
        if scale.factor > factor and small.least * scale.factor >= SEEN
    ]
    yield from enough[1::-1]


def _centre(spot: Extent, reach: float) -> Point:
    """The middle of a feature; of one longer than its circle the end nearest to the corner."""
    (left, low), (right, high) = spot
    return (
        (left + right) / 2 if right - left <= 2 * reach else left + reach / 2,
        (low + high) / 2 if high - low <= 2 * reach else low + reach / 2,
    )


def _inside(small: Small, circle: tuple[Point, float]) -> bool:
    """Tell whether a feature comes into the inner half of a circle."""
    (u, v), reach = circle
    (left, low), (right, high) = small.spot
    near = (min(max(u, left), right), min(max(v, low), high))
    return math.dist(near, (u, v)) <= reach / 2


def _within(
    every: tuple[Small, ...], view: str, circle: tuple[Point, float], scale: Scale
) -> set[str]:
    """The features that a circle on a view shows large enough."""
    found: set[str] = set()
    for other in every:
        large = other.least * scale.factor >= SEEN
        if other.view == view and large and _inside(other, circle):
            found.update(other.ids)
    return found


def _enlarged(
    shown: LineView, circle: tuple[Point, float], title: str, how: tuple[Scale, OnSheet]
) -> tuple[Drawn, Point]:
    """What is in the circle, larger, its title over it; lower left corner (0, 0)."""
    centre, reach = circle
    scale, sheet = how
    strokes = (
        *((Pen.HIDDEN, stroke) for stroke in within_circle(shown.hidden, centre, reach)),
        *((Pen.VISIBLE, stroke) for stroke in within_circle(shown.visible, centre, reach)),
        (Pen.THIN, Arc(centre, reach, 0.0, 360.0)),
    )
    name = title.partition(" ")[0]
    wide, tall, shift = title_room((2 * reach, 2 * reach), scale, name)
    at = (
        shift - (centre[0] - reach) * scale.factor,
        0.0 - (centre[1] - reach) * scale.factor,
    )
    view = View(name=f"detail {name}", at=at, strokes=strokes, by=scale.factor / sheet.scale.factor)
    return (
        Drawn(views=(view,), notes=(title_note(title, (wide / 2, tall - TITLE_LETTER - 1.0)),)),
        (wide, tall),
    )


def _marked(letter: str, circle: tuple[Point, float], view: View, sheet: OnSheet) -> Drawn | None:
    """The circle on the view and its letter, where neither meets words."""
    centre, reach = circle
    middle = on_sheet(centre, view, sheet.scale)
    radius = reach * sheet.scale.factor * view.by
    ring = _ring(middle, radius)
    if not all(sheet.words.is_free((spot, (spot[0] + 0.01, spot[1] + 0.01))) for spot in ring):
        return None
    for turn in TURNS:
        text = _letter(letter, middle, radius, turn)
        (left, low), (right, high) = text_box(text)
        if sheet.lines.is_free(((left - AIR, low - AIR), (right + AIR, high + AIR))):
            outline = View(
                name=f"circle {letter}",
                at=view.at,
                strokes=((Pen.THIN, Arc(centre, reach, 0.0, 360.0)),),
                by=view.by,
            )
            return Drawn(views=(outline,), notes=(Note(text=text),))
    return None


def _letter(letter: str, middle: Point, radius: float, turn: int) -> Text:
    """A letter off its circle in a direction (degrees)."""
    u, v = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    wide = text_width(letter, LETTER)
    off = radius + OFF + abs(u) * wide / 2 + abs(v) * LETTER * 0.7
    at = (middle[0] + u * off, middle[1] + v * off - LETTER / 2)
    return Text(at=at, text=letter, height=LETTER, align=Align.CENTRE)


def _keep(marked: Drawn, sheet: OnSheet) -> None:
    """Take the room of a circle's letter, and of its ring."""
    for note in marked.notes:
        sheet.take(text_box(note.text))
    for view in marked.views:
        for _, stroke in view.strokes:
            if isinstance(stroke, Arc):
                _take_ring(stroke, view, sheet)


def _take_ring(ring: Arc, view: View, sheet: OnSheet) -> None:
    middle = on_sheet(ring.centre, view, sheet.scale)
    lines = list(pairwise(_ring(middle, ring.radius * sheet.scale.factor * view.by)))
    for room in (sheet.lines, sheet.marks, sheet.room):
        room.take_lines(lines)


def _ring(middle: Point, radius: float) -> list[Point]:
    """Points around a circle, the first one again at the end."""
    turns = [math.radians(turn) for turn in range(0, 370, 10)]
    return [(middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t)) for t in turns]
