"""A sheet as DXF: the part full size in model space, the sheet scaled up around it.

So a size picked in any program is the part's own in mm, and plotting at the sheet's scale gives
the paper. Every size is a DIMENSION entity with its measured value; its picture is drawn here, so
that it looks the same everywhere and needs no font to be measured.
"""

import math
from collections.abc import Callable

from ezdxf.document import Drawing
from ezdxf.layouts import BlockLayout, Modelspace

from drawings.clipping import scaled
from drawings.drafting import Drafted, drafted
from drawings.lettering import FRACTION, STACKED
from drawings.paper import (
    ARROW,
    FRAME,
    GAP,
    LETTER,
    LETTERING,
    NARROW,
    NARROW_LARGE,
    OVERRUN,
    SIZES,
    WIDE,
    WIDE_LARGE,
)
from drawings.records import (
    Align,
    Angular,
    Axis,
    Dimension,
    Linear,
    Note,
    Ordinate,
    Sheet,
    Table,
    Text,
    View,
)
from drawings.records import Pen as Use
from exporters.dxf_kit import Pen, add_layers, draw_stroke, dxf_bytes, new_document
from exporters.names import dxf_mtext, dxf_text
from ground.quantities import MM_PER_INCH, Units
from ground.vectors import Vec
from models.parts.views import Line, Point
from specs.spec import Paper

LAYERS = {
    Use.VISIBLE: "VISIBLE",
    Use.HIDDEN: "HIDDEN",
    Use.CENTRE: "CENTRE",
    Use.THIN: "THIN",
    Use.EDGED: "EDGED",
    Use.FRAME: "FRAME",
}
DIMENSIONS, NOTES, TITLE = "DIMENSIONS", "NOTES", "TITLE-BLOCK"

DASHED, CHAIN, WIDE_CHAIN = "DASHED-NARROW", "LONG-DASH-DOT", "LONG-DASH-DOT-WIDE"

STYLE = "SHOP"
FONT = "LiberationSans-Regular.ttf"
"""Open, and close to the lettering of ISO 3098; programs without it take their own sans-serif."""

FAR_LETTERS = {"\N{DIAMETER SIGN}": "%%c", "\N{DEGREE SIGN}": "%%d"}
"""Signs that DXF has codes for, whatever the font."""

LINEAR, ANGULAR, ORDINATE = 0, 5, 6
OWN_BLOCK, ALONG_U = 32, 64
"""Group 70 of a DIMENSION: kinds, and flags added to them (DXF reference)."""

FRACTIONAL, DECIMAL = 5, 2
"""$DIMLUNIT."""

DOT = 0.5
"""Radius of the dot at a leader's end on a surface (paper mm; ISO 129-1 ends it so)."""


def sheet_dxf(sheet: Sheet) -> bytes:
    """Draw ``sheet`` in one file."""
    document = new_document()
    up = 1.0 / sheet.scale.factor
    _set_up(document, sheet, up)
    space = document.modelspace()
    for view in sheet.views:
        _view(document, view, sheet)
    for note in sheet.notes:
        _note(space, note, sheet, up)
    for text in sheet.texts:
        _text(space, text, TITLE, up)
    for ruled in sheet.ruled:
        draw_stroke(space, Line(_up(ruled.start, up), _up(ruled.end, up)), LAYERS[ruled.pen])
    for centre, radius in sheet.circles:
        space.add_circle(_up(centre, up), radius * up, {"layer": LAYERS[Use.VISIBLE]})
    for table in sheet.tables:
        _table(space, table, sheet, up)
    return dxf_bytes(document)


def _view(document: Drawing, view: View, sheet: Sheet) -> None:
    """The strokes of a view at full size, and its dimensions."""
    up = 1.0 / sheet.scale.factor
    for use, stroke in view.strokes:
        own = stroke if view.by == 1.0 else scaled(stroke, view.by)
        draw_stroke(document.modelspace(), own, LAYERS[use], _up(view.at, up))
    for dimension in view.dimensions:
        _dimension(document, dimension, view, sheet)


# ---- line types, widths, lettering


