"""Where an end of a drawer box meets one of its sides: the place that every box joint is cut at.

Seen from above, ``u`` runs from the side's outer face into the box, ``v`` from the end's outer face
into the box, and ``w`` up from the lower edge. The end is the box's front or its back.
"""

from dataclasses import dataclass

from ground.vectors import Plane, Vec, add, neg, scale

OVERCUT = 1.0
"""How far a bite reaches out into the air where it is open (mm)."""

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxCorner:
    """One corner of a box, in piece axes.

    ``outer`` is the lower end of its outer arris; ``across`` (u), ``deep`` (v) and ``up`` (w) are
    unit vectors. ``height`` is the box's, ``side`` and ``end`` are thicknesses (mm).
    """

    outer: Vec
    across: Vec
    deep: Vec
    up: Vec
    height: float
    side: float
    end: float
    made_by: str

    def point(self, u: float, v: float, w: float) -> Vec:
        """The place at ``u``, ``v``, ``w``, in piece axes."""
        return add(self.outer, self.way(u, v, w))

    def way(self, u: float, v: float, w: float) -> Vec:
        """The direction ``u``, ``v``, ``w``, in piece axes."""
        return add(add(scale(self.across, u), scale(self.deep, v)), scale(self.up, w))

    def bite(
        self,
        *,
        u: Span,
        v: Span,
        w: Span,
        names: tuple[str, str, str, str, str, str],
    ) -> tuple[tuple[str, Plane], ...]:
        """A box of waste; ``names`` are of its walls at u, v and w, low before high, "" open.

        An open side reaches ``OVERCUT`` further out.
        """
        walls: list[tuple[str, Plane]] = []
        ways = (self.across, self.deep, self.up)
        for axis, (low, high) in enumerate((u, v, w)):
            for upper, place in ((False, low), (True, high)):
                name = names[2 * axis + upper]
                out = ways[axis] if upper else neg(ways[axis])
                at = add(self.outer, scale(ways[axis], place))
                walls.append(
                    (name, Plane.through(add(at, scale(out, 0 if name else OVERCUT)), out))
                )
        return tuple(walls)


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerFit:
    """What a corner joint means for the sizes of the parts, and for the bottom's groove.

    ``side_in``: the side's end lies this far behind the end's outer face. ``end_in``: the end's
    own end lies this far in from the side's outer face. ``side_groove`` and ``end_groove``: where
    the bottom's groove starts, on v in the side and on u in the end, so that it shows nowhere.
    ``notch`` is where a notch in the end's lower edge starts on u: what the joint leaves beyond it
    must hold to something else. All in mm.
    """

    side_in: float
    end_in: float
    side_groove: float
    end_groove: float
    notch: float
