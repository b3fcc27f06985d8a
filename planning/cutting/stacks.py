"""Sticks in a board of a given thickness: flat, on edge, or several resawn from one piece."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from planning.cutting.clear import FIGURES
from planning.cutting.layout import Bit, row, whole
from planning.cutting.loads import piece
from planning.cutting.records import Saw
from planning.cutting.sticks import Stick, standing
from planning.cutting.task import Item
from planning.cutting.tree_arrays import NONE
from specs.shop import Shop

WORTH: Final = 0.9
"""Resawing, or a thicker board, must save a tenth of the wood. Common practice, no source."""
SPARE: Final = 3.0
"""Less than this over the milled size is hard to mill clean (mm). Common practice, no source."""
THIN: Final = 6.0
"""A layer thinner than this is planed off the last stick, not resawn (mm). Common practice, no
source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Sticks of one size that lie over one another in a board and are resawn; mostly just one."""

    sticks: tuple[Stick, ...]
    board: float
    """Thickness of the board (mm)."""

    @property
    def wants(self) -> int:
        """The kind of zone it should lie in."""
        figure = self.sticks[0].wants
        return NONE if figure is None else FIGURES.index(figure)

    @property
    def item(self) -> Item:
        """The stack as the search knows it."""
        first = self.sticks[0]
        return Item(w=whole(first.length), h=whole(first.width), wants=self.wants)

    @property
    def wood(self) -> float:
        """What it takes of the board (mm3)."""
        return self.sticks[0].length * self.sticks[0].width * self.board


def layers_in(board: float, stick: Stick, shop: Shop) -> int:
    """How many sticks can be resawn from a board: n rough thicknesses and n - 1 kerfs.

    A rough thickness has a pass on each face in it. 65 in three of 18 and two kerfs of 3.2: 60.4.
    """
    if stick.thick > board + 1e-6:
        return 0
    layers = int((board + shop.kerf + 1e-6) // (stick.thick + shop.kerf))
    saw = shop.machines.band_saw
    reach = saw.height if saw.owned else 0.0
    return layers if stick.width <= reach else 1


def stacked(sticks: Sequence[Stick], board: float, shop: Shop) -> tuple[Stack, ...]:
    """Sticks as they lie best in boards of one thickness; those too thick for it are left out."""
    many = Counter(stick.size for stick in sticks)
    best = [lying(stick, board, shop, many[stick.size]) for stick in sticks]
    groups: dict[tuple[tuple[float, float, float], int], list[Stick]] = defaultdict(list)
    for found in best:
        if found is not None:
            stick, layers = found
            groups[stick.size, layers].append(stick)
    return tuple(
        Stack(sticks=tuple(part), board=board)
        for (_, layers), group in groups.items()
        for part in _batches(group, layers)
    )


def _batches(group: Sequence[Stick], most: int) -> Iterator[Sequence[Stick]]:
    for start in range(0, len(group), most):
        yield group[start : start + most]


def lying(stick: Stick, board: float, shop: Shop, many: int) -> tuple[Stick, int] | None:
    """The way of one of ``many`` like sticks that takes least of a board.

    The number is how many of them are resawn from one piece; None: the board is too thin.
    """
    ways = [way for way in (stick, standing(stick, shop)) if way is not None]
    found = [(way, min(many, layers_in(board, way, shop))) for way in ways]
    fit = [(way, layers) for way, layers in found if layers]
    return min(fit, key=lambda pair: pair[0].width / pair[1], default=None)


def wood_in(stick: Stick, board: float, shop: Shop, many: int) -> float | None:
    """What one of ``many`` like sticks takes of boards of this thickness (mm3).

    None: it is too thick for them.
    """
    found = lying(stick, board, shop, many)
    return None if found is None else found[0].length * found[0].width * board / found[1]


# ---- as pieces


def bit_of(stack: Stack, kerf: int) -> Bit:
    """The stack as a piece of the board: resawn into sticks, each parted into its blanks."""
    thick = whole(stack.board)
    if len(stack.sticks) == 1:
        return _stick_bit(stack.sticks[0], thick, kerf)
    sizes = [whole(stick.thick) for stick in stack.sticks]
    left = thick - sum(sizes) - kerf * len(sizes)
    if left < whole(THIN):
        sizes[-1] = thick - sum(sizes[:-1]) - kerf * (len(sizes) - 1)
    bits = [_stick_bit(s, size, kerf) for s, size in zip(stack.sticks, sizes, strict=True)]
    size = (bits[0].size[0], bits[0].size[1], thick)
    if left >= whole(THIN):
        bits.append(Bit(size=(size[0], size[1], left)))
    return row(size, Saw.RESAW, bits, (kerf,) * len(bits))


def _stick_bit(stick: Stick, thick: int, kerf: int) -> Bit:
    size = (whole(stick.length), whole(stick.width), thick)
    if len(stick.blanks) == 1:
        return _blank_bit(stick, 0, size)
    bits = [
        _blank_bit(stick, place, (whole(blank.grain), size[1], thick))
        for place, blank in enumerate(stick.blanks)
    ]
    return row(size, Saw.ACROSS, bits, (kerf,) * len(bits))


def _blank_bit(stick: Stick, place: int, size: tuple[int, int, int]) -> Bit:
    return piece(size, stick.blanks[place].placed)


def spare(stick: Stick, width: float, board: float) -> float:
    """What the board has over the milled width or thickness, whichever is less (mm)."""
    return min(width - stick.fine[0], board - stick.fine[1])
