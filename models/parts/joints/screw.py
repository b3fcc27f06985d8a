"""Screws through the face of one part into the end of another, their heads plugged or sunk."""

import math
from dataclasses import dataclass, replace

from ground.vectors import Vec, along, neg
from models.parts.assembly import HardwareLine
from models.parts.features import Countersink, Feature, HoleKind, Seat
from models.parts.joints.dowel import rod
from models.parts.joints.kit import Halves
from models.parts.joints.rows import Drill, Row, bored

PLUG_DIAMETER = 10.0
"""A plug covers a screw head of up to 9.5 mm. Common practice, no source."""
PLUG_DEPTH = 5.0
LEFT_UNDER_HEAD = 3.0
"""Least wood under a screw's head (mm). Common practice, no source."""
HEAD_ANGLE = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodScrew:
    """A wood screw's ``shank`` and ``root`` diameter and its ``length`` (mm)."""

    shank: float
    root: float
    length: float
    play: float = 0.3
    """What the clearance hole is wider than the shank (mm). Common practice, no source."""

    @property
    def head(self) -> float:
        """The head's diameter: about twice the shank (common practice, no source)."""
        return 2 * self.shank

    @property
    def clearance(self) -> float:
        """The clearance hole: the shank and a little (check values section 10: >= shank)."""
        return math.ceil((self.shank + self.play) * 10 - 1e-6) / 10

    def pilot(self, *, hard: bool) -> float:
        """The pilot hole: 90 % of the root in hardwood, 70 % in softwood.

        Check values section 10, quoting the wood council's rule for withdrawal.
        """
        return round(self.root * (0.9 if hard else 0.7), 1)


NUMBER_8 = WoodScrew(shank=0.164 * 25.4, root=0.112 * 25.4, length=50.0)
"""A No. 8 screw: shank .164 in, root .112 in (check values section 10)."""
NUMBER_6 = WoodScrew(shank=0.138 * 25.4, root=0.094 * 25.4, length=40.0)
"""A No. 6 screw: shank .138 in, root .094 in (check values section 10)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewWay:
    """Where the screws run.

    ``into_end`` points from the joint's plane into the end of the second part, ``face`` is the
    thickness of the first part that they pass (mm), ``hard`` says what the end is of. ``slant``
    is how far the joint's plane is from square to the screws (degrees).
    """

    into_end: Vec
    face: float
    hard: bool = True
    slant: float = 0.0

    @property
    def sunk(self) -> float:
        """How deep a head is sunk under a plug (mm)."""
        return min(PLUG_DEPTH, self.face - LEFT_UNDER_HEAD - self.beyond(PLUG_DIAMETER))

    def beyond(self, diameter: float) -> float:
        """How far a hole goes on until all of it is through the slant (mm)."""
        return diameter / 2 * math.tan(math.radians(self.slant))


def screwed(
    row: Row,
    way: ScrewWay,
    screw: WoodScrew,
    *,
    plugs: str | None,
    for_what: str,
    made_by: str,
) -> Halves:
    """Bore the first part from its outer face, and the end of the second for the threads.

    ``row`` lies in the joint's plane. ``plugs`` names the lumber of the plugs; None: heads flush.
    """
    out = neg(way.into_end)
    sunk = way.sunk if plugs else 0.0
    mouths = replace(row, start=along(row.start, out, way.face))
    through = Drill(
        into=way.into_end,
        diameter=screw.clearance,
        depth=way.face + way.beyond(screw.clearance),
    )
    thin = screw.pilot(hard=way.hard)
    lead = Drill(
        into=way.into_end,
        diameter=thin,
        depth=screw.length - (way.face - sunk),
        lead=way.beyond(thin),
    )
    head: Feature = sunk_head(mouths, way.into_end, screw, made_by=made_by)
    if plugs:
        plug = Drill(into=way.into_end, diameter=PLUG_DIAMETER, depth=sunk)
        head = bored(HoleKind.PLUG, mouths, plug, made_by=made_by)
    return Halves(
        kind="screw",
        first=(bored(HoleKind.CLEARANCE, mouths, through, made_by=made_by), head),
        second=(bored(HoleKind.PILOT, row, lead, made_by=made_by),),
        closes=out,
        loose=tuple(
            rod("plug", place, way.into_end, (PLUG_DIAMETER, sunk), material=plugs)
            for place in mouths.places()
            if plugs
        ),
        hardware=(_bought(screw, row.count, for_what),),
    )


def _bought(screw: WoodScrew, count: int, for_what: str) -> HardwareLine:
    size = f"{screw.shank:.1f} x {screw.length:g} mm"
    return HardwareLine(name="wood screw", quantity=count, size=size, for_what=for_what)


def sunk_head(mouths: Row, into: Vec, screw: WoodScrew, *, made_by: str) -> Countersink:
    """The countersinks of a row of screws whose heads lie flush."""
    return Countersink(
        seat=Seat(mouths.start, mouths.way, into),
        diameter=screw.head,
        angle=HEAD_ANGLE,
        made_by=made_by,
        count=mouths.count,
        pitch=mouths.pitch,
    )
