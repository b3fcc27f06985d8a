"""Plan the boards of one wood: what the rack gives, thickness by thickness, then what is bought."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from ground.findings import Finding
from models.parts.assembly import Assembly
from models.parts.blank import Grain
from planning.cutting.bounds import lower_bound
from planning.cutting.clear import ANY_FIGURE, Clear, clear
from planning.cutting.engine import solve
from planning.cutting.layout import KEEP_BOARD, UNIT, Bit, of_cell, tree, whole
from planning.cutting.lumber_telling import (
    board_findings,
    figure_told,
    no_board_told,
    spoilt_told,
    staves_told,
)
from planning.cutting.records import Bound, Stock, StockKind, Unmade, walk
from planning.cutting.sheets import Planned
from planning.cutting.stacks import WORTH, Stack, bit_of, stacked, wood_in
from planning.cutting.steps import fence_settings, saw_list
from planning.cutting.sticks import Stick, blanks, sticks
from planning.cutting.task import Cell, Effort, Found, Item, Task, Zone
from planning.cutting.tree_arrays import NONE
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
class _Bench:
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
        return whole(self.spec.shop.kerf)

    @property
    def yard(self) -> Yard:
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


def plan_boards(spec: Spec, assembly: Assembly, key: str, effort: Effort) -> Planned:
    """Plan everything that is milled from the lumber ``key``."""
    lumber = spec.materials[key]
    if not isinstance(lumber, Lumber):
        return Planned(stock=(), bound=None, unmade=(), findings=())
    bench = _Bench(key=key, lumber=lumber, spec=spec, effort=effort)
    found = blanks(spec, assembly, key, bench.widest)
    bench.findings += staves_told(found)
    left = list(_that_fit(bench, sticks(found, spec.shop, bench.longest(), bench.widest)))
    cuts: list[Cut] = []
    for thickness, boards in _rack(bench):
        mine = _goes_to(bench, left, thickness)
        made, over = _from_rack(bench, mine, thickness, boards)
        cuts += made
        left = [stick for stick in left if stick not in mine] + over
    bought, bound = _bought(bench, left)
    cuts += bought
    used = [(cut.board, cut.new, cut.stacks) for cut in cuts]
    bench.findings += board_findings(used, bench.yard)
    stock = tuple(_stock(bench, cut) for cut in cuts)
    counted = None if bound is None else _counted(bench, bound, stock)
    return Planned(
        stock=stock, bound=counted, unmade=tuple(bench.unmade), findings=tuple(bench.findings)
    )


def _that_fit(bench: _Bench, found: Sequence[Stick]) -> Iterator[Stick]:
    """The sticks that some board is large enough for."""
    for stick in found:
        room = bench.widest(stick.thick)
        if stick.length <= bench.longest() + 1e-6 and stick.width <= room + 1e-6:
            yield stick
            continue
        _lose(bench, stick, room)


def _lose(bench: _Bench, stick: Stick, widest: float) -> None:
    """Keep that no board is large enough for a stick."""
    finding, lost = no_board_told(stick, bench.longest(), widest, bench.key)
    bench.findings.append(finding)
    bench.unmade.append(lost)


# ---- boards in hand


def _rack(bench: _Bench) -> list[tuple[float, list[Board]]]:
    """Boards in the rack by thickness, thin ones first."""
    found: dict[float, list[Board]] = defaultdict(list)
    for board in bench.lumber.boards:
        found[board.thickness] += [board] * board.count
    return sorted(found.items())


def _goes_to(bench: _Bench, left: Sequence[Stick], thickness: float) -> list[Stick]:
    """The sticks that are cut from the rack's boards of this thickness.

    A stick goes to the nearest; to thicker ones where resawing saves wood, or as what the nearest
    could not take, unless that would waste more than buying.
    """
    many = Counter(stick.size for stick in left)
    thicker = [t for t, _ in _rack(bench) if t > thickness]
    going: list[Stick] = []
    for stick in left:
        here = _wood(bench, stick, thickness, many)
        later = min((_wood(bench, stick, t, many) for t in thicker), default=math.inf)
        sold = min(_wood(bench, stick, t, many) for t in bench.yard.thicknesses)
        least = min(sold, here)
        if here < math.inf and later >= WORTH * here and here <= MOST_STEP * least:
            going.append(stick)
    return going


def _wood(
    bench: _Bench, stick: Stick, thickness: float, many: "Counter[tuple[float, float, float]]"
) -> float:
    """What a stick takes of boards of this thickness (mm3); infinite where they are too thin."""
    found = wood_in(stick, thickness, bench.spec.shop, many[stick.size])
    return math.inf if found is None else found


def _from_rack(
    bench: _Bench, mine: Sequence[Stick], thickness: float, boards: Sequence[Board]
) -> tuple[list[Cut], list[Stick]]:
    """What the boards of one thickness give, and the sticks that they cannot take."""
    cleared = [clear(board, bench.kerf) for board in boards]
    for board, part in zip(boards, cleared, strict=True):
        if not part.zones:
            bench.findings.append(spoilt_told(board, bench.key))
    stacks = stacked(mine, thickness, bench.spec.shop)
    zones = [zone for part in cleared for zone in part.zones]
    if not stacks or not zones:
        return [], list(mine)
    found = _solved(bench, stacks, zones)
    moved = _beside(stacks, found)
    cuts: list[Cut] = []
    start = 0
    for board, part in zip(boards, cleared, strict=True):
        cells = found.fixed[start : start + len(part.zones)]
        start += len(part.zones)
        if any(cell is not None for cell in cells):
            cuts.append(_cut(bench, board, part, cells, moved))
    over = [stick for item in found.left for stick in stacks[item].sticks]
    return cuts, over


def _solved(bench: _Bench, stacks: Sequence[Stack], zones: Sequence[Zone]) -> Found:
    """Place stacks in zones; figure is asked for as far as it can be had."""
    kinds = {zone.kind for zone in zones}
    items = [stack.item for stack in stacks]
    if kinds == {ANY_FIGURE}:
        items = [replace(item, wants=NONE) for item in items]
    task = _task(bench, tuple(items), zones, None)
    found = solve(task, bench.effort)
    poor = {item for item in found.left if items[item].wants != NONE}
    if poor:
        bench.findings.append(figure_told([stacks[item] for item in sorted(poor)], bench.key))
        items = [replace(it, wants=NONE) if n in poor else it for n, it in enumerate(items)]
        found = solve(replace(task, items=tuple(items)), bench.effort)
    bench.rounds += found.rounds
    return found


def _task(bench: _Bench, items: tuple[Item, ...], fixed: Sequence[Zone], new: Zone | None) -> Task:
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


def _beside(stacks: Sequence[Stack], found: Found) -> dict[int, Stack]:
    """Which stack lies where: of those of one size, parts of one kind beside each other."""
    order = [item for cell in (*found.fixed, *found.new) if cell for item in _items(cell)]
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


def _items(cell: Cell) -> Iterator[int]:
    if cell.item is not None:
        yield cell.item
    for child in cell.children:
        yield from _items(child)


def _cut(
    bench: _Bench,
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
    held = [moved[item] for cell in cells if cell is not None for item in _items(cell)]
    return Cut(board=board, new=new, bit=part.filled(bits), stacks=tuple(held))


# ---- boards to buy


def _bought(bench: _Bench, left: Sequence[Stick]) -> tuple[list[Cut], tuple[int, int] | None]:
    """New boards for what the rack could not give; how many, and how few there could be."""
    many = Counter(stick.size for stick in left)
    groups: dict[float, list[Stick]] = defaultdict(list)
    for stick in left:
        ways = [(_wood(bench, stick, t, many), t) for t in bench.yard.thicknesses]
        fit = [(wood, t) for wood, t in ways if wood < math.inf]
        if fit:
            groups[_thickness(fit)].append(stick)
        else:
            _lose(bench, stick, 0.0)
    plans = _merged(bench, {t: _cheapest(bench, mine, t) for t, mine in sorted(groups.items())})
    cuts = [cut for plan in plans for cut in plan.cuts]
    for stick in (stick for plan in plans for stick in plan.left):
        _lose(bench, stick, bench.yard.width)
    if not plans:
        return [], None
    return cuts, (len(cuts), sum(plan.least for plan in plans))


def _thickness(ways: Sequence[tuple[float, float]]) -> float:
    """The nearest thickness, unless resawing a thicker one saves a tenth of the wood."""
    near = min(ways, key=lambda way: way[1])
    best = min(ways)
    return best[1] if best[0] < WORTH * near[0] else near[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lot:
    """New boards of one thickness, what is cut from them, and how few there could be."""

    sticks: tuple[Stick, ...]
    cuts: tuple[Cut, ...]
    least: int
    left: tuple[Stick, ...] = ()

    @property
    def wood(self) -> float:
        """What is bought (mm3)."""
        return sum(c.board.thickness * c.board.width * c.board.length for c in self.cuts)


def _merged(bench: _Bench, lots: dict[float, _Lot]) -> list[_Lot]:
    """Cut thin sticks from thicker boards where that saves a board of their own."""
    for thin in sorted(lots):
        for thick in sorted(t for t in lots if t > thin):
            both = _cheapest(bench, [*lots[thin].sticks, *lots[thick].sticks], thick)
            if not both.left and both.wood < lots[thin].wood + lots[thick].wood:
                lots[thick] = both
                del lots[thin]
                break
    return [lots[thickness] for thickness in sorted(lots)]


def _cheapest(bench: _Bench, mine: Sequence[Stick], thickness: float) -> _Lot:
    """Boards of one thickness in the length that needs least wood."""
    stacks = stacked(mine, thickness, bench.spec.shop)
    longest = max(stack.sticks[0].length for stack in stacks)
    plans: list[_Lot] = []
    for length in bench.yard.lengths:
        if length >= longest - 1e-6:
            lot = _of_length(bench, stacks, thickness, length)
            plans.append(replace(lot, sticks=tuple(mine)))
    if not plans:
        return _Lot(sticks=tuple(mine), cuts=(), least=0, left=tuple(mine))
    return min(plans, key=lambda plan: (len(plan.left), plan.wood))


def _of_length(bench: _Bench, stacks: Sequence[Stack], thickness: float, length: float) -> _Lot:
    board = Board(thickness=thickness, width=bench.yard.width, length=length)
    part = clear(board, bench.kerf)
    items = tuple(replace(stack.item, wants=NONE) for stack in stacks)
    task = _task(bench, items, (), part.zones[0])
    bound = lower_bound(task)
    found = solve(task, bench.effort, bound)
    bench.rounds += found.rounds
    moved = _beside(stacks, found)
    cuts = [_cut(bench, board, part, [cell], moved, new=True) for cell in found.new]
    left = tuple(stick for item in found.left for stick in stacks[item].sticks)
    return _Lot(sticks=(), cuts=tuple(cuts), least=bound, left=left)


# ---- records


def _stock(bench: _Bench, cut: Cut) -> Stock:
    root = tree(cut.bit, KEEP_BOARD)
    return Stock(
        id="",
        material=bench.key,
        kind=StockKind.BOARD,
        size=(cut.board.length, cut.board.width, cut.board.thickness),
        grain=Grain.LENGTH,
        new=cut.new,
        root=root,
        steps=saw_list(root),
        keep_out=tuple((d.x, d.y, d.length, d.width) for d in cut.board.defects),
    )


def _counted(bench: _Bench, bound: tuple[int, int], stock: Sequence[Stock]) -> Bound:
    return Bound(
        material=bench.key,
        used=bound[0],
        least=bound[1],
        rounds=bench.rounds,
        settings=sum(fence_settings(piece.steps) for piece in stock),
        cuts=sum(node.cut is not None for piece in stock for node in walk(piece.root)),
        kind=StockKind.BOARD,
    )
