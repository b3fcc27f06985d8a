"""Mortise and tenon: square, haunched, and behind a slanting shoulder."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.tolerances import close
from ground.vectors import Plane, Vec, X, Y, Z, along, neg
from models.parts.features import Channel, Trim, TrimKind
from models.parts.joints.mortise_tenon import (
    CHEEK_CLEARANCE,
    END_ROOM,
    Tenon,
    TenonPlace,
    mortise_and_tenon,
    tenon_corners,
)
from tests.helpers.joints import Board, assert_play, board, goes_together, joined

pytestmark = pytest.mark.kernel

TENON = Tenon(thickness=8, width=40, depth=25)
PLACE = TenonPlace(centre=(0, 0, 30), up=Z, into_leg=X, end="right")


def rail(tenon: Tenon, high: float = 60.0) -> Board:
    """A rail 20 thick from X = -150, whose end reaches as far as the tenon does."""
    return board((-150, -10, 0), (tenon.length, 10, high), length=X, up=neg(Y))


def leg(high: float = 60.0) -> Board:
    return board((0, -20, -60), (40, 20, high), length=Z, up=X)


def test_the_tenon_is_shorter_than_its_mortise_is_deep():
    assert TENON.length == 25 - END_ROOM
    assert all(close(corner[0], 24) for corner in tenon_corners(PLACE, TENON))


def test_a_plain_tenon_goes_together_with_its_play():
    made = joined(rail(TENON), leg(), mortise_and_tenon(PLACE, TENON, made_by="j"))
    goes_together(made)
    for way in (Y, neg(Y), Z, neg(Z)):
        assert_play(made.first, [made.second], way, CHEEK_CLEARANCE)


def test_a_plain_tenon_leaves_its_own_volume():
    """24 x (40 - 0.1) x (8 - 0.1) past the shoulder; the rail is 150 x 60 x 20 before it."""
    made = joined(rail(TENON), leg(), mortise_and_tenon(PLACE, TENON, made_by="j"))
    assert made.first.shape.Volume() == pytest.approx(150 * 60 * 20 + 24 * 39.9 * 7.9)
    assert made.second.shape.Volume() == pytest.approx(40 * 40 * 120 - 25 * 40 * 8)


def test_a_haunch_fills_its_groove_to_the_top():
    """The haunch is 20 high over a tenon 30 wide: 20 + 30 + 10 of shoulder below."""
    tenon = Tenon(thickness=8, width=30, depth=25, haunch=20, haunch_depth=9)
    place = replace(PLACE, centre=(0, 0, 25))
    halves = mortise_and_tenon(place, tenon, made_by="j")
    made = joined(rail(tenon), leg(), halves)
    goes_together(made)
    assert halves.kind == "haunched mortise and tenon"
    stub = 8 * (20 + CHEEK_CLEARANCE) * 7.9
    assert made.first.shape.Volume() == pytest.approx(150 * 60 * 20 + 24 * 29.9 * 7.9 + stub)
    groove = [f for f in halves.second if isinstance(f, Channel)][1]
    assert (groove.length, groove.depth) == (20, 9)


@settings(max_examples=8)
@given(st.integers(0, 24), st.integers(6, 10), st.integers(15, 35), st.integers(12, 25))
def test_a_tenon_behind_a_slanting_shoulder_goes_together(lean, thickness, width, depth):
    """Square to the joint's face, which leans by up to 24 degrees."""
    turn = math.radians(lean)
    into: Vec = (math.cos(turn), 0.0, math.sin(turn))
    up: Vec = (-math.sin(turn), 0.0, math.cos(turn))
    place = TenonPlace(centre=(0, 0, 28), up=up, into_leg=into, end="right")
    tenon = Tenon(thickness=thickness, width=width, depth=depth)
    halves = mortise_and_tenon(place, tenon, made_by="j")
    stock = board((-150, -10, 0), (60, 10, 60), length=X, up=neg(Y))
    wood = board((-40, -20, -60), (90, 20, 110), length=Z, up=X)
    face = Plane.through(place.centre, neg(into))
    cut = Trim(kind=TrimKind.TAPER, plane=face, made_by="leg", id="inner")
    sloped = Board(blank=wood.blank, frame=wood.frame, features=(cut.moved(wood.frame.inverse()),))
    made = joined(stock, sloped, halves)
    goes_together(made)
    assert_play(made.first, [made.second], up, CHEEK_CLEARANCE)
    assert all(
        close(Plane.through(along(place.centre, into, tenon.length), into).height(corner), 0.0)
        for corner in tenon_corners(place, tenon)
    )
