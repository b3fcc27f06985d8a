import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.cutting.bars import fewest_bars
from planning.cutting.knapsack import best_fill, scaled
from planning.cutting.patterns import fractional
from planning.cutting.usable_patterns import usable


def holds(size, lengths, found) -> None:
    """Every bar holds its pieces, and all that is wanted is cut."""
    for pattern in found.patterns:
        assert sum(n * length for n, (length, _) in zip(pattern, lengths, strict=True)) <= size
    for kind, (_, many) in enumerate(lengths):
        assert sum(pattern[kind] for pattern in found.patterns) >= many
    assert len(found.patterns) >= found.least


@given(
    st.integers(20, 200).flatmap(
        lambda size: st.tuples(
            st.just(size),
            st.lists(st.tuples(st.integers(1, size), st.integers(0, 6)), min_size=1, max_size=7),
        )
    )
)
@settings(max_examples=30)
def test_every_plan_of_bars_holds_and_keeps_to_its_bound(job):
    size, lengths = job
    holds(size, lengths, fewest_bars(size, lengths, dives=3))


def test_three_lengths_share_bars_as_well_as_can_be():
    """44 + 33 + 23 is 100: twelve of each in twelve bars, though longest first takes more."""
    found = fewest_bars(100, [(44, 12), (33, 12), (23, 12)])
    assert len(found.patterns) == 12
    assert found.proved


