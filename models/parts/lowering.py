"""From what a maker says to what is removed: features to cuts, once, for every reader."""

import math
from typing import assert_never

from ground.vectors import Plane, Vec, along, neg
from models.parts.blank import Blank
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.parts.features import (
    Channel,
    Countersink,
    EasedEdge,
    Feature,
    Hole,
    Mortise,
    Seat,
    Trim,
    Waste,
)


def lower(feature: Feature, blank: Blank) -> tuple[Cut, ...]:
    """Say what ``feature`` takes out of ``blank``."""
    match feature:
        case Trim(plane=plane):
            return (Convex(planes=(("", plane.flipped()),)),)
        case Channel():
            return (channel(feature),)
        case Mortise(seat=seat):
            return (
                Slot(
                    start=seat.origin,
                    along=seat.along,
                    into=seat.into,
                    length=feature.length,
                    width=feature.width,
                    depth=feature.depth,
                ),
            )
        case Hole(seat=seat):
            depth = blank.diagonal if feature.depth is None else feature.depth
            return tuple(
                Bore(
                    start=start,
                    into=seat.into,
                    diameter=feature.diameter,
                    depth=depth,
                    lead=feature.lead,
                )
                for start in row(seat, feature.count, feature.pitch)
            )
        case Countersink(seat=seat):
            depth = feature.diameter / 2 / math.tan(math.radians(feature.angle / 2))
            return tuple(
                Cone(
                    start=start,
                    into=seat.into,
                    diameter=feature.diameter,
                    tip_diameter=0.0,
                    depth=depth,
                )
                for start in row(seat, feature.count, feature.pitch)
            )
        case Waste(planes=planes):
            return (Convex(planes=planes),)
        case EasedEdge():
            return (Edge(between=feature.between, size=feature.size, profile=feature.profile),)
    assert_never(feature)


def row(seat: Seat, count: int, pitch: float) -> tuple[Vec, ...]:
    """The mouths of ``count`` holes, ``pitch`` apart from the seat's origin on."""
    return tuple(along(seat.origin, seat.along, pitch * place) for place in range(count))


def channel(feature: Channel) -> Convex:
    """The box that a channel takes away; its mouth is the open side."""
    seat = feature.seat
    start = seat.origin
    end = along(start, seat.along, feature.length)
    half = feature.width / 2
    side_a = along(start, seat.across, -half)
    side_b = along(start, seat.across, half)
    floor = along(start, seat.into, feature.depth)
    return Convex(
        planes=(
            ("", Plane.through(start, neg(seat.into))),
            ("floor", Plane.through(floor, seat.into)),
            ("wall-a", Plane.through(side_a, neg(seat.across))),
            ("wall-b", Plane.through(side_b, seat.across)),
            ("end-a", Plane.through(start, neg(seat.along))),
            ("end-b", Plane.through(end, seat.along)),
        )
    )
