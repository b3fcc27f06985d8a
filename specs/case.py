"""The case: its size, its panels, their corners, grain and edging, its rails and back."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from specs.edging import PanelEdging, level_only
from specs.fields import Count, Length, Offset
from specs.joints import (
    CaseJoint,
    DowelJoint,
    Helper,
    LooseTenonJoint,
    OpenSide,
    PocketScrewJoint,
    StoppedDadoJoint,
    StretcherJoint,
    TongueAndGrooveJoint,
)
from specs.names import Names
from specs.records import Fault, Record
from specs.references import LumberName, SheetName
from specs.short import Short


class CornerKind(StrEnum):
    """How top or bottom meet the sides."""

    MITRE = "mitre"
    BUTT = "butt"
    RABBET = "rabbet"
    DADO = "dado"


class ButtRuns(StrEnum):
    """Whether top or bottom run over the sides' ends, or stand between the sides."""

    OVER = "over"
    BETWEEN = "between"


class Carrier(StrEnum):
    """The panel that a rabbet or dado is cut into."""

    SIDES = "sides"
    TOP = "top"
    BOTTOM = "bottom"


class CaseGrain(StrEnum):
    """How the grain of the case's panels runs."""

    CONTINUOUS = "continuous"
    UPRIGHT_SIDES = "upright sides"
    LEVEL_SIDES = "level sides"


class Side(StrEnum):
    """A side of the piece, as seen from the front."""

    LEFT = "left"
    RIGHT = "right"


class BackKind(StrEnum):
    """How the back is held."""

    GROOVED = "grooved"
    RABBETED = "rabbeted"


class Enters(StrEnum):
    """How a grooved back comes into its grooves."""

    CAPTIVE = "captive"
    FROM_BELOW = "from below"


class BackFixing(StrEnum):
    """What holds a rabbeted back."""

    SCREW = "screw"
    GLUE = "glue"


class CaseSize(Record):
    """Outside sizes, finished, edging included (mm)."""

    length: Length = Field(description="outside length, left to right")
    height: Length = Field(description="outside height, without the base")
    depth: Length = Field(description="outside depth, front to back; pulls may stand proud")


class MitreCorner(Record):
    """Both panels run to the outside at 45 degrees."""

    kind: Literal[CornerKind.MITRE] = Field(description="both panels run to the outside")


class ButtCorner(Record):
    """One panel's end stands against the other's face."""

    kind: Literal[CornerKind.BUTT] = Field(description="an end against a face")
    runs: ButtRuns | None = Field(
        None, description="over the sides' ends (a top's default), or between (a bottom's)"
    )


class RabbetCorner(Record):
    """One panel's end in a step cut out of the other."""

    kind: Literal[CornerKind.RABBET] = Field(description="an end in a step of the other panel")
    in_: Carrier = Field(Carrier.SIDES, alias="in", description="the panel that is rabbeted")
    depth: Length | None = Field(None, description="depth of the rabbet; else half the panel")


class DadoCorner(Record):
    """One panel's end in a channel of the other."""

    kind: Literal[CornerKind.DADO] = Field(description="an end in a channel of the other panel")
    in_: Carrier = Field(Carrier.SIDES, alias="in", description="the panel that is dadoed")
    depth: Length | None = Field(None, description="depth of the dado; else a third of the panel")
    set_in: Offset | None = Field(None, description="from the carrying panel's end to the other")


Corner = Annotated[
    MitreCorner | ButtCorner | RabbetCorner | DadoCorner, Field(discriminator="kind"), Short()
]


class Corners(Record):
    """How the case's panels meet."""

    top: Corner = Field(description="top and sides")
    bottom: Corner = Field(description="bottom and sides")

    @property
    def top_runs(self) -> ButtRuns:
        """How a butted top runs; over the sides unless said (common practice, no source)."""
        said = self.top.runs if isinstance(self.top, ButtCorner) else None
        return ButtRuns.OVER if said is None else said

    @property
    def bottom_runs(self) -> ButtRuns:
        """How a butted bottom runs; between the sides unless said."""
        said = self.bottom.runs if isinstance(self.bottom, ButtCorner) else None
        return ButtRuns.BETWEEN if said is None else said

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """A rabbet at the top is in the sides or the top, never in the bottom."""
        for where, corner in (("top", self.top), ("bottom", self.bottom)):
            carrier = corner.in_ if isinstance(corner, RabbetCorner | DadoCorner) else None
            if carrier not in (None, Carrier.SIDES, Carrier(where)):
                yield (where, "in"), f"is not at this corner; write sides or {where}"


class CaseJoints(Record):
    """What holds the corners; None where the corner needs no more than glue."""

    top: CaseJoint | None = Field(None, description="what holds the top to the sides")
    bottom: CaseJoint | None = Field(None, description="what holds the bottom to the sides")


