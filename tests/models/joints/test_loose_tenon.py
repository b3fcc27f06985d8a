"""Loose tenons: one clearance, both halves, the tenon inside its two mortises."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.tolerances import close
from ground.vectors import X, Y, Z, dot, neg, sub
from models.parts.blank import Section
from models.parts.features import Mortise
from models.parts.joints.loose_tenon import END_ROOM, TenonSize, TenonWay, loose_tenons

SIZE = TenonSize(thickness=8, width=40, depths=(20, 25))
WAY = TenonWay(into_first=neg(X), slot=Z)


def test_both_mortises_open_at_the_same_place_and_look_away_from_one_another():
    halves = loose_tenons([(10, 20, 30)], WAY, SIZE, made_by="j")
    (first,), (second,) = halves.first, halves.second
    assert isinstance(first, Mortise)
    assert isinstance(second, Mortise)
    assert first.seat.origin == second.seat.origin == (10, 20, 30)
    assert first.seat.into == neg(second.seat.into) == (-1, 0, 0)
    assert (first.depth, second.depth) == (20, 25)
    assert first.length == second.length == 40
    assert first.width == second.width == 8


def test_the_tenon_stops_a_glue_room_short_of_both_floors():
    """20 + 25 - 2 = 43 long; from x = 10 - 19 to x = 10 + 24."""
    (tenon,) = loose_tenons([(10, 20, 30)], WAY, SIZE, made_by="j").loose
    assert tenon.blank.section is Section.ROUND_EDGED
    assert tenon.blank.length == 43
    ends = sorted(tenon.frame.point((x, 0, 0))[0] for x in (0, tenon.blank.length))
    assert ends == pytest.approx([10 - 20 + END_ROOM, 10 + 25 - END_ROOM])
    assert tenon.frame.point(tenon.blank.centre)[1:] == pytest.approx((20, 30))


def test_the_second_part_moves_home_towards_the_first():
    assert loose_tenons([(0, 0, 0)], WAY, SIZE, made_by="j").closes == neg(X)


@given(st.floats(4, 14), st.floats(20, 80), st.floats(8, 40), st.floats(8, 40), st.floats(0.0, 0.2))
def test_the_clearance_is_the_same_on_every_face(thickness, width, one, other, clearance):
    size = TenonSize(thickness=thickness, width=width, depths=(one, other), clearance=clearance)
    halves = loose_tenons([(0, 0, 0)], TenonWay(into_first=Y, slot=X), size, made_by="j")
    tenon, mortise = halves.loose[0], halves.first[0]
    assert isinstance(mortise, Mortise)
    assert close(mortise.length - tenon.blank.width, 2 * clearance)
    assert close(mortise.width - tenon.blank.thickness, 2 * clearance)
    middle = sub(tenon.frame.point(tenon.blank.centre), mortise.seat.origin)
    assert close(dot(middle, mortise.seat.along), 0)
    assert close(dot(middle, mortise.seat.across), 0)
    assert close(dot(middle, mortise.seat.into), (one - other) / 2)
