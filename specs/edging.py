"""Edging: what covers the edge of a panel, always a part of its own."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from specs.fields import Length, Text
from specs.names import Names
from specs.records import Fault, Record
from specs.references import LumberName


class EdgingKind(StrEnum):
    """What an edging is made of."""

    SOLID = "solid"
    TAPE = "veneer tape"


class EdgingCorners(StrEnum):
    """How two edgings meet."""

    MITRE = "mitre"
    BUTT = "butt"


class Hang(StrEnum):
    """Where the rest of an edging goes that is taller than its panel."""

    UP = "up"
    DOWN = "down"


class GoesOn(StrEnum):
    """When an edging is glued on."""

    BEFORE = "before glue-up"
    AFTER = "after glue-up"


class SolidEdging(Record):
    """A strip of lumber; it stands out from the panel's edge by its thickness."""

    kind: Literal[EdgingKind.SOLID] = Field(description="solid: a strip of lumber")
    material: LumberName = Field(description="lumber of the strip")
    thickness: Length = Field(description="how far it stands out from the panel's edge")
    corners: EdgingCorners = Field(EdgingCorners.BUTT, description="how two strips meet")
    height: Length | None = Field(
        None, description="height of a lip taller than the panel; else the panel's thickness"
    )
    hangs: Hang | None = Field(None, description="the side of the panel that a taller lip goes to")
    goes_on: GoesOn | None = Field(None, description="glued on before or after the glue-up")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """A taller lip says which way it hangs."""
        if self.height is not None and self.hangs is None:
            yield (), "the key 'hangs' is missing: a taller lip goes up or down from its panel"
        if self.hangs is not None and self.height is None:
            yield (), "the key 'height' is missing: an edging that hangs is taller than its panel"


class TapeEdging(Record):
    """Veneer tape."""

    kind: Literal[EdgingKind.TAPE] = Field(description="veneer tape: ironed or glued on")
    # Common practice, no source: 0.6 mm tape.
    thickness: Length = Field(0.6, description="the tape's thickness")
    species: Text | None = Field(None, description="the tape's wood; else the panel's face")
    goes_on: GoesOn | None = Field(None, description="glued on before or after the glue-up")


Edging = Annotated[SolidEdging | TapeEdging, Field(discriminator="kind")]


def _front_only(value: object) -> object:
    """A bare edging is the front edge's."""
    if isinstance(value, dict) and "kind" in value and not {"front", "back"} & set(value):
        return {"front": value}
    if isinstance(value, SolidEdging | TapeEdging):
        return {"front": value}
    return value


class EdgedSides(Record):
    """The edged edges of a panel that runs from the front to the back."""

    front: Edging | None = Field(None, description="edging of the front edge")
    back: Edging | None = Field(None, description="edging of the back edge, where it shows")


def level_only(edging: object, what: str) -> Iterator[Fault]:
    """Say so where a lip is asked for that would not go along a level panel's edge."""
    if isinstance(edging, EdgedSides):
        for side in ("front", "back"):
            for where, message in level_only(getattr(edging, side), what):
                yield (side, *where), message
    if isinstance(edging, SolidEdging) and edging.height is not None:
        yield (
            ("height",),
            f"{what}; a lip is for shelves and level dividers, so leave out height and hangs",
        )


PanelEdging = Annotated[
    EdgedSides, BeforeValidator(_front_only, json_schema_input_type=EdgedSides | Edging)
]
"""Edged sides; a bare edging stands for the front edge's."""
