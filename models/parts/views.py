"""Line views of a solid as plain records, so that drawings never meet the CAD kernel.

A view is flat: ``u`` to the right, ``v`` up, in mm at full size.
"""

from dataclasses import dataclass

from ground.vectors import Plane, Vec

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc, counter-clockwise from ``start`` to ``end`` degrees; 0 to 360: a circle."""

    centre: Point
    radius: float
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Curve:
    """Any other curve as a chain of points, within 0.01 mm of the true one."""

    points: tuple[Point, ...]


Stroke = Line | Arc | Curve

Region = tuple[tuple[Point, ...], ...]
"""A flat face as closed chains of points: its outline first, then its holes."""

ISOMETRIC_RIGHT: Vec = (0.5**0.5, 0.5**0.5, 0.0)
ISOMETRIC_UP: Vec = (0.0 - 6.0**-0.5, 6.0**-0.5, 2 * 6.0**-0.5)
"""The paper of an isometric view from the front, the right and above (ISO 5456-3, from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionCut:
    """A section to be made: all outside of ``plane`` goes, the rest is seen square to it.

    ``right`` cross ``up`` is the plane's normal: it points to the eye.
    """

    name: str
    plane: Plane
    right: Vec
    up: Vec


@dataclass(frozen=True, slots=True, kw_only=True)
class LineView:
    """What is seen of a solid looking along ``-towards``: ``right`` and ``up`` span the paper.

    ``cut`` is what a section cuts through, to be hatched by the even-odd rule.
    """

    name: str
    right: Vec
    up: Vec
    visible: tuple[Stroke, ...]
    hidden: tuple[Stroke, ...] = ()
    cut: tuple[Region, ...] = ()
