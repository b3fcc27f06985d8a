"""Plan the boards of one wood: what the rack gives, thickness by thickness, then what is bought."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from models.parts.assembly import Assembly
from models.parts.blank import Grain
from planning.cutting.board_bench import (
    MOST_STEP,
    Bench,
    Cut,
    beside,
    cut_of,
    lose,
    task_of,
    wood_of,
)
from planning.cutting.board_lots import bought
from planning.cutting.clear import ANY_FIGURE, clear
from planning.cutting.engine import solve
from planning.cutting.layout import KEEP_BOARD, tree
from planning.cutting.lumber_telling import (
    board_findings,
    figure_told,
    spoilt_told,
    staves_told,
)
from planning.cutting.records import Bound, Stock, StockKind, walk
from planning.cutting.sheets import Planned
from planning.cutting.stacks import WORTH, Stack, stacked
from planning.cutting.steps import fence_settings, saw_list
from planning.cutting.sticks import Stick, blanks, sticks
from planning.cutting.task import Effort, Found, Zone
from planning.cutting.tree_arrays import NONE
from specs.materials import Board, Lumber
from specs.spec import Spec

OF_BOARDS = " of these sizes, each part in its own thickness"
"""What is proved of boards: others are sold, and a thick one may take thin parts."""


def plan_boards(spec: Spec, assembly: Assembly, key: str, effort: Effort) -> Planned:
    """Plan everything that is milled from the lumber ``key``."""
    lumber = spec.materials[key]
    if not isinstance(lumber, Lumber):
        return Planned(stock=(), bound=None, unmade=(), findings=())
    bench = Bench(key=key, lumber=lumber, spec=spec, effort=effort)
    found = blanks(spec, assembly, key, bench.widest)
    bench.findings += staves_told(found)
    left = list(_that_fit(bench, sticks(found, spec.shop, bench.longest(), bench.widest)))
    cuts: list[Cut] = []
    for thickness, boards in _rack(bench):
        mine = _goes_to(bench, left, thickness)
        made, over = _from_rack(bench, mine, thickness, boards)
        cuts += made
        left = [stick for stick in left if stick not in mine] + over
    extra, bound = bought(bench, left)
    cuts += extra
    used = [(cut.board, cut.new, cut.stacks) for cut in cuts]
    bench.findings += board_findings(used, bench.yard)
    stock = tuple(_stock(bench, cut) for cut in cuts)
    counted = None if bound is None else _counted(bench, bound, stock)
    return Planned(
        stock=stock, bound=counted, unmade=tuple(bench.unmade), findings=tuple(bench.findings)
    )


def _that_fit(bench: Bench, found: Sequence[Stick]) -> Iterator[Stick]:
    """The sticks that some board is large enough for."""
    for stick in found:
        room = bench.widest(stick.thick)
        if stick.length <= bench.longest() + 1e-6 and stick.width <= room + 1e-6:
            yield stick
            continue
        lose(bench, stick, room)


# ---- boards in hand


def _rack(bench: Bench) -> list[tuple[float, list[Board]]]:
    """Boards in the rack by thickness, thin ones first."""
    found: dict[float, list[Board]] = defaultdict(list)
    for board in bench.lumber.boards:
        found[board.thickness] += [board] * board.count
    return sorted(found.items())


def _goes_to(bench: Bench, left: Sequence[Stick], thickness: float) -> list[Stick]:
    """The sticks that are cut from the rack's boards of this thickness.

    A stick goes to the nearest; to thicker ones where resawing saves wood, or as what the nearest
    could not take, unless that would waste more than buying.
    """
    many = Counter(stick.size for stick in left)
    thicker = [t for t, _ in _rack(bench) if t > thickness]
    going: list[Stick] = []
    for stick in left:
        here = wood_of(bench, stick, thickness, many)
        later = min((wood_of(bench, stick, t, many) for t in thicker), default=math.inf)
        sold = min(wood_of(bench, stick, t, many) for t in bench.yard.thicknesses)
        least = min(sold, here)
        if here < math.inf and later >= WORTH * here and here <= MOST_STEP * least:
            going.append(stick)
    return going


def _from_rack(
    bench: Bench, mine: Sequence[Stick], thickness: float, boards: Sequence[Board]
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
    moved = beside(stacks, found)
    cuts: list[Cut] = []
    start = 0
    for board, part in zip(boards, cleared, strict=True):
        cells = found.fixed[start : start + len(part.zones)]
        start += len(part.zones)
        if any(cell is not None for cell in cells):
            cuts.append(cut_of(bench, board, part, cells, moved))
    over = [stick for item in found.left for stick in stacks[item].sticks]
    return cuts, over


def _solved(bench: Bench, stacks: Sequence[Stack], zones: Sequence[Zone]) -> Found:
    """Place stacks in zones; figure is asked for as far as it can be had."""
    kinds = {zone.kind for zone in zones}
    items = [stack.item for stack in stacks]
    if kinds == {ANY_FIGURE}:
        items = [replace(item, wants=NONE) for item in items]
    task = task_of(bench, tuple(items), zones, None)
    found = solve(task, bench.effort)
    poor = {item for item in found.left if items[item].wants != NONE}
    if poor:
        bench.findings.append(figure_told([stacks[item] for item in sorted(poor)], bench.key))
        items = [replace(it, wants=NONE) if n in poor else it for n, it in enumerate(items)]
        found = solve(replace(task, items=tuple(items)), bench.effort)
    bench.rounds += found.rounds
    return found


# ---- records


def _stock(bench: Bench, cut: Cut) -> Stock:
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


def _counted(bench: Bench, bound: tuple[int, int], stock: Sequence[Stock]) -> Bound:
    return Bound(
        material=bench.key,
        used=bound[0],
        least=bound[1],
        rounds=bench.rounds,
        settings=sum(fence_settings(piece.steps) for piece in stock),
        cuts=sum(node.cut is not None for piece in stock for node in walk(piece.root)),
        kind=StockKind.BOARD,
        of=OF_BOARDS,
    )
