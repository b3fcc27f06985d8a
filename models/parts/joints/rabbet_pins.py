"""A box corner with the end let into a rabbet of the side, with or without pins across it."""

from dataclasses import dataclass

from ground.vectors import neg
from models.parts.features import Channel, ChannelKind, Feature, Hole, HoleKind, Seat
from models.parts.joints.box_corner import BoxCorner, CornerFit
from models.parts.joints.dowel import rod
from models.parts.joints.kit import Halves

PIN_END_ROOM = 2.0
"""A pin's hole is this much deeper than the pin (mm): room for glue. Common practice, no source."""
PIN_IN_END = 25.0
"""How far a pin's hole runs into the end (mm): three diameters of 8. Common practice, no source."""
PIN_FROM_EDGE = 1.5
"""Least distance of a pin's centre from an edge or a groove, in diameters. Common practice, no
source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pins:
    """Round pins on view: ``heights`` of their centres above the box's lower edge (mm).

    Their holes run ``in_end`` into the end.
    """

    diameter: float
    heights: tuple[float, ...]
    in_end: float = PIN_IN_END
    name: str = "pin"


def rabbet_fit(depth: float, *, side: float, end: float, groove: float) -> CornerFit:
    """Say what a rabbet ``depth`` deep in the side means for the box's parts (mm).

    A groove no deeper than the rabbet runs out into it, behind the end; a deeper one stops.
    """
    return CornerFit(
        side_in=0.0,
        end_in=side - depth,
        side_groove=0.0 if groove <= depth else end - groove,
        end_groove=side - depth,
        notch=side,
    )


def pin_heights(count: int, diameter: float, *, above: float, height: float) -> tuple[float, ...]:
    """Spread ``count`` pins between ``above`` (the groove's upper wall) and the upper edge (mm)."""
    low = above + PIN_FROM_EDGE * diameter
    high = height - PIN_FROM_EDGE * diameter
    if count == 1:
        return ((low + high) / 2,)
    return tuple(low + (high - low) * i / (count - 1) for i in range(count))


def rabbeted(corner: BoxCorner, depth: float, pins: Pins | None) -> Halves:
    """Cut the rabbet in the side (the second part) and bore both parts for the pins."""
    rabbet = Channel(
        kind=ChannelKind.RABBET,
        seat=Seat(corner.point(corner.side, corner.end / 2, 0.0), corner.up, neg(corner.across)),
        length=corner.height,
        width=corner.end,
        depth=depth,
        made_by=corner.made_by,
    )
    if pins is None:
        return Halves(kind="rabbet", first=(), second=(rabbet,), closes=corner.across)
    lap = corner.side - depth
    places = tuple((corner.end / 2, height) for height in pins.heights)
    into_end: tuple[Feature, ...] = tuple(
        _pin_hole(corner, pins, (lap, v, w), pins.in_end) for v, w in places
    )
    through_side = tuple(_pin_hole(corner, pins, (0.0, v, w), None) for v, w in places)
    return Halves(
        kind="rabbet with pins",
        first=into_end,
        second=(rabbet, *through_side),
        closes=corner.across,
        loose=tuple(
            rod(
                pins.name,
                corner.point(0.0, v, w),
                corner.across,
                (pins.diameter, lap + pins.in_end - PIN_END_ROOM),
            )
            for v, w in places
        ),
    )


def _pin_hole(
    corner: BoxCorner, pins: Pins, place: tuple[float, float, float], depth: float | None
) -> Hole:
    return Hole(
        kind=HoleKind.PIN,
        seat=Seat(corner.point(*place), corner.up, corner.across),
        diameter=pins.diameter,
        depth=depth,
        made_by=corner.made_by,
    )
