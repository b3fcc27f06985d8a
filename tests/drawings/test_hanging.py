"""Notes in rows on leaders: neither texts nor leaders meet."""

import itertools

from hypothesis import given
from hypothesis import strategies as st

from drawings.hanging import HANG, hang

PLACES = st.lists(
    st.tuples(st.floats(0, 300), st.floats(5, 120), st.integers(1, 4)), min_size=1, max_size=20
).map(sorted)


def rows(wanted: list[float], widths: list[float], overhang: float = 200.0) -> list[int]:
    return [one.row for one in hang(wanted, widths, (300.0, overhang, -1))]


def test_a_note_clear_of_the_next_stays_in_the_lowest_row():
    assert rows([0, 50, 100], [40, 40, 40]) == [0, 0, 0]


def test_a_note_rises_above_the_leaders_that_it_covers():
    """From the right: 100 lowest; 60 reaches over it; 20 over both."""
    assert rows([20, 60, 100], [90, 50, 40]) == [2, 1, 0]


def test_a_note_without_room_on_the_right_runs_to_the_left_of_its_leader():
    (low, high) = hang([100, 290], [40, 60], (300.0, 0.0, -1))
    assert (low.start, low.drop) == (100, 100)
    assert (high.start, high.drop) == (230, 290)


@given(PLACES, st.sampled_from([0.0, 45.0, 90.0]), st.sampled_from([-1, 1]))
def test_no_text_lies_on_a_text_or_a_leader(places, overhang, side):
    wanted, widths, lines = (list(column) for column in zip(*places, strict=True))
    hung = hang(wanted, widths, (300.0, overhang, side), lines)
    for one, other in itertools.permutations(hung, 2):
        over = one.start < other.end and other.start < one.end
        assert not over or one.row >= other.row + other.lines or other.row >= one.row + one.lines
        if one.start < other.drop < one.end:
            assert one.row >= other.row + other.lines
    for one, other in itertools.pairwise(hung):
        assert other.drop - one.drop >= HANG - 1e-9


def test_a_note_of_two_lines_keeps_two_rows():
    assert [one.row for one in hang([0, 20], [40, 40], (300.0, 90.0, -1), [1, 2])] == [2, 0]
