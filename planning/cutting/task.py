"""What the search is asked, and what it finds: plain records in whole numbers."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from planning.cutting.placing import NO_LIMIT
from planning.cutting.tree_arrays import NONE

SEED: Final = 20_011


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A rectangle to be cut out; ``inner`` is the axis of the cuts that part it later, if any."""

    w: int
    h: int
    turns: bool = False
    inner: int = NONE
    wants: int = NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A rectangle to cut from; ``level`` cuts have made it, the last of them along ``axis``."""

    w: int
    h: int
    kind: int = 0
    level: int = 0
    axis: int = NONE


def goes_in(item: Item, zone: Zone) -> bool:
    """Tell whether a zone is large enough for an item."""
    straight = item.w <= zone.w and item.h <= zone.h
    return straight or (item.turns and item.h <= zone.w and item.w <= zone.h)


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """``items`` to place in ``fixed`` zones and in as few copies of ``new`` as can be found."""

    items: tuple[Item, ...]
    fixed: tuple[Zone, ...] = ()
    new: Zone | None = None
    kerf: int = 0
    levels: int = NO_LIMIT
    keep_side: int = 0
    keep_share: float = 0.0


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How long to look: ``starts`` plans put together straight away, then rounds of search.

    ``tidy`` rounds go to offcuts and fence settings once the number of zones stands, ``proof``
    rounds to whole sheets (``whole_sheets.py``) and to a better bound where it is not met.
    ``chunk`` rounds pass between two looks at ``over``.
    """

    starts: int = 40
    rounds: int = 3000
    tidy: int = 400
    proof: int = 20
    history: int = 200
    most: int = 12
    chunk: int = 100
    seed: int = SEED
    over: Callable[[], bool] = _never
    found: Callable[[int], None] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A node of the cut trees found: its size without the kerf, never less than 0 by rounding."""

    w: int
    h: int
    item: int | None = None
    axis: int | None = None
    children: tuple["Cell", ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A cell for each zone that is used (None: unused); ``left`` items found no place.

    No plan has fewer than ``least`` new zones.
    """

    fixed: tuple[Cell | None, ...]
    new: tuple[Cell, ...]
    left: tuple[int, ...]
    rounds: int
    interrupted: bool = False
    least: int = 0
