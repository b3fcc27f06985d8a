import itertools
import random
from dataclasses import replace

import numpy as np
import pytest

from planning.cutting.bounds import lower_bound, values
from planning.cutting.compiled import PLAIN, can_compile, fast
from planning.cutting.engine import solve
from planning.cutting.relaxed_sheet import RelaxedSheet
from planning.cutting.rough_sheets import Lie
from planning.cutting.sheet_bound import sheet_bound
from planning.cutting.task import Cell, Effort, Item, Task, Zone

EFFORT = Effort(starts=20, rounds=200, tidy=60)


def parts(cell: Cell | None) -> list[Cell]:
    if cell is None:
        return []
    if cell.item is not None:
        return [cell]
    return [part for child in cell.children for part in parts(child)]


def drawn(seed: int, number: int, *, turns: bool = False) -> Task:
    """Class 1 of Berkey and Wang: sizes 1 to 10 in a sheet of 10 x 10."""
    chance = random.Random(seed)  # noqa: S311 - sizes, no secrets
    items = tuple(
        Item(w=chance.randint(1, 10), h=chance.randint(1, 10), turns=turns) for _ in range(number)
    )
    return Task(items=items, new=Zone(w=10, h=10))


def test_four_quarters_fill_one_sheet_only_without_a_kerf():
    items = (Item(w=50, h=50),) * 4
    assert len(solve(Task(items=items, new=Zone(w=100, h=100)), EFFORT).new) == 1
    assert len(solve(Task(items=items, new=Zone(w=100, h=100), kerf=1), EFFORT).new) == 4
    assert len(solve(Task(items=items, new=Zone(w=101, h=101), kerf=1), EFFORT).new) == 1


def test_a_part_turns_only_where_it_may():
    """Two of 60 x 40 in 100 x 60: side by side only if both are turned."""
    stiff = Task(items=(Item(w=60, h=40),) * 2, new=Zone(w=100, h=60))
    free = Task(items=(Item(w=60, h=40, turns=True),) * 2, new=Zone(w=100, h=60))
    assert len(solve(stiff, EFFORT).new) == 2
    assert len(solve(free, EFFORT).new) == 1


def test_the_pinwheel_that_no_saw_can_cut_takes_two_sheets():
    """Four of 60 x 40 round a hole fill 100 x 100, but no cut goes from edge to edge."""
    items = (Item(w=60, h=40), Item(w=40, h=60), Item(w=60, h=40), Item(w=40, h=60))
    assert len(solve(Task(items=items, new=Zone(w=100, h=100)), EFFORT).new) == 2


def test_levels_are_kept():
    """A column of two in a strip of a strip: three levels where the first cut is upright."""
    items = (Item(w=60, h=100), Item(w=40, h=60), Item(w=25, h=40), Item(w=15, h=40))
    plenty = Task(items=items, new=Zone(w=100, h=100), levels=3)
    few = Task(items=items, new=Zone(w=100, h=100), levels=2)
    assert len(solve(plenty, EFFORT).new) == 1
    assert len(solve(few, EFFORT).new) == 2


def test_zones_in_hand_come_first_and_kinds_are_kept():
    items = (Item(w=30, h=10, wants=1), Item(w=30, h=10), Item(w=70, h=10))
    fixed = (Zone(w=40, h=10, kind=0), Zone(w=35, h=10, kind=1))
    found = solve(Task(items=items, fixed=fixed, new=Zone(w=100, h=10)), EFFORT)
    assert [[part.item for part in parts(cell)] for cell in found.fixed] == [[1], [0]]
    assert [part.item for part in parts(found.new[0])] == [2]


def test_what_finds_no_place_is_handed_back():
    items = (Item(w=30, h=10), Item(w=30, h=10), Item(w=200, h=10))
    found = solve(Task(items=items, fixed=(Zone(w=60, h=10),)), EFFORT)
    assert found.left == (2,)
    assert sorted(part.item or 0 for part in parts(found.fixed[0])) == [0, 1]


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("turns", [False, True])
def test_every_item_is_placed_once_and_no_plan_is_under_the_bound(seed, turns):
    task = drawn(seed, 20, turns=turns)
    found = solve(task, EFFORT, 0)
    placed = [part for cell in found.new for part in parts(cell)]
    assert sorted(part.item or 0 for part in placed) == list(range(20))
    for part in placed:
        item = task.items[part.item or 0]
        assert (part.w, part.h) == (item.w, item.h) or (
            turns and (part.h, part.w) == (item.w, item.h)
        )
    assert len(found.new) >= lower_bound(task, bars=True)


