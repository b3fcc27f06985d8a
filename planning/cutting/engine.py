"""Place items in zones with cuts from edge to edge, on as few new zones as can be found.

Sizes are whole numbers (the caller's choice of unit). The kerf is added once to every size, which
is exact (see ``tree_arrays.py``). Budgets count rounds, never seconds, so that the same job gives
the same plan on any machine; ``Effort.over`` is for benchmarks and for a person who interrupts.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from planning.cutting.cells import cell_at, items_in, put_cell
from planning.cutting.compiled import PLAIN, Kernel, can_compile, fast
from planning.cutting.placing import NO_LIMIT, Way
from planning.cutting.searching import Aim, Record, Trial
from planning.cutting.task import Cell, Effort, Found, Task, Zone, goes_in
from planning.cutting.tree_arrays import (
    CALM,
    CLOSED,
    COUNTS,
    CUT,
    GIVEN,
    LEFT,
    NONE,
    PART,
    PLACE,
    RANDOM,
    ROUNDS,
    USED,
    Job,
    State,
    copy,
    empty_zone,
    give,
)
from planning.cutting.whole_sheets import WholeSheets

ORDERS, RATINGS = 5, 4
SOON = 600_000
"""Items times rounds after which whole sheets are looked at, where the search has not come on."""
HELD = 10
"""With more items than that to a new sheet, whole sheets are not looked at: too many could be."""
REST = 4000
"""Rounds for what a dive leaves over."""
PLAIN_WORK = 300_000
"""Items times rounds up to which plain Python is quick enough not to wait for a compiler."""


@dataclass(slots=True)
class _Run:
    """One run of the engine."""

    task: Task
    effort: Effort
    kernel: Kernel
    zones: tuple[Zone, ...] = ()
    rounds: int = 0
    least: int = 0
    sheets: WholeSheets | None = None
    job: Job = field(init=False)
    unit: tuple[float, float] = field(init=False)

    def __post_init__(self) -> None:
        first = (*self.task.fixed, *((self.task.new,) if self.task.new else ()))[0]
        self.unit = (1.0 / (first.w + self.task.kerf), 1.0 / (first.h + self.task.kerf))

    def open(self, new: int) -> None:
        """Set the zones: those that are fixed and so many new ones."""
        fresh = () if self.task.new is None else (self.task.new,) * new
        self.zones = (*self.task.fixed, *fresh)
        self.job = _job(self.task, self.zones, self.kernel)

    def state(self) -> State:
        """A state with every zone closed and every item in the pool."""
        n = len(self.task.items)
        s = _state(6 * n + len(self.zones) + 40, self.kernel)
        s.tally[USED] = len(self.zones)
        s.tally[GIVEN] = NONE
        s.tally[RANDOM] = self.effort.seed
        s.tally[LEFT] = n
        s.pool[:n] = _ints(range(n), self.kernel)
        return s

    def aim(self, tidy: int) -> Aim:
        """What the search is for."""
        task = self.task
        keep = (float(task.keep_side), task.keep_share)
        return Aim(tidy, self.effort.most, *self.unit, *keep, task.kerf, len(task.fixed))


def solve(task: Task, effort: Effort, bound: int = 0, kernel: Kernel | None = None) -> Found:
    """Place the items; ``bound`` is a number of new zones that no plan can be under."""
    if not task.items or not (task.fixed or task.new):
        left = tuple(range(len(task.items)))
        return Found(fixed=(None,) * len(task.fixed), new=(), left=left, rounds=0)
    run = _Run(task, effort, kernel or PLAIN, least=bound)
    best = _start(run, bound)
    if kernel is None and _worth_compiling(run, best, bound):
        best = _compiled(run, best)
    if task.new is not None:
        best = _fewer(run, best)
    elif best.tally[LEFT]:
        best = _more(run, best)
    if not effort.over() and effort.tidy and not best.tally[LEFT]:
        best = _tidy(run, best)
    return _found(run, best, interrupted=effort.over())


def _worth_compiling(run: _Run, best: State, bound: int) -> bool:
    """Tell whether much is to be done yet; the plan is the same either way."""
    open_ = len(run.zones) - len(run.task.fixed) > bound or best.tally[LEFT] > 0
    rounds = run.effort.tidy + (run.effort.rounds if open_ else 0)
    return len(run.task.items) * rounds > PLAIN_WORK and can_compile()


def _compiled(run: _Run, s: State) -> State:
    """The state and the job as the compiled functions take them."""
    run.kernel = fast()
    run.open(len(run.zones) - len(run.task.fixed))
    return State(*(_ints(column, run.kernel) for column in s))


# ---- a first plan


def ways(effort: Effort, unit: tuple[float, float]) -> Iterator[Way]:
    """Ways of putting a plan together straight away."""
    for q in range(effort.starts):
        plain = ORDERS * RATINGS
        noise = 0.0 if q < plain else 0.5 * ((q * 7919) % 101) / 101
        yield Way((q // ORDERS) % RATINGS, q % ORDERS, noise, 0.0, 0.0, *unit)


def _start(run: _Run, bound: int) -> State:
    """The best of some plans put together straight away, one zone filled after the other."""
    best: State | None = None
    key: tuple[float, int] = (0.0, 0)
    limit = len(run.task.items)
    run.open(limit)
    for way in ways(run.effort, run.unit):
        s = run.state()
        s.tally[RANDOM] = run.effort.seed + way.order
        new = _fill(run, s, way, limit)
        area = sum(_share(run, t) for t in _pool(s))
        if best is None or (area, new) < key:
            best, key, limit = s, (area, new), new
            if run.effort.found:
                run.effort.found(new)
        if (area == 0.0 and new <= bound) or run.effort.over():
            break
    if best is None:
        return run.state()
    _shrink(run, best, key[1])
    return best


def _fill(run: _Run, s: State, way: Way, limit: int) -> int:
    """Open zone after zone, at most ``limit`` new ones, until all is placed; the new ones used."""
    fixed = len(run.task.fixed)
    for z in range(len(run.zones)):
        if not s.tally[LEFT] or z - fixed >= limit:
            return max(0, z - fixed)
        empty_zone(s, run.job, z)
        run.kernel.place_pool(s, run.job, way)
    return len(run.zones) - fixed


def _shrink(run: _Run, s: State, new: int) -> None:
    """Forget the new zones past ``new``: they are closed, and their nodes may be used."""
    before = len(run.zones)
    run.open(new)
    for z in range(before - 1, len(run.zones) - 1, -1):
        give(s, z)
    for z in range(len(run.task.fixed)):
        if s.kind[z] == CLOSED:
            empty_zone(s, run.job, z)


# ---- fewer new zones


def _fewer(run: _Run, best: State) -> State:
    """Drop zone after zone as long as the rest still takes everything."""
    while len(run.zones) - len(run.task.fixed) > run.least and not run.effort.over():
        kept = len(run.zones) - len(run.task.fixed)
        fewer = _one_fewer(run, best, kept)
        if fewer is None:
            run.open(kept)
            return best
        best = fewer
        if run.effort.found:
            run.effort.found(len(run.zones) - len(run.task.fixed))
    return best


def _one_fewer(run: _Run, best: State, kept: int) -> State | None:
    """A plan on one new zone fewer: by search, else by whole sheets, else by more search."""
    now = _like(run, best)
    _drop(run, now)
    rounds = run.effort.rounds
    listing = _may_list(run, kept - 1)
    soon = min(rounds, SOON // len(run.task.items)) if listing else rounds
    trial = _search(run, now, soon, 0)
    if trial.best.tally[LEFT] == 0:
        return trial.best
    if listing and not run.effort.over():
        found = _by_sheets(run, (best, trial.best), kept - 1)
        if found is not None or run.least >= kept:
            return found
    if soon == rounds or run.effort.over():
        return None
    trial = _search(run, _like(run, trial.best), rounds - soon, 0)
    return None if trial.best.tally[LEFT] else trial.best


def _may_list(run: _Run, zones: int) -> bool:
    """Tell whether a new sheet takes any item, however it is cut, and none holds too many."""
    task, new = run.task, run.task.new
    if new is None or task.fixed or task.levels < NO_LIMIT or run.effort.proof == 0:
        return False
    return len(task.items) <= HELD * zones and all(
        item.wants == NONE and goes_in(item, new) for item in task.items
    )


def _by_sheets(run: _Run, plans: tuple[State, ...], zones: int) -> State | None:
    """A plan on so many new zones out of whole sheets; the bound may rise as well."""
    sheets = run.sheets or WholeSheets(run.task, run.effort.proof, run.effort.over)
    run.sheets = sheets
    sheets.take(items_in(_cell(run, s, z)) for s in plans for z in _held(s))
    sheets.put_together()
    cells = sheets.dived(zones, lambda task, most: _rest(run, task, most))
    if cells is None and not run.effort.over():
        run.least = max(run.least, sheets.listed(run.least))
        cells = sheets.decided(zones) if run.least <= zones else None
    return None if cells is None else _state_of(run, cells)


def _rest(run: _Run, task: Task, most: int) -> tuple[Cell, ...] | None:
    """What a dive has left over, on so many sheets at most."""
    effort = replace(run.effort, rounds=REST, tidy=0, proof=0, found=None)
    found = solve(task, effort, most, None if run.kernel is PLAIN else run.kernel)
    return found.new if len(found.new) <= most and not found.left else None


def _held(s: State) -> list[int]:
    """The zones that hold something."""
    return sorted({int(s.zone[x]) for x in range(s.tally[USED]) if s.kind[x] == PART})


def _state_of(run: _Run, cells: list[Cell]) -> State:
    """A state with new zones cut as ``cells`` say, and nothing in the pool."""
    run.open(len(cells))
    s = run.state()
    for z, cell in enumerate(cells):
        empty_zone(s, run.job, z)
        put_cell(s, z, cell, run.task.kerf)
    s.tally[LEFT] = 0
    return s


def _drop(run: _Run, s: State) -> None:
    """Empty the new zone that holds least, and put the last one in its place."""
    fixed = len(run.task.fixed)
    held = dict.fromkeys(range(fixed, len(run.zones)), 0.0)
    for x in range(s.tally[USED]):
        if s.kind[x] == PART and s.zone[x] >= fixed:
            held[int(s.zone[x])] += _share(run, int(s.item[x]))
    least = min(held, key=lambda z: (held[z], z))
    last = len(run.zones) - 1
    if s.kind[least] in (CUT, PART):
        run.kernel.clear(s, least)
    if least != last:
        _move(s, last, least)
    give(s, last)
    run.open(last - fixed)


def _move(s: State, old: int, new: int) -> None:
    """Make the tree of the zone ``old`` the tree of the zone ``new``."""
    for column in (s.w, s.h, s.kind, s.axis, s.first, s.item, s.level):
        column[new] = column[old]
    for x in range(s.tally[USED]):
        if s.kind[x] != CLOSED and s.zone[x] == old:
            s.zone[x] = new
        if s.kind[x] != CLOSED and s.parent[x] == old:
            s.parent[x] = new
    s.zone[new] = new
    s.parent[new] = NONE


def _more(run: _Run, best: State) -> State:
    """Place more in zones that cannot take everything."""
    return _search(run, _like(run, best), run.effort.rounds, 0).best


def _tidy(run: _Run, best: State) -> State:
    """Keep everything placed; better offcuts, fewer fence settings."""
    return _search(run, _like(run, best), run.effort.tidy, 1).best


def _search(run: _Run, now: State, rounds: int, tidy: int) -> Trial:
    """Search from ``now`` for so many rounds."""
    aim = run.aim(tidy)
    trial = Trial(now, _like(run, now), _like(run, now))
    now.tally[RANDOM] = run.effort.seed
    start = run.kernel.cost(now, run.job, aim)
    record = Record(
        _floats([start] * run.effort.history, run.kernel), _floats([start, start], run.kernel)
    )
    done = 0
    while done < rounds and not run.effort.over():
        step = min(run.effort.chunk, rounds - done)
        done += step
        if run.kernel.search(trial, run.job, aim, record, step):
            break
    run.rounds += int(now.tally[ROUNDS])
    return trial


# ---- arrays


def _like(run: _Run, s: State) -> State:
    """A copy of ``s``."""
    same = _state(len(s.w), run.kernel)
    copy(s, same)
    same.tally[RANDOM] = s.tally[RANDOM]
    same.tally[ROUNDS] = same.tally[PLACE] = same.tally[CALM] = 0
    return same


def _ints(values: "range | list[int]", kernel: Kernel) -> list[int]:
    if kernel is PLAIN:
        return list(values)
    import numpy as np

    return np.array(values, dtype=np.int64)  # type: ignore[return-value]  # quacks like a list


def _floats(values: list[float], kernel: Kernel) -> list[float]:
    if kernel is PLAIN:
        return values
    import numpy as np

    return np.array(values)  # type: ignore[return-value]  # quacks like a list


def _state(size: int, kernel: Kernel) -> State:
    columns = [_ints([0] * size, kernel) for _ in range(len(State._fields) - 1)]
    columns.append(_ints([0] * COUNTS, kernel))
    return State(*columns)


def _job(task: Task, zones: tuple[Zone, ...], kernel: Kernel) -> Job:
    items, k = task.items, task.kerf
    rows = (
        [item.w + k for item in items],
        [item.h + k for item in items],
        [int(item.turns) for item in items],
        [item.inner for item in items],
        [item.wants for item in items],
        [zone.w + k for zone in zones],
        [zone.h + k for zone in zones],
        [zone.kind for zone in zones],
        [zone.level for zone in zones],
        [zone.axis for zone in zones],
        [task.levels],
    )
    return Job(*(_ints(row, kernel) for row in rows))


def _pool(s: State) -> list[int]:
    return [int(s.pool[i]) for i in range(s.tally[LEFT])]


def _share(run: _Run, t: int) -> float:
    item = run.task.items[t]
    return (item.w + run.task.kerf) * run.unit[0] * ((item.h + run.task.kerf) * run.unit[1])


# ---- what was found


def _found(run: _Run, s: State, *, interrupted: bool) -> Found:
    fixed = len(run.task.fixed)
    cells = [_cell(run, s, z) if s.kind[z] in (CUT, PART) else None for z in range(len(run.zones))]
    return Found(
        fixed=tuple(cells[:fixed]),
        new=tuple(cell for cell in cells[fixed:] if cell is not None),
        left=tuple(sorted(_pool(s))),
        rounds=run.rounds,
        interrupted=interrupted,
        least=run.least,
    )


def _cell(run: _Run, s: State, z: int) -> Cell:
    return cell_at(s, z, run.task.kerf)
