"""What comes onto a sheet beside the views and their dimensions, wherever there is room for it.

An addition is a function of what is on the sheet already. It takes its room and gives what is to
be drawn, or None where it finds no room. Paper mm.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from itertools import pairwise

from drawings.clipping import Segment, segments
from drawings.drafting import drafted, on_sheet
from drawings.lettering import text_box
from drawings.paper import Scale
from drawings.records import Angular, Note, Pen, Ruled, View
from drawings.room import Box, Room
from models.parts.views import LineView, Point

CLEAR = 1.5
"""Kept free around whatever is on the sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """An addition in its place on the sheet; ``dimensions`` go to the views named."""

    views: tuple[View, ...] = ()
    notes: tuple[Note, ...] = ()
    ruled: tuple[Ruled, ...] = ()
    dimensions: tuple[tuple[str, Angular], ...] = ()

    def moved(self, by: Point) -> "Drawn":
        """The same further right and up."""

        def at(point: Point) -> Point:
            return (point[0] + by[0], point[1] + by[1])

        return Drawn(
            views=tuple(replace(view, at=at(view.at)) for view in self.views),
            notes=tuple(
                replace(
                    note,
                    text=replace(note.text, at=at(note.text.at)),
                    leader=tuple(at(point) for point in note.leader),
                )
                for note in self.notes
            ),
            ruled=tuple(
                replace(line, start=at(line.start), end=at(line.end)) for line in self.ruled
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class OnSheet:
    """What is on the sheet so far.

    ``lines`` knows every line and text, so that marks find a place within a view; ``words`` the
    texts alone, ``marks`` texts, dimensions and leaders; ``room`` takes views as whole boxes.
    ``frame`` is where additions may stand. ``shown`` are the line views that stand on the sheet,
    by name; ``seen`` the features that are drawn once more, larger, ``details`` the letters used.
    """

    scale: Scale
    views: tuple[View, ...]
    notes: tuple[Note, ...]
    shown: dict[str, LineView]
    lines: Room
    words: Room
    marks: Room
    room: Room
    frame: Box
    seen: set[str] = field(default_factory=set)
    details: list[str] = field(default_factory=list)

    def placed(self, drawn: Drawn, size: Point, to: Point) -> Drawn | None:
        """The drawing, whose lower left corner is (0, 0), where it is free and nearest ``to``."""
        wide, tall = size[0] + 2 * CLEAR, size[1] + 2 * CLEAR
        corner = self.room.nearest((wide, tall), to, self.frame)
        if corner is None:
            return None
        self.take((corner, (corner[0] + wide, corner[1] + tall)))
        return drawn.moved((corner[0] + CLEAR, corner[1] + CLEAR))

    def take(self, box: Box) -> None:
        """Take a rectangle for good."""
        self.lines.take(box)
        self.words.take(box)
        self.marks.take(box)
        self.room.take(box)


Addition = Callable[[OnSheet], Drawn | None]


def added(additions: Iterable[Addition], sheet: OnSheet) -> list[Drawn | None]:
    """Every addition in its place, None for those that find none."""
    return [addition(sheet) for addition in additions]


def on_sheet_so_far(
    size: Point, frame: Box, views: tuple[View, ...], notes: tuple[Note, ...], scale: Scale
) -> OnSheet:
    """The room that views and notes leave on a sheet."""
    lines, words = Room(*size), Room(*size)
    marks = Room(*size)
    for view in views:
        lines.take_lines(line for _, line in view_lines(view, scale))
        for dimension in view.dimensions:
            picture = drafted(dimension, view, scale)
            marks.take_lines(picture.lines)
            words.take(wider(text_box(picture.text)))
    for note in notes:
        words.take(wider(text_box(note.text)))
        marks.take_lines(pairwise(note.leader))
    marks.take_all(words)
    lines.take_all(marks)
    room = lines.copy()
    for view in views:
        box = view_box(view, scale)
        if box is not None:
            room.take(wider(box))
    return OnSheet(
        scale=scale,
        views=views,
        notes=notes,
        shown={},
        lines=lines,
        words=words,
        marks=marks,
        room=room,
        frame=frame,
    )


def view_lines(view: View, scale: Scale) -> Iterable[tuple[Pen, Segment]]:
    """Every stroke of a view as lines on the sheet."""
    for pen, stroke in view.strokes:
        for start, end in segments(stroke):
            yield pen, (on_sheet(start, view, scale), on_sheet(end, view, scale))


def view_box(view: View, scale: Scale) -> Box | None:
    """The box of a view's strokes on the sheet; None where it has none."""
    points = [point for _, line in view_lines(view, scale) for point in line]
    if not points:
        return None
    us, vs = [u for u, _ in points], [v for _, v in points]
    return (min(us), min(vs)), (max(us), max(vs))


def wider(box: Box) -> Box:
    """A box with some air around it."""
    return (box[0][0] - CLEAR, box[0][1] - CLEAR), (box[1][0] + CLEAR, box[1][1] + CLEAR)
