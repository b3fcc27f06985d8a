"""Border and title block: ISO 5457:1999's frame, ISO 7200:2004's fields, 180 mm wide.

Both standards from memory but for the names and lengths of the fields. Paper mm.
"""

from dataclasses import dataclass

from drawings.lettering import text_width
from drawings.paper import FILING_MARGIN, LETTER, MARGIN, SIZES, SMALL_LETTER, TITLE_LETTER
from drawings.records import Align, Issue, Pen, Ruled, Text, TitleBlock
from ground.quantities import Units
from models.parts.views import Point
from specs.spec import Paper, Projection

WIDTH = 180.0
ROWS = (10.0, 10.0, 12.0, 10.0)
HEIGHT = sum(ROWS)

LIMITS = {
    "identification number": 16,
    "date of issue": 10,
    "sheet number": 9,
    "title": 25,
    "approval person": 20,
    "creator": 20,
    "document type": 30,
    "supplementary title": 25,
}
"""Characters that ISO 7200:2004 gives each field; the legal owner's name is open.

The sheet's number and the number of sheets are fields of four each, here with a stroke between.
"""

CELLS: tuple[tuple[tuple[str, float], ...], ...] = (
    (("legal owner", 70.0), ("creator", 40.0), ("approval person", 40.0), ("scale", 30.0)),
    (("document type", 70.0), ("material", 40.0), ("quantity", 40.0), ("units", 30.0)),
    (("title", 110.0), ("date of issue", 40.0), ("projection", 30.0)),
    (("supplementary title", 110.0), ("identification number", 40.0), ("sheet number", 30.0)),
)
"""The block's rows from the top: field and width of its cell."""

CLEAR = 6.0
"""Kept free inside the frame, centring marks and all."""

LARGE_FIELDS = frozenset({"title"})
PROJECTION = "projection"
WRITTEN_IN = frozenset({"legal owner", "creator", "approval person", "date of issue"})
"""Fields that a hand can fill: a line to write on where the spec says nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Furniture:
    """What a sheet has before anything is drawn on it, and the room that is left."""

    ruled: tuple[Ruled, ...]
    texts: tuple[Text, ...]
    circles: tuple[tuple[Point, float], ...]
    low: Point
    high: Point
    aside: tuple[Point, Point]


def title_block(issue: Issue, fields: dict[str, str], scale: str) -> TitleBlock:
    """Fill the block from what is known; every text is cut to the length of its field."""
    sheet = f"{issue.sheet} / {issue.sheets}" if issue.sheets is not None else str(issue.sheet)
    known = {
        "legal owner": issue.owner,
        "creator": issue.creator,
        "approval person": issue.approved,
        "date of issue": issue.issued,
        "sheet number": sheet,
        "supplementary title": issue.piece,
        "quantity": "" if issue.quantity is None else str(issue.quantity),
        "scale": scale,
        PROJECTION: "",
        **fields,
    }
    return TitleBlock(
        fields=tuple(
            (name, _cut(known.get(name, ""), LIMITS.get(name))) for row in CELLS for name, _ in row
        )
    )


def _cut(text: str, limit: int | None) -> str:
    """A text that its field can hold, cut with an ellipsis."""
    if limit is None or len(text) <= limit:
        return text
    return text[: limit - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"


def size_of(paper: Paper) -> Point:
    """Width and height of a sheet as it is read."""
    return SIZES[paper]


def furniture(paper: Paper, projection: Projection, block: TitleBlock) -> Furniture:
    """Draw the border and the title block, and say what room they leave."""
    width, height = size_of(paper)
    low, high = (FILING_MARGIN, MARGIN), (width - MARGIN, height - MARGIN)
    ruled = list(_rectangle(low, high, Pen.FRAME)) + list(_centring_marks(width, height))
    corner = (high[0] - WIDTH, low[1])
    ruled += _rectangle(corner, (high[0], low[1] + HEIGHT), Pen.VISIBLE)
    texts: list[Text] = []
    top = low[1] + HEIGHT
    for row, (cells, tall) in enumerate(zip(CELLS, ROWS, strict=True)):
        left = corner[0]
        if row:  # lines between cells are drawn once
            ruled.append(Ruled(pen=Pen.THIN, start=(left, top), end=(high[0], top)))
        for place, (name, wide) in enumerate(cells):
            if place:
                ruled.append(Ruled(pen=Pen.THIN, start=(left, top), end=(left, top - tall)))
            said = block.field(name)
            texts += _cell(name, said, (left, top), (wide, tall))
            if not said and name in WRITTEN_IN:
                base = top - tall + _rise(tall)
                ruled.append(_writing_line((left, base), wide))
            left += wide
        top -= tall
    symbol = (high[0] - CELLS[2][-1][1] + 11.0, low[1] + ROWS[3] + ROWS[2] / 2 - 1.6)
    lines, circles = projection_symbol(symbol, projection)
    return Furniture(
        ruled=(*ruled, *lines),
        texts=tuple(texts),
        circles=circles,
        low=(low[0] + CLEAR, low[1] + HEIGHT + CLEAR),
        high=(high[0] - CLEAR, high[1] - CLEAR),
        aside=(low, (corner[0], low[1] + HEIGHT)),
    )


def _rectangle(low: Point, high: Point, pen: Pen) -> tuple[Ruled, ...]:
    corners = (low, (high[0], low[1]), high, (low[0], high[1]))
    return tuple(
        Ruled(pen=pen, start=a, end=b)
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    )


def _centring_marks(width: float, height: float) -> tuple[Ruled, ...]:
    """Four marks from the sheet's edge to 5 mm inside the frame, on its middles."""
    u, v = width / 2, height / 2
    inside = 5.0
    covered = u > width - MARGIN - WIDTH  # the title block is there
    return (
        Ruled(pen=Pen.FRAME, start=(u, 5.0), end=(u, MARGIN + (0.0 if covered else inside))),
        Ruled(pen=Pen.FRAME, start=(u, height - 5.0), end=(u, height - MARGIN - inside)),
        Ruled(pen=Pen.FRAME, start=(5.0, v), end=(FILING_MARGIN + inside, v)),
        Ruled(pen=Pen.FRAME, start=(width - 5.0, v), end=(width - MARGIN - inside, v)),
    )


