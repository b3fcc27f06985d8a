"""Angles where they are: an arc between square and the edge that a slanted cut leaves in a view.

An arc is drawn where it and its number find room about a corner of the cut, off the wood if it
goes; the note beside the view then leaves the degrees to it. Paper mm unless said otherwise.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from drawings import polyhedron
from drawings.additions import Addition, Drawn, OnSheet
from drawings.bites import SQUARE
from drawings.drafting import ROOMY, drafted, on_sheet
from drawings.fixing import EDGE_ON, flat, toward
from drawings.lettering import DEGREE, text_box
from drawings.notes import plumb_trim_note
from drawings.paper import ARROW, LETTER, OVERRUN
from drawings.polyhedron import Body, Facet
from drawings.records import Angular, Text, View
from drawings.room import Box, Room
from ground.quantities import angle_text
from ground.vectors import dot
from models.parts.features import Trim
from models.parts.part import Part
from models.parts.views import LineView, Point

REACHES = (11.0, 14.0, 18.0, 23.0, 29.0, 36.0)
"""How far off the corner an arc may stand, tried in turn."""

SHORTEST = 5.0
"""An edge is at least so long on paper, or its angle stays in the note."""

LEAST = 1.0
"""Smaller angles stay in the note (degrees): their arms would be one line."""

LEVEL = 1e-6
"""An edge lies in the paper where its ends are as far from the eye within this (mm)."""

STEP = 0.8
"""Lines are looked at every so far."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slant:
    """The edge that a cut leaves in a view, and its corner: directions in degrees, edge in mm."""

    trim: str
    corner: Point
    square: float
    edge: float
    long: float
    inside: bool


def angle_additions(part: Part, views: tuple[LineView, ...]) -> tuple[Addition, ...]:
    """The angles of every slanted cut in each view that sees it on edge."""
    body = polyhedron.base(part)
    found: list[Addition] = []
    for view in views:
        said: dict[str, list[tuple[Slant, ...]]] = {}
        for trim in part.features:
            if isinstance(trim, Trim):
                slants = tuple(slants_of(trim, body, view))
                if slants:
                    words = plumb_trim_note(trim, abs(_turn(slants[0])), (view.right, view.up))
                    said.setdefault(words, []).append(slants)
        found += [partial(_angle, view.name, tuple(alike)) for alike in said.values()]
    return tuple(found)


def slants_of(trim: Trim, body: Body, view: LineView) -> Iterator[Slant]:
    """Where the angle of a cut can be drawn in a view: beside the wood first, then within it."""
    facet = next((side for side in body if side.name == trim.id), None)
    across, up = dot(trim.plane.normal, view.right), dot(trim.plane.normal, view.up)
    off = math.degrees(math.atan2(min(abs(across), abs(up)), max(abs(across), abs(up))))
    if facet is None or math.hypot(across, up) <= EDGE_ON or off < max(LEAST, SQUARE):
        return
    ends = _edge_in_paper(facet, view)
    if ends is None:
        return
    found = []
    for corner, other in (ends, ends[::-1]):
        along = (other[0] - corner[0], other[1] - corner[1])
        level = abs(along[0]) > abs(along[1])
        square = (
            (math.copysign(1.0, along[0]), 0.0) if level else (0.0, math.copysign(1.0, along[1]))
        )
        found.append(
            Slant(
                trim=trim.id,
                corner=corner,
                square=math.degrees(math.atan2(square[1], square[0])),
                edge=math.degrees(math.atan2(along[1], along[0])),
                long=math.hypot(*along),
                inside=square[0] * across + square[1] * up < 0.0,
            )
        )
    yield from sorted(found, key=lambda slant: slant.inside)


def _edge_in_paper(facet: Facet, view: LineView) -> tuple[Point, Point] | None:
    """The outermost edge of a cut's face that lies square to the eye (view mm)."""
    eye = toward(view)
    normal = (dot(facet.plane.normal, view.right), dot(facet.plane.normal, view.up))

    def out(points: tuple[Point, Point]) -> tuple[float, float]:
        (u, v), other = points
        return (round(u * normal[0] + v * normal[1], 6), math.dist((u, v), other))

    corners = facet.corners
    edges = [
        (flat(view, a), flat(view, b))
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
        if abs(dot(a, eye) - dot(b, eye)) <= LEVEL and math.dist(flat(view, a), flat(view, b)) > 1.0
    ]
    return max(edges, key=out, default=None)


def _said(slant: Slant) -> str:
    return f"{angle_text(abs(_turn(slant)))}{DEGREE}"


def _turn(slant: Slant) -> float:
    """From square to the edge, the short way round (degrees)."""
    return (slant.edge - slant.square + 180.0) % 360.0 - 180.0


def _angle(name: str, alike: tuple[tuple[Slant, ...], ...], sheet: OnSheet) -> Drawn | None:
    """One arc for cuts that are alike, at the first corner where there is room for it."""
    view = next((view for view in sheet.views if view.name == name), None)
    if view is None:
        return None
    states = tuple(slants[0].trim for slants in alike)
    every = [slant for slants in alike for slant in slants]
    for strict, inside in ((True, False), (False, False), (True, True), (False, True)):
        for slant in every:
            factor = sheet.scale.factor * view.by
            if slant.inside is not inside or slant.long * factor < SHORTEST:
                continue
            for angular in _candidates(slant, factor, states):
                if _fits(angular, view, sheet, strict=strict):
                    _take(angular, view, sheet)
                    return Drawn(dimensions=((name, angular),))
    return None


