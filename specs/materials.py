"""Materials: lumber by species, sheets by core and face."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from specs.fields import Count, Density, Length, Offset, Percent, Price, Text
from specs.names import Names
from specs.records import Fault, Record

LEAST_OF_NOMINAL, MOST_OF_NOMINAL = 0.7, 1.3
"""A sheet measured outside of these shares of its nominal thickness was measured wrongly.

Common practice, no source; the published tolerances are all far narrower.
"""


class MaterialKind(StrEnum):
    """What a part is cut from."""

    LUMBER = "lumber"
    SHEET = "sheet"


class Core(StrEnum):
    """What a sheet is made of."""

    VENEER_PLYWOOD = "veneer plywood"
    BIRCH_PLYWOOD = "birch plywood"
    SOFTWOOD_PLYWOOD = "softwood plywood"
    MDF = "mdf"
    PARTICLEBOARD = "particleboard"
    HARDBOARD = "hardboard"
    BLOCKBOARD = "blockboard"


class SheetGrain(StrEnum):
    """Which way the face grain of a sheet runs."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"


class Cut(StrEnum):
    """How the growth rings of a board lie to its face."""

    FLAT = "flat"
    RIFT = "rift"
    QUARTERED = "quartered"


class Figure(StrEnum):
    """What the grain on the face of a board looks like."""

    STRAIGHT = "straight"
    CATHEDRAL = "cathedral"
    RIFT = "rift"


class Defect(Record):
    """A knot, a check, an edge of sapwood: a rectangle of a board that no part may lie on (mm)."""

    x: Offset = Field(description="from the board's end")
    y: Offset = Field(description="from the board's edge")
    length: Length = Field(description="along the board")
    width: Length = Field(description="across the board")
    what: Text = Field("defect", description="what it is: a knot, a check, sapwood")


class FigureAt(Record):
    """What the grain looks like over a stretch of a board (mm)."""

    start: Offset = Field(description="from the board's end")
    length: Length = Field(description="how long the stretch is")
    figure: Figure = Field(description="what the grain looks like there")


class Board(Record):
    """Rough boards of one size in the rack (mm)."""

    thickness: Length = Field(description="rough thickness")
    width: Length = Field(description="rough width")
    length: Length = Field(description="rough length")
    count: Count = Field(1, description="how many of this size")
    defects: tuple[Defect, ...] = Field((), description="what no part may lie on")
    figure: tuple[FigureAt, ...] = Field((), description="what the grain looks like, by stretches")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """Defects and stretches lie on the board."""
        for place, defect in enumerate(self.defects):
            if defect.x >= self.length or defect.y >= self.width:
                yield ("defects", place), "lies off the board; measure from its end and its edge"
        for place, stretch in enumerate(self.figure):
            if stretch.start >= self.length:
                yield ("figure", place), "starts off the board; measure from its end"


class Sold(Record):
    """Boards as the yard sells them (mm); what is not written is common practice, no source."""

    thicknesses: tuple[Length, ...] = Field((), description="rough thicknesses")
    width: Length | None = Field(None, description="the usual width")
    lengths: tuple[Length, ...] = Field((), description="lengths")


class Offcut(Record):
    """Pieces of a sheet left in the rack, of one size (mm)."""

    length: Length = Field(description="along the sheet's length")
    width: Length = Field(description="along the sheet's width")
    count: Count = Field(1, description="how many of this size")


class SheetSize(Record):
    """Another size that the sheet is sold in."""

    size: tuple[Length, Length] = Field(description="length and width of a new sheet")
    price: Price | None = Field(None, description="of one sheet")


class Lumber(Record):
    """Solid wood."""

    kind: Literal[MaterialKind.LUMBER] = Field(description="lumber: solid wood")
    species: Text = Field(description="the wood's common name, such as white oak")
    # Common practice, no source: lumber for rooms is dried to 6-8 %.
    moisture: Percent = Field(8.0, description="moisture content at milling, %")
    density: Density | None = Field(None, description="kg a cubic metre, where it was weighed")
    price: Price | None = Field(
        None, description="of a cubic metre in a mm file, of a board foot in an inch file"
    )
    boards: tuple[Board, ...] = Field((), description="boards in the rack, used first")
    sold: Sold | None = Field(None, description="boards as the yard sells them")


class Sheet(Record):
    """Sheet goods."""

    kind: Literal[MaterialKind.SHEET] = Field(description="sheet: plywood, mdf and the like")
    core: Core = Field(description="what the sheet is made of")
    face: Text | None = Field(None, description="species of the face veneer, or the covering")
    thickness: Length = Field(description="nominal thickness")
    measured: Length | None = Field(
        None, description="thickness measured on this delivery; used wherever it is written"
    )
    density: Density | None = Field(None, description="kg a cubic metre, where it was weighed")
    size: tuple[Length, Length] = Field(description="length and width of a new sheet")
    grain: SheetGrain = Field(description="the face grain runs along the length, width or neither")
    price: Price | None = Field(None, description="of one sheet")
    sizes: tuple[SheetSize, ...] = Field((), description="other sizes it is sold in")
    offcuts: tuple[Offcut, ...] = Field((), description="pieces in the rack, used first")

    @property
    def thickness_used(self) -> float:
        """The thickness that everything is worked from: measured before nominal (mm)."""
        return self.thickness if self.measured is None else self.measured

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """A measurement far off the nominal size is a slip of the pen or of the unit."""
        off = self.thickness_used / self.thickness
        if not LEAST_OF_NOMINAL <= off <= MOST_OF_NOMINAL:
            yield ("measured",), "is more than 30 % off the thickness; measure again"


Material = Annotated[Lumber | Sheet, Field(discriminator="kind")]


def thickness_faults(
    names: Names, material: str, thickness: float | None, key: str = "thickness"
) -> Iterator[Fault]:
    """Yield a fault where lumber has no thickness of its own, or a sheet is given another."""
    kind = (names.materials or {}).get(material)
    if kind == MaterialKind.LUMBER and thickness is None:
        yield (), f"the key '{key}' is missing: lumber is milled to a thickness, here to what?"
    if kind == MaterialKind.SHEET and thickness is not None:
        yield (key,), f"a sheet is as thick as it is; leave out '{key}' or name lumber"
