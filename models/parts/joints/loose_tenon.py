"""Loose tenons: a mortise in each of two parts, and tenon stock glued across the joint."""

from collections.abc import Iterable
from dataclasses import dataclass

from ground.vectors import Frame, Vec, along, cross, neg
from models.parts.blank import Blank, Section
from models.parts.features import Mortise, Seat
from models.parts.joints.kit import Halves, Loose

SIDE_CLEARANCE = 0.05
"""mm of glue room on each face of a tenon: planed to slide in by hand (common practice)."""

END_ROOM = 1.0
"""mm that a mortise is deeper than the tenon goes, for glue (check-values 7.3: 0.5 to 1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TenonSize:
    """What the mortiser cuts: ``thickness`` is the cutter's, ``width`` the slot's length over all.

    ``depths`` are of the mortises in the first and in the second part. All in mm.
    """

    thickness: float
    width: float
    depths: tuple[float, float]
    clearance: float = SIDE_CLEARANCE

    @property
    def length(self) -> float:
        """The tenon's own length."""
        return sum(self.depths) - 2 * END_ROOM


@dataclass(frozen=True, slots=True, kw_only=True)
class TenonWay:
    """How the tenons of one joint lie: unit vectors in piece axes, square to one another.

    ``into_first`` is square to the joint plane, towards the first part; ``slot`` lies in the plane,
    along the tenon's width.
    """

    into_first: Vec
    slot: Vec


def loose_tenons(
    places: Iterable[Vec],
    way: TenonWay,
    size: TenonSize,
    *,
    made_by: str,
    kind: str = "loose tenon",
) -> Halves:
    """Mortise both parts at ``places`` (slot centres on the joint plane) and cut the tenons.

    Both mortises are the cutter's own size; the tenon is planed ``clearance`` smaller on every
    face, so the two halves cannot drift apart.
    """
    centres = tuple(places)
    return Halves(
        kind=kind,
        first=tuple(_mortise(c, way.into_first, way, size, made_by) for c in centres),
        second=tuple(_mortise(c, neg(way.into_first), way, size, made_by) for c in centres),
        closes=way.into_first,
        loose=tuple(_tenon(c, way, size) for c in centres),
    )


def _mortise(centre: Vec, into: Vec, way: TenonWay, size: TenonSize, made_by: str) -> Mortise:
    forward = into == way.into_first
    return Mortise(
        seat=Seat(centre, way.slot, into),
        length=size.width,
        width=size.thickness,
        depth=size.depths[0 if forward else 1],
        made_by=made_by,
    )


def _tenon(centre: Vec, way: TenonWay, size: TenonSize) -> Loose:
    """Tenon stock with its grain across the joint and its long edges rounded like the slot."""
    width = size.width - 2 * size.clearance
    thickness = size.thickness - 2 * size.clearance
    corner = along(centre, way.into_first, END_ROOM - size.depths[1])
    corner = along(corner, way.slot, -width / 2)
    corner = along(corner, cross(way.into_first, way.slot), -thickness / 2)
    return Loose(
        name="loose tenon",
        blank=Blank(
            length=size.length,
            width=width,
            thickness=thickness,
            section=Section.ROUND_EDGED,
        ),
        frame=Frame(way.into_first, way.slot, corner),
    )
