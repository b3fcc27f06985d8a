"""Drawers: a stack of inset fronts, each with its box, bottom, runner and pull."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from ground.quantities import Share
from specs.edging import Edging, level_only
from specs.fields import Count, Gradient, Layers, Length, Offset, OneOrTwo, Size, Text
from specs.materials import Cut, thickness_faults
from specs.names import Names
from specs.records import Fault, Record
from specs.references import MaterialName, RunnerName, SheetName
from specs.short import Short


class FrontGrain(StrEnum):
    """Which way the grain of a front runs."""

    LEVEL = "level"
    UPRIGHT = "upright"


class BoxCornerKind(StrEnum):
    """How the sides of a drawer box meet its front and back."""

    BUTT = "butt"
    POCKET_SCREW = "pocket screw"
    RABBET = "rabbet"
    LOCK_RABBET = "lock rabbet"
    HALF_BLIND_DOVETAIL = "half-blind dovetail"
    THROUGH_DOVETAIL = "through dovetail"
    BOX_JOINT = "box joint"


class PullKind(StrEnum):
    """What a hand takes hold of."""

    KNOB = "knob"
    BAR = "bar"


class ButtBoxCorner(Record):
    """Butted and screwed."""

    kind: Literal[BoxCornerKind.BUTT] = Field(description="butted and screwed")
    count: Count | None = Field(None, description="screws a corner")


class PocketScrewBoxCorner(Record):
    """Pocket screws, hidden behind the applied front."""

    kind: Literal[BoxCornerKind.POCKET_SCREW] = Field(description="pocket screws behind the front")
    count: Count | None = Field(None, description="screws a corner")


class CornerPins(Record):
    """Contrasting pins through a corner."""

    diameter: Length = Field(description="diameter of a pin")
    count: Count = Field(description="pins a corner")
    species: Text = Field(description="wood of the pins")
    length: Length | None = Field(None, description="length of a pin")


class InlaidBars(Record):
    """Contrasting bars let in across a corner."""

    width: Length = Field(description="how tall a bar shows on the side")
    depth: Length = Field(description="how deep a bar is let in")
    count: Count = Field(description="bars a corner")
    species: Text = Field(description="wood of the bars")


class RabbetBoxCorner(Record):
    """The side's end in a step of the front, with or without pins or bars."""

    kind: Literal[BoxCornerKind.RABBET] = Field(description="in a step of the front or back")
    depth: Length | None = Field(None, description="depth of the rabbet; else half the thickness")
    pins: CornerPins | None = Field(None, description="contrasting pins through the corner")
    bars: InlaidBars | None = Field(None, description="contrasting bars let into the corner")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """Pins or bars, not both in one place."""
        if self.pins is not None and self.bars is not None:
            yield ("bars",), "stand where the pins are; write pins or bars"


class LockRabbetBoxCorner(Record):
    """A tongue on the front in a groove of the side."""

    kind: Literal[BoxCornerKind.LOCK_RABBET] = Field(description="a tongue locked in a groove")
    tongue: Length | None = Field(None, description="thickness of the tongue")
    depth: Length | None = Field(None, description="depth of the groove")


class HalfBlindDovetailCorner(Record):
    """Tails that do not come through the front."""

    kind: Literal[BoxCornerKind.HALF_BLIND_DOVETAIL] = Field(description="tails stop in the front")
    slope: Gradient | None = Field(None, description="slope of the tails, 1:6 to 1:8")
    lap: Length | None = Field(None, description="what is left of the front before the tails")
    tails: Count | None = Field(None, description="tails a corner")
    pin: Length | None = Field(None, description="narrowest width of a pin")


class ThroughDovetailCorner(Record):
    """Tails that come through."""

    kind: Literal[BoxCornerKind.THROUGH_DOVETAIL] = Field(description="tails come through")
    slope: Gradient | None = Field(None, description="slope of the tails, 1:6 to 1:8")
    tails: Count | None = Field(None, description="tails a corner")
    pin: Length | None = Field(None, description="narrowest width of a pin")


