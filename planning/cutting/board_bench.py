"""A bench to plan boards of one wood on: what is known, and how a board is filled."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from ground.findings import Finding
from planning.cutting.clear import Clear
from planning.cutting.layout import KEEP_BOARD, UNIT, Bit, of_cell, whole
from planning.cutting.lumber_telling import no_board_told
from planning.cutting.records import Unmade
from planning.cutting.stacks import Stack, bit_of, wood_in
from planning.cutting.sticks import Stick
from planning.cutting.task import Cell, Effort, Found, Item, Task, Zone
from planning.cutting.yard import Yard, nearest, yard
from specs.materials import Board, Lumber
from specs.spec import Spec

LEVELS = 4
"""Cutting levels in a clear part of a board: it is cut to length, ripped, and parted again."""
MOST_STEP = 2.0
"""A board in the rack that takes over twice the wood of a bought one is left alone. Common
practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One board and what is cut from it."""

    board: Board
    new: bool
    bit: Bit
    stacks: tuple[Stack, ...]


@dataclass(slots=True, kw_only=True)
class Bench:
    """What is common to the planning of one wood."""

    key: str
    lumber: Lumber
    spec: Spec
    effort: Effort
    findings: list[Finding] = field(default_factory=list)
    unmade: list[Unmade] = field(default_factory=list)
    rounds: int = 0

    @property
    def kerf(self) -> int:
        """What the saw takes."""
        return whole(self.spec.shop.kerf)

    @property
    def yard(self) -> Yard:
        """What is on sale."""
        return yard(self.lumber, self.spec.units)

    def widest(self, thick: float) -> float:
        """The widest board that something this thick is cut from, 0 where none is thick enough."""
        sold = nearest(self.yard.thicknesses, thick)
        most = max(MOST_STEP * thick, sold or 0.0)
        widths = [b.width for b in self.lumber.boards if thick - 1e-6 <= b.thickness <= most]
        if sold is not None:
            widths.append(self.yard.width)
        if not widths:
            widths = [b.width for b in self.lumber.boards if b.thickness >= thick - 1e-6]
        return max(widths, default=0.0)

    def longest(self) -> float:
        """The longest board."""
        return max([*(board.length for board in self.lumber.boards), *self.yard.lengths])


def lose(bench: Bench, stick: Stick, widest: float) -> None:
    """Keep that no board is large enough for a stick."""
    finding, lost = no_board_told(stick, bench.longest(), widest, bench.key)
    bench.findings.append(finding)
    bench.unmade.append(lost)


def wood_of(
    bench: Bench, stick: Stick, thickness: float, many: "Counter[tuple[float, float, float]]"
) -> float:
    """What a stick takes of boards of this thickness (mm3); infinite where they are too thin."""
    found = wood_in(stick, thickness, bench.spec.shop, many[stick.size])
    return math.inf if found is None else found


def task_of(bench: Bench, items: tuple[Item, ...], fixed: Sequence[Zone], new: Zone | None) -> Task:
    """What the search is asked: items to place in boards in hand, or in new ones."""
    zone = new or fixed[0]
    return Task(
        items=items,
        fixed=tuple(fixed),
        new=new,
        kerf=bench.kerf,
        levels=LEVELS,
        keep_side=whole(KEEP_BOARD.side),
        keep_share=KEEP_BOARD.area * UNIT * UNIT / (float(zone.w) * zone.h),
    )


def beside(stacks: Sequence[Stack], found: Found) -> dict[int, Stack]:
    """Which stack lies where: of those of one size, parts of one kind beside each other."""
    order = [item for cell in (*found.fixed, *found.new) if cell for item in items_of(cell)]
    alike: dict[object, list[int]] = defaultdict(list)
    for item in order:
        first = stacks[item]
        alike[first.item, first.sticks[0].thick, len(first.sticks)].append(item)
    moved: dict[int, Stack] = {}
    for places in alike.values():
        ranked = sorted(places, key=lambda item: _rank(stacks[item], item))
        moved |= {place: stacks[item] for place, item in zip(places, ranked, strict=True)}
    return moved


def _rank(stack: Stack, item: int) -> tuple[str, str, int]:
    placed = stack.sticks[0].blanks[0].placed
    return (placed.label, placed.copy, item)


def items_of(cell: Cell) -> Iterator[int]:
    """The items in a cell, as they come."""
    if cell.item is not None:
        yield cell.item
    for child in cell.children:
        yield from items_of(child)


def cut_of(
    bench: Bench,
    board: Board,
    part: Clear,
    cells: Sequence[Cell | None],
    moved: dict[int, Stack],
    *,
    new: bool = False,
) -> Cut:
    """A board with its cells filled."""
    thick = whole(board.thickness)

    def load(item: int, _: Cell) -> Bit:
        return bit_of(moved[item], bench.kerf)

    bits = [None if cell is None else of_cell(cell, thick, bench.kerf, load) for cell in cells]
    held = [moved[item] for cell in cells if cell is not None for item in items_of(cell)]
    return Cut(board=board, new=new, bit=part.filled(bits), stacks=tuple(held))
