"""A butt hinge: one leaf let into the door's edge, the other into the panel's face beside it."""

from dataclasses import dataclass

from ground.vectors import Vec, along
from models.parts.features import Channel, ChannelKind, Feature, Hole, HoleKind, Seat
from models.parts.joints.kit import Halves

SCREWS = 3
"""Screws a leaf. Common practice, no source."""
PILOT = 2.1
"""Pilot hole of a No. 6 screw: 90 % of its root, .094 in (mm; check values section 10)."""
PILOT_DEPTH = 14.0
"""Depth of the pilots under a leaf (mm). Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafSize:
    """One leaf: ``length`` along the edge, ``width``, and how deep it is ``let_in`` (mm)."""

    length: float
    width: float
    let_in: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafPlace:
    """Where a leaf goes, in piece axes: ``start`` on the face, at the front and mid height.

    ``deep`` is the way along its width, ``up`` along its length, ``into`` the wood.
    ``room`` is what may be bored (mm).
    """

    start: Vec
    deep: Vec
    up: Vec
    into: Vec
    room: float


def butt_hinged(panel: LeafPlace, door: LeafPlace, size: LeafSize, *, made_by: str) -> Halves:
    """Let the leaves in and bore for their screws; the panel is the first part."""
    return Halves(
        kind="butt hinge",
        first=_leaf(panel, size, made_by),
        second=_leaf(door, size, made_by),
        closes=door.deep,
    )


def recess(place: LeafPlace, size: LeafSize, made_by: str) -> Channel:
    """The bed of one leaf."""
    return Channel(
        kind=ChannelKind.RECESS,
        seat=Seat(place.start, place.deep, place.into),
        length=size.width,
        width=size.length,
        depth=size.let_in,
        made_by=made_by,
    )


def _leaf(place: LeafPlace, size: LeafSize, made_by: str) -> tuple[Feature, ...]:
    pitch = size.length / SCREWS
    first = along(along(place.start, place.deep, size.width / 2), place.up, -pitch)
    floor = along(first, place.into, size.let_in)
    return (
        recess(place, size, made_by),
        Hole(
            kind=HoleKind.PILOT,
            seat=Seat(floor, place.up, place.into),
            diameter=PILOT,
            depth=min(PILOT_DEPTH, place.room - size.let_in),
            made_by=made_by,
            count=SCREWS,
            pitch=pitch,
        ),
    )
