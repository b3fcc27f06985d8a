"""Hardware, generic: the usual dimensions of each kind, each to be overridden by a data sheet.

Every default is common practice, no source, where nothing else is said beside it. A maker's own
data sheet always goes before them.
"""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from specs.fields import Angle, Count, Flag, Length, Mass, Offset
from specs.names import Names
from specs.records import Fault, Record
from specs.references import LumberName


class FittingKind(StrEnum):
    """Every kind of hardware that a spec may name."""

    UNDERMOUNT_RUNNER = "undermount runner"
    SIDE_MOUNT_SLIDE = "side-mount slide"
    WOODEN_RUNNER = "wooden runner"
    CUP_HINGE = "cup hinge"
    BUTT_HINGE = "butt hinge"
    SHELF_PINS = "shelf pins"
    PUSH_LATCH = "push latch"
    MAGNETIC_CATCH = "magnetic catch"
    BALL_CATCH = "ball catch"


class Opens(StrEnum):
    """How a drawer is opened."""

    PULL = "pull"
    PUSH = "push"


class Closing(StrEnum):
    """What a hinge does by itself."""

    FREE = "free"
    SPRUNG = "sprung"
    SOFT = "soft"


class CupFixing(StrEnum):
    """How a cup is held in its door."""

    SCREWS = "screws"
    PRESSED_DOWELS = "pressed dowels"


class UndermountRunner(Record):
    """A pair of runners under a drawer box; it fixes the box's inside width."""

    kind: Literal[FittingKind.UNDERMOUNT_RUNNER] = Field(description="hidden under the drawer")
    length: Length = Field(description="nominal length, which is the drawer box's length")
    capacity: Mass | None = Field(None, description="drawer and contents that a pair carries")
    opens: Opens = Field(Opens.PULL, description="opened by a pull, or by a push on the front")
    sync_rod: Flag = Field(default=False, description="a rod makes both sides run together")
    deduction: Length | None = Field(
        None, description="opening less the box's inside width; else 42, or 49 for sides over 16"
    )
    recess: Length = Field(13.0, description="from the side's lower edge up to the bottom")
    below: Offset = Field(14.0, description="room under the box's sides")
    above: Offset = Field(7.0, description="room over the box's sides")
    setback: Offset = Field(3.0, description="from the back of the front to the runner")
    notch_width: Length = Field(35.0, description="notch in the box's back, from its outside")
    notch_height: Length = Field(13.0, description="notch in the box's back")
    hook_diameter: Length = Field(6.0, description="hole in the box's back for the hook")
    hook_depth: Length = Field(10.0, description="depth of the hook's hole")
    hook_in: Length = Field(7.0, description="hook's hole from the inside of the side")
    hook_up: Length = Field(11.0, description="hook's hole above the bottom's underside")
    travel: Length | None = Field(None, description="how far it opens; else its length")
    sinks: Offset = Field(4.0, description="how far a push sends the front in; 2-4 is usual")

    # An undermount runner takes sides up to 16 mm; for 17-19 mm there is another of the kind, with
    # 49 mm in place of 42. Common practice, no source; makers differ.
    def deduction_for(self, side: float) -> float:
        """Opening less the box's inside width for sides of this thickness (mm)."""
        if self.deduction is not None:
            return self.deduction
        return 42.0 if side <= 16.0 else 49.0  # noqa: PLR2004 - see above

    @property
    def opens_by(self) -> float:
        """How far a drawer comes out (mm)."""
        return self.length if self.travel is None else self.travel

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """A runner cannot open by more than twice its length."""
        yield from _travel_faults(self.length, self.travel)


class SideMountSlide(Record):
    """A pair of slides at a drawer box's sides; it fixes the box's outside width."""

    kind: Literal[FittingKind.SIDE_MOUNT_SLIDE] = Field(description="at the drawer's sides")
    length: Length = Field(description="nominal length, which is the drawer box's length")
    thickness: Length = Field(12.7, description="room that it takes at each side")
    play: Offset = Field(0.0, description="room besides, both sides together; 0-1.1 is usual")
    height: Length = Field(45.0, description="height of the slide")
    capacity: Mass | None = Field(None, description="drawer and contents that a pair carries")
    opens: Opens = Field(Opens.PULL, description="opened by a pull, or by a push on the front")
    below: Offset = Field(6.0, description="room under the box's sides")
    above: Offset = Field(6.0, description="room over the box's sides")
    setback: Offset = Field(3.0, description="from the back of the front to the slide")
    travel: Length | None = Field(None, description="how far it opens; else its length")
    sinks: Offset = Field(4.0, description="how far a push sends the front in; 2-4 is usual")

    @property
    def deduction(self) -> float:
        """Opening less the box's outside width (mm)."""
        return 2 * self.thickness + self.play

    @property
    def opens_by(self) -> float:
        """How far a drawer comes out (mm)."""
        return self.length if self.travel is None else self.travel

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """A slide cannot open by more than twice its length."""
        yield from _travel_faults(self.length, self.travel)


