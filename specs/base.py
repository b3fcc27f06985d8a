"""The base that a case stands on: splayed legs, straight legs, or a plinth."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from specs.fields import Count, Lean, Length, Offset
from specs.joints import (
    ApronJoint,
    DowelJoint,
    Helper,
    LooseTenonJoint,
    MortiseAndTenonJoint,
    OpenSide,
    StoppedDadoJoint,
    StretcherJoint,
)
from specs.materials import thickness_faults
from specs.names import Names
from specs.records import Fault, Record
from specs.references import LumberName, MaterialName
from specs.short import Short


class BaseKind(StrEnum):
    """What a case stands on."""

    SPLAYED_LEGS = "splayed legs"
    STRAIGHT_LEGS = "straight legs"
    PLINTH = "plinth"


class Arris(StrEnum):
    """A long edge of a leg: the one at the piece's corner, or the one opposite."""

    OUTER = "outer"
    INNER = "inner"


class TaperFaces(StrEnum):
    """The faces of a straight leg that are tapered."""

    INSIDE = "inside"
    OUTSIDE = "outside"
    ALL = "all"


class Runs(StrEnum):
    """Which way a stretcher runs."""

    FRONT_TO_BACK = "front to back"
    SIDE_TO_SIDE = "side to side"


class StretcherPlaces(StrEnum):
    """Where stretchers stand."""

    DIVIDERS = "dividers"
    EVEN = "even"


class FootKind(StrEnum):
    """What stands on the floor under a leg or plinth."""

    GLIDE = "glide"
    LEVELLER = "leveller"


class FixingKind(StrEnum):
    """What holds the case on its base."""

    FIGURE_EIGHT = "figure-eight fastener"
    SLOTTED_CLIP = "slotted clip"
    SCREW_BLOCK = "screw block"
    SCREW = "screw"


class PlinthCorners(StrEnum):
    """How the boards of a plinth meet."""

    MITRE = "mitre"
    BUTT = "butt"
    RABBET = "rabbet"


class SetIn(Record):
    """From the case's edges in to the base's outer top corners (mm)."""

    front: Offset = Field(description="from the case's front")
    back: Offset = Field(description="from the case's back")
    sides: Offset = Field(description="from each of the case's sides")


class Splay(Record):
    """How far legs lean outward from plumb (degrees)."""

    front: Lean = Field(description="degrees out of plumb, seen from the front")
    side: Lean = Field(description="degrees out of plumb, seen from the side")


class Facet(Record):
    """A flat planed on a long arris of each leg."""

    arris: Arris = Field(Arris.OUTER, description="the arris that is planed")
    width: Length = Field(description="width of the facet, measured on it")


class Taper(Record):
    """Where a straight leg grows thinner towards its foot."""

    faces: TaperFaces = Field(TaperFaces.INSIDE, description="the faces that are tapered")
    starts: Length = Field(description="from the leg's top down to where the taper begins")


class SplayedLeg(Record):
    """Each of four legs that lean and grow thinner to the floor."""

    material: LumberName = Field(description="lumber of the legs")
    top: tuple[Length, Length] = Field(description="along the piece's length, along its depth")
    foot: tuple[Length, Length] = Field(description="at the floor: along the length, the depth")
    splay: Splay = Field(description="how far the legs lean")
    facet: Facet | None = Field(None, description="a flat on a long arris")
    ease: Length | None = Field(None, description="radius of the rounded long arrises")


class StraightLeg(Record):
    """Each of four upright legs, square through the aprons."""

    material: LumberName = Field(description="lumber of the legs")
    top: tuple[Length, Length] = Field(description="along the piece's length, along its depth")
    foot: tuple[Length, Length] | None = Field(
        None, description="at the floor; else the same as the top"
    )
    taper: Taper | None = Field(None, description="where the leg grows thinner to its foot")
    facet: Facet | None = Field(None, description="a flat on a long arris")
    ease: Length | None = Field(None, description="radius of the rounded long arrises")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """A foot smaller than the top needs a taper, and a taper a foot that is smaller."""
        foot = self.top if self.foot is None else self.foot
        if any(below > above for below, above in zip(foot, self.top, strict=True)):
            yield ("foot",), "is larger than the top; a straight leg only grows thinner downward"
        elif foot != self.top and self.taper is None:
            yield (), "the key 'taper' is missing: the foot is smaller than the top"
        elif foot == self.top and self.taper is not None:
            yield ("taper",), "has no smaller foot to go to; write foot: [length, depth]"


_THROUGH_LEG = (
    "would have to go through the whole leg; write with: pocket screw, from the apron's inside"
)


class Aprons(Record):
    """Four boards on edge between the legs, under the case."""

    material: LumberName = Field(description="lumber of the aprons")
    height: Length = Field(description="plumb height")
    thickness: Length = Field(description="thickness")
    set_back: Offset = Field(0.0, description="from the leg's outer face to the apron's")
    joint: ApronJoint = Field(description="what holds an apron to its legs")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """Screws that help go from the apron into the leg, not through the leg."""
        joint = self.joint
        if isinstance(joint, LooseTenonJoint | DowelJoint) and joint.with_ is Helper.SCREW:
            yield ("joint", "with"), _THROUGH_LEG


_ACROSS_DIVIDERS = (
    "is no place for one that runs side to side: upright dividers stand front to back; write "
    "at: even, or runs: front to back"
)
_HAUNCH_LEANS = (
    "is for plumb legs: square to a leg that leans, it would climb out of the leg's top; leave "
    "it out"
)