def _cell(name: str, text: str, corner: Point, size: tuple[float, float]) -> list[Text]:
    """A field: its name small at the top of the cell, what it says below."""
    left, top = corner
    wide, tall = size
    said = TITLE_LETTER if name in LARGE_FIELDS else LETTER
    while said > 1.8 and text_width(text, said) > wide - 3.0:  # noqa: PLR2004 - ISO 3098's least
        said = {TITLE_LETTER: LETTER, LETTER: SMALL_LETTER}.get(said, 1.8)
    small = 1.8
    texts = [Text(at=(left + 1.5, top - 3.0), text=name, height=small)]
    if text:
        base = top - tall + _rise(tall)
        texts.append(Text(at=(left + 1.5, base), text=text, height=said, align=Align.LEFT))
    return texts


def _rise(tall: float) -> float:
    """How far above its cell's floor a field's text stands."""
    return 1.8 if tall <= ROWS[0] else 2.4


def _writing_line(at: Point, wide: float) -> Ruled:
    """A line to write on, as long as its cell but for a little at either end."""
    left, base = at
    return Ruled(pen=Pen.THIN, start=(left + 1.5, base), end=(left + wide - 1.5, base))


def projection_symbol(
    at: Point, projection: Projection
) -> tuple[tuple[Ruled, ...], tuple[tuple[Point, float], ...]]:
    """The truncated cone of ISO 5456-2: its end view on the right in first angle, left in third."""
    u, v = at
    small, large, long = 1.5, 3.0, 6.0
    first = projection is Projection.FIRST_ANGLE
    cone = u if first else u + 8.0
    ends = u + 11.0 if first else u + 2.0
    corners = (
        (cone, v - small),
        (cone + long, v - large),
        (cone + long, v + large),
        (cone, v + small),
    )
    ruled = [
        Ruled(pen=Pen.VISIBLE, start=a, end=b)
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]
    ruled.append(Ruled(pen=Pen.CENTRE, start=(cone - 1.0, v), end=(cone + long + 1.0, v)))
    ruled.append(Ruled(pen=Pen.CENTRE, start=(ends - 3.8, v), end=(ends + 3.8, v)))
    ruled.append(Ruled(pen=Pen.CENTRE, start=(ends, v - 3.8), end=(ends, v + 3.8)))
    return tuple(ruled), (((ends, v), small), ((ends, v), large))


def unit_words(units: Units) -> str:
    """What bare numbers on the sheet are."""
    return "mm" if units is Units.MM else "inches"
