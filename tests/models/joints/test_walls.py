"""The wood between cuts, in three dimensions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.vectors import Plane, Vec, X, Y, Z, add, cross, neg, norm, scale, sub, unit
from models.parts.features import Mortise, Seat
from models.parts.joints.walls import reach, wall_between, wall_to


def slot(origin: Vec, along: Vec, into: Vec, size: tuple[float, float, float]) -> Mortise:
    length, width, depth = size
    return Mortise(
        seat=Seat(origin, along, into), length=length, width=width, depth=depth, made_by="j"
    )


def test_two_slots_at_right_angles_leave_the_slant_between_their_corners():
    """One ends 7.8 past the other's side, and the other way round: 7.8 x sqrt 2."""
    one = slot((52.8, 21, 0), Z, neg(X), (40, 8, 20))
    other = slot((21, 52.8, 0), Z, neg(Y), (40, 8, 20))
    assert wall_between(one, other) == pytest.approx(7.8 * math.sqrt(2), abs=1e-6)


def test_floors_that_face_one_another_leave_the_stock_less_both_depths():
    one = slot((0, 0, 0), Y, X, (40, 8, 10))
    other = slot((30, 0, 0), Y, neg(X), (40, 8, 12))
    assert wall_between(one, other) == pytest.approx(8)


def test_slots_that_meet_leave_nothing():
    one = slot((0, 0, 0), Y, X, (40, 8, 20))
    other = slot((30, 0, 0), Y, neg(X), (40, 8, 12))
    assert wall_between(one, other) == pytest.approx(0, abs=1e-6)


def test_a_wall_beside_a_slot_is_what_its_side_leaves():
    one = slot((0, 0, 13), X, Y, (40, 8, 20))
    assert wall_to(one, Plane(Z, 26.0)) == pytest.approx(26 - 13 - 4)
    assert wall_to(one, Plane(Y, 23.0)) == pytest.approx(3)


def test_a_slanting_slot_climbs_with_its_depth():
    """20 deep at 17 degrees climbs 5.85; its upper end is 16 + 4 cos over the middle."""
    lean = math.radians(17)
    into = (math.cos(lean), 0.0, math.sin(lean))
    along = (-math.sin(lean), 0.0, math.cos(lean))
    one = slot((0, 0, 0), along, into, (40, 8, 20))
    top = 16 * math.cos(lean) + 4 * math.cos(lean) + 20 * math.sin(lean)
    assert reach(one, Z) == pytest.approx(top)


ways = st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(-1, 1)).filter(
    lambda v: norm(v) > 0.1
)
slots = st.tuples(
    st.tuples(st.floats(-60, 60), st.floats(-60, 60), st.floats(-60, 60)),
    ways,
    ways,
    st.tuples(st.floats(20, 60), st.floats(4, 15), st.floats(5, 40)),
)


def made(drawn) -> Mortise | None:
    origin, into, hint, size = drawn
    aside = cross(unit(into), unit(hint))
    return None if norm(aside) < 0.1 else slot(origin, unit(aside), unit(into), size)


def points(mortise: Mortise) -> list[Vec]:
    """Points all over its edge and down its depth."""
    seat, half = mortise.seat, (mortise.length - mortise.width) / 2
    found = []
    for turn in range(12):
        a = math.tau * turn / 12
        end = half if math.cos(a) >= 0 else -half
        u = end + mortise.width / 2 * math.cos(a)
        v = mortise.width / 2 * math.sin(a)
        for w in (0.0, mortise.depth / 2, mortise.depth):
            place = add(seat.origin, add(scale(seat.along, u), scale(seat.across, v)))
            found.append(add(place, scale(seat.into, w)))
    return found


@given(slots, slots)
def test_no_two_points_of_two_slots_are_nearer_than_their_wall(first, second):
    one, other = made(first), made(second)
    if one is None or other is None:
        return
    nearest = min(norm(sub(p, q)) for p in points(one) for q in points(other))
    wall = wall_between(one, other)
    assert wall <= nearest + 1e-6
    assert wall_between(other, one) == pytest.approx(wall, abs=0.01)


@given(slots, ways)
def test_no_point_of_a_slot_reaches_further_than_its_reach(drawn, way):
    one = made(drawn)
    if one is None:
        return
    furthest = max(sum(a * b for a, b in zip(p, unit(way), strict=True)) for p in points(one))
    assert furthest <= reach(one, unit(way)) + 1e-9
    assert reach(one, unit(way)) <= furthest + one.width / 2