class BoxJointCorner(Record):
    """Straight fingers."""

    kind: Literal[BoxCornerKind.BOX_JOINT] = Field(description="straight fingers")
    finger: Length | None = Field(None, description="width of a finger")


BoxCorner = Annotated[
    ButtBoxCorner
    | PocketScrewBoxCorner
    | RabbetBoxCorner
    | LockRabbetBoxCorner
    | HalfBlindDovetailCorner
    | ThroughDovetailCorner
    | BoxJointCorner,
    Field(discriminator="kind"),
    Short(),
]


class DrawerFront(Record):
    """The show fronts, applied to the boxes."""

    material: MaterialName = Field(description="material of the fronts")
    thickness: Length | None = Field(None, description="thickness, where they are lumber")
    cut: Cut = Field(Cut.FLAT, description="how lumber fronts are sawn")
    grain: FrontGrain = Field(FrontGrain.LEVEL, description="which way the grain runs")
    # Common practice, no source: 2 mm, 1.5-3.
    gap: Length = Field(2.0, description="gap all round, and between two fronts")
    edging: Edging | None = Field(None, description="covers all four edges")

    def faults(self, names: Names) -> Iterator[Fault]:
        """Lumber has a thickness of its own; edging lies flush with the faces."""
        yield from thickness_faults(names, self.material, self.thickness)
        for where, message in level_only(self.edging, "would stand out of the face"):
            yield ("edging", *where), message


class DrawerBox(Record):
    """Two sides, a front of its own and a back."""

    material: MaterialName = Field(description="material of the box")
    thickness: Length | None = Field(None, description="thickness, where it is lumber")
    corner: BoxCorner = Field(description="how the sides meet front and back")

    def faults(self, names: Names) -> Iterator[Fault]:
        """Lumber has a thickness of its own, a sheet brings it."""
        yield from thickness_faults(names, self.material, self.thickness)


class DrawerBottom(Record):
    """The bottom, in grooves of the box."""

    material: SheetName = Field(description="sheet of the bottom")
    layers: Layers = Field(1, description="sheets glued on one another")
    groove_depth: Length = Field(description="depth of the grooves")
    up: Length = Field(description="from the sides' lower edge to the bottom's underside")


class Knob(Record):
    """A knob."""

    kind: Literal[PullKind.KNOB] = Field(description="a knob on one screw")
    count: OneOrTwo = Field(1, description="knobs a front")
    diameter: Length | None = Field(None, description="diameter of the knob")
    spacing: Length | None = Field(None, description="between two knobs; else half the front")


class BarPull(Record):
    """A bar on two screws."""

    kind: Literal[PullKind.BAR] = Field(description="a bar on two screws")
    holes: Length = Field(description="between its two screws")
    count: OneOrTwo = Field(1, description="bars a front")
    spacing: Length | None = Field(None, description="between two bars; else half the front")


Pull = Annotated[Knob | BarPull, Field(discriminator="kind"), Short()]


class Drawers(Record):
    """A stack of drawers, from the top down."""

    heights: tuple[Size, ...] = Field(
        description="the fronts' heights from the top down", min_length=1, max_length=40
    )
    front: DrawerFront = Field(description="the show fronts")
    box: DrawerBox = Field(description="the boxes")
    bottom: DrawerBottom = Field(description="the boxes' bottoms")
    runner: RunnerName = Field(description="runner or slide of the hardware")
    pull: Pull | None = Field(None, description="knob or bar on each front")
    set_back: Offset = Field(0.0, description="from the front plane to the fronts' faces")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """One height at least takes up what is left."""
        if not any(isinstance(height, Share) for height in self.heights):
            yield ("heights",), "none is a share, so nothing takes up what is left; write '1 share'"
