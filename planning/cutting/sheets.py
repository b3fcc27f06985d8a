"""Plan the sheets of one material: what is cut from the rack's offcuts and from new sheets."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from ground.findings import Finding
from models.parts.blank import Grain
from planning.cutting.bounds import lower_bound
from planning.cutting.engine import solve
from planning.cutting.layout import (
    KEEP_SHEET,
    UNIT,
    Bit,
    of_cell,
    tree,
    trimmed,
    turned,
    whole,
)
from planning.cutting.loads import Load, matched, of_copies, single
from planning.cutting.matching import Match
from planning.cutting.needs import Need
from planning.cutting.records import Bound, Stock, StockKind, Unmade, walk
from planning.cutting.sheet_bound import sheet_bound
from planning.cutting.sheet_stock import SheetBench, Size, fits
from planning.cutting.steps import fence_settings, saw_list
from planning.cutting.strips import Strip, Template, broken
from planning.cutting.task import Cell, Effort, Found, Task, Zone
from planning.cutting.telling import (
    break_told,
    run_told,
    strip_told,
    too_large_told,
)
from specs.materials import Sheet
from specs.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """The plan of one material."""

    stock: tuple[Stock, ...]
    bound: Bound | None
    unmade: tuple[Unmade, ...]
    findings: tuple[Finding, ...]


def plan_sheets(
    key: str,
    sheet: Sheet,
    shop: Shop,
    needs: Sequence[Need],
    matches: Sequence[Match],
    effort: Effort,
) -> Planned:
    """Plan everything that is sawn out of the sheets of one material."""
    bench = SheetBench(key=key, sheet=sheet, shop=shop, effort=effort, findings=[])
    offcuts, sold = bench.sizes()
    loads, strip = _loads(bench, needs, matches, sold)
    kept, unmade = _that_fit(bench, loads, [*offcuts, *sold])
    zones = [size for size in offcuts for _ in range(size.count or 1)]
    layouts = _best(bench, kept, strip, zones, sold)
    for load in layouts.left:
        finding, lost = too_large_told(load, [size.zone for size in sold], key)
        bench.findings.append(finding)
        unmade.append(lost)
    stock = tuple(_stock(bench, *layout) for layout in layouts.pieces)
    bound = _bound(bench, layouts, stock) if stock else None
    return Planned(stock=stock, bound=bound, unmade=tuple(unmade), findings=tuple(bench.findings))


# ---- what there is to place


def _loads(
    bench: SheetBench, needs: Sequence[Need], matches: Sequence[Match], sold: Sequence[Size]
) -> tuple[list[Load], Strip | None]:
    """Single pieces and runs; a strip that is too long for every sheet comes back broken."""
    by_copy: dict[str, list[Need]] = defaultdict(list)
    for need in needs:
        by_copy[need.placed.copy].append(need)
    loads: list[Load] = []
    strip: Strip | None = None
    taken: set[int] = set()
    for match in matches:
        for run in of_copies(match, by_copy):
            found, parted = _run(bench, match, run, sold)
            taken |= {id(need) for load in found for need in load.needs}
            loads += found
            if parted is not None:
                strip = parted
                taken |= {id(need) for need in parted.needs}
    loads += [single(need, bench.thickness) for need in needs if id(need) not in taken]
    return loads, strip


def _run(
    bench: SheetBench, match: Match, run: Sequence[Need], sold: Sequence[Size]
) -> tuple[list[Load], Strip | None]:
    """A run as one load, or a strip broken in two, or nothing where it cannot be had."""
    load = matched(match, run, bench.thickness, bench.shop.kerf)
    if load is None:
        return [], None
    longest, widest = max(s.zone.w for s in sold), max(s.zone.h for s in sold)
    length, width = load.bit.size[:2]
    if length <= longest and width <= widest:
        if match.keep is not None:
            bench.findings.append(strip_told(match, load, longest, bench.shop.kerf))
        return [load], None
    strip = broken(match, run, bench.thickness, bench.shop.kerf)
    if match.keep is None or strip is None or strip.kept.bit.size[0] > longest:
        bench.findings.append(run_told(match, load, longest, widest))
        return [], None
    bench.findings.append(break_told(match, load, strip, longest))
    return [], strip


def _that_fit(
    bench: SheetBench, loads: Sequence[Load], sizes: Sequence[Size]
) -> tuple[list[Load], list[Unmade]]:
    """The loads that some sheet is large enough for, and what there is none for."""
    kept: list[Load] = []
    unmade: list[Unmade] = []
    for load in loads:
        if any(fits(load, size.zone) for size in sizes):
            kept.append(load)
            continue
        finding, lost = too_large_told(load, [size.zone for size in sizes], bench.key)
        bench.findings.append(finding)
        unmade.append(lost)
    return kept, unmade


# ---- the cheapest plan


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layouts:
    """Pieces of stock with what is cut from them, and how good that is."""

    pieces: tuple[tuple[Size, Bit], ...]
    cost: Decimal
    used: int
    least: int
    rounds: int
    left: tuple[Load, ...] = ()


def _best(
    bench: SheetBench,
    loads: Sequence[Load],
    strip: Strip | None,
    rack: Sequence[Size],
    sold: Sequence[Size],
) -> _Layouts:
    """The cheapest of: one size alone, and the last sheet of it exchanged for another size."""
    whole_needs = [*loads, *((strip.kept, strip.other) if strip else ())]
    fitting = [s for s in sold if all(_some(load, (s, *rack)) for load in whole_needs)]
    # parts that only the largest size takes rule the others out
    if not fitting:
        return _each_size(bench, loads, rack, sold)
    found = [_laid(bench, loads, strip, rack, size) for size in fitting]
    best = min(found, key=lambda layouts: layouts.cost)
    if len(sold) > 1 and strip is None:
        best = min([best, *_exchanged(bench, loads, rack, sold, best)], key=lambda lay: lay.cost)
    return best


def _each_size(
    bench: SheetBench, loads: Sequence[Load], rack: Sequence[Size], sold: Sequence[Size]
) -> _Layouts:
    """No one size takes everything: the rack's own first, then size after size what it takes."""
    left = [load for load in loads if any(fits(load, size.zone) for size in sold)]
    own = [load for load in loads if load not in left]
    parts = [_solved(bench, own, rack, sold[0])] if own else []
    for size in sorted(sold, key=lambda size: size.cost):
        mine = [load for load in left if fits(load, size.zone)]
        left = [load for load in left if not fits(load, size.zone)]
        parts.append(_solved(bench, mine, () if parts else rack, size))
    return _Layouts(
        pieces=tuple(piece for part in parts for piece in part.pieces),
        cost=sum((part.cost for part in parts), Decimal(0)),
        used=sum(part.used for part in parts),
        least=_least(bench, loads, rack, sold),
        rounds=sum(part.rounds for part in parts),
        left=tuple(load for part in parts for load in part.left),
    )


