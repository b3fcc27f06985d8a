import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawings.loops import Loop, area, box, circle, hull, obround, polygon, within

SQUARE = polygon([(0, 0), (100, 0), (100, 100), (0, 100)])


def test_a_shape_inside_is_left_as_it_is():
    inside = circle((50, 50), 20)
    assert within(inside, SQUARE) is inside


def test_a_shape_that_touches_the_edge_is_left_as_it_is():
    touching = circle((20, 50), 20)
    assert within(touching, SQUARE) is touching


def test_a_shape_outside_is_nothing():
    assert within(circle((150, 50), 20), SQUARE) is None


@given(st.floats(-19, 19))
def test_a_circle_over_an_edge_keeps_its_segment(off):
    """Segment of a circle of radius r at distance d: r2 acos(-d/r) + d sqrt(r2 - d2)."""
    kept = within(circle((off, 50), 20), SQUARE)
    assert isinstance(kept, Loop)
    segment = 400 * math.acos(-off / 20) + off * math.sqrt(400 - off**2)
    assert area(kept) == pytest.approx(segment, abs=1e-6)


def test_a_circle_over_a_corner_keeps_a_quarter():
    kept = within(circle((0, 0), 20), SQUARE)
    assert kept is not None
    assert area(kept) == pytest.approx(math.pi * 100, abs=1e-6)
    low, high = box(kept)
    assert (*low, *high) == pytest.approx((0, 0, 20, 20))


def test_a_slot_has_true_round_ends():
    """40 over all and 8 wide: a rectangle of 32 x 8 and a circle of 8."""
    slot = obround((10, 10), (42, 10), 4)
    assert area(slot) == pytest.approx(32 * 8 + math.pi * 16)
    low, high = box(slot)
    assert (*low, *high) == pytest.approx((6, 6, 46, 14))
    assert sorted(bulge for _, _, bulge in slot.corners) == [0, 0, 1, 1]


def test_a_slot_cut_by_an_edge_keeps_one_round_end():
    kept = within(obround((-10, 50), (30, 50), 5), SQUARE)
    assert isinstance(kept, Loop)
    assert area(kept) == pytest.approx(30 * 10 + math.pi * 12.5)


def test_a_hull_leaves_out_corners_in_a_straight_run():
    """Rounding of a nanometre makes no corner."""
    ring = hull([(0, 0), (50, 1e-10), (100, 0), (100, 100), (50, 50), (0, 100)])
    assert set(ring.points) == {(0, 0), (100, 0), (100, 100), (0, 100)}


@given(st.floats(-30, 130), st.floats(-30, 130), st.floats(1, 60))
def test_what_is_kept_lies_in_both(u, v, radius):
    kept = within(circle((u, v), radius), SQUARE)
    if kept is None:
        return
    (left, bottom), (right, top) = box(kept)
    assert left >= -1e-5
    assert bottom >= -1e-5
    assert right <= 100 + 1e-5
    assert top <= 100 + 1e-5
    assert area(kept) <= math.pi * radius**2 + 1e-6
