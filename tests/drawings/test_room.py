"""Free room on a sheet, against looking at every place one by one."""

import math

from hypothesis import given
from hypothesis import strategies as st

from drawings.room import Room

SPANS = st.tuples(st.integers(0, 35), st.integers(0, 25), st.integers(1, 12), st.integers(1, 9))


@given(st.lists(SPANS, max_size=8), st.integers(2, 12), st.integers(2, 9), st.data())
def test_the_nearest_free_place_is_found(taken, wide, tall, data):
    """No free place of whole cells is nearer than the one found; none is missed."""
    room = Room(40, 30)
    for left, low, long, high in taken:
        room.take(((left, low), (left + long, low + high)))
    to = (data.draw(st.integers(0, 40)), data.draw(st.integers(0, 30)))
    whole = ((0.0, 0.0), (40.0, 30.0))
    found = room.nearest((wide - 1, tall - 1), to, whole)
    free = [
        (u, v)
        for u in range(41 - wide)
        for v in range(31 - tall)
        if room.is_free(((u, v), (u + wide, v + tall)))
    ]
    assert (found is None) == (not free)
    if found is not None:
        assert room.is_free((found, (found[0] + wide - 1, found[1] + tall - 1)))
        least = min(math.dist((u + wide / 2, v + tall / 2), to) for u, v in free)
        off = math.dist((found[0] - 0.5 + wide / 2, found[1] - 0.5 + tall / 2), to)
        assert off <= least + 1e-9


@given(st.tuples(st.floats(0, 39), st.floats(0, 29)), st.tuples(st.floats(0, 39), st.floats(0, 29)))
def test_a_line_takes_every_cell_that_it_passes_through(start, end):
    room = Room(40, 30)
    room.take_line(start, end)
    for step in range(101):
        share = step / 100
        u, v = (a + (b - a) * share for a, b in zip(start, end, strict=True))
        cell = (math.floor(u), math.floor(v))
        middle = ((cell[0] + 0.2, cell[1] + 0.2), (cell[0] + 0.8, cell[1] + 0.8))
        near = [abs(x - round(x)) < 1e-6 for x in (u, v)]
        assert any(near) or not room.is_free(middle)
