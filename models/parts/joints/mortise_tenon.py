"""Mortise and tenon: a tongue left on the rail's end in a square mortise of the leg.

The tenon is waste cut from a longer rail. It stands square to the joint face, whatever the slant
of the shoulders, and may carry a haunch: a stub that fills a shallow groove up to the leg's top.
"""

from dataclasses import dataclass

from ground.vectors import Plane, Vec, along, cross, neg
from models.parts.features import (
    Channel,
    ChannelKind,
    Feature,
    Seat,
    Trim,
    TrimKind,
    Waste,
    WasteKind,
)
from models.parts.joints.kit import Halves

CHEEK_CLEARANCE = 0.05
"""mm of glue room on each cheek and edge of a tenon (common practice, no source)."""

END_ROOM = 1.0
"""mm that a mortise is deeper than its tenon is long (check-values 7.3: 0.5 to 1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tenon:
    """A mortise and what goes into it (mm): ``thickness`` the chisel's, ``width`` along the slot.

    ``depth`` is of the mortise. ``haunch`` is how far a stub reaches up from the tenon's edge to
    the leg's top, ``haunch_depth`` the depth of its groove; 0 for none.
    """

    thickness: float
    width: float
    depth: float
    haunch: float = 0.0
    haunch_depth: float = 0.0
    clearance: float = CHEEK_CLEARANCE

    @property
    def length(self) -> float:
        """From shoulder to end."""
        return self.depth - END_ROOM


@dataclass(frozen=True, slots=True, kw_only=True)
class TenonPlace:
    """Where a tenon stands, in piece axes.

    ``centre`` is the middle of the tenon on the joint face, ``up`` the way of its width in that
    face (towards a haunch), ``into_leg`` square to the face. ``end`` names the rail's end.
    """

    centre: Vec
    up: Vec
    into_leg: Vec
    end: str


def mortise_and_tenon(place: TenonPlace, tenon: Tenon, *, made_by: str) -> Halves:
    """Leave the tenon on the rail (first part), chop its mortise in the leg (second part).

    ``closes`` is the way that the leg goes onto the rail.
    """
    return Halves(
        kind="haunched mortise and tenon" if tenon.haunch else "mortise and tenon",
        first=(_end(place, tenon, made_by), *_shoulders(place, tenon, made_by)),
        second=_mortise(place, tenon, made_by),
        closes=neg(place.into_leg),
    )


def tenon_corners(place: TenonPlace, tenon: Tenon) -> tuple[Vec, ...]:
    """The four corners of the tenon's end: the rail's blank must reach them."""
    end = along(place.centre, place.into_leg, tenon.length)
    across = cross(place.into_leg, place.up)
    half = (tenon.width / 2 - tenon.clearance, tenon.thickness / 2 - tenon.clearance)
    return tuple(
        along(along(end, place.up, i * half[0]), across, j * half[1])
        for i in (-1, 1)
        for j in (-1, 1)
    )


def _end(place: TenonPlace, tenon: Tenon, made_by: str) -> Trim:
    """The rail is cut off at the tenon's end first, parallel to its shoulder."""
    end = along(place.centre, place.into_leg, tenon.length)
    plane = Plane.through(end, place.into_leg)
    return Trim(kind=TrimKind.END, plane=plane, made_by=made_by, id=f"tenon-end-{place.end}")


def _shoulders(place: TenonPlace, tenon: Tenon, made_by: str) -> tuple[Feature, ...]:
    """Four wedges of waste, one a side of the tenon; the upper one leaves the haunch."""
    across = cross(place.into_leg, place.up)
    wide = tenon.width / 2 - tenon.clearance
    thick = tenon.thickness / 2 - tenon.clearance
    sides = ((across, thick), (neg(across), thick), (neg(place.up), wide), (place.up, wide))
    wedges: list[Feature] = []
    for way, half in sides:
        stub = tenon.haunch_depth - END_ROOM if tenon.haunch and way == place.up else 0.0
        floor = along(place.centre, place.into_leg, stub)
        wedges.append(
            Waste(
                kind=WasteKind.HAUNCH if stub else WasteKind.TENON,
                planes=(
                    ("shoulder", Plane.through(floor, neg(place.into_leg))),
                    ("cheek", Plane.through(along(place.centre, way, half), neg(way))),
                ),
                made_by=made_by,
                note="haunch" if stub else "tenon cheek",
            )
        )
    return tuple(wedges)


def _mortise(place: TenonPlace, tenon: Tenon, made_by: str) -> tuple[Feature, ...]:
    start = along(place.centre, place.up, -tenon.width / 2)
    chopped: list[Feature] = [
        Channel(
            kind=ChannelKind.MORTISE,
            seat=Seat(start, place.up, place.into_leg),
            length=tenon.width,
            width=tenon.thickness,
            depth=tenon.depth,
            made_by=made_by,
        )
    ]
    if tenon.haunch:
        chopped.append(
            Channel(
                kind=ChannelKind.GROOVE,
                seat=Seat(along(start, place.up, tenon.width), place.up, place.into_leg),
                length=tenon.haunch,
                width=tenon.thickness,
                depth=tenon.haunch_depth,
                made_by=made_by,
            )
        )
    return tuple(chopped)
