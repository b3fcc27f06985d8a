"""Boards to buy for what the rack cannot give: thickness, length, how many."""

import math
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ground.tolerances import LENGTH_EPS
from planning.cutting.board_bench import Bench, Cut, beside, cut_of, lose, task_of, wood_of
from planning.cutting.bounds import lower_bound
from planning.cutting.clear import clear
from planning.cutting.engine import solve
from planning.cutting.stacks import WORTH, Stack, stacked
from planning.cutting.sticks import Stick
from planning.cutting.task import Effort
from planning.cutting.tree_arrays import NONE
from specs.materials import Board


def bought(bench: Bench, left: Sequence[Stick]) -> tuple[list[Cut], tuple[int, int] | None]:
    """New boards for what the rack could not give; how many, and how few there could be."""
    many = Counter(stick.size for stick in left)
    groups: dict[float, list[Stick]] = defaultdict(list)
    for stick in left:
        ways = [(wood_of(bench, stick, t, many), t) for t in bench.yard.thicknesses]
        fit = [(wood, t) for wood, t in ways if wood < math.inf]
        if fit:
            groups[_thickness(fit)].append(stick)
        else:
            lose(bench, stick, 0.0)
    plans = _merged(bench, {t: _cheapest(bench, mine, t) for t, mine in sorted(groups.items())})
    plans = [_settled(bench, plan) for plan in plans]
    cuts = [cut for plan in plans for cut in plan.cuts]
    for stick in (stick for plan in plans for stick in plan.left):
        lose(bench, stick, bench.yard.width)
    if not plans:
        return [], None
    return cuts, (len(cuts), sum(plan.least for plan in plans))


def _thickness(ways: Sequence[tuple[float, float]]) -> float:
    """The nearest thickness, unless resawing a thicker one saves a tenth of the wood."""
    near = min(ways, key=lambda way: way[1])
    best = min(ways)
    return best[1] if best[0] < WORTH * near[0] else near[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """New boards of one thickness, what is cut from them, and how few there could be."""

    sticks: tuple[Stick, ...]
    cuts: tuple[Cut, ...]
    least: int
    left: tuple[Stick, ...] = ()

    @property
    def wood(self) -> float:
        """What is bought (mm3)."""
        return sum(c.board.thickness * c.board.width * c.board.length for c in self.cuts)


def _merged(bench: Bench, lots: dict[float, Lot]) -> list[Lot]:
    """Cut thin sticks from thicker boards where that saves a tenth of the wood."""
    for thin in sorted(lots):
        for thick in sorted(t for t in lots if t > thin):
            both = _cheapest(bench, [*lots[thin].sticks, *lots[thick].sticks], thick)
            if not both.left and both.wood < WORTH * (lots[thin].wood + lots[thick].wood):
                lots[thick] = both
                del lots[thin]
                break
    return [lots[thickness] for thickness in sorted(lots)]


def _cheapest(bench: Bench, mine: Sequence[Stick], thickness: float) -> Lot:
    """Boards of one thickness in the length that needs least wood, placed straight away."""
    stacks = stacked(mine, thickness, bench.spec.shop)
    longest = max(stack.sticks[0].length for stack in stacks)
    best = Lot(sticks=tuple(mine), cuts=(), least=0, left=tuple(mine))
    quick = replace(bench.effort, rounds=0, tidy=0)
    for length in bench.yard.lengths:
        if length >= longest - LENGTH_EPS:
            lot = _of_length(bench, stacks, _board(bench, thickness, length), quick)
            if (len(lot.left), lot.wood) < (len(best.left), best.wood):
                best = replace(lot, sticks=tuple(mine))
    return best


def _settled(bench: Bench, lot: Lot) -> Lot:
    """The lot with the search that it deserves, in the length that it was given."""
    if not lot.cuts:
        return lot
    board = lot.cuts[0].board
    stacks = stacked(lot.sticks, board.thickness, bench.spec.shop)
    found = _of_length(bench, stacks, board, bench.effort)
    return replace(found, sticks=lot.sticks)


def _board(bench: Bench, thickness: float, length: float) -> Board:
    return Board(thickness=thickness, width=bench.yard.width, length=length)


def _of_length(bench: Bench, stacks: Sequence[Stack], board: Board, effort: Effort) -> Lot:
    part = clear(board, bench.kerf)
    items = tuple(replace(stack.item, wants=NONE) for stack in stacks)
    task = task_of(bench, items, (), part.zones[0])
    bound = lower_bound(task)
    found = solve(task, effort, bound)
    bench.rounds += found.rounds
    moved = beside(stacks, found)
    cuts = [cut_of(bench, board, part, [cell], moved, new=True) for cell in found.new]
    left = tuple(stick for item in found.left for stick in stacks[item].sticks)
    return Lot(sticks=(), cuts=tuple(cuts), least=bound, left=left)
