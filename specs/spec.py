"""The whole spec: one piece of furniture as it is asked for."""

from collections.abc import Iterator
from enum import StrEnum

from pydantic import Field

from ground.quantities import Units
from specs.base import Base
from specs.case import Case
from specs.fields import Date, Format, Text
from specs.hardware import Fitting
from specs.loads import Loads
from specs.materials import Material
from specs.names import Names
from specs.openings import Opening
from specs.place import Held, Way
from specs.records import Fault, Record
from specs.shop import Shop


class Paper(StrEnum):
    """Sheet sizes of ISO 216 and of ASME Y14.1."""

    A4 = "A4"
    A3 = "A3"
    A2 = "A2"
    A1 = "A1"
    A0 = "A0"
    LETTER = "Letter"
    TABLOID = "Tabloid"
    ASME_C = "ASME C"
    ASME_D = "ASME D"
    ASME_E = "ASME E"


class Standard(StrEnum):
    """The drawing standard."""

    ISO = "ISO"
    ASME = "ASME"


class Projection(StrEnum):
    """How views are laid out."""

    FIRST_ANGLE = "first angle"
    THIRD_ANGLE = "third angle"


class Drawings(Record):
    """How drawings are laid out, and who answers for them."""

    paper: Paper = Field(description="size of a sheet")
    standard: Standard = Field(description="ISO or ASME")
    projection: Projection | None = Field(
        None, description="first angle (ISO's default) or third angle (ASME's)"
    )
    owner: Text | None = Field(None, description="who owns the drawings, for the title block")
    creator: Text | None = Field(None, description="who drew them")
    approved_by: Text | None = Field(None, description="who approved them")
    number: Text | None = Field(None, description="identification number of the set")
    date: Date | None = Field(None, description="date of issue")

    @property
    def projection_used(self) -> Projection:
        """First angle for ISO and third for ASME, unless said otherwise."""
        if self.projection is not None:
            return self.projection
        iso = self.standard is Standard.ISO
        return Projection.FIRST_ANGLE if iso else Projection.THIRD_ANGLE


class Spec(Record):
    """One piece of furniture as it is asked for; lengths in mm, whatever the file's units."""

    format: Format = Field(description="version of the spec language")
    name: Text = Field(description="name of the piece")
    units: Units = Field(description="units of bare numbers here and of printed sizes, mm or in")
    currency: Text | None = Field(None, description="sign of the prices' currency")
    drawings: Drawings = Field(description="how drawings are laid out")
    shop: Shop = Field(Shop(), description="the shop's saws and the room's air")
    materials: dict[Text, Material] = Field(description="lumber and sheets by name")
    hardware: dict[Text, Fitting] = Field({}, description="runners, hinges and the like by name")
    base: Base = Field(description="what the case stands on")
    case: Case = Field(description="sides, top, bottom and back")
    inside: Opening = Field(description="what the case is divided into and holds")
    loads: Loads = Field(Loads(), description="what will stand on it and lie in it")
    holds: tuple[Held, ...] = Field((), description="what it is for: things and their sizes")
    way: Way | None = Field(None, description="doorway, stair and lift that it must pass")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """The inside takes up the case, and every divided opening knows its dividers."""
        if self.inside.size is not None:
            yield (
                ("inside", "size"),
                "the inside is as large as the case leaves it; leave out 'size'",
            )
        if self.inside.split is not None and self.inside.dividers is None:
            yield ("inside",), "the key 'dividers' is missing: what divides this opening?"
