"""A mitre between two panels of one thickness, with a spline across it.

The spline stands square to the mitre, nearer the heel than the toe, where the wood behind it is
thickest. Common practice, no source, for every proportion in this file.
"""

import math
from dataclasses import dataclass

from ground.vectors import Frame, Plane, Vec, along, neg
from models.parts.blank import Blank, Grain
from models.parts.features import Channel, ChannelKind, Seat, Trim, TrimKind
from models.parts.joints.kit import Halves, Loose

CLEARANCE = 0.1
"""Slot wider than the spline (mm)."""
END_CLEARANCE = 0.5
"""Slot deeper, and longer at either end, than the spline (mm)."""
WALL_AT_TOE = 4.0
"""Least wood between a slot's floor and the outer face (mm): less, and the toe breaks off."""
WALL_AT_HEEL = 3.0
"""Least wood between a slot and the inner face (mm)."""
SPLINES = ((15.0, 4.0), (0.0, 3.0))
"""From this panel on (mm), a spline is this thick."""
LEAST_DEPTH = 4.0
"""A spline that goes in less than this holds nothing (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MitreLine:
    """Where two panels meet at a mitre, in piece axes.

    ``heel`` is a point of the inner corner line, ``way`` the direction of that line, ``toe`` the
    unit vector in the mitre's face from heel to toe, ``into_first`` square to that face into the
    first part. ``thickness`` is both panels'.
    """

    heel: Vec
    way: Vec
    toe: Vec
    into_first: Vec
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SplineSeat:
    """A spline and its slots (mm).

    ``thickness`` is the spline's, ``depth`` that of its slot in either half; the slot's middle is
    ``up`` the mitre from the heel.
    """

    thickness: float
    depth: float
    up: float


def spline_seat(panel: float, *, thickness: float | None = None) -> SplineSeat | None:
    """The deepest sound slot for a spline in a mitre of ``panel`` thick; None if none is sound.

    A point ``up`` the mitre and ``depth`` behind it lies (up + depth) / sqrt 2 from the inner
    face, as the mitre stands at 45 degrees.
    """
    spline = thickness or next(thin for least, thin in SPLINES if panel >= least)
    width = spline + CLEARANCE
    lowest = WALL_AT_HEEL * math.sqrt(2) + width / 2
    deepest = (panel - WALL_AT_TOE) * math.sqrt(2) - width / 2 - lowest
    depth = min(8.0 + END_CLEARANCE, deepest)
    if depth < LEAST_DEPTH:
        return None
    return SplineSeat(thickness=spline, depth=depth, up=lowest + max(0.0, deepest - depth) / 2)


def splined(
    line: MitreLine,
    seat: SplineSeat,
    *,
    span: tuple[float, float],
    material: str | None,
    made_by: str,
) -> Halves:
    """Mitre both parts and slot them for a spline from ``span[0]`` to ``span[1]`` along the line.

    The two close square to the mitre, as a group with the other corners of the case.
    """
    start = along(along(line.heel, line.toe, seat.up), line.way, span[0])
    length = span[1] - span[0]
    halves = [
        (
            Trim(kind=TrimKind.MITRE, plane=Plane.through(line.heel, neg(into)), made_by=made_by),
            Channel(
                kind=ChannelKind.SLOT,
                seat=Seat(start, line.way, into),
                length=length,
                width=seat.thickness + CLEARANCE,
                depth=seat.depth,
                made_by=made_by,
            ),
        )
        for into in (line.into_first, neg(line.into_first))
    ]
    return Halves(
        kind="mitre with spline",
        first=halves[0],
        second=halves[1],
        closes="case",
        each=(neg(line.into_first), line.into_first),
        loose=(_spline(line, seat, start, length, material),),
    )


def plain(line: MitreLine, *, made_by: str) -> Halves:
    """Mitre both parts and nothing more: glue alone, or what another joint adds."""
    return Halves(
        kind="mitre",
        first=(
            Trim(
                kind=TrimKind.MITRE,
                plane=Plane.through(line.heel, neg(line.into_first)),
                made_by=made_by,
            ),
        ),
        second=(
            Trim(
                kind=TrimKind.MITRE,
                plane=Plane.through(line.heel, line.into_first),
                made_by=made_by,
            ),
        ),
        closes="case",
        each=(neg(line.into_first), line.into_first),
    )


def _spline(
    line: MitreLine, seat: SplineSeat, start: Vec, length: float, material: str | None
) -> Loose:
    """The spline: long along the mitre, its grain across the joint, where it can break."""
    width = 2 * (seat.depth - END_CLEARANCE)
    axes = Frame(line.way, line.into_first)
    corner = along(start, line.way, END_CLEARANCE)
    corner = along(corner, axes.y, -width / 2)
    corner = along(corner, axes.z, -seat.thickness / 2)
    return Loose(
        name="spline",
        blank=Blank(
            length=length - 2 * END_CLEARANCE,
            width=width,
            thickness=seat.thickness,
            grain=Grain.WIDTH,
        ),
        frame=Frame(axes.x, axes.y, corner),
        material=material,
    )
