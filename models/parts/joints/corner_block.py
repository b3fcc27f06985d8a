"""A block in the corner of two rails: bevelled to both, notched for the leg, glued and screwed."""

import math
from dataclasses import dataclass

from ground.tolerances import ANGLE_EPS, LENGTH_EPS
from ground.vectors import Plane, Vec, X, Z, along, cross, dot, neg, norm, unit
from models.parts.assembly import HardwareLine
from models.parts.features import Hole, HoleKind, Seat
from models.parts.joints.kit import Halves
from models.parts.joints.screw import NUMBER_8, WoodScrew

LENGTHS = (50.0, 45.0, 40.0, 35.0, 30.0, 25.0, 20.0)
"""Lengths that wood screws are sold in (mm; from memory)."""
USUAL_UNDER_HEAD = 8.0
"""mm of block under the screw's head where there are so many (common practice, no source)."""
LEAST_HOLD = 8.0
"""mm of thread in the rail at least: two shanks (common practice, no source)."""
BEHIND = 5.0
"""mm of rail left behind the screw's point (common practice, no source)."""
LEAST_HELD_IN = LEAST_HOLD + BEHIND
"""What a screw holds in is this thick at least (mm)."""
UNDER_HEAD = 20.0
"""mm of block under the screw's head at most (common practice, no source)."""
SEATED = 0.5
"""mm that a slanting counterbore goes below its lower rim at least, so that the seat is whole
(common practice, no source)."""
SUNK = 10.0
"""Diameter of the counterbore for a head of 8.3 mm (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockScrew:
    """One screw through the block into a rail, square to the rail's face; piece axes.

    ``mouth`` is where it crosses from block to rail, ``into_rail`` the way it goes, ``rail`` the
    rail's thickness, ``front`` the plane of the block's long side, its normal out of the block.
    """

    mouth: Vec
    into_rail: Vec
    rail: float
    front: Plane

    @property
    def in_block(self) -> float:
        """How much of the block lies on the screw's way (mm)."""
        return self.front.height(self.mouth) / dot(self.front.normal, self.into_rail)

    @property
    def slant(self) -> float:
        """How far the counterbore's rim rises across it, from its middle (mm)."""
        lean = math.acos(min(1.0, abs(dot(self.front.normal, self.into_rail))))
        return SUNK / 2 * math.tan(lean)

    @property
    def least_block(self) -> float:
        """The least of the block that must lie on the way of the shortest screw (mm)."""
        return self.slant + SEATED + max(0.0, min(LENGTHS) + BEHIND - self.rail)


def block_screw(place: BlockScrew) -> tuple[WoodScrew, float] | None:
    """The longest screw that holds in the rail, and the block left under its head; None if none.

    The head is sunk until it sits on a full seat.
    """
    most = min(UNDER_HEAD, place.in_block - place.slant - SEATED)
    for length in LENGTHS:
        # What the screw is longer than the rail allows stays in the block.
        under = max(min(USUAL_UNDER_HEAD, most), length - (place.rail - BEHIND))
        if length - under >= LEAST_HOLD - LENGTH_EPS and 0.0 < under <= most:
            return WoodScrew(shank=NUMBER_8.shank, root=NUMBER_8.root, length=length), under
    return None


def screwed_block(
    place: BlockScrew,
    choice: tuple[WoodScrew, float],
    closes: Vec,
    *,
    made_by: str,
    kind: str = "corner block",
) -> Halves:
    """Bore the rail (first) for the thread and the block (second) for shank and head."""
    screw, under = choice
    pilot, clearance, sunk = _bores(place, screw, under, made_by)
    return Halves(
        kind=kind,
        first=(pilot,),
        second=(clearance, sunk),
        closes=closes,
        hardware=(
            HardwareLine(
                name="wood screw",
                quantity=1,
                size=f"{screw.shank:.1f} x {screw.length:g} mm",
                for_what=f"{kind}s",
            ),
        ),
    )


def _bores(
    place: BlockScrew, screw: WoodScrew, under: float, made_by: str
) -> tuple[Hole, Hole, Hole]:
    """The pilot in the rail, the clearance right through the block, and the sunk hole."""
    aside = _aside(place.into_rail)
    head = along(place.mouth, place.into_rail, -place.in_block)
    pilot = Hole(
        kind=HoleKind.PILOT,
        seat=Seat(place.mouth, aside, place.into_rail),
        diameter=screw.pilot(hard=True),
        depth=screw.length - under,
        made_by=made_by,
    )
    clearance = Hole(
        kind=HoleKind.CLEARANCE,
        seat=Seat(place.mouth, aside, neg(place.into_rail)),
        diameter=screw.clearance,
        depth=None,
        made_by=made_by,
    )
    sunk = Hole(
        kind=HoleKind.COUNTERBORE,
        seat=Seat(head, aside, place.into_rail),
        diameter=SUNK,
        depth=place.in_block - under,
        lead=place.slant,
        made_by=made_by,
    )
    return pilot, clearance, sunk


def _aside(way: Vec) -> Vec:
    """A unit vector square to ``way``, level where it can be."""
    level = cross(way, Z)
    return unit(level) if norm(level) > ANGLE_EPS else X
