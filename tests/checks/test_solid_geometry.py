"""Boxes by their planes, found as clipping finds them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.solid_geometry import between, block, box, corners, inside, lump
from ground.vectors import Frame, Plane, X, Y, Z, add, neg, unit

PLACES = st.tuples(*(st.floats(-30, 30) for _ in range(3)))
SIZES = st.tuples(*(st.floats(1, 40) for _ in range(3)))
QUARTERS = (Frame(), Frame(Y, neg(X)), Frame(neg(X), neg(Y)), Frame(Z, Y), Frame(X, Z))


def sides(size):
    return (
        *(Plane(way, size[axis]) for axis, way in enumerate((X, Y, Z))),
        *(Plane(neg(way), 0.0) for way in (X, Y, Z)),
    )


@given(SIZES, SIZES, PLACES, st.sampled_from(QUARTERS))
def test_two_boxes_share_what_clipping_leaves(mine, theirs, at, turn):
    carry = Frame(turn.x, turn.y, at)
    carried = tuple(carry.plane(plane) for plane in sides(theirs))
    found = between((*sides(mine), *carried))
    assert found is not None
    clipped = lump(inside(box(mine), carried))
    shared = lump(block(*found))
    assert shared.volume == pytest.approx(clipped.volume, abs=1e-3)
    if clipped.volume > 1:
        assert shared.centre == pytest.approx(clipped.centre, abs=1e-3)


def test_a_plane_that_slants_is_not_of_a_box():
    slanted = Plane(unit((1.0, 1e-6, 0.0)), 50.0)
    assert between((*sides((10.0, 10.0, 10.0)), slanted)) is None
    hair = Plane(unit((1.0, 1e-9, 0.0)), 5.0)
    assert between((*sides((10.0, 10.0, 10.0)), hair)) == ((0.0, 0.0, 0.0), (5.0, 10.0, 10.0))


def test_no_block_has_no_thickness():
    assert block((0.0, 0.0, 0.0), (10.0, 10.0, 0.0)) == ()
    assert block((0.0, 0.0, 0.0), (10.0, 10.0, -5.0)) == ()


def test_a_block_stands_where_it_is_asked_for():
    low, size = (3.0, -2.0, 7.0), (5.0, 6.0, 7.0)
    made = block(low, add(low, size))
    assert corners(made) == {add(low, corner) for corner in corners(box(size))}
    assert lump(made).volume == pytest.approx(math.prod(size))
