"""What the search places: single pieces, and runs of matched grain that stay together.

Everything here lies with the grain along the first axis; a sheet whose grain runs along its width
is planned so and turned in the end.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from models.parts.blank import Grain
from planning.cutting.layout import Bit, row, turned, whole
from planning.cutting.matching import Match, Run
from planning.cutting.needs import Need
from planning.cutting.records import NodeKind, Placed, Saw
from planning.cutting.task import Item
from planning.cutting.tree_arrays import NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A piece to place, with the grain along x: what it is, whether it may turn, whose it is."""

    bit: Bit
    turns: bool
    needs: tuple[Need, ...]
    inner: int = NONE

    @property
    def item(self) -> Item:
        """The load as the search knows it."""
        return Item(w=self.bit.size[0], h=self.bit.size[1], turns=self.turns, inner=self.inner)


def piece(size: tuple[int, int, int], placed: Placed) -> Bit:
    """A part's own piece."""
    return Bit(size=size, kind=NodeKind.PART, placed=placed)


def single(need: Need, thickness: int) -> Load:
    """One piece by itself."""
    bit = piece((whole(need.length), whole(need.width), thickness), need.placed)
    if need.grain is Grain.WIDTH:
        bit = turned(bit)
    return Load(bit=bit, turns=need.grain is Grain.NONE, needs=(need,))


def matched(match: Match, needs: Sequence[Need], thickness: int, kerf: float) -> Load | None:
    """A run of matched grain as one piece; None where its parts do not fit one another.

    End to end, each is as long as it is in the piece, with what the cut between two takes from
    the face: nothing else may come between them. Side by side, the same goes for their widths.
    """
    saw = Saw.ACROSS if match.run is Run.END_TO_END else Saw.ALONG
    axis = 0 if saw is Saw.ACROSS else 1
    sizes = [_size(need, axis, thickness) for need in needs]
    other = max(size[1 - axis] for size in sizes)
    if any(size[1 - axis] != other for size in sizes):
        return None
    bits = [_lying(need, size) for need, size in zip(needs, sizes, strict=True)]
    gap = whole(match.gap(kerf))
    total = sum(size[axis] for size in sizes) + gap * (len(sizes) - 1)
    size = (total, other, thickness) if axis == 0 else (other, total, thickness)
    run = row(size, saw, bits, (gap,) * len(bits), match.tilt)
    return Load(bit=run, turns=False, needs=tuple(needs), inner=axis)


def _size(need: Need, axis: int, thickness: int) -> tuple[int, int, int]:
    """How a piece lies in a run along ``axis``: there without anything left on for edging."""
    across = need.grain is Grain.WIDTH
    rough = (need.width, need.length) if across else (need.length, need.width)
    fine = (need.fine[1], need.fine[0]) if across else need.fine
    along = [whole(value) for value in rough]
    along[axis] = whole(fine[axis])
    return (along[0], along[1], thickness)


def _lying(need: Need, size: tuple[int, int, int]) -> Bit:
    if need.grain is Grain.WIDTH:
        return turned(piece((size[1], size[0], size[2]), need.placed))
    return piece(size, need.placed)


def of_copies(match: Match, needs: Mapping[str, Sequence[Need]]) -> list[list[Need]]:
    """The pieces of a match: one list a layer, since each layer has a face of its own."""
    columns = [needs.get(copy, ()) for copy in match.copies]
    return [list(layer) for layer in zip(*columns, strict=True)] if all(columns) else []
