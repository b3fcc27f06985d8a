"""Screws through the face of one part into the end of another, their heads plugged or sunk."""

from dataclasses import dataclass

from ground.vectors import Vec, along, neg

from models.parts.assembly import HardwareLine
from models.parts.features import Countersink, Feature, Hole, HoleKind, Seat
from models.parts.joints.dowel import rod
from models.parts.joints.kit import Halves
from models.parts.joints.rows import Row

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

    @property
    def head(self) -> float:
        """The head's diameter: about twice the shank (common practice, no source)."""
        return 2 * self.shank

    @property
    def clearance(self) -> float:
        """The clearance hole: the shank and a little (check values section 10: >= shank)."""
        return round(self.shank + 0.3, 1)

    def pilot(self, *, hard: bool) -> float:
        """The pilot hole: 90 % of the root in hardwood, 70 % in softwood.

        Check values section 10, quoting the wood council's rule for withdrawal.
        """
        return round(self.root * (0.9 if hard else 0.7), 1)


NUMBER_8 = WoodScrew(shank=0.164 * 25.4, root=0.112 * 25.4, length=50.0)
"""A No. 8 screw: shank .164 in, root .112 in (check values section 10)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewWay:
    """Where the screws run: ``into_end`` from the joint's plane into the end of the second part,
    ``face`` the thickness of the first part that they pass (mm), ``hard`` what the end is of."""

    into_end: Vec
    face: float
    hard: bool = True


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
    mouth = Seat(along(row.start, out, way.face), row.way, way.into_end)
    sunk = min(PLUG_DEPTH, way.face - LEFT_UNDER_HEAD) if plugs else 0.0
    rows = {"made_by": made_by}
    bored: list[Feature] = [
        Hole(
            kind=HoleKind.CLEARANCE,
            seat=mouth,
            diameter=screw.clearance,
            depth=way.face,
            count=row.count,
            pitch=row.pitch,
            **rows,
        )
    ]
    if plugs:
        bored.append(
            Hole(
                kind=HoleKind.PLUG,
                seat=mouth,
                diameter=PLUG_DIAMETER,
                depth=sunk,
                count=row.count,
                pitch=row.pitch,
                **rows,
            )
        )
    else:
        bored.append(
            Countersink(
                seat=mouth,
                diameter=screw.head,
                angle=HEAD_ANGLE,
                count=row.count,
                pitch=row.pitch,
                **rows,
            )
        )
    pilot = Hole(
        kind=HoleKind.PILOT,
        seat=Seat(row.start, row.way, way.into_end),
        diameter=screw.pilot(hard=way.hard),
        depth=screw.length - (way.face - sunk),
        count=row.count,
        pitch=row.pitch,
        **rows,
    )
    return Halves(
        kind="screw",
        first=tuple(bored),
        second=(pilot,),
        closes=out,
        loose=tuple(
            rod(
                "plug",
                along(place, out, way.face),
                way.into_end,
                (PLUG_DIAMETER, sunk),
                material=plugs,
            )
            for place in row.places()
            if plugs
        ),
        hardware=(
            HardwareLine(
                name="wood screw",
                quantity=row.count,
                size=f"{screw.shank:.1f} x {screw.length:g} mm",
                for_what=for_what,
            ),
        ),
    )
