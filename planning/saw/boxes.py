"""What a cutter takes away as boxes, to tell whether two of them meet."""

from collections.abc import Iterator
from dataclasses import dataclass

from ground.vectors import Vec, add, along, cross, dot, norm, scale, sub
from models.parts.features import Channel, Countersink, Hole, Mortise
from planning.saw.mouths import Cutter

APART = 1e-6
"""Boxes that overlap by less only touch (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A box by its middle, its three unit axes and half its sizes along them (mm)."""

    middle: Vec
    axes: tuple[Vec, Vec, Vec]
    halves: Vec

    def reach(self, direction: Vec) -> float:
        """How far it reaches from its middle along ``direction``."""
        return sum(
            half * abs(dot(axis, direction))
            for half, axis in zip(self.halves, self.axes, strict=True)
        )

    def meets(self, other: "Box") -> bool:
        """Tell whether two boxes overlap: no plane parts them."""
        between = sub(other.middle, self.middle)
        crossed = [cross(one, two) for one in self.axes for two in other.axes]
        for direction in (*self.axes, *other.axes, *crossed):
            length = norm(direction)
            if length < APART:
                continue
            gap = abs(dot(between, direction)) - self.reach(direction) - other.reach(direction)
            if gap > -APART * length:
                return False
        return True


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What differs from a feature as it should be (mm): where it is, its depth, its width."""

    shift: Vec = (0.0, 0.0, 0.0)
    deeper: float = 0.0
    wider: float = 0.0


def boxes(feature: Cutter, deep: float, change: Change) -> Iterator[Box]:
    """What a feature takes away, ``deep`` in where it should be; a row hole by hole."""
    seat = feature.seat
    depth, wider = deep + change.deeper, change.wider / 2
    match feature:
        case Channel():
            starts, long, wide = [feature.length / 2], feature.length / 2, feature.width / 2
        case Mortise():
            starts, long, wide = [0.0], feature.length / 2, feature.width / 2
        case Hole() | Countersink():
            starts = [place * feature.pitch for place in range(feature.count)]
            long = wide = feature.diameter / 2
    for start in starts:
        place = add(along(seat.origin, seat.along, start), change.shift)
        yield Box(
            middle=add(place, scale(seat.into, depth / 2)),
            axes=(seat.along, seat.across, seat.into),
            halves=(long + wider, wide + wider, depth / 2),
        )
