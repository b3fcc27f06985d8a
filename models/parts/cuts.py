"""What is removed, in five shapes: solids, views and machine layers read these and nothing else.

All in part axes, mm and degrees. A feature says what a maker says; ``lower`` in
``models.parts.lowering`` turns it into cuts.
"""

from dataclasses import dataclass
from enum import StrEnum

from ground.vectors import Plane, Vec


@dataclass(frozen=True, slots=True, kw_only=True)
class Convex:
    """The space inside every one of ``planes`` goes: box, prism, wedge, or all beyond a plane.

    ``planes`` are (name, plane) with normals that point out of what is removed, so the wall left
    on the part is the plane flipped. An empty name marks an open side that leaves no wall.
    """

    planes: tuple[tuple[str, Plane], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """A flat-bottomed round hole from ``start`` along the unit vector ``into``.

    ``lead`` is how far the cutter also clears behind ``start`` (for mouths on a slant).
    """

    start: Vec
    into: Vec
    diameter: float
    depth: float
    lead: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cone:
    """A countersink: ``diameter`` at ``start``, down to ``tip_diameter`` at ``depth``."""

    start: Vec
    into: Vec
    diameter: float
    tip_diameter: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A round-ended slot: ``length`` over all along ``along``, ``width`` across, ``depth`` deep.

    ``start`` is the middle of its mouth; ``along`` and ``into`` are square unit vectors.
    """

    start: Vec
    along: Vec
    into: Vec
    length: float
    width: float
    depth: float


class Profile(StrEnum):
    """What a cutter run along an arris leaves."""

    ROUND = "round-over"
    CHAMFER = "chamfer"
    COVE = "cove"


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """The arris where two planes of the convex base meet, rounded, chamfered or coved.

    ``between`` names two of the base's planes; ``size`` is the radius, or the chamfer's set-back.
    """

    between: tuple[str, str]
    size: float
    profile: Profile = Profile.ROUND


Cut = Convex | Bore | Cone | Slot | Edge
"""Closed: a new cut makes the type checker list what still needs it."""
