"""Shop drawings looked at by tests: empty line views, the room that texts take, what is stated."""

import itertools

from drawings.choosing import wanted_views
from drawings.drafting import drafted
from drawings.lettering import text_box
from drawings.paper import SIZES
from drawings.part_sheet import part_sheet
from drawings.records import Linear, Ordinate, Sheet, Text
from ground.quantities import Units
from ground.vectors import Vec, X, Y, Z, neg
from models.parts.part import Part
from models.parts.views import LineView, Point
from specs.spec import Paper, Standard

AXES: dict[str, tuple[Vec, Vec]] = {
    "top": (X, Y),
    "front": (X, Z),
    "right": (Y, Z),
    "bottom": (X, neg(Y)),
    "back": (neg(X), Z),
}
"""What is to the right and what is up, looking at each face of a part."""


def empty_views(part: Part) -> tuple[LineView, ...]:
    """The views that a part's drawing wants, without a line in them: sizes need none."""
    return tuple(
        LineView(name=name, right=AXES[name][0], up=AXES[name][1], visible=())
        for name in wanted_views(part)
    )


def iso(part: Part, units: Units = Units.MM) -> Sheet:
    """The sheet of a part in first angle on A3."""
    return part_sheet(
        part,
        empty_views(part),
        units=units,
        standard=Standard.ISO,
        paper=Paper.A3,
        piece="Test piece",
    )


def asme(part: Part) -> Sheet:
    """The sheet of a part in third angle and inches."""
    return part_sheet(
        part,
        empty_views(part),
        units=Units.INCH,
        standard=Standard.ASME,
        paper=Paper.TABLOID,
        piece="Test piece",
    )


def texts(sheet: Sheet) -> list[Text]:
    """Every text on a sheet: numbers, notes, title block."""
    numbers = [
        drafted(dimension, view, sheet.scale).text
        for view in sheet.views
        for dimension in view.dimensions
    ]
    return [*numbers, *(note.text for note in sheet.notes), *sheet.texts]


def collisions(sheet: Sheet) -> list[tuple[str, str]]:
    """Pairs of texts whose boxes meet by more than 0.05 mm, and texts that leave the paper."""
    boxes = [(text.text, *text_box(text)) for text in texts(sheet) if text.text]
    met = [
        (a, b)
        for (a, low_a, high_a), (b, low_b, high_b) in itertools.combinations(boxes, 2)
        if all(min(high_a[i], high_b[i]) - max(low_a[i], low_b[i]) > 0.05 for i in (0, 1))
    ]
    wide, tall = SIZES[sheet.paper]
    off = [
        (name, "the edge of the paper")
        for name, low, high in boxes
        if low[0] < 0 or low[1] < 0 or high[0] > wide or high[1] > tall
    ]
    return [*met, *off]


def stated(sheet: Sheet) -> set[str]:
    """The ids of features that a note words, or that a whole size fixes."""
    worded = {feature for note in sheet.notes for feature in note.states}
    whole = (d for view in sheet.views for d in view.dimensions if isinstance(d, Linear))
    return worded | {feature for size in whole for feature in size.states}


def sizes(sheet: Sheet, view: str) -> list[float]:
    """The whole sizes that a view gives, as measured."""
    return [d.measured for d in _view(sheet, view) if isinstance(d, Linear)]


def distances(sheet: Sheet, view: str, feature: str) -> list[float]:
    """The distances by which a view fixes a feature, in the order drawn."""
    return [
        d.measured for d in _view(sheet, view) if isinstance(d, Ordinate) and feature in d.states
    ]


def _view(sheet: Sheet, name: str) -> tuple[Linear | Ordinate, ...]:
    return next(view.dimensions for view in sheet.views if view.name == name)


def note_of(sheet: Sheet, feature: str) -> str:
    """The first note that words a feature."""
    return next(note.text.text for note in sheet.notes if feature in note.states)


def leader_end(sheet: Sheet, feature: str) -> Point:
    """Where the leader of a feature's note ends on the sheet."""
    return next(note.leader[-1] for note in sheet.notes if feature in note.states)
