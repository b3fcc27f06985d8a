"""A show front screwed on from inside the box: two screws fixed, two in upright slots."""

from dataclasses import dataclass, replace

from ground.vectors import Vec, along, cross
from models.parts.assembly import HardwareLine
from models.parts.features import Channel, ChannelKind, Feature, Hole, HoleKind, Seat
from models.parts.joints.kit import Halves
from models.parts.joints.screw import NUMBER_8, WoodScrew

LENGTHS = (16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0)
"""Screw lengths (mm). Common practice, no source."""
LEFT_BEFORE_POINT = 4.0
"""Least wood left before a screw's point (mm). Common practice, no source."""
LEAST_HOLD = 6.0
"""Least length of a screw in the show front (mm). Common practice, no source."""
SLOT_PLAY = 5.0
"""A slot is this much longer than the screw's clearance hole (mm): the front may move 2.5 up and
down. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontScrews:
    """Places on the meeting plane of box front and show front (piece axes)."""

    fixed: tuple[Vec, ...]
    slotted: tuple[Vec, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontWay:
    """``out`` points from the box to the show front, ``up`` along its slots; thicknesses in mm."""

    out: Vec
    up: Vec
    box_front: float
    show_front: float


def screw_for(way: FrontWay) -> WoodScrew | None:
    """The longest No. 8 screw whose point stays inside the show front; None where none holds."""
    room = way.box_front + way.show_front - LEFT_BEFORE_POINT
    fit = [length for length in LENGTHS if way.box_front + LEAST_HOLD <= length <= room]
    return replace(NUMBER_8, length=fit[-1]) if fit else None


def applied(
    screws: FrontScrews, way: FrontWay, screw: WoodScrew, *, for_what: str, made_by: str
) -> Halves:
    """Bore the box front (the first part) and the show front, which moves home against it."""
    across = cross(way.out, way.up)
    pilots = tuple(
        Hole(
            kind=HoleKind.PILOT,
            seat=Seat(place, across, way.out),
            diameter=screw.pilot(hard=True),
            depth=screw.length - way.box_front,
            made_by=made_by,
        )
        for place in (*screws.fixed, *screws.slotted)
    )
    return Halves(
        kind="applied front",
        first=_cleared(screws, way, screw, made_by),
        second=pilots,
        closes=(0.0 - way.out[0], 0.0 - way.out[1], 0.0 - way.out[2]),
        hardware=(
            HardwareLine(
                name="wood screw, pan head with washer",
                quantity=len(pilots),
                size=f"{screw.shank:.1f} x {screw.length:g} mm",
                for_what=for_what,
                note="two fixed at mid height, two in upright slots",
            ),
        ),
    )


def _cleared(
    screws: FrontScrews, way: FrontWay, screw: WoodScrew, made_by: str
) -> tuple[Feature, ...]:
    """Round clearance holes and upright slots through the box front, from its inside."""
    length = screw.clearance + SLOT_PLAY
    holes = tuple(
        Hole(
            kind=HoleKind.CLEARANCE,
            seat=Seat(along(place, way.out, -way.box_front), way.up, way.out),
            diameter=screw.clearance,
            depth=way.box_front,
            made_by=made_by,
        )
        for place in screws.fixed
    )
    inside = (along(place, way.out, -way.box_front) for place in screws.slotted)
    slots = tuple(
        Channel(
            kind=ChannelKind.SLOT,
            seat=Seat(along(place, way.up, -length / 2), way.up, way.out),
            length=length,
            width=screw.clearance,
            depth=way.box_front,
            made_by=made_by,
        )
        for place in inside
    )
    return (*holes, *slots)
