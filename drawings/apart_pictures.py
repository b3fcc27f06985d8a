"""A picture of things taken apart, as large as its room on the sheet allows, and where they lie."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from drawings.clipping import scaled
from drawings.paper import LETTER, Scale
from drawings.records import Pen, View
from drawings.sections import extent_of
from drawings.seeing import Seen, standing
from ground.vectors import ORIGIN, Vec, cross, dot
from models.parts.assembly import Assembly, Copy
from models.parts.views import LineView, Point

Room = tuple[Point, Point]
"""Lower left and upper right of a piece of paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """What is taken apart: its picture, and how far each copy (by id) stands off in it (mm)."""

    view: LineView
    moves: Mapping[str, Vec]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """Where a picture lies on the paper, and how large it is there."""

    at: Point
    factor: float


def fitted(apart: Apart, eye: Seen, room: Room, beside: float) -> Placed:
    """A picture in the middle of its room, ``beside`` it room for labels: it is to no scale.

    What no solid is made of counts as well: a label points to it.
    """
    (left, bottom), (right, top) = _extent(apart.view, eye)
    wide = room[1][0] - room[0][0] - 2 * beside
    tall = room[1][1] - room[0][1] - 2 * LETTER
    factor = min(wide / max(right - left, 1.0), tall / max(top - bottom, 1.0))
    middle_u = (room[0][0] + room[1][0]) / 2
    middle_v = (room[0][1] + room[1][1]) / 2
    at = (middle_u - (left + right) / 2 * factor, middle_v - (bottom + top) / 2 * factor)
    return Placed(at=at, factor=factor)


def _extent(view: LineView, eye: Seen) -> Room:
    """Lower left and upper right of a picture and of the middles of all blanks in it."""
    (left, bottom), (right, top) = extent_of(view)
    us = [dot(block.middle, view.right) for block in eye.blanks.values()]
    vs = [dot(block.middle, view.up) for block in eye.blanks.values()]
    return (min(left, *us), min(bottom, *vs)), (max(right, *us), max(top, *vs))


def drawn(view: LineView, placed: Placed, scale: Scale) -> View:
    """The picture as a view of a sheet that has a scale of its own."""
    share = placed.factor / scale.factor
    strokes = tuple((Pen.THIN, scaled(stroke, share)) for stroke in view.visible)
    return View(name=view.name, at=placed.at, strokes=strokes)


def spot(copies: Iterable[Copy], apart: Apart, where: tuple[Placed, Seen]) -> Point:
    """Where on the paper one of some copies is seen; where none is, the middle of the nearest."""
    placed, eye = where
    place = eye.place([copy.id for copy in copies])
    u, v = dot(place, apart.view.right), dot(place, apart.view.up)
    return placed.at[0] + u * placed.factor, placed.at[1] + v * placed.factor


def seen(assembly: Assembly, copies: Iterable[Copy], apart: Apart) -> Seen:
    """What is seen of copies that stand apart in a picture."""
    blanks = {
        copy.id: standing(
            copy.placement, assembly.part(copy.label).blank, apart.moves.get(copy.id, ORIGIN)
        )
        for copy in copies
    }
    return Seen(blanks=blanks, toward=cross(apart.view.right, apart.view.up))
