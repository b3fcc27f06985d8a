"""Which of many blanks an eye far away sees, and where on them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from ground.tolerances import LENGTH_EPS
from ground.vectors import Frame, Vec, add, dot, scale, sub
from models.parts.blank import Blank

TRIED = 6
"""Copies of a part that are looked at for one that is seen, those nearest to the eye first."""

SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Places over a blank's three sizes at which it may be seen, the middle first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A blank where it stands: its middle, its three directions and half its sizes (mm)."""

    middle: Vec
    axes: tuple[Vec, Vec, Vec]
    half: Vec

    def places(self) -> Iterator[Vec]:
        """Places on its middle plane at which a leader may end, from the middle outwards."""
        order = sorted(range(3), key=lambda axis: -self.half[axis])
        long, wide = order[0], order[1]
        for across in SHARES:
            for along in SHARES:
                place = add(self.middle, scale(self.axes[long], (2 * along - 1) * self.half[long]))
                yield add(place, scale(self.axes[wide], (2 * across - 1) * self.half[wide]))

    def hides(self, place: Vec, toward: Vec) -> bool:
        """Tell whether it stands between a place and the eye (its slabs met by the sight)."""
        off = sub(place, self.middle)
        first, last = LENGTH_EPS, inf
        for axis, half in zip(self.axes, self.half, strict=True):
            at, way = dot(off, axis), dot(toward, axis)
            if abs(way) < LENGTH_EPS:
                if abs(at) >= half:
                    return False
                continue
            near, far = sorted(((-half - at) / way, (half - at) / way))
            first, last = max(first, near), min(last, far)
        return last - first > LENGTH_EPS


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """Copies as blocks by their ids, and the way to the eye."""

    blanks: Mapping[str, Block]
    toward: Vec

    def place(self, ids: Sequence[str]) -> Vec:
        """A place in one of some copies that no other hides, else the middle of the nearest."""
        order = sorted(
            ids, key=lambda id_: (-round(dot(self.blanks[id_].middle, self.toward), 3), id_)
        )
        for id_ in order[:TRIED]:
            others = [block for name, block in self.blanks.items() if name != id_]
            for place in self.blanks[id_].places():
                if not any(block.hides(place, self.toward) for block in others):
                    return place
        return self.blanks[order[0]].middle


def standing(placement: Frame, blank: Blank, moved: Vec) -> Block:
    """The block of a blank that is moved off its place."""
    half = scale(blank.size, 0.5)
    return Block(
        middle=add(placement.point(blank.centre), moved),
        axes=(placement.x, placement.y, placement.z),
        half=half,
    )