def test_triplets_that_fill_their_bars_are_found():
    """Falkenauer's triplets (Journal of Heuristics 2, 1996): three lengths fill 1000 exactly."""
    chance = random.Random(4)  # noqa: S311 - sizes, no secrets
    pieces: list[int] = []
    for _ in range(20):
        first = chance.randint(380, 490)
        second = chance.randint(251, (1000 - first) // 2)
        pieces += [first, second, 1000 - first - second]
    lengths = [(length, pieces.count(length)) for length in sorted(set(pieces))]
    found = fewest_bars(1000, lengths)
    holds(1000, lengths, found)
    assert (len(found.patterns), found.least) == (20, 20)


def test_the_bound_sees_more_than_the_sum_of_lengths():
    """Six of 51 in 100: by length four bars, in truth one each; the program says so."""
    found = fewest_bars(100, [(51, 6)])
    assert (len(found.patterns), found.least) == (6, 6)


def fewest_by_trying(size, pieces) -> int:
    """The fewest bars by every way of laying one piece after another, the longest first."""

    def fit(left: tuple[int, ...], rooms: tuple[int, ...], spare: int) -> bool:
        if not left:
            return True
        places = {room: i for i, room in enumerate(rooms) if room >= left[0]}
        for room, i in places.items():
            if fit(left[1:], (*rooms[:i], room - left[0], *rooms[i + 1 :]), spare):
                return True
        return spare > 0 and fit(left[1:], (*rooms, size - left[0]), spare - 1)

    longest = tuple(sorted(pieces, reverse=True))
    return next(bars for bars in range(1, len(pieces) + 1) if fit(longest, (), bars))


def test_a_bound_that_no_plan_meets_is_raised():
    """Three broken bars of 155 hold these eleven pieces, and no three whole ones.

    The instance is after Kartak, Ripatti, Scheithauer and Kurz (Minimal proper non-IRUP instances
    of the one-dimensional cutting stock problem, Discrete Applied Mathematics 187, 2015, from
    memory); trying every way shows it.
    """
    pieces = [9, 12, 12, 16, 16, 46, 46, 54, 69, 77, 102]
    assert fractional(155, pieces, np.ones(11)) <= 3.0 + 1e-6
    found = fewest_bars(155, [(length, pieces.count(length)) for length in sorted(set(pieces))])
    assert (len(found.patterns), found.least) == (4, 4)
    assert fewest_by_trying(155, pieces) == 4


@given(
    st.integers(12, 40).flatmap(
        lambda size: st.tuples(
            st.just(size),
            st.lists(
                st.tuples(st.integers(3, size // 2), st.integers(1, 3)), min_size=1, max_size=4
            ),
        )
    )
)
@settings(max_examples=40)
def test_a_proved_plan_is_the_best_of_all_plans(job):
    size, lengths = job
    best = fewest_by_trying(size, [length for length, many in lengths for _ in range(many)])
    found = fewest_bars(size, lengths, dives=8)
    assert found.least <= best <= len(found.patterns)
    assert found.proved


@given(
    st.integers(10, 30),
    st.lists(st.tuples(st.integers(2, 15), st.integers(1, 3)), min_size=1, max_size=4),
    st.integers(0, 3),
)
@settings(max_examples=60)
def test_all_usable_patterns_are_listed(size, kinds, spare):
    """Against every pattern there is: full, worth enough and wasting no more than all bars may."""
    kinds = [(min(length, size), many) for length, many in dict(kinds).items()]
    length = np.array([k[0] for k in kinds], dtype=np.int64)
    demand = np.array([k[1] for k in kinds], dtype=np.int64)
    price = length / size
    bars = -(-int(length @ demand) // size) + spare
    listed = usable(size, length, demand, price, bars)
    waste, need = bars * size - int(length @ demand), 1.0 - (bars - float(price @ demand)) - 1e-7
    every = []
    for choice in np.ndindex(*(int(n) + 1 for n in np.minimum(demand, size // length))):
        room = size - int(np.array(choice) @ length)
        more = (np.array(choice) < np.minimum(demand, size // length)) & (length <= room)
        if 0 <= room <= waste and not more.any() and float(np.array(choice) @ price) >= need:
            every.append(choice)
    assert listed is not None
    assert sorted(tuple(int(n) for n in it) for it in listed) == sorted(every)


def test_nothing_wanted_takes_no_bar_and_too_long_is_refused():
    assert fewest_bars(100, [(40, 0)]).patterns == ()
    with pytest.raises(ValueError, match="longer than the bar of 100"):
        fewest_bars(100, [(101, 1)])


def test_the_same_lengths_give_the_same_bars():
    lengths = [(37, 5), (29, 7), (61, 4), (23, 6)]
    assert fewest_bars(120, lengths) == fewest_bars(120, lengths)


@given(
    st.integers(5, 40),
    st.lists(st.tuples(st.integers(1, 20), st.integers(0, 9), st.integers(0, 3)), max_size=4),
)
@settings(max_examples=50)
def test_the_best_fill_is_the_best_of_all_fills(size, kinds):
    length = np.array([k[0] for k in kinds], dtype=np.int64)
    worth = np.array([k[1] for k in kinds], dtype=np.float64)
    most = np.array([k[2] for k in kinds], dtype=np.int64)
    value, taken = best_fill(size, length, worth, most)
    best = max(
        (
            sum(n * k[1] for n, k in zip(choice, kinds, strict=True))
            for choice in np.ndindex(*(int(m) + 1 for m in most))
            if sum(n * k[0] for n, k in zip(choice, kinds, strict=True)) <= size
        ),
        default=0,
    )
    assert value == pytest.approx(best)
    assert int(taken @ length) <= size
    assert float(taken @ worth) == pytest.approx(best)


def test_coarser_units_only_make_lengths_shorter():
    size, small = scaled(1_000_000, [333_333, 500_001], 1000)
    assert (size, small) == (1000, [333, 500])
    assert scaled(90, [7], 1000) == (90, [7])


def test_broken_bars_count_worth():
    """Four items 50 long, each half a bar's worth, two beside each other: one bar in all."""
    assert fractional(100, [50] * 4, np.full(4, 0.5)) == pytest.approx(1.0)


def test_the_solver_keeps_off_standard_output(capfd):
    fewest_bars(100, [(51, 3), (34, 5), (26, 7)])
    assert capfd.readouterr().out == ""
