"""Views about a principal one, with their dimensions and notes, on the largest scale that fits.

The principal view stands in the middle, one view is stacked below or above it, one beside it.
Distances from the registered edge stand between the principal and the stacked view, notes on the
far sides; every number has a place of its own. Paper mm unless said otherwise.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

from drawings.drafting import drafted
from drawings.drafts import Draft, Place, Spacing
from drawings.hanging import notes
from drawings.lettering import pitch, size, text_box, text_width
from drawings.paper import FIRST_ROW, GAP, LETTER, Scale
from drawings.records import Axis, Dimension, Linear, Note, Ordinate, Pen, View
from drawings.room import Box
from drawings.rows import clear_of, spread
from ground.quantities import Units
from models.parts.views import Arc, Line, LineView, Point, Stroke

BEND = (3.0, 7.0, 9.0)
"""An ordinate's line bends between the first two and ends at the third, measured off the view."""

CENTRED = 4.0
"""Circles at least so large on paper have their centre lines (mm)."""

BEYOND = 1.5
"""Clear beyond the longest number of a band."""

OVERALL = "overall"
"""What a whole size states, beside the cuts at its ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A view with everything about it; its (0, 0) is the view's lower left corner on paper.

    ``boxes`` are what it takes, text by text and line by line.
    """

    view: View
    notes: tuple[Note, ...]
    boxes: tuple[Box, ...]
    low: Point
    high: Point


def block(draft: Draft, scale: Scale, spacing: Spacing) -> Block:
    """Work out the dimensions and notes of one view at one scale."""
    units = spacing.units
    (left, bottom), (right, top) = draft.extent
    at = (0.0 - left * scale.factor, 0.0 - bottom * scale.factor)
    view = View(name=draft.view.name, at=at, strokes=_strokes(draft.view, scale))
    dimensions = (*_along(draft, Axis.U, scale, units), *_along(draft, Axis.V, scale, units))
    view = replace(view, dimensions=dimensions)
    high = ((right - left) * scale.factor, (top - bottom) * scale.factor)
    boxes = [text_box(drafted(d, view, scale).text) for d in dimensions]
    boxes += [_line_box(d, view, scale) for d in dimensions]
    boxes.append(((0.0, 0.0), high))
    over = max(b[1][1] for b in boxes) - high[1], 0.0 - min(b[0][1] for b in boxes)
    taken = over[0] if draft.up < 0 else over[1]
    hung = notes(draft, (high, taken), scale, spacing)
    boxes += [text_box(note.text) for note in hung]
    boxes += [_around(line) for note in hung for line in pairwise(note.leader)]
    return Block(
        view=view,
        notes=hung,
        boxes=tuple(boxes),
        low=(min(b[0][0] for b in boxes), min(b[0][1] for b in boxes)),
        high=(max(b[1][0] for b in boxes), max(b[1][1] for b in boxes)),
    )


def _strokes(view: LineView, scale: Scale) -> tuple[tuple[Pen, Stroke], ...]:
    """Hidden edges first, so that visible ones lie over them, and centre lines of circles."""
    return (
        *((Pen.HIDDEN, stroke) for stroke in view.hidden),
        *((Pen.VISIBLE, stroke) for stroke in view.visible),
        *((Pen.CENTRE, line) for stroke in view.visible for line in _centre(stroke, scale)),
    )


def _centre(stroke: Stroke, scale: Scale) -> tuple[Line, ...]:
    """The centre lines of a whole circle."""
    if not isinstance(stroke, Arc) or stroke.end - stroke.start < 360.0:  # noqa: PLR2004
        return ()
    if stroke.radius * 2 * scale.factor < CENTRED:
        return ()
    (u, v), reach = stroke.centre, stroke.radius + 2.0 / scale.factor
    return (Line((u - reach, v), (u + reach, v)), Line((u, v - reach), (u, v + reach)))


def _line_box(dimension: Dimension, view: View, scale: Scale) -> Box:
    return _around([p for line in drafted(dimension, view, scale).lines for p in line])


def _around(points: Iterable[Point]) -> Box:
    us, vs = zip(*points, strict=True)
    return (min(us), min(vs)), (max(us), max(vs))


