"""Shelves: loose on pins, or fixed in dados."""

from collections.abc import Iterator
from enum import StrEnum

from pydantic import Field

from specs.edging import PanelEdging
from specs.fields import Count, Length, Offset
from specs.materials import thickness_faults
from specs.names import Names
from specs.records import Fault, Record
from specs.references import MaterialName, PinsName


class Support(StrEnum):
    """What a shelf rests on."""

    SHELF_PINS = "shelf pins"
    DADO = "dado"


class Shelves(Record):
    """The shelves of one opening, all alike."""

    count: Count | None = Field(None, description="how many, standing evenly on the 32 mm grid")
    places: tuple[Length, ...] | None = Field(
        None, description="from the opening's floor up to each shelf's underside", min_length=1
    )
    material: MaterialName = Field(description="material of the shelves")
    thickness: Length | None = Field(None, description="thickness, where they are lumber")
    support: Support = Field(Support.SHELF_PINS, description="shelf pins or dado")
    pins: PinsName | None = Field(None, description="shelf pins of the hardware; else the usual")
    dado_depth: Length | None = Field(None, description="depth of the dados; else a third")
    edging: PanelEdging | None = Field(None, description="what covers the edges that show")
    set_back: Offset | None = Field(
        None, description="from the front plane; else clear of the door or flush"
    )

    def faults(self, names: Names) -> Iterator[Fault]:
        """Shelves are counted or placed, and held in one way."""
        yield from thickness_faults(names, self.material, self.thickness)
        if (self.count is None) == (self.places is None):
            yield (), "needs either 'count' or 'places', and not both"
        if self.places is not None and list(self.places) != sorted(set(self.places)):
            yield ("places",), "are not in order; write them from the lowest shelf up"
        if self.support is Support.DADO and self.pins is not None:
            yield ("pins",), "hold no shelf in dados; leave them out or write support: shelf pins"
        if self.support is Support.SHELF_PINS and self.dado_depth is not None:
            yield ("dado_depth",), "is for shelves in dados; leave it out or write support: dado"
