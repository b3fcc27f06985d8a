import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawings.rows import kept_between, spread

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


def test_places_past_an_end_push_their_neighbours():
    """0 and 2 are raised to 10 and 15; 40 and 41 come down to 25 and 30."""
    assert kept_between([0, 2, 40, 41], 5, (10, 30)) == [10, 15, 25, 30]