class Stretchers(Record):
    """Boards on edge between two aprons."""

    count: Count = Field(1, description="how many")
    runs: Runs = Field(Runs.FRONT_TO_BACK, description="front to back, or side to side")
    at: StretcherPlaces = Field(StretcherPlaces.EVEN, description="under the dividers, or even")
    material: LumberName = Field(description="lumber of the stretchers")
    height: Length = Field(description="plumb height")
    thickness: Length = Field(description="thickness")
    joint: StretcherJoint = Field(description="what holds a stretcher to its aprons")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """Upright dividers stand front to back, and a stretcher goes in from above or below."""
        if self.at is StretcherPlaces.DIVIDERS and self.runs is Runs.SIDE_TO_SIDE:
            yield ("at",), _ACROSS_DIVIDERS
        if isinstance(self.joint, StoppedDadoJoint):
            for where, message in self.joint.open_faults(
                (OpenSide.TOP, OpenSide.BOTTOM), "an apron's dado"
            ):
                yield ("joint", *where), message


def _several(value: object) -> object:
    """One sort of stretchers is a list of one."""
    return (value,) if isinstance(value, dict | Stretchers) else value


StretcherSets = Annotated[
    tuple[Stretchers, ...],
    BeforeValidator(_several, json_schema_input_type=Stretchers | tuple[Stretchers, ...]),
]
"""Stretchers of one sort, or a list of several sorts, from the left or from the front."""


class CornerBlocks(Record):
    """Blocks glued and screwed into the corners behind the legs."""

    material: LumberName = Field(description="lumber of the blocks")
    thickness: Length = Field(description="thickness, which is their height")
    legs: Length = Field(description="the two short sides, along the aprons")


class Feet(Record):
    """What takes up the last millimetres to the floor; comes off the base's height."""

    kind: FootKind = Field(description="glide or leveller")
    thickness: Length = Field(description="height that it takes; a leveller's in mid-travel")
    diameter: Length | None = Field(None, description="diameter of its plate")


class Fixing(Record):
    """What holds the case on its base."""

    kind: FixingKind = Field(description="what holds the case on its base")
    count: Count = Field(description="how many in all")
    material: LumberName | None = Field(None, description="lumber of screw blocks")


class _LegBase(Record):
    """What every base on legs has."""

    height: Length = Field(description="from the floor to the case, feet included")
    set_in: SetIn = Field(description="from the case's edges in to the legs' outer top corners")
    aprons: Aprons = Field(description="the boards between the legs")
    stretchers: StretcherSets = Field(
        (), description="boards between two aprons; a list where they are of several sorts"
    )
    corner_blocks: CornerBlocks | None = Field(None, description="blocks behind the legs")
    feet: Feet | None = Field(None, description="glides or levellers under the legs")
    fixing: Fixing = Field(description="what holds the case on its base")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """Aprons and feet fit into the height of the base."""
        if self.aprons.height >= self.height:
            yield ("aprons", "height"), "is not less than the base's height; write a lower apron"
        if self.feet is not None and self.feet.thickness >= self.height - self.aprons.height:
            yield ("feet", "thickness"), "leaves no leg below the aprons; write thinner feet"
        ways = {asked.runs for asked in self.stretchers}
        if len(ways) > 1:
            yield ("stretchers",), "cross one another; let all of them run the same way"


class SplayedLegs(_LegBase):
    """Four legs that lean outward, tied by aprons."""

    kind: Literal[BaseKind.SPLAYED_LEGS] = Field(description="legs that lean outward")
    legs: SplayedLeg = Field(description="each of the four legs")

    def faults(self, names: Names) -> Iterator[Fault]:
        """A haunch lies level in a plumb leg."""
        yield from super().faults(names)
        joint, legs = self.aprons.joint, self.legs
        leans = bool(legs.splay.front or legs.splay.side) or legs.top != legs.foot
        if leans and isinstance(joint, MortiseAndTenonJoint) and joint.haunch:
            yield ("aprons", "joint", "haunch"), _HAUNCH_LEANS


class StraightLegs(_LegBase):
    """Four upright legs, tied by aprons."""

    kind: Literal[BaseKind.STRAIGHT_LEGS] = Field(description="upright legs")
    legs: StraightLeg = Field(description="each of the four legs")

    def faults(self, names: Names) -> Iterator[Fault]:
        """The taper starts below the aprons, so that their shoulders stay square."""
        yield from super().faults(names)
        taper = self.legs.taper
        if taper is None:
            return
        if taper.starts < self.aprons.height:
            yield ("legs", "taper", "starts"), "is above the aprons' lower edge; start it below"
        if taper.starts >= self.height:
            yield ("legs", "taper", "starts"), "is not less than the base's height; start it higher"


class Plinth(Record):
    """A frame of four boards on edge, set in under the case."""

    kind: Literal[BaseKind.PLINTH] = Field(description="a frame of four boards on edge")
    height: Length = Field(description="from the floor to the case, feet included")
    set_in: SetIn = Field(description="from the case's edges in to the plinth's outside")
    material: MaterialName = Field(description="material of the four boards")
    thickness: Length | None = Field(None, description="thickness, where they are lumber")
    corners: PlinthCorners = Field(PlinthCorners.MITRE, description="how the boards meet")
    corner_blocks: CornerBlocks | None = Field(None, description="blocks in the corners")
    feet: Feet | None = Field(None, description="glides or levellers under the plinth")
    fixing: Fixing = Field(description="what holds the case on its base")

    def faults(self, names: Names) -> Iterator[Fault]:
        """Lumber has a thickness; feet leave something of the height."""
        yield from thickness_faults(names, self.material, self.thickness)
        if self.feet is not None and self.feet.thickness >= self.height:
            yield ("feet", "thickness"), "leaves nothing of the plinth; write thinner feet"


Base = Annotated[
    SplayedLegs | StraightLegs | Plinth, Field(discriminator="kind"), Short(words=False)
]
