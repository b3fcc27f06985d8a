"""Line views of a solid as plain records, so that drawings never meet the CAD kernel.

A view is flat: ``u`` to the right, ``v`` up, in mm at full size.
"""

from dataclasses import dataclass

from ground.vectors import Vec

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


@dataclass(frozen=True, slots=True, kw_only=True)
class LineView:
    """What is seen of a solid looking along ``-towards``: ``right`` and ``up`` span the paper."""

    name: str
    right: Vec
    up: Vec
    visible: tuple[Stroke, ...]
    hidden: tuple[Stroke, ...] = ()
