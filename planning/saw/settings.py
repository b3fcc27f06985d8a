"""From the plane of a cut to the settings that make it, and back.

For a workpiece that lies on one of its faces with one of its edges along the fence, the mitre is
the angle between the cut's trace on the table face and the square to that edge, and the tilt the
angle between the cut and the square to the table face. A rip along the fence has a mitre of 90:
its trace is parallel to the edge, and the direction of the feed lies in the cut.
"""

import math
from dataclasses import dataclass
from enum import StrEnum

from ground.vectors import Plane, Vec, add, cross, dot, neg, norm, scale, sub, unit
from planning.saw.lie import Lie

PARALLEL = 1e-7
"""A trace closer to the fence than this (radians) is along it: 0.0003 mm over 3 m."""

HALF_SQUARE = 45.001
"""A cut whose mitre is more than this is measured square to the edge, else along it."""


FROM_EDGE, ALONG_EDGE = "square to the edge", "along the edge"
"""How a distance is measured on the table face."""


class Hand(StrEnum):
    """To which side of its near end the far end of a cut lies, seen from the reference edge."""

    LEFT = "left"
    RIGHT = "right"


class Lean(StrEnum):
    """Which way the blade leans as it rises from the table: to what is measured from, or away."""

    TOWARD = "toward"
    AWAY = "away"


class Keeps(StrEnum):
    """Which side of the kerf is the workpiece: that of the fence or stop, or the other."""

    NEAR = "near"
    FAR = "far"


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One cut as a saw is set: ``mitre`` and ``tilt`` from square (degrees, never negative).

    ``distance`` (mm, on the table face) leads to the near side of the kerf: square to the reference
    edge where the mitre is over 45 degrees (at the stop, for a trace that is not parallel to the
    edge), else along the edge from the stop.
    """

    mitre: float
    mitre_to: Hand | None
    tilt: float
    tilt_to: Lean | None
    distance: float
    keeps: Keeps

    @property
    def rips(self) -> bool:
        """Tell whether the fence alone guides it: the feed lies in the cut."""
        return 90.0 - self.mitre < math.degrees(PARALLEL)

    @property
    def from_edge(self) -> bool:
        """Tell whether the distance is square to the reference edge, not along it."""
        return self.mitre > HALF_SQUARE

    @property
    def measured(self) -> str:
        """How the distance is measured, in words."""
        return FROM_EDGE if self.from_edge else ALONG_EDGE


def trace(plane: Plane, lie: Lie) -> Vec:
    """The direction of the cut on the table face, away from the reference edge (or along it).

    Raises:
        ZeroDivisionError: the cut is parallel to the table face.
    """
    run = unit(cross(plane.normal, lie.up))
    across, along = dot(run, lie.across), dot(run, lie.along)
    forward = across > PARALLEL or (across > -PARALLEL and along > 0)
    return run if forward else neg(run)


def setting(plane: Plane, lie: Lie, kerf: float) -> Setting:
    """The settings of the cut that leaves ``plane`` (its normal points at the waste).

    Raises:
        ZeroDivisionError: the cut is parallel to the table face, or never meets what it is
            measured from.
    """
    rise = dot(plane.normal, lie.up)
    level = sub(plane.normal, scale(lie.up, rise))
    tilt = math.degrees(math.atan2(abs(rise), norm(level)))
    run = trace(plane, lie)
    across, along = dot(run, lie.across), dot(run, lie.along)
    mitre = math.degrees(math.atan2(abs(along), abs(across)))
    if abs(across) < PARALLEL:
        mitre = 90.0
    measured = measured_way(mitre, lie)
    towards = dot(plane.normal, measured)
    reached = (plane.offset - dot(plane.normal, lie.corner)) / towards
    # a cut that leaves the far side: its kerf lies between the face made and what is measured from
    distance = reached if towards > 0 else reached - kerf / abs(towards)
    # rising by one, the cut moves against its own normal's lean
    leans = -rise * dot(level, measured)
    return Setting(
        mitre=mitre,
        mitre_to=hand(across, along),
        tilt=tilt,
        tilt_to=None if abs(rise) < PARALLEL else (Lean.AWAY if leans > 0 else Lean.TOWARD),
        distance=distance,
        keeps=Keeps.NEAR if towards > 0 else Keeps.FAR,
    )


def hand(across: float, along: float) -> Hand | None:
    """Where the far end of a trace lies; None where it is square or along the edge."""
    if abs(across) < PARALLEL or abs(along) < PARALLEL:
        return None
    return Hand.RIGHT if along > 0 else Hand.LEFT


def measured_way(mitre: float, lie: Lie) -> Vec:
    """The direction that the distance is measured in."""
    return lie.across if mitre > HALF_SQUARE else scale(lie.along, lie.inward)


def cut_of(found: Setting, lie: Lie, kerf: float) -> Plane:
    """The plane that a saw so set leaves; its normal points at the waste."""
    turn, lean = math.radians(found.mitre), math.radians(found.tilt)
    side = -1.0 if found.mitre_to is Hand.LEFT else 1.0
    run = add(scale(lie.across, math.cos(turn)), scale(lie.along, side * math.sin(turn)))
    measured = measured_way(found.mitre, lie)
    level = unit(sub(measured, scale(run, dot(measured, run))))
    rises = 1.0 if found.tilt_to is Lean.TOWARD else -1.0
    beyond = add(scale(level, math.cos(lean)), scale(lie.up, rises * math.sin(lean)))
    near = add(lie.corner, scale(measured, found.distance))
    if found.keeps is Keeps.NEAR:
        return Plane.through(near, beyond)
    far = Plane.through(near, beyond)
    return Plane(far.normal, far.offset + kerf).flipped()
