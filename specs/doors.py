"""Inset doors: slabs, or a frame with a panel that is free to move."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from specs.case import Side
from specs.drawers import FrontGrain, Pull
from specs.edging import Edging, level_only
from specs.fields import Length, OneOrTwo
from specs.joints import ApronJoint
from specs.materials import Cut, thickness_faults
from specs.names import Names
from specs.records import Fault, Record
from specs.references import CatchName, HingeName, LatchName, LumberName, MaterialName
from specs.short import Short


class DoorKind(StrEnum):
    """How a door is made."""

    SLAB = "slab"
    FRAME_AND_PANEL = "frame and panel"


class StopKind(StrEnum):
    """What a closed door strikes."""

    BLOCK = "block"
    STRIP = "strip"


class DoorStop(Record):
    """What a closed door strikes."""

    kind: StopKind = Field(description="a block at the top, or a strip along it")
    material: LumberName | None = Field(None, description="lumber; else the dividers' edging")


class _Doors(Record):
    """What every door has."""

    count: OneOrTwo = Field(1, description="one door, or a pair")
    hung: Side | None = Field(
        None, description="the side that a single door hangs on; left unless said"
    )
    # Common practice, no source: 2 mm, 1.5-3.
    gap: Length = Field(2.0, description="gap all round, and between a pair")
    hinge: HingeName = Field(description="hinge of the hardware")
    latch: LatchName | None = Field(None, description="push latch of the hardware")
    catch: CatchName | None = Field(None, description="catch of the hardware")
    stop: Annotated[DoorStop, Short()] | None = Field(
        None, description="what a closed door strikes"
    )
    pull: Pull | None = Field(None, description="knob or bar on each door")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """A pair hangs on both sides."""
        if self.count == 2 and self.hung is not None:  # noqa: PLR2004 - a pair
            yield ("hung",), "is for a single door; a pair hangs on both sides"

    @property
    def hung_on(self) -> tuple[Side, ...]:
        """The side that each door hangs on, left to right."""
        if self.count == 1:
            return (Side.LEFT if self.hung is None else self.hung,)
        return (Side.LEFT, Side.RIGHT)


class SlabDoors(_Doors):
    """Doors of one panel."""

    kind: Literal[DoorKind.SLAB] = Field(DoorKind.SLAB, description="one panel")
    material: MaterialName = Field(description="material of the doors")
    thickness: Length | None = Field(None, description="thickness, where they are lumber")
    cut: Cut = Field(Cut.FLAT, description="how a lumber door's boards are sawn")
    grain: FrontGrain = Field(FrontGrain.UPRIGHT, description="which way the grain runs")
    edging: Edging | None = Field(None, description="covers all four edges")

    def faults(self, names: Names) -> Iterator[Fault]:
        """Lumber has a thickness of its own; edging lies flush with the faces."""
        yield from super().faults(names)
        yield from thickness_faults(names, self.material, self.thickness)
        for where, message in level_only(self.edging, "would stand out of the face"):
            yield ("edging", *where), message


class DoorFrame(Record):
    """Stiles and rails, grooved for the panel."""

    material: LumberName = Field(description="lumber of the stiles and rails")
    thickness: Length = Field(description="thickness of the frame")
    stiles: Length = Field(description="width of the stiles")
    rails: Length = Field(description="width of the rails")
    groove_depth: Length = Field(description="depth of the panel's groove")
    joint: ApronJoint | None = Field(None, description="what holds the rails to the stiles")


class DoorPanel(Record):
    """The panel, free in its groove."""

    material: MaterialName = Field(description="material of the panel")
    thickness: Length | None = Field(None, description="thickness, where it is lumber")
    cut: Cut = Field(Cut.FLAT, description="how a lumber panel's boards are sawn")

    def faults(self, names: Names) -> Iterator[Fault]:
        """Lumber has a thickness of its own, a sheet brings it."""
        yield from thickness_faults(names, self.material, self.thickness)


class PanelDoors(_Doors):
    """Doors of a frame and a panel."""

    kind: Literal[DoorKind.FRAME_AND_PANEL] = Field(description="a frame with a loose panel")
    frame: DoorFrame = Field(description="stiles and rails")
    panel: DoorPanel = Field(description="the panel between them")


Doors = Annotated[
    SlabDoors | PanelDoors,
    Field(discriminator="kind"),
    Short(words=False, default=DoorKind.SLAB.value),
]