class WoodenRunner(Record):
    """Strips of wood that a drawer box runs on, with a kicker above so that it does not tip."""

    kind: Literal[FittingKind.WOODEN_RUNNER] = Field(description="strips that the box slides on")
    material: LumberName = Field(description="lumber of the runners and kickers")
    length: Length | None = Field(None, description="of the box; else what the depth allows")
    width: Length = Field(25.0, description="width of a runner")
    thickness: Length = Field(15.0, description="thickness of a runner")
    play: Length = Field(1.5, description="room beside the box, both sides together; 1-1.5")
    above: Length = Field(1.5, description="room over the box at its dampest")
    kicker: Flag = Field(default=True, description="a strip over the sides")
    travel: Length | None = Field(None, description="how far it opens; else two thirds of the box")

    @property
    def opens(self) -> Opens:
        """A wooden runner has nothing to push open with."""
        return Opens.PULL


Runner = UndermountRunner | SideMountSlide | WoodenRunner


class CupHinge(Record):
    """A hinge whose cup is let into the door's inside."""

    kind: Literal[FittingKind.CUP_HINGE] = Field(
        description="a cup in the door, a plate in the side"
    )
    opens_to: Angle = Field(110.0, description="how far the door opens")
    closing: Closing = Field(Closing.SPRUNG, description="free, sprung or soft")
    # Two hinge makers' catalogues, quick-reference pages: cup 35, drilled 10.5 or 12.5 deep, cup's
    # edge 3-8 from the door's, screws 45 apart and 9.5 behind the cup's centre.
    cup_diameter: Length = Field(35.0, description="the cup's hole")
    cup_depth: Length = Field(12.5, description="depth of the cup's hole")
    cup_edge: Length = Field(5.0, description="from the door's edge to the cup's")
    fixing: CupFixing = Field(CupFixing.SCREWS, description="screws, or dowels that are pressed in")
    fixing_spacing: Length = Field(45.0, description="between the cup's two screws or dowels")
    fixing_offset: Length = Field(9.5, description="behind the cup's centre")
    dowel_diameter: Length = Field(8.0, description="hole of a pressed dowel")
    # System drilling: a row 37 mm in, holes 32 mm apart. Common practice, no source.
    plate_line: Length = Field(37.0, description="plate's screws behind the door's inside face")
    plate_spacing: Length = Field(32.0, description="between the plate's two screws")
    first: Length = Field(100.0, description="door's end to the first hinge; 70-120 is usual")
    count: Count | None = Field(None, description="hinges a door; else by its height and mass")


class ButtHinge(Record):
    """A hinge of two leaves, let into the door's edge and the case."""

    kind: Literal[FittingKind.BUTT_HINGE] = Field(description="two leaves, both let in")
    length: Length = Field(description="length of the knuckle")
    width: Length = Field(description="width of one leaf, without the knuckle")
    thickness: Length = Field(2.0, description="thickness of one leaf")
    knuckle: Length = Field(6.0, description="diameter of the knuckle")
    opens_to: Angle = Field(170.0, description="how far the door opens")
    first: Length = Field(100.0, description="door's end to the first hinge; 70-120 is usual")
    count: Count | None = Field(None, description="hinges a door; else by its height and mass")

    @property
    def closing(self) -> Closing:
        """Two leaves and a pin do nothing by themselves."""
        return Closing.FREE


Hinge = CupHinge | ButtHinge


class ShelfPins(Record):
    """Pins in rows of holes; system drilling, common practice, no source."""

    kind: Literal[FittingKind.SHELF_PINS] = Field(description="pins in rows of holes")
    diameter: Length = Field(5.0, description="the hole's diameter")
    depth: Length = Field(12.0, description="the hole's depth; 10-13 is usual")
    pitch: Length = Field(32.0, description="from hole to hole")
    row: Length = Field(
        37.0, description="front row from the front edge, or from the door's inside"
    )
    holes: Count | None = Field(None, description="holes in a row; else what the opening takes")


class PushLatch(Record):
    """A latch that a push on the door lets go; sizes from memory."""

    kind: Literal[FittingKind.PUSH_LATCH] = Field(description="a push opens the door")
    sinks: Length = Field(3.0, description="how far the door goes in when pushed; 2-4 is usual")
    diameter: Length = Field(10.0, description="hole for the body")
    depth: Length = Field(40.0, description="depth of the body's hole")


class MagneticCatch(Record):
    """A magnet that holds a door shut; sizes from memory."""

    kind: Literal[FittingKind.MAGNETIC_CATCH] = Field(description="a magnet and its plate")
    diameter: Length = Field(10.0, description="hole for the magnet")
    depth: Length = Field(12.0, description="depth of the magnet's hole")


class BallCatch(Record):
    """A sprung ball that holds a door shut; sizes from memory."""

    kind: Literal[FittingKind.BALL_CATCH] = Field(description="a sprung ball and its plate")
    diameter: Length = Field(8.0, description="hole for the ball's body")
    depth: Length = Field(12.0, description="depth of the body's hole")


Fitting = Annotated[
    UndermountRunner
    | SideMountSlide
    | WoodenRunner
    | CupHinge
    | ButtHinge
    | ShelfPins
    | PushLatch
    | MagneticCatch
    | BallCatch,
    Field(discriminator="kind"),
]


def _travel_faults(length: float, travel: float | None) -> Iterator[Fault]:
    if travel is not None and travel > 2 * length:
        yield ("travel",), "is more than twice the length; write how far the drawer comes out"