class Rail(Record):
    """A board on edge behind the front plane."""

    material: LumberName = Field(description="lumber of the rail")
    height: Length = Field(description="height, which the opening loses")
    thickness: Length = Field(description="thickness")
    joint: StretcherJoint | None = Field(None, description="what holds its ends")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """The dado that takes a rail's end stands upright."""
        if isinstance(self.joint, StoppedDadoJoint):
            for where, message in self.joint.open_faults(
                (OpenSide.TOP, OpenSide.BOTTOM), "the dado of a rail"
            ):
                yield ("joint", *where), message


class Rails(Record):
    """Rails of the case."""

    under_top: Rail | None = Field(None, description="a rail under the top, at the front")


class GroovedBack(Record):
    """A back in grooves."""

    kind: Literal[BackKind.GROOVED] = Field(BackKind.GROOVED, description="held in grooves")
    material: SheetName = Field(description="sheet of the back")
    groove_depth: Length = Field(description="depth of the grooves")
    set_in: Length = Field(description="from the sides' back edges to the groove")
    enters: Enters = Field(Enters.CAPTIVE, description="glued up with the case, or from below")


class RabbetedBack(Record):
    """A back in rabbets, put on last."""

    kind: Literal[BackKind.RABBETED] = Field(description="laid into rabbets from behind")
    material: SheetName = Field(description="sheet of the back")
    depth: Length | None = Field(None, description="how far the rabbet goes into a panel's face")
    held: BackFixing = Field(BackFixing.SCREW, description="screwed or glued in")


Back = Annotated[
    GroovedBack | RabbetedBack,
    Field(discriminator="kind"),
    Short(words=False, default=BackKind.GROOVED.value),
]


class WallAnchor(Record):
    """What ties the piece to the wall, so that it cannot tip."""

    count: Count = Field(1, description="how many")


class Case(Record):
    """Two sides, a top, a bottom and a back."""

    size: CaseSize = Field(description="outside sizes, edging included")
    material: SheetName = Field(description="sheet of the sides, top and bottom")
    corners: Corners = Field(description="how the panels meet")
    joints: CaseJoints = Field(CaseJoints(), description="what holds the corners")
    grain: CaseGrain = Field(CaseGrain.UPRIGHT_SIDES, description="how the panels' grain runs")
    show: Side | None = Field(None, description="the side on view, which keeps its match of grain")
    edging: PanelEdging | None = Field(None, description="what covers the edges that show")
    rails: Rails = Field(Rails(), description="rails behind the front plane")
    back: Back = Field(description="the back panel")
    anchor: WallAnchor | None = Field(None, description="ties the piece to the wall")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """Each corner is held by what there is a place for; edging is as high as the panels."""
        for which, corner, joint in (
            ("top", self.corners.top, self.joints.top),
            ("bottom", self.corners.bottom, self.joints.bottom),
        ):
            for where, message in _corner_faults(corner, joint):
                yield ("joints", which, *where), message
        for where, message in level_only(self.edging, "would stand in the way of what is inside"):
            yield ("edging", *where), message


_POCKETS_IN_MITRE = (
    "has no place in a mitre: its pockets would come out at the inner corner; write kind: spline, "
    "loose tenon, dowel or screw"
)
_HELPER_IN_MITRE = (
    "would come out of a mitre at the inner corner; write with: screw, or leave it out"
)
_TONGUE_IN_MITRE = "has no place in a mitre, whose tongue is a loose one; write kind: spline"
_TONGUE_IN_DADO = (
    "is what a dado is cut for already: it takes a tongue; leave the joint out, or write "
    "kind: butt for the corner"
)
_TONGUE_IN_RABBET = (
    "leaves nothing for the rabbet; write kind: butt for the corner, or kind: dado without a joint"
)


def _corner_faults(corner: Corner, joint: CaseJoint | None) -> Iterator[Fault]:
    """Say what no maker puts into this sort of corner, and what would go there."""
    match corner, joint:
        case MitreCorner(), PocketScrewJoint():
            yield (), _POCKETS_IN_MITRE
        case MitreCorner(), TongueAndGrooveJoint():
            yield (), _TONGUE_IN_MITRE
        case MitreCorner(), DowelJoint() | LooseTenonJoint() if joint.with_ is Helper.POCKET_SCREW:
            yield ("with",), _HELPER_IN_MITRE
        case DadoCorner(), TongueAndGrooveJoint():
            yield (), _TONGUE_IN_DADO
        case RabbetCorner(), TongueAndGrooveJoint():
            yield (), _TONGUE_IN_RABBET
        case _:
            pass