def _set_up(document: Drawing, sheet: Sheet, up: float) -> None:
    """Layers, line types and styles of ISO 128-2, scaled for the sheet."""
    large = sheet.paper in {Paper.A0, Paper.A1, Paper.ASME_D, Paper.ASME_E}
    wide, narrow = (WIDE_LARGE, NARROW_LARGE) if large else (WIDE, NARROW)
    d = narrow
    # dash 12 d, long dash 24 d, gap 3 d, dot half a d (ISO 128-2)
    dash, gap = 12 * d, 3 * d
    document.linetypes.add(DASHED, [dash + gap, dash, -gap], description="02.1 dashed narrow")
    long = 24 * d
    pattern = [long + 2 * gap + d / 2, long, -gap, d / 2, -gap]
    document.linetypes.add(CHAIN, pattern, description="04.1 long dash and dot, narrow")
    # half the standard's lengths: the edges it stands beside are often short on paper
    dash, gap = 12 * wide, 3 * wide
    pattern = [dash + 2 * gap + wide / 2, dash, -gap, wide / 2, -gap]
    document.linetypes.add(WIDE_CHAIN, pattern, description="04.2 long dash and dot, wide")
    document.header["$LTSCALE"] = up
    thin = round(narrow * 100)
    add_layers(
        document,
        {
            LAYERS[Use.VISIBLE]: Pen(width=round(wide * 100)),
            LAYERS[Use.HIDDEN]: Pen(colour=8, linetype=DASHED, width=thin),
            LAYERS[Use.CENTRE]: Pen(colour=8, linetype=CHAIN, width=thin),
            LAYERS[Use.THIN]: Pen(width=thin),
            LAYERS[Use.EDGED]: Pen(linetype=WIDE_CHAIN, width=round(wide * 100)),
            LAYERS[Use.FRAME]: Pen(width=round(FRAME * 100)),
            DIMENSIONS: Pen(width=thin),
            NOTES: Pen(width=round(LETTERING * 100)),
            TITLE: Pen(width=round(LETTERING * 100)),
        },
    )
    document.styles.add(STYLE, font=FONT)
    _dimension_style(document, sheet, up)
    width, height = SIZES[sheet.paper]
    space = document.modelspace()
    corner = (width * up, height * up, 0.0)
    space.reset_extents((0.0, 0.0, 0.0), corner)
    # the library takes a corner at the origin for no corner, and keeps what the header says
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (0.0, 0.0, 0.0), corner
    space.reset_limits((0.0, 0.0), (width * up, height * up))
    document.set_modelspace_vport(height * up * 1.05, (width * up / 2, height * up / 2))


def _dimension_style(document: Drawing, sheet: Sheet, up: float) -> None:
    """A style by which another program redraws a dimension as it is drawn here."""
    inches = sheet.units is Units.INCH
    document.dimstyles.add(
        STYLE,
        dxfattribs={
            "dimscale": up,
            "dimtxt": LETTER,
            "dimasz": ARROW,
            "dimexo": GAP,
            "dimexe": OVERRUN,
            "dimtad": 1,
            "dimtih": 0,
            "dimtoh": 0,
            "dimlunit": FRACTIONAL if inches else DECIMAL,
            "dimlfac": 1 / MM_PER_INCH if inches else 1.0,
            "dimdec": 6 if inches else 1,
            "dimzin": 8,
            "dimfrac": 1,
            "dimadec": 1,
            "dimtxsty": STYLE,
        },
    )
    document.header["$DIMSTYLE"] = STYLE


def _up(point: Point, up: float) -> Point:
    """A place on the sheet as it lies in model space."""
    return (point[0] * up, point[1] * up)


# ---- text


def _coded(text: str) -> str:
    """Signs as the codes that every program knows; the text is already safe."""
    for sign, code in FAR_LETTERS.items():
        text = text.replace(sign, code)
    return text


def _stacked(text: str) -> str:
    """Fractions stacked, as MTEXT writes them; the text is already safe."""
    return FRACTION.sub(
        lambda found: (
            f"{found['whole'] or ''}{' ' if found['whole'] else ''}{{\\H{STACKED}x;"
            f"\\S{found['top'] or found['t']}/{found['under'] or found['u']};}}"
        ),
        text,
    )


def _text(
    space: Modelspace | BlockLayout, text: Text, layer: str, up: float, *, fractions: bool = False
) -> None:
    """One line of text; with stacked fractions where the sheet is in inches and has some."""
    at = _up(text.at, up)
    if fractions and FRACTION.search(text.text):
        content = f"\\A1;{_stacked(_coded(dxf_mtext(text.text)))}"
        mtext = space.add_mtext(
            content,
            dxfattribs={
                "layer": layer,
                "style": STYLE,
                "char_height": text.height * up,
                "attachment_point": {Align.LEFT: 7, Align.CENTRE: 8, Align.RIGHT: 9}[text.align],
                "rotation": text.turned,
            },
        )
        mtext.set_location(at)
        return
    shown = _coded(dxf_text(text.text))
    if not shown:
        return
    line = space.add_text(
        shown,
        height=text.height * up,
        rotation=text.turned,
        dxfattribs={"layer": layer, "style": STYLE},
    )
    halign = {Align.LEFT: 0, Align.CENTRE: 1, Align.RIGHT: 2}[text.align]
    line.dxf.insert = at
    if halign:
        line.dxf.halign = halign
        line.dxf.align_point = at


def _note(space: Modelspace, note: Note, sheet: Sheet, up: float) -> None:
    """A note with its leader, a dot where it ends on the part."""
    _text(space, note.text, NOTES, up, fractions=sheet.units is Units.INCH)
    points = [_up(point, up) for point in note.leader]
    if len(points) > 1:
        space.add_lwpolyline(points, dxfattribs={"layer": LAYERS[Use.THIN]})
        space.add_circle(points[-1], DOT * up, {"layer": LAYERS[Use.THIN]})


