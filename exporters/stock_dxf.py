"""sheets/NAME.dxf: a sheet or board as it is cut, full size, one layer for each kind of thing."""

from typing import assert_never

from exporters.dxf_kit import Pen, add_layers, draw_line_of_text, dxf_bytes, new_document
from exporters.stock_picture import Box, Layer, Line, Words, picture
from ground.quantities import Units
from planning.cutting.records import Stock

PENS = {
    Layer.STOCK: Pen(width=50),
    Layer.PART: Pen(width=35),
    Layer.OFFCUT: Pen(colour=3, width=25),
    Layer.WASTE: Pen(colour=8, width=13),
    Layer.CUT: Pen(colour=1, width=13),
    Layer.GRAIN: Pen(colour=8, width=25),
    Layer.KEEP_OUT: Pen(colour=6, width=25),
    Layer.TEXT: Pen(width=25),
}


def stock_dxf(stock: Stock, units: Units) -> bytes:
    """Draw a sheet or board with its saw list."""
    document = new_document()
    add_layers(document, {layer.value: pen for layer, pen in PENS.items()})
    space = document.modelspace()
    drawn = picture(stock, units)
    for mark in drawn.marks:
        match mark:
            case Line(layer=layer, start=start, end=end):
                space.add_line(start, end, {"layer": layer.value})
            case Box(layer=layer, at=(x, y), size=(w, h)):
                corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
                space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer.value})
            case Words(layer=layer, at=at, text=text, height=height):
                draw_line_of_text(space, text, at, height, layer.value)
            case _:
                assert_never(mark)
    wide, high = drawn.size
    document.header["$EXTMIN"] = (0.0, drawn.low, 0.0)
    document.header["$EXTMAX"] = (wide, high, 0.0)
    middle = (wide / 2, (high + drawn.low) / 2)
    document.set_modelspace_vport((high - drawn.low) * 1.05, middle)
    return dxf_bytes(document)
