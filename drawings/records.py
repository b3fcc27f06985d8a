"""What stands on a sheet, as plain records: every exporter draws these and works nothing out.

Places on the sheet are in paper mm from its lower left corner. What lies in a view is in the
view's own axes, full size in mm: ``u`` to the right, ``v`` up.
"""

from dataclasses import dataclass
from enum import StrEnum

from drawings.paper import GAP, Scale
from drawings.standing import Standing
from ground.quantities import Units
from models.parts.views import Point, Stroke
from specs.spec import Paper, Projection, Spec, Standard

TO_WRITE_IN = ""
"""What nobody has said yet: its field in the title block is left free, a line to write on in it."""


class Pen(StrEnum):
    """Lines by their use (ISO 128-2:2020)."""

    VISIBLE = "visible"
    """01.2, continuous wide: edges seen."""
    HIDDEN = "hidden"
    """02.1, dashed narrow: edges behind."""
    CENTRE = "centre"
    """04.1, long dash and dot, narrow."""
    THIN = "thin"
    """01.1, continuous narrow: dimensions, leaders, tables."""
    EDGED = "edged"
    """04.2, long dash and dot, wide: edges that carry an edging, and the ends of cutting planes."""
    FRAME = "frame"
    """The border (ISO 5457: 0.7)."""


class Align(StrEnum):
    """Which end of a line of text stands at its place; always on the base line."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


class Axis(StrEnum):
    """The direction that an ordinate measures."""

    U = "u"
    V = "v"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text on the sheet; ``turned`` in degrees, counter-clockwise."""

    at: Point
    text: str
    height: float
    align: Align = Align.LEFT
    turned: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A text, a leader from it to what it speaks of (paper mm), and the features it states.

    ``view`` names the view that it belongs to, "" where it belongs to none.
    """

    text: Text
    leader: tuple[Point, ...] = ()
    states: tuple[str, ...] = ()
    view: str = ""

    @property
    def slant(self) -> float:
        """How far its leader runs aside on its way (mm)."""
        return abs(self.leader[-1][0] - self.leader[-2][0]) if len(self.leader) > 1 else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Linear:
    """A size of a view along ``axis``; ``line`` is a point on the dimension line.

    Extension lines begin ``clear`` paper mm off the points, beyond what stands between.
    """

    first: Point
    second: Point
    axis: Axis
    line: Point
    text: str
    clear: float = GAP
    states: tuple[str, ...] = ()

    @property
    def measured(self) -> float:
        """The size itself (mm)."""
        place = 0 if self.axis is Axis.U else 1
        return abs(self.second[place] - self.first[place])


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordinate:
    """A distance from the registered edge: extension from ``feature`` by ``knee`` to ``end``."""

    origin: Point
    feature: Point
    knees: tuple[Point, Point]
    end: Point
    axis: Axis
    text: str
    states: tuple[str, ...] = ()

    @property
    def measured(self) -> float:
        """The distance (mm)."""
        place = 0 if self.axis is Axis.U else 1
        return abs(self.feature[place] - self.origin[place])


@dataclass(frozen=True, slots=True, kw_only=True)
class Angular:
    """An angle of a view about ``corner`` (view mm), counter-clockwise from ``start`` to ``end``.

    Directions in degrees. Its arc stands ``reach`` paper mm off the corner, its number's middle at
    ``number`` paper mm from it; ``arms`` says how far off the corner an extension line begins
    along each direction, None where the part's own edge is long enough.
    """

    corner: Point
    start: float
    end: float
    reach: float
    number: Point
    text: str
    arms: tuple[float | None, float | None] = (None, None)
    states: tuple[str, ...] = ()

    @property
    def measured(self) -> float:
        """The angle itself (degrees)."""
        return self.end - self.start


Dimension = Linear | Ordinate | Angular
"""Closed: a new kind makes the type checker list who must draw it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One view; its (0, 0) stands at ``at`` on the sheet, ``by`` times as large as the sheet's."""

    name: str
    at: Point
    strokes: tuple[tuple[Pen, Stroke], ...]
    dimensions: tuple[Dimension, ...] = ()
    by: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruled:
    """A straight line on the sheet."""

    pen: Pen
    start: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows of text, the first one its head; ``at`` is its upper left corner."""

    at: Point
    widths: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    row_height: float = 6.0
    letter: float = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """What the title block says besides the drawing: ISO 7200:2004's fields and their neighbours.

    ``quantity`` None: not known here. ``projection`` None: the standard's own. Fields that nobody
    stated say so. ``standing`` is where a part stands in the piece, None where that is not drawn.
    """

    piece: str
    quantity: int | None = None
    projection: Projection | None = None
    sheet: int = 1
    sheets: int | None = None
    number: str = ""
    owner: str = TO_WRITE_IN
    creator: str = TO_WRITE_IN
    approved: str = TO_WRITE_IN
    issued: str = TO_WRITE_IN
    standing: Standing | None = None

    @classmethod
    def of(cls, spec: Spec) -> "Issue":
        """What a spec states of its drawings."""
        asked = spec.drawings
        return cls(
            piece=spec.name,
            projection=asked.projection_used,
            number=asked.number or "",
            owner=asked.owner or TO_WRITE_IN,
            creator=asked.creator or TO_WRITE_IN,
            approved=asked.approved_by or TO_WRITE_IN,
            issued=str(asked.date) if asked.date is not None else TO_WRITE_IN,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """The fields of ISO 7200:2004 by name, cut to their lengths."""

    fields: tuple[tuple[str, str], ...]

    def field(self, name: str) -> str:
        """What a field says.

        Raises:
            KeyError: no such field.
        """
        return dict(self.fields)[name]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet, ready to be drawn."""

    name: str
    paper: Paper
    standard: Standard
    projection: Projection
    units: Units
    scale: Scale
    title: TitleBlock
    views: tuple[View, ...]
    notes: tuple[Note, ...] = ()
    texts: tuple[Text, ...] = ()
    ruled: tuple[Ruled, ...] = ()
    circles: tuple[tuple[Point, float], ...] = ()
    tables: tuple[Table, ...] = ()