def _table(space: Modelspace, table: Table, sheet: Sheet, up: float) -> None:
    """A ruled table, its head first."""
    left, top = table.at
    wide = sum(table.widths)
    for row, cells in enumerate(table.rows):
        base = top - (row + 1) * table.row_height
        _rule(space, (left, base), (left + wide, base), up)
        at = left
        for text, width in zip(cells, table.widths, strict=True):
            place = (at + 1.0, base + (table.row_height - table.letter) / 2)
            line = Text(at=place, text=text, height=table.letter)
            _text(space, line, NOTES, up, fractions=sheet.units is Units.INCH)
            at += width
    at, floor = left, top - len(table.rows) * table.row_height
    for width in (0.0, *table.widths):
        at += width
        _rule(space, (at, top), (at, floor), up)
    _rule(space, (left, top), (left + wide, top), up)


def _rule(space: Modelspace, start: Point, end: Point, up: float) -> None:
    draw_stroke(space, Line(_up(start, up), _up(end, up)), LAYERS[Use.THIN])


# ---- dimensions


def _dimension(document: Drawing, dimension: Dimension, view: View, sheet: Sheet) -> None:
    """A DIMENSION entity over the part's own points, with its picture in a block of its own."""
    up = 1.0 / sheet.scale.factor
    picture = drafted(dimension, view, sheet.scale)
    block = document.blocks.new_anonymous_block(type_char="D")
    _picture(block, picture, sheet, up)
    base = (view.at[0] * up, view.at[1] * up)

    def at(point: Point) -> Vec:
        return (base[0] + point[0] * view.by, base[1] + point[1] * view.by, 0.0)

    document.modelspace().new_entity(
        "DIMENSION",
        {
            "layer": DIMENSIONS,
            "dimstyle": _style_for(document, view.by),
            "geometry": block.name,
            "text": "<>",
            "text_midpoint": (*_up(picture.text.at, up), 0.0),
            "actual_measurement": _measured(dimension),
            **_points(dimension, at),
        },
    )


def _style_for(document: Drawing, by: float) -> str:
    """The sheet's style, or one of a view ``by`` times as large, whose sizes count so much less."""
    if by == 1.0:
        return STYLE
    name = f"{STYLE}-{by:g}".replace(".", "_")
    if name not in document.dimstyles:
        own = document.dimstyles.duplicate_entry(STYLE, name)
        own.dxf.dimlfac = own.dxf.dimlfac / by
    return name


def _measured(dimension: Dimension) -> float:
    """What group 42 says: mm, and radians of an angle (DXF reference)."""
    if isinstance(dimension, Angular):
        return math.radians(dimension.measured)
    return dimension.measured


def _points(
    dimension: Dimension, at: Callable[[Point], tuple[float, float, float]]
) -> dict[str, object]:
    """The groups that say what a dimension measures."""
    match dimension:
        case Linear(first=first, second=second, line=line, axis=axis):
            level = axis is Axis.U
            end = (second[0], line[1]) if level else (line[0], second[1])
            return {
                "dimtype": LINEAR | OWN_BLOCK,
                "defpoint": at(end),
                "defpoint2": at(first),
                "defpoint3": at(second),
                "angle": 0.0 if level else 90.0,
            }
        case Ordinate(origin=origin, feature=feature, end=end, axis=axis):
            return {
                "dimtype": ORDINATE | OWN_BLOCK | (ALONG_U if axis is Axis.U else 0),
                "defpoint": at(origin),
                "defpoint2": at(feature),
                "defpoint3": at(end),
            }
        case Angular(corner=corner, start=start, end=end):

            def along(degrees: float) -> Vec:
                turn = math.radians(degrees)
                return at((corner[0] + math.cos(turn), corner[1] + math.sin(turn)))

            return {
                "dimtype": ANGULAR | OWN_BLOCK,
                "defpoint": along((start + end) / 2),
                "defpoint2": along(start),
                "defpoint3": along(end),
                "defpoint4": at(corner),
            }


def _picture(block: BlockLayout, picture: Drafted, sheet: Sheet, up: float) -> None:
    """Lines, arrow heads and the number of one dimension."""
    for start, end in picture.lines:
        block.add_line(_up(start, up), _up(end, up), {"layer": DIMENSIONS})
    for tip, back in picture.arrows:
        # three to one, closed and filled (ASME Y14.2; ISO 129-1 leaves the form open)
        du, dv = (back[0] - tip[0]) / 6, (back[1] - tip[1]) / 6
        corners = [tip, (back[0] - dv, back[1] + du), (back[0] + dv, back[1] - du)]
        block.add_solid([_up(corner, up) for corner in corners], {"layer": DIMENSIONS})
    _text(block, picture.text, DIMENSIONS, up, fractions=sheet.units is Units.INCH)