def _least(
    bench: SheetBench, loads: Sequence[Load], rack: Sequence[Size], sizes: Sequence[Size]
) -> int:
    """How few sheets of mixed sizes there can be: none is larger than all of them at once."""
    zones = [size.zone for size in sizes]
    largest = replace(sizes[0].zone, w=max(z.w for z in zones), h=max(z.h for z in zones))
    task = _task(bench, loads, [size.zone for size in rack], sizes[0])
    return lower_bound(replace(task, new=largest))


def _some(load: Load, sizes: Sequence[Size]) -> bool:
    return any(fits(load, size.zone) for size in sizes)


def _exchanged(
    bench: SheetBench,
    loads: Sequence[Load],
    rack: Sequence[Size],
    sold: Sequence[Size],
    best: _Layouts,
) -> list[_Layouts]:
    """Plans with all but one sheet of the best size and the rest on sheets of another."""
    bought = [size for size, _ in best.pieces if size.new]
    if not bought:
        return []
    main = bought[0]
    found: list[_Layouts] = []
    for other in sold:
        if other.zone != main.zone:
            fixed = [*rack, *[main] * (len(bought) - 1)]
            plan = _laid(bench, loads, None, fixed, other)
            found.append(replace(plan, least=_least(bench, loads, rack, (main, other))))
    return [plan for plan in found if not plan.left]


def _laid(
    bench: SheetBench, loads: Sequence[Load], strip: Strip | None, rack: Sequence[Size], size: Size
) -> _Layouts:
    """The plan with new sheets of one size."""
    if strip is None:
        return _solved(bench, loads, rack, size)
    apart = _solved(bench, [*loads, strip.kept, strip.other], rack, size)
    first = strip.template(size.zone, bench.kerf, bench.thickness)
    if first is None:
        return apart
    beside = _with_strip(bench, loads, strip, first, rack, size)
    return beside if beside.cost <= apart.cost else apart


