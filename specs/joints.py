"""Joints by their trade names, with what a maker may want otherwise than by rule of proportion.

None for a size or a count: setting out works it out by rule of proportion.
"""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from specs.fields import Count, Flag, Length, Offset
from specs.names import Names
from specs.records import Fault, Record
from specs.references import LumberName
from specs.short import Short


class JointKind(StrEnum):
    """Every joint between panels, legs and rails."""

    SPLINE = "spline"
    LOOSE_TENON = "loose tenon"
    DOWEL = "dowel"
    SCREW = "screw"
    POCKET_SCREW = "pocket screw"
    DADO = "dado"
    STOPPED_DADO = "stopped dado"
    TONGUE_AND_GROOVE = "tongue and groove"
    MORTISE_AND_TENON = "mortise and tenon"


class Helper(StrEnum):
    """What holds a joint together besides its glue."""

    POCKET_SCREW = "pocket screw"
    SCREW = "screw"


class ScrewSide(StrEnum):
    """Where screw heads are."""

    OUTSIDE = "outside"
    INSIDE = "inside"


class OpenSide(StrEnum):
    """The side that a stopped dado runs out at, where its part goes in."""

    TOP = "top"
    BOTTOM = "bottom"
    FRONT = "front"
    BACK = "back"


class _Joint(Record):
    """What every joint has."""

    clearance: Offset | None = Field(None, description="play between the two halves")


class SplineJoint(_Joint):
    """A thin strip glued into slots of both panels."""

    kind: Literal[JointKind.SPLINE] = Field(description="a strip in slots of both panels")
    thickness: Length | None = Field(None, description="the spline's thickness")
    width: Length | None = Field(None, description="the spline's width across the joint")


class LooseTenonJoint(_Joint):
    """Separate tenons glued into mortises of both parts."""

    kind: Literal[JointKind.LOOSE_TENON] = Field(description="tenons of their own in two mortises")
    thickness: Length | None = Field(None, description="the tenon's thickness")
    width: Length | None = Field(None, description="the tenon's width")
    depth: Length | None = Field(None, description="how deep it goes into each part")
    count: Count | None = Field(None, description="tenons a joint")
    with_: Helper | None = Field(None, alias="with", description="screws that pull it together")


class DowelJoint(_Joint):
    """Round pins glued into holes of both parts."""

    kind: Literal[JointKind.DOWEL] = Field(description="round pins in holes of both parts")
    diameter: Length | None = Field(None, description="the dowel's diameter")
    depth: Length | None = Field(None, description="how deep it goes into the face")
    length: Length | None = Field(None, description="the dowel's length")
    count: Count | None = Field(None, description="dowels a joint")
    with_: Helper | None = Field(None, alias="with", description="screws that pull it together")


_FROM_INSIDE = (
    "is no side for straight screws, which go through one part into the other's end; write "
    "kind: pocket screw, or from: outside"
)


class ScrewJoint(_Joint):
    """Screws through one part into the other."""

    kind: Literal[JointKind.SCREW] = Field(description="screws through one part into the other")
    from_: ScrewSide = Field(
        ScrewSide.OUTSIDE, alias="from", description="the side that the heads are on"
    )
    plugs: LumberName | None = Field(None, description="lumber of the plugs over the heads")
    diameter: Length | None = Field(None, description="the screw's shank")
    length: Length | None = Field(None, description="the screw's length")
    count: Count | None = Field(None, description="screws a joint")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """A screw square to the joint goes in from outside; from inside it needs a pocket."""
        if self.from_ is ScrewSide.INSIDE:
            yield ("from",), _FROM_INSIDE


class PocketScrewJoint(_Joint):
    """Screws at a slant through pockets on the inside."""

    kind: Literal[JointKind.POCKET_SCREW] = Field(description="slanting screws from the inside")
    length: Length | None = Field(None, description="the screw's length")
    count: Count | None = Field(None, description="screws a joint")


class DadoJoint(_Joint):
    """One panel housed in a channel right across the other."""

    kind: Literal[JointKind.DADO] = Field(description="housed in a channel right across")
    depth: Length | None = Field(None, description="the channel's depth")
    with_: Helper | None = Field(None, alias="with", description="screws that pull it together")


class StoppedDadoJoint(_Joint):
    """A channel that runs out at one side only, so that it does not show at the other."""

    kind: Literal[JointKind.STOPPED_DADO] = Field(description="housed in a channel that stops")
    depth: Length | None = Field(None, description="the channel's depth")
    open: OpenSide | None = Field(
        None,
        description="the side that the channel runs out at; else the back of a panel, and the top "
        "where it stands upright",
    )
    stop: Length | None = Field(None, description="from the channel's end to the edge that shows")
    with_: Helper | None = Field(None, alias="with", description="screws that pull it together")

    def open_faults(self, sides: tuple[OpenSide, OpenSide], what: str) -> Iterator[Fault]:
        """Say so where the channel is asked to run out at a side that it does not reach."""
        if self.open is not None and self.open not in sides:
            one, other = (side.value for side in sides)
            yield ("open",), f"is no side that {what} runs out at; write {one} or {other}"


class TongueAndGrooveJoint(_Joint):
    """A tongue on one panel's end in a groove of the other."""

    kind: Literal[JointKind.TONGUE_AND_GROOVE] = Field(description="a tongue in a narrower groove")
    thickness: Length | None = Field(None, description="the tongue's thickness")
    depth: Length | None = Field(None, description="the tongue's length")
    with_: Helper | None = Field(None, alias="with", description="screws that pull it together")


class MortiseAndTenonJoint(_Joint):
    """A tenon cut on the rail's end."""

    kind: Literal[JointKind.MORTISE_AND_TENON] = Field(description="a tenon on the rail itself")
    thickness: Length | None = Field(None, description="the tenon's thickness")
    length: Length | None = Field(None, description="the tenon's length")
    width: Length | None = Field(None, description="the tenon's width")
    haunch: Flag | None = Field(None, description="a stub towards the leg's top")


CaseJoint = Annotated[
    SplineJoint
    | LooseTenonJoint
    | DowelJoint
    | ScrewJoint
    | PocketScrewJoint
    | TongueAndGrooveJoint,
    Field(discriminator="kind"),
    Short(),
]
"""What holds a corner of the case."""

DividerJoint = Annotated[
    DowelJoint
    | DadoJoint
    | StoppedDadoJoint
    | LooseTenonJoint
    | ScrewJoint
    | PocketScrewJoint
    | TongueAndGrooveJoint,
    Field(discriminator="kind"),
    Short(),
]
"""What holds a divider, or a fixed shelf."""

ApronJoint = Annotated[
    LooseTenonJoint | MortiseAndTenonJoint | DowelJoint | PocketScrewJoint,
    Field(discriminator="kind"),
    Short(),
]
"""What holds an apron or a rail to a leg."""

StretcherJoint = Annotated[
    StoppedDadoJoint
    | LooseTenonJoint
    | MortiseAndTenonJoint
    | DowelJoint
    | ScrewJoint
    | PocketScrewJoint
    | DadoJoint,
    Field(discriminator="kind"),
    Short(),
]
"""What holds a stretcher between two aprons, or a rail between two sides."""

Joint = (
    SplineJoint
    | LooseTenonJoint
    | DowelJoint
    | ScrewJoint
    | PocketScrewJoint
    | DadoJoint
    | StoppedDadoJoint
    | TongueAndGrooveJoint
    | MortiseAndTenonJoint
)
"""Any of them, for functions that take what a spec says."""
