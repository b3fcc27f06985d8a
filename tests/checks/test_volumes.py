"""Volumes without the kernel, by hand; tests/casewright/test_exact.py has the kernel's."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.placed import read
from checks.solid_geometry import box, chord, clipped, inside, lump, removed
from ground.vectors import Plane
from tests.helpers.examples import EXAMPLES, piece, spec


def test_a_box_cut_by_a_slant():
    """100 x 60 x 20 less the prism beyond x + z = 110: 10 x 10 / 2 x 60."""
    body = clipped(box((100.0, 60.0, 20.0)), Plane.through((110.0, 0.0, 0.0), (1.0, 0.0, 1.0)))
    assert lump(body).volume == pytest.approx(100 * 60 * 20 - 10 * 10 / 2 * 60)


def bite(lo: tuple[float, float, float], hi: tuple[float, float, float]) -> tuple[Plane, ...]:
    ways = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    far = [Plane.through(hi, way) for way in ways]
    near = [Plane.through(lo, (-way[0], -way[1], -way[2])) for way in ways]
    return (*far, *near)


def test_wood_that_three_cuts_meet_in_is_taken_once():
    """Three bars 10 x 10 through the middle of a cube of 50: 3 x 5000 - 3 x 1000 + 1000."""
    cuts = [
        bite((-1.0, 20.0, 20.0), (51.0, 30.0, 30.0)),
        bite((20.0, -1.0, 20.0), (30.0, 51.0, 30.0)),
        bite((20.0, 20.0, -1.0), (30.0, 30.0, 51.0)),
    ]
    taken = removed(box((50.0, 50.0, 50.0)), cuts)
    assert taken.volume == pytest.approx(15_000 - 3_000 + 1_000)
    assert taken.centre == pytest.approx((25, 25, 25))


numbers = st.floats(-0.99, 0.99).filter(lambda x: abs(x) > 0.05)


@given(st.tuples(numbers, numbers, numbers), st.tuples(*[st.floats(5, 95)] * 3))
def test_both_sides_of_a_plane_make_the_whole(normal, point):
    plane = Plane.through(point, normal)
    whole = box((100.0, 100.0, 100.0))
    one, two = lump(clipped(whole, plane)), lump(clipped(whole, plane.flipped()))
    assert one.volume + two.volume == pytest.approx(1e6, rel=1e-6)
    both = one.plus(two)
    assert both.centre == pytest.approx((50, 50, 50), abs=1e-3)


@given(st.tuples(numbers, numbers, numbers), st.tuples(*[st.floats(5, 95)] * 3))
def test_clipping_twice_by_a_plane_is_clipping_once(normal, point):
    plane = Plane.through(point, normal)
    once = clipped(box((100.0, 100.0, 100.0)), plane)
    assert lump(inside(once, (plane,))).volume == pytest.approx(lump(once).volume, rel=1e-9)


def test_how_far_a_hole_stays_in_the_wood():
    planes = [Plane((0.0, 0.0, 1.0), 18.0), Plane((0.0, 0.0, -1.0), 0.0)]
    assert chord((5.0, 5.0, 18.0), (0.0, 0.0, -1.0), planes) == pytest.approx(18)
    slant = (0.0, 0.6, -0.8)
    assert chord((5.0, 5.0, 18.0), slant, planes) == pytest.approx(18 / 0.8)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_piece_is_as_large_and_about_as_heavy_as_it_should_be(name):
    found = read(piece(name), spec(name))
    asked = spec(name)
    outside = found.hi[2] - found.lo[2]
    assert outside == pytest.approx(asked.case.size.height + asked.base.height, abs=0.01)
    assert 8 < found.kg < 120
    for weight in found.masses.values():
        assert all(found.lo[i] <= weight.at[i] <= found.hi[i] for i in range(3))