def _task(bench: SheetBench, loads: Sequence[Load], fixed: Sequence[Zone], size: Size) -> Task:
    zone = size.zone
    return Task(
        items=tuple(load.item for load in loads),
        fixed=tuple(fixed),
        new=zone,
        kerf=bench.kerf,
        levels=bench.shop.levels,
        keep_side=whole(KEEP_SHEET.side),
        keep_share=KEEP_SHEET.area * UNIT * UNIT / max(1.0, float(zone.w) * zone.h),
    )


def _solved(bench: SheetBench, loads: Sequence[Load], rack: Sequence[Size], size: Size) -> _Layouts:
    task = _task(bench, loads, [s.zone for s in rack], size)
    least = lower_bound(task)
    found = solve(task, bench.effort, least)
    least = found.least
    if len(found.new) > least and not found.left:
        least = sheet_bound(task, least, rounds=bench.effort.proof, over=bench.effort.over)
    pieces: list[tuple[Size, Bit]] = []
    for from_, cell in zip(rack, found.fixed, strict=True):
        if cell is not None:
            pieces.append((from_, _bit(bench, cell, loads)))
    pieces += [(size, _bit(bench, cell, loads)) for cell in found.new]
    left = tuple(loads[item] for item in found.left)
    return replace(_counted(pieces, least, found), left=left)


def _with_strip(
    bench: SheetBench,
    loads: Sequence[Load],
    strip: Strip,
    first: Template,
    rack: Sequence[Size],
    size: Size,
) -> _Layouts:
    """The plan with the broken strip on the first new sheet, its other side beside it."""
    zones = [*first.zones, *(s.zone for s in rack)]
    task = _task(bench, loads, zones, size)
    everything = _task(bench, [*loads, strip.kept, strip.other], [s.zone for s in rack], size)
    least = lower_bound(everything)
    found = solve(task, bench.effort, max(0, least - 1))
    cells = [None if cell is None else _bit(bench, cell, loads) for cell in found.fixed]
    own = len(first.zones)
    pieces: list[tuple[Size, Bit]] = [(size, first.filled(cells[:own]))]
    for from_, bit in zip(rack, cells[own:], strict=True):
        if bit is not None:
            pieces.append((from_, bit))
    pieces += [(size, _bit(bench, cell, loads)) for cell in found.new]
    return _counted(pieces, least, found)


def _counted(pieces: list[tuple[Size, Bit]], least: int, found: Found) -> _Layouts:
    bought = [size for size, _ in pieces if size.new]
    return _Layouts(
        pieces=tuple(sorted(pieces, key=lambda piece: piece[0].new)),
        cost=sum((size.cost for size in bought), Decimal(0)),
        used=len(bought),
        least=least,
        rounds=found.rounds,
    )


def _bit(bench: SheetBench, cell: Cell, loads: Sequence[Load]) -> Bit:
    def load(item: int, at: Cell) -> Bit:
        bit = loads[item].bit
        return bit if (at.w, at.h) == bit.size[:2] else turned(bit)

    return of_cell(cell, bench.thickness, bench.kerf, load)


# ---- records


def _stock(bench: SheetBench, size: Size, bit: Bit) -> Stock:
    sheet = trimmed(bit, size.trim, bench.kerf)
    if bench.across:
        sheet = turned(sheet)
    root = tree(sheet, KEEP_SHEET)
    grain = Grain(bench.sheet.grain.value)
    return Stock(
        id="",
        material=bench.key,
        kind=StockKind.SHEET,
        size=(root.l, root.w, bench.sheet.thickness_used),
        grain=grain,
        new=size.new,
        root=root,
        steps=saw_list(root),
        price=size.price,
    )


def _bound(bench: SheetBench, layouts: _Layouts, stock: Sequence[Stock]) -> Bound:
    return Bound(
        material=bench.key,
        used=layouts.used,
        least=layouts.least,
        rounds=layouts.rounds,
        settings=sum(fence_settings(piece.steps) for piece in stock),
        cuts=sum(node.cut is not None for piece in stock for node in walk(piece.root)),
        of=" of the sizes bought" if bench.sheet.sizes else "",
    )