@pytest.mark.slow
@pytest.mark.skipif(not can_compile(), reason="numba is not installed")
@pytest.mark.parametrize("seed", [1, 2])
def test_compiled_and_plain_give_the_same_plan(seed):
    task = drawn(seed, 30, turns=seed == 2)
    assert solve(task, EFFORT, kernel=fast()) == solve(task, EFFORT, kernel=PLAIN)


def test_chunks_and_the_clock_change_nothing():
    task = drawn(3, 25)
    once = solve(task, Effort(rounds=120, tidy=40, chunk=1000))
    assert once == solve(task, Effort(rounds=120, tidy=40, chunk=7))


def test_a_search_that_is_broken_off_still_has_a_plan():
    looks = itertools.count()
    found = solve(drawn(4, 30), Effort(rounds=10_000, over=lambda: next(looks) > 3))
    assert found.interrupted
    assert not found.left


def test_tidying_costs_no_sheet_and_no_settings():
    task = drawn(5, 25)
    rough = solve(task, Effort(rounds=100, tidy=0))
    assert len(solve(task, Effort(rounds=100, tidy=300)).new) == len(rough.new)


@pytest.mark.parametrize("size", [7, 10, 24, 36])
def test_dual_feasible_functions_never_count_more_than_a_bar_holds(size):
    """For every way to fill a bar of ``size`` with whole lengths, the values sum to 1 at most."""
    sizes = list(range(1, size + 1))
    rows = values(size, sizes)
    fill = [[0.0] * (size + 1) for _ in rows]
    for row, best in zip(rows, fill, strict=True):
        for room in range(1, size + 1):
            best[room] = max(
                best[room - 1], *(best[room - s] + row[s - 1] for s in sizes if s <= room)
            )
        assert best[size] <= 1.0 + 1e-9


def test_bounds_see_what_the_area_does_not():
    """Six of 51 x 51 in 100 x 100: by area two sheets, in truth one each."""
    task = Task(items=(Item(w=51, h=51, turns=True),) * 6, new=Zone(w=100, h=100))
    assert lower_bound(task) == 6
    bars = Task(items=(Item(w=34, h=100),) * 5, new=Zone(w=100, h=100))
    assert lower_bound(bars, bars=True) == 3


def test_whole_sheets_bound_what_areas_and_bars_do_not():
    """None of 6 x 3 lies beside or over the one of 5 x 8, and only one of 4 x 6 does; two of those
    left and three of 6 x 3 are 102, more than 10 x 10."""
    sizes = [(3, 2), *[(4, 6)] * 3, *[(6, 3)] * 3, (5, 8)]
    task = Task(items=tuple(Item(w=w, h=h) for w, h in sizes), new=Zone(w=10, h=10))
    assert lower_bound(task, bars=True) == 2
    assert sheet_bound(task, 2) == 3
    assert len(solve(task, EFFORT, 3).new) == 3


@pytest.mark.parametrize("seed", [2, 3])
def test_no_plan_is_under_the_bound_of_whole_sheets(seed):
    task = drawn(seed, 9, turns=seed % 2 == 1)
    kerf = replace(task, kerf=1, new=Zone(w=12, h=10))
    assert sheet_bound(kerf, 0, rounds=10) <= len(solve(kerf, EFFORT).new)


def test_a_relaxed_sheet_keeps_to_its_steps_and_still_promises_enough():
    """Worth is area: 5 x 8 with three of 6 x 3 and 3 x 2 would be 100, but they do not lie so.

    3 x 2, two of 4 x 6 and two of 6 x 3 are 90.
    """
    wide, high = np.array([3, 4, 4, 4, 6, 6, 6, 5]), np.array([2, 6, 6, 6, 3, 3, 3, 8])
    lie, worth = Lie(size=(10, 10), w=wide, h=high, part=np.arange(8)), wide * high / 1.0
    hasty, patient = RelaxedSheet(lie, 8, steps=1), RelaxedSheet(lie, 8, steps=1000)
    assert hasty.best(worth, 0.0, lambda: False)[0] == pytest.approx(100.0)
    assert patient.best(worth, 0.0, lambda: False)[0] == pytest.approx(90.0)
    assert (hasty.spent(), patient.spent()) == (True, False)


def test_items_that_may_turn_count_both_ways_in_a_square():
    """8 x 8 is the area of three of 4 x 4 and one of 2 x 8, but beside the long one, which leaves
    6 x 8, only two squares lie."""
    items = (*(Item(w=4, h=4, turns=True),) * 3, Item(w=8, h=2, turns=True))
    task = Task(items=items, new=Zone(w=8, h=8))
    assert (lower_bound(task), lower_bound(task, bars=True)) == (1, 2)
    assert len(solve(task, EFFORT, 1).new) == 2
