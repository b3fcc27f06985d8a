"""How a workpiece lies: a face on the table, an edge at the fence, a stop at its end.

Seen from above with the reference edge nearest to you, ``across`` points away from you into the
piece and ``along`` to your right. Everything in part axes, mm and degrees.
"""

import math
from dataclasses import dataclass
from functools import cached_property

from ground.vectors import Plane, Vec, add, cross, dot, meet, neg, norm, scale, sub, unit

SQUARE = 1e-9
"""Two directions whose product is less than this are square to one another."""


@dataclass(frozen=True, kw_only=True)
class Lie:
    """The planes a workpiece is registered by; each normal points out of the wood.

    ``table`` is the face that the settings are read on, ``reference`` the face that meets it along
    the edge at the fence, ``stop`` the end that lengths are measured from (None: no stop needed).
    """

    table: Plane
    reference: Plane
    stop: Plane | None = None

    @cached_property
    def up(self) -> Vec:
        """Square to the table face, into the wood."""
        return neg(self.table.normal)

    @cached_property
    def across(self) -> Vec:
        """On the table face, square to the reference edge, into the wood.

        Raises:
            ZeroDivisionError: the two faces are parallel and have no edge.
        """
        away = neg(self.reference.normal)
        return unit(sub(away, scale(self.up, dot(away, self.up))))

    @cached_property
    def along(self) -> Vec:
        """Along the reference edge, to the right of one who stands at it."""
        return cross(self.across, self.up)

    @cached_property
    def inward(self) -> float:
        """1 where ``along`` leads from the stop into the wood, -1 where it leads out of it."""
        return 1.0 if self.stop is None or dot(self.stop.normal, self.along) <= 0 else -1.0

    @cached_property
    def corner(self) -> Vec:
        """Where measuring starts: the stop's end of the reference edge.

        Raises:
            ZeroDivisionError: the stop does not cross the reference edge.
        """
        if self.stop is not None:
            return meet(self.table, self.reference, self.stop)
        # any point of the edge will do where no stop is needed; take the one nearest the origin
        level = Plane(self.along, 0.0)
        return meet(self.table, self.reference, level)

    def place(self, point: Vec) -> Vec:
        """A point as a maker measures it: from the stop, from the reference edge, into the wood."""
        from_corner = sub(point, self.corner)
        return (
            dot(from_corner, self.along) * self.inward,
            dot(from_corner, self.across),
            dot(from_corner, self.up),
        )

    def heading(self, direction: Vec) -> float:
        """Where ``direction`` points on the table face (degrees): 0 across, 90 away from the stop.

        Between -180 and 180; 0 for what stands square to the face.
        """
        aside, ahead = dot(direction, self.along) * self.inward, dot(direction, self.across)
        if math.hypot(aside, ahead) < SQUARE:
            return 0.0
        found = math.degrees(math.atan2(aside, ahead))
        return 180.0 if found <= -180.0 + SQUARE else found

    def fall(self, direction: Vec) -> float:
        """How far ``direction`` is off square into the face (degrees): 0 straight into the wood."""
        flat = sub(direction, scale(self.up, dot(direction, self.up)))
        return math.degrees(math.atan2(norm(flat), dot(direction, self.up)))


def wedged(lie: Lie, rise: float, length: float) -> Plane:
    """The table face that a wedge gives, under ``lie.table`` with its thin end at the stop.

    The wedge lifts by ``rise`` over ``length`` along the reference edge.

    Raises:
        ValueError: there is no stop for the thin end.
    """
    if lie.stop is None:
        message = "a wedge needs a stop that its thin end lies at"
        raise ValueError(message)
    forward = scale(lie.along, lie.inward)
    slope = add(scale(forward, length), scale(lie.table.normal, rise))
    down = cross(lie.across, slope)
    return Plane.through(lie.corner, down if dot(down, lie.table.normal) > 0 else neg(down))
