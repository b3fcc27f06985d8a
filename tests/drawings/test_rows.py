import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawings.rows import spread, stacked

PLACES = st.lists(st.floats(0, 400), min_size=1, max_size=25)


def test_places_that_are_apart_stay():
    assert spread([0, 10, 30], 5) == [0, 10, 30]


def test_places_that_are_too_near_share_the_shift():
    """Both wanted at 10, 4 apart: 8 and 12."""
    assert spread([10, 10], 4) == [8, 12]


@given(PLACES)
def test_places_end_up_in_order_and_apart(wanted):
    places = spread(wanted, 5.6)
    assert sum(places) == pytest.approx(sum(wanted))
    order = sorted(range(len(wanted)), key=lambda place: wanted[place])
    for before, after in itertools.pairwise(order):
        assert places[after] - places[before] >= 5.6 - 1e-9


def test_a_note_clear_of_the_next_stays_in_the_lowest_row():
    assert stacked([0, 50, 100], [40, 40, 40], 4) == [0, 0, 0]


def test_a_note_rises_above_the_leaders_that_it_covers():
    """From the right: 100 lowest; 60 reaches over it; 20 over both."""
    assert stacked([20, 60, 100], [90, 50, 40], 4) == [2, 1, 0]


@given(PLACES, st.floats(1, 120))
def test_no_text_lies_on_a_text_or_a_leader(starts, width):
    rows = stacked(starts, [width] * len(starts), 4)
    for (a, row_a), (b, row_b) in itertools.combinations(zip(starts, rows, strict=True), 2):
        left, right = ((a, row_a), (b, row_b)) if a <= b else ((b, row_b), (a, row_a))
        if right[0] < left[0] + width:
            assert left[1] != right[1]
            if right[0] > left[0]:
                assert left[1] > right[1]
