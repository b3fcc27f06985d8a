"""DXF documents that come out the same every time: set-up, shapes and bytes."""

import io
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass

import ezdxf
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

from drawings.loops import Ellipse, Loop, Shape
from exporters.names import dxf_text
from models.parts.views import Arc, Curve, Line, Point, Stroke

MILLIMETRES = 4
"""$INSUNITS (DXF reference, HEADER section)."""

CLASSES = (
    "ACDBDICTIONARYWDFLT",
    "ACDBPLACEHOLDER",
    "CELLSTYLEMAP",
    "DICTIONARYVAR",
    "LAYOUT",
    "MATERIAL",
    "MLEADERSTYLE",
    "RASTERVARIABLES",
    "SCALE",
    "SUN",
    "TABLESTYLE",
    "VISUALSTYLE",
)
"""Object classes that every document declares; the library would write them in no fixed order."""

FULL_TURN = 360.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """How a layer is drawn: colour index, line type, line width in 1/100 mm."""

    colour: int = 7
    linetype: str = "CONTINUOUS"
    width: int = 25


def new_document(version: str = "R2010", *, setup: tuple[str, ...] = ()) -> Drawing:
    """An empty document in millimetres; ``setup`` names the library's resources to load."""
    with _fixed_dates():  # the library notes at once when a document was made
        document = ezdxf.new(version, setup=list(setup) or False, units=MILLIMETRES)
    document.header["$MEASUREMENT"] = 1
    document.header["$LUNITS"] = 2
    return document


def add_layers(document: Drawing, pens: Mapping[str, Pen]) -> None:
    """Add a layer for every pen, in the order given."""
    for name, pen in pens.items():
        document.layers.add(name, color=pen.colour, linetype=pen.linetype, lineweight=pen.width)


def dxf_bytes(document: Drawing) -> bytes:
    """The finished file: fixed dates and ids, classes in order, text coded as the version asks."""
    used = {str(name) for name in document.entitydb.dxf_types_in_use()}
    for name in sorted(used.union(CLASSES)):
        document.classes.add_class(name)
    stream = io.StringIO()
    with _fixed_dates():
        document.write(stream)
    return stream.getvalue().encode(document.output_encoding, errors="dxfreplace")


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """Let the library write fixed dates and ids, and leave its options as they were found."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def draw_shape(space: Modelspace, shape: Shape, layer: str, at: Point = (0.0, 0.0)) -> None:
    """Draw a closed shape: a true circle or ellipse, or a closed polyline with bulges."""
    look = {"layer": layer}
    match shape:
        case Arc(centre=(u, v), radius=radius):
            space.add_circle((u + at[0], v + at[1]), radius, look)
        case Ellipse(centre=(u, v), major=major, ratio=ratio):
            space.add_ellipse((u + at[0], v + at[1]), major, ratio, dxfattribs=look)
        case Loop(corners=corners):
            moved = [(u + at[0], v + at[1], bulge) for u, v, bulge in corners]
            space.add_lwpolyline(moved, format="xyb", close=True, dxfattribs=look)


def draw_stroke(space: Modelspace, stroke: Stroke, layer: str, at: Point = (0.0, 0.0)) -> None:
    """Draw one stroke of a view: a line, a true arc or circle, a chain of points."""
    look = {"layer": layer}
    match stroke:
        case Line(start=start, end=end):
            space.add_line(_moved(start, at), _moved(end, at), look)
        case Arc(centre=centre, radius=radius, start=start_angle, end=end_angle):
            if end_angle - start_angle >= FULL_TURN:
                space.add_circle(_moved(centre, at), radius, look)
            else:
                space.add_arc(_moved(centre, at), radius, start_angle, end_angle, dxfattribs=look)
        case Curve(points=points):
            space.add_lwpolyline([_moved(point, at) for point in points], dxfattribs=look)


def _moved(point: Point, at: Point) -> Point:
    return (point[0] + at[0], point[1] + at[1])


def draw_line_of_text(space: Modelspace, text: str, at: Point, height: float, layer: str) -> None:
    """Write one line of text, lower left corner at ``at``, nothing in it taken for a code."""
    shown = dxf_text(text)
    if shown:
        space.add_text(shown, height=height, dxfattribs={"layer": layer}).set_placement(at)