def _candidates(slant: Slant, factor: float, states: tuple[str, ...]) -> Iterator[Angular]:
    """Arcs about a corner, small ones first, each with its number in several places."""
    turn = _turn(slant)
    start = slant.square if turn > 0 else slant.edge
    text = _said(slant)
    wide, tall = _half_size(text)
    for reach in REACHES:
        own = slant.long * factor
        square = 1.0
        edge = None if own >= reach else own
        bare = Angular(
            corner=slant.corner,
            start=start,
            end=start + abs(turn),
            reach=reach,
            number=(0.0, 0.0),
            text=text,
            arms=(square, edge) if turn > 0 else (edge, square),
            states=states,
        )
        for spot in _spots(bare, slant.square, turn, (wide, tall)):
            yield replace(bare, number=spot)


def _half_size(text: str) -> Point:
    """Half the width and the height of a number's box."""
    low, high = text_box(Text(at=(0.0, 0.0), text=text, height=LETTER))
    return (high[0] - low[0]) / 2, (high[1] - low[1]) / 2


def _spots(bare: Angular, square: float, turn: float, half: Point) -> Iterator[Point]:
    """Where the number's middle may stand: over the arc, or past its end on the side of square."""
    head = math.degrees(ARROW / bare.reach)
    over = 0.0 if bare.measured >= ROOMY * head else 2 * head
    for degrees in (bare.start + bare.measured / 2, square):
        u, v = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        reach = bare.reach + OVERRUN + 1.0 + abs(u) * half[0] + abs(v) * half[1]
        yield (u * reach, v * reach)
    way = -1.0 if turn > 0 else 1.0
    end = math.radians(square + way * over)
    u, v = -math.sin(end) * way, math.cos(end) * way  # on along the arc, away from the edge
    reach = 1.0 + abs(u) * half[0] + abs(v) * half[1]
    yield (
        bare.reach * math.cos(end) + u * reach,
        bare.reach * math.sin(end) + v * reach,
    )


def _fits(angular: Angular, view: View, sheet: OnSheet, *, strict: bool) -> bool:
    """Tell whether the number is clear of everything, arms of words and the arc of all marks.

    If ``strict``, the arc is clear of the part's own lines too, but for the edge that it ends on.
    """
    picture = drafted(angular, view, sheet.scale)
    box = text_box(picture.text)
    if not (_within(box, sheet.frame) and sheet.lines.is_free(_wider(box, 0.5))):
        return False
    if any(_crosses(line, _wider(box, 0.3)) for line in picture.lines):
        return False
    corner = on_sheet(angular.corner, view, sheet.scale)
    arms = sum(arm is not None for arm in angular.arms)
    arc, straight = picture.lines[: len(picture.lines) - arms], picture.lines[-arms:]
    if not all(_is_free(sheet.words, spot) for line in straight for spot in _spots_of(line)):
        return False
    spots = [spot for line in arc for spot in _spots_of(line)]
    return all(
        _is_free(sheet.marks, spot)
        and (not strict or _near_edge(spot, angular, corner) or _is_free(sheet.lines, spot))
        for spot in spots
    )


def _is_free(room: Room, spot: Point) -> bool:
    return room.is_free((spot, (spot[0] + 0.01, spot[1] + 0.01)))


def _spots_of(line: tuple[Point, Point]) -> Iterator[Point]:
    """Points along a line in short steps."""
    (u, v), (end_u, end_v) = line
    count = max(1, math.ceil(math.dist(*line) / STEP))
    for place in range(count + 1):
        yield u + (end_u - u) * place / count, v + (end_v - v) * place / count


def _near_edge(spot: Point, angular: Angular, corner: Point) -> bool:
    """Tell whether a spot lies beside the edge that the angle is measured to."""
    off = (spot[0] - corner[0], spot[1] - corner[1])
    for degrees, arm in zip((angular.start, angular.end), angular.arms, strict=True):
        if arm == 1.0:
            continue
        u, v = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        if abs(off[0] * v - off[1] * u) < 2.0:  # noqa: PLR2004 - mm, two cells of the room
            return True
    return False


def _within(box: Box, frame: Box) -> bool:
    return (
        box[0][0] >= frame[0][0]
        and box[0][1] >= frame[0][1]
        and box[1][0] <= frame[1][0]
        and box[1][1] <= frame[1][1]
    )


def _wider(box: Box, by: float) -> Box:
    return (box[0][0] - by, box[0][1] - by), (box[1][0] + by, box[1][1] + by)


def _crosses(line: tuple[Point, Point], box: Box) -> bool:
    """Tell whether a line comes into a box, looked at in short steps."""
    return any(
        box[0][0] <= u <= box[1][0] and box[0][1] <= v <= box[1][1] for u, v in _spots_of(line)
    )


def _take(angular: Angular, view: View, sheet: OnSheet) -> None:
    """Take the room of an arc and its number."""
    picture = drafted(angular, view, sheet.scale)
    for room in (sheet.lines, sheet.marks, sheet.room):
        room.take_lines(picture.lines)
    sheet.take(_wider(text_box(picture.text), 0.5))


def reworded(text: str, angular: Angular) -> str:
    """A note that leaves its degrees to the arc."""
    return text.replace(f" {angular.text}", "", 1)