def _along(draft: Draft, axis: Axis, scale: Scale, units: Units) -> list[Dimension]:
    """Distances and the whole size along one axis of a view."""
    found = draft.us if axis is Axis.U else draft.vs
    distances = _distances(draft, axis, scale, units) if found else []
    if axis not in draft.overall:
        return list(distances)
    band = 0.0
    if distances:
        longest = max(text_width(distance.text, LETTER) for distance in distances)
        band = BEND[2] + longest + BEYOND
    return [*distances, _whole(draft, axis, scale, (units, band))]


def _crowded(draft: Draft, axis: Axis, scale: Scale, units: Units) -> bool:
    """Tell whether the numbers need more room than the view is long."""
    index = 0 if axis is Axis.U else 1
    paper = (draft.extent[1][index] - draft.extent[0][index]) * scale.factor
    found = draft.us if axis is Axis.U else draft.vs
    return bool(found) and (len(found) + 2) * pitch(units, LETTER) > paper


def _distances(draft: Draft, axis: Axis, scale: Scale, units: Units) -> list[Ordinate]:
    """Distances from the registered edge along one axis, the edge itself as nought."""
    index = 0 if axis is Axis.U else 1
    low, high = draft.extent
    way = draft.up if axis is Axis.U else draft.side
    edge = (high if way > 0 else low)[1 - index]
    datum = (high if axis in draft.from_high else low)[index]
    found = draft.us if axis is Axis.U else draft.vs
    marks = sorted((Place(at=datum, states=()), *found), key=lambda place: place.at)
    wanted = [(place.at - low[index]) * scale.factor for place in marks]
    apart = pitch(units, LETTER)
    paper = (high[index] - low[index]) * scale.factor
    bends = [edge + way * off / scale.factor for off in BEND]
    distances = []
    # numbers that need more room than the view has spread away from the other axis's numbers
    other = draft.side if axis is Axis.U else draft.up
    spots = clear_of(_within(spread(wanted, apart), apart, paper), paper, other)
    for place, spot in zip(marks, spots, strict=True):
        moved = low[index] + spot / scale.factor
        distances.append(
            Ordinate(
                origin=_point(index, datum, edge),
                feature=_point(index, place.at, edge),
                knees=(_point(index, place.at, bends[0]), _point(index, moved, bends[1])),
                end=_point(index, moved, bends[2]),
                axis=axis,
                text=size(abs(place.at - datum), units) if place.states else "0",
                states=place.states,
            )
        )
    return distances


def _whole(draft: Draft, axis: Axis, scale: Scale, lettered: tuple[Units, float]) -> Linear:
    """The whole size along one axis, beyond the band that the distances take.

    Where their numbers need more room than the view is long, its extension lines begin there too.
    """
    units, band = lettered
    index = 0 if axis is Axis.U else 1
    low, high = draft.extent
    way = draft.up if axis is Axis.U else draft.side
    edge = (high if way > 0 else low)[1 - index]
    row = max(FIRST_ROW, band + 2 * LETTER)
    return Linear(
        first=_point(index, low[index], edge),
        second=_point(index, high[index], edge),
        axis=axis,
        line=_point(index, low[index], edge + way * row / scale.factor),
        text=size(high[index] - low[index], units),
        clear=band if _crowded(draft, axis, scale, units) else GAP,
        states=(OVERALL, *(feature for along, feature in draft.ends if along is axis)),
    )


def _point(index: int, along: float, across: float) -> Point:
    return (along, across) if index == 0 else (across, along)


def _within(spots: list[float], apart: float, paper: float) -> list[float]:
    """Keep numbers clear of the whole size's extension lines where there is room for all."""
    if (len(spots) + 1) * apart > paper:
        return spots
    low = apart * 0.75
    for place, spot in enumerate(spots):
        spots[place] = max(spot, low)
        low = spots[place] + apart
    high = paper - apart * 0.75
    for place in range(len(spots) - 1, -1, -1):
        spots[place] = min(spots[place], high)
        high = spots[place] - apart
    return spots
