"""A cup hinge: the cup and its screws in the door's inside, the plate's screws in the panel."""

from dataclasses import dataclass

from ground.vectors import Vec, along, neg
from models.parts.features import Feature, Hole, HoleKind, Seat
from models.parts.joints.kit import Halves

PLATE_HOLE = 5.0
"""Holes for a plate's screws: system drilling (check values 7.1)."""
PLATE_DEPTH = 11.0
"""System drilling is 10 to 13 deep (mm; check values 7.1)."""
PILOT = 2.0
"""Pilot hole for a cup's screw, about 3.5 in shank (mm): 90 % of its root is 2.1 (check values
section 10)."""
PILOT_DEPTH = 11.0
PRESSED_DEPTH = 11.0
"""Depth of a pressed dowel's hole (mm). From memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CupSize:
    """What the hinge asks for (mm): the cup, two holes beside it, two for the plate.

    ``centre`` is the cup's centre from the door's edge, ``offset`` how far behind it the two holes
    stand, ``pressed`` the diameter of pressed dowels, None for screws. ``line`` is the plate's
    distance behind the door's inside face.
    """

    diameter: float
    depth: float
    centre: float
    spacing: float
    offset: float
    pressed: float | None
    line: float
    plate_spacing: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeCorner:
    """Where a hinge is, in piece axes.

    ``edge`` is on the arris of the door's hinge edge and its inside face, ``panel`` on the panel's
    face beside it, both at the hinge's height. ``away`` points from the panel along the door,
    ``deep`` into the case, ``up`` along the edge.
    """

    edge: Vec
    panel: Vec
    away: Vec
    deep: Vec
    up: Vec
    panel_depth: float


def cup_hinged(corner: HingeCorner, size: CupSize, *, made_by: str) -> Halves:
    """Bore the panel (the first part) for the plate, and the door for cup and screws."""
    return Halves(
        kind="cup hinge",
        first=(_plate(corner, size, made_by),),
        second=_cup(corner, size, made_by),
        closes=corner.deep,
    )


def _plate(corner: HingeCorner, size: CupSize, made_by: str) -> Hole:
    line = along(corner.panel, corner.deep, size.line)
    return Hole(
        kind=HoleKind.FITTING,
        seat=Seat(along(line, corner.up, -size.plate_spacing / 2), corner.up, neg(corner.away)),
        diameter=PLATE_HOLE,
        depth=min(PLATE_DEPTH, corner.panel_depth),
        made_by=made_by,
        count=2,
        pitch=size.plate_spacing,
    )


def _cup(corner: HingeCorner, size: CupSize, made_by: str) -> tuple[Feature, ...]:
    into = neg(corner.deep)
    cup = along(corner.edge, corner.away, size.centre)
    beside = along(along(cup, corner.away, size.offset), corner.up, -size.spacing / 2)
    pressed = size.pressed is not None
    return (
        Hole(
            kind=HoleKind.HINGE_CUP,
            seat=Seat(cup, corner.up, into),
            diameter=size.diameter,
            depth=size.depth,
            made_by=made_by,
        ),
        Hole(
            kind=HoleKind.FITTING if pressed else HoleKind.PILOT,
            seat=Seat(beside, corner.up, into),
            diameter=PILOT if size.pressed is None else size.pressed,
            depth=PRESSED_DEPTH if pressed else PILOT_DEPTH,
            made_by=made_by,
            count=2,
            pitch=size.spacing,
        ),
    )
