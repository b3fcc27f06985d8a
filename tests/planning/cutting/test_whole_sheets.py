"""Whole sheets: what one holds, how it is sawn, plans and bounds from them."""

import random
from collections.abc import Sequence
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.cutting.bounds import lower_bound
from planning.cutting.cells import items_in
from planning.cutting.compiled import PLAIN_SHEETS, can_compile, fast_sheets
from planning.cutting.engine import solve
from planning.cutting.rough_sheets import Filler, Lie
from planning.cutting.sheet_bound import sheet_bound
from planning.cutting.sheet_lists import SheetLists
from planning.cutting.task import Cell, Effort, Item, Task, Zone
from planning.cutting.whole_sheets import WholeSheets

ROUNDS = 30
PLENTY = 100_000
FREE = Effort(starts=20, rounds=200, tidy=0, proof=ROUNDS)


def lists(items: Sequence[Item], size: tuple[int, int], kerf: int = 0) -> SheetLists:
    return SheetLists(items, size, kerf, PLAIN_SHEETS)


def sound(cell: Cell, items: Sequence[Item], kerf: int) -> bool:
    """Pieces and the cuts between them fill what they are cut from; parts have their own sizes."""
    if cell.item is not None:
        item = items[cell.item]
        sizes = {(item.w, item.h), *([(item.h, item.w)] if item.turns else [])}
        return (cell.w, cell.h) in sizes
    if cell.axis is None:
        return True
    assert len(cell.children) > 1
    assert all(child.axis != cell.axis for child in cell.children)
    along = [(child.w, child.h)[cell.axis] for child in cell.children]
    across = {(child.w, child.h)[1 - cell.axis] for child in cell.children}
    room = (cell.w, cell.h)
    full = sum(along) + kerf * (len(along) - 1)
    # a rest that is less than a kerf is sawn away
    fits = room[cell.axis] <= full <= room[cell.axis] + kerf
    return (
        fits
        and across == {room[1 - cell.axis]}
        and all(sound(c, items, kerf) for c in cell.children)
    )


