"""The shop: what its saws take, what milling takes, and the air that the piece will live in."""

from collections.abc import Iterator

from pydantic import Field

from specs.fields import Count, Layers, Length, Offset, Percent, Temperature
from specs.machines import Machines
from specs.names import Names
from specs.records import Fault, Record


class Milling(Record):
    """What rough lumber has over the finished part (mm).

    Common practice, no source: 25-50 long, 6 wide, 4-6 thick.
    """

    length: Offset = Field(30.0, description="left on the length of rough lumber")
    width: Offset = Field(6.0, description="left on the width of rough lumber")
    thickness: Offset = Field(5.0, description="left on the thickness of rough lumber")


class Shop(Record):
    """The shop and the room; what is not written is common practice, no source."""

    kerf: Length = Field(3.2, description="width of the saw cut")
    trim: Offset = Field(10.0, description="taken off each edge of a new sheet")
    milling: Milling = Field(Milling(), description="left on rough lumber until it is milled")
    humidity: tuple[Percent, Percent] = Field(
        (35.0, 60.0), description="the room's driest and dampest month, % relative humidity"
    )
    temperature: Temperature = Field(20.0, description="the room's temperature")
    shortest: Length = Field(300.0, description="the shortest piece that is milled alone")
    levels: Layers = Field(3, description="how often a sheet's strips may be cut again")
    machines: Machines = Field(Machines(), description="what its machines reach")
    spare: Count | None = Field(None, description="spare pieces of each short part")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """The driest month comes first."""
        dry, damp = self.humidity
        if dry > damp:
            yield ("humidity",), "the first is the driest month; write the smaller number first"