def dissected(chance: random.Random, w: int, h: int, many: int) -> list[Item]:
    """A sheet cut at random from edge to edge into so many parts."""
    pieces = [(w, h)]
    while len(pieces) < many:
        place = max(range(len(pieces)), key=lambda k: pieces[k][0] * pieces[k][1])
        a, b = pieces.pop(place)
        if a > b:
            cut = chance.randint(max(1, a // 4), max(1, 3 * a // 4))
            pieces += [(cut, b), (a - cut, b)]
        else:
            cut = chance.randint(max(1, b // 4), max(1, 3 * b // 4))
            pieces += [(a, cut), (a, b - cut)]
    return [Item(w=a, h=b) for a, b in pieces]


def jumble(seed: int, sheets: int, many: int) -> Task:
    """Parts that fill so many sheets to the last millimetre, in any order."""
    chance = random.Random(seed)  # noqa: S311 - sizes, no secrets
    items = [item for _ in range(sheets) for item in dissected(chance, 60, 40, many)]
    chance.shuffle(items)
    return Task(items=tuple(items), new=Zone(w=60, h=40))


def test_the_pinwheel_fits_but_no_saw_cuts_it():
    """Four of 2 x 1 round one of 1 x 1 fill 3 x 3; any four of them a saw parts."""
    pinwheel = [Item(w=2, h=1), Item(w=1, h=2), Item(w=2, h=1), Item(w=1, h=2), Item(w=1, h=1)]
    assert lists(pinwheel, (3, 3)).cell([0, 1, 2, 3, 4]) is None
    assert lists(pinwheel, (3, 3)).cell([0, 1, 2, 3]) is None
    assert lists(pinwheel, (3, 3)).cell([0, 1, 2, 4]) is not None
    assert lists(pinwheel, (3, 4)).cell([0, 1, 2, 3, 4]) is not None


def test_the_kerf_counts_between_parts_and_not_at_the_edge():
    halves = [Item(w=50, h=100), Item(w=50, h=100)]
    assert lists(halves, (103, 103), kerf=3).cell([0, 1]) is None
    cell = lists(halves, (106, 103), kerf=3).cell([0, 1])
    assert cell is not None
    assert sound(cell, halves, 3)
    assert (cell.w, cell.h) == (103, 100)


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**6), many=st.integers(2, 7), turns=st.booleans())
def test_a_sheet_cut_at_random_is_found_again(seed, many, turns):
    chance = random.Random(seed)  # noqa: S311 - sizes, no secrets
    items = [
        Item(w=item.h, h=item.w, turns=True) if turns and chance.random() < 0.5 else item
        for item in dissected(chance, 60, 40, many)
    ]
    cell = lists(items, (60, 40)).cell(range(many))
    assert cell is not None
    assert sound(cell, items, 0)
    assert sorted(items_in(cell)) == list(range(many))
    assert lists(items, (60, 39)).cell(range(many)) is None  # they fill it


@settings(max_examples=40, deadline=None)
@given(
    sizes=st.lists(st.tuples(st.integers(1, 10), st.integers(1, 10)), min_size=2, max_size=6),
    worth=st.lists(st.floats(0.05, 1.0), min_size=6, max_size=6),
)
def test_no_set_that_a_sheet_holds_is_worth_more_than_the_best_listed(sizes, worth):
    items = [Item(w=w, h=h) for w, h in sizes]
    value = np.array(worth[: len(items)])
    sheet = lists(items, (10, 10))
    best, found, left = sheet.worthy(value, PLENTY)
    assert left > 0
    sets = [[k for k in range(len(items)) if bits >> k & 1] for bits in range(1, 1 << len(items))]
    held = [one for one in sets if sheet.cell(one) is not None]
    assert best == pytest.approx(max([1.0, *(float(value[one].sum()) for one in held)]))
    for one in found:
        assert sheet.cell(one) is not None
        assert value[one].sum() > 1.0


def test_steps_end_a_list_and_then_nothing_is_promised():
    items = [Item(w=3, h=2) for _ in range(12)]
    worth = np.full(12, 0.2)
    assert lists(items, (10, 10)).worthy(worth, 5)[2] == 0


def test_a_strip_is_filled_as_full_as_can_be():
    """Worth is area: 6 x 10 and 4 x 10 fill 10 x 10, which 7 x 10 with 2 x 10 does not."""
    wide = np.array([7, 6, 4, 2])
    lie = Lie(size=(10, 10), w=wide, h=np.full(4, 10), part=np.arange(4))
    worth = wide / 10.0
    sheets = [sorted(held) for held in Filler(lie, PLAIN_SHEETS).sheets(worth, random.Random(1))]  # noqa: S311
    assert [1, 2] in sheets
    for held in sheets:
        assert len(held) == len(set(held))


@pytest.mark.parametrize("seed", range(4))
def test_what_fills_three_sheets_is_planned_on_three(seed):
    task = jumble(seed, 3, 4)
    sheets = WholeSheets(task, 60, kernel=PLAIN_SHEETS)
    sheets.put_together()
    assert sheets.listed(0) == 3
    cells = sheets.dived(3, lambda _task, _most: None) or sheets.decided(3)
    assert cells is not None
    assert len(cells) == 3
    assert sorted(item for cell in cells for item in items_in(cell)) == list(range(12))
    assert all(sound(cell, task.items, 0) for cell in cells)
    assert sheets.decided(2) is None


def test_what_a_dive_leaves_over_is_asked_for_and_put_in_its_place():
    """Five of 6 x 6 in 10 x 10 take a sheet each: the rest is handed to whoever asks."""
    task = Task(items=(Item(w=6, h=6),) * 5, new=Zone(w=10, h=10))
    sheets = WholeSheets(task, ROUNDS, kernel=PLAIN_SHEETS)
    sheets.put_together()
    asked: list[tuple[int, int]] = []

    def rest(left: Task, most: int) -> list[Cell] | None:
        asked.append((len(left.items), most))
        return None

    assert sheets.dived(4, rest) is None  # the program says five
    cells = sheets.dived(5, rest)
    assert cells is not None
    assert sorted(item for cell in cells for item in items_in(cell)) == [0, 1, 2, 3, 4]
    assert all(left == most for left, most in asked)


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("turns", [False, True])
def test_a_plan_out_of_whole_sheets_is_a_plan_and_the_bound_is_under_it(seed, turns):
    chance = random.Random(seed)  # noqa: S311 - sizes, no secrets
    items = tuple(
        Item(w=chance.randint(3, 10), h=chance.randint(3, 10), turns=turns) for _ in range(12)
    )
    task = Task(items=items, new=Zone(w=10, h=10))
    found = solve(task, FREE, 0)
    assert sorted(item for cell in found.new for item in items_in(cell)) == list(range(12))
    assert all(sound(cell, items, 0) for cell in found.new)
    assert lower_bound(task) <= len(found.new)
    assert found.least <= len(found.new)
    assert sheet_bound(task, 0, rounds=10) <= len(found.new)
    assert solve(task, FREE, 0) == found


def test_what_is_too_large_for_every_sheet_is_handed_back_and_not_lost():
    items = (*(Item(w=6, h=6),) * 3, Item(w=30, h=2), *(Item(w=5, h=4),) * 6)
    found = solve(Task(items=items, new=Zone(w=10, h=10)), FREE, 0)
    assert found.left == (3,)
    assert sorted(item for cell in found.new for item in items_in(cell)) == [0, 1, 2, *range(4, 10)]


def test_two_that_turn_lie_together_where_a_side_of_each_is_short_enough():
    """In 9 x 9, with no side over 9: where a side of one and a side of the other are 9 at most."""
    sizes = [(6, 5), (5, 6), (6, 6), (7, 4), (4, 7)]
    items = tuple(Item(w=w, h=h, turns=True) for w, h in sizes)

    def beside(one: tuple[int, int], other: tuple[int, int]) -> bool:
        return any(a[0] + b[0] <= 9 for a in permutations(one) for b in permutations(other))

    together = {(i, j) for i in range(5) for j in range(i) if beside(sizes[i], sizes[j])}
    sheet = lists(items, (9, 9))
    assert {(i, j) for i in range(5) for j in range(i) if sheet.cell([j, i])} == together


@pytest.mark.slow
@pytest.mark.skipif(not can_compile(), reason="numba is not installed")
@pytest.mark.parametrize("seed", [1, 2])
def test_compiled_and_plain_find_the_same_sheets(seed):
    task = jumble(seed, 3, 4)
    plans = []
    for kernel in (PLAIN_SHEETS, fast_sheets()):
        sheets = WholeSheets(task, ROUNDS, kernel=kernel)
        sheets.put_together()
        least = sheets.listed(0)
        plans.append((least, sheets.dived(3, lambda _task, _most: None), sheets.promise()))
    assert plans[0] == plans[1]
