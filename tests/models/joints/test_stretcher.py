"""A stretcher let in from above: plumb floors, one clearance, it drops in."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import Plane, X, Y, Z, neg
from models.parts.features import Channel, Trim, TrimKind
from models.parts.joints.stretcher import END_CLEARANCE, SIDE_CLEARANCE, Dado, let_in
from tests.helpers.joints import (
    Board,
    Joined,
    assert_comes_apart,
    assert_no_clash,
    assert_nothing_uncut,
    assert_play,
    board,
    joined,
)

pytestmark = pytest.mark.kernel


def leaning_apron(lean: float) -> Board:
    """An apron 70 high and some 26 thick in front of Y = 0 at the top, its face drawing away."""
    stock = board((-80, -60, 0), (80, 0, 70), length=X, up=neg(Y))
    turn = math.radians(lean)
    inner = Plane.through((0, 0, 70), (0.0, math.cos(turn), -math.sin(turn)))
    cut = Trim(kind=TrimKind.BEVEL, plane=inner, made_by="apron", id="inner")
    features = (cut.moved(stock.frame.inverse()),) if lean else ()
    return Board(blank=stock.blank, frame=stock.frame, features=features)


@settings(max_examples=6)
@given(st.integers(0, 6), st.integers(30, 60), st.integers(18, 30))
def test_it_drops_in_whatever_the_apron_leans(lean, height, thickness):
    dado = Dado(
        mouth=(0, 0, 70), out=neg(Y), thickness=thickness, length=height, depth=12, stopped=True
    )
    stretcher = board(
        (-thickness / 2, dado.end[1], 70 - height), (thickness / 2, 120, 70), length=Y, up=X
    )
    halves = let_in(dado, made_by="j")
    made = joined(leaning_apron(lean), stretcher, halves)
    assert halves.closes == neg(Z)
    _goes_in(made)
    for way in (X, neg(X)):
        assert_play(made.second, [made.first], way, SIDE_CLEARANCE)
    assert_play(made.second, [made.first], neg(Y), END_CLEARANCE)


def _goes_in(made: Joined) -> None:
    assert_no_clash(made.pieces)
    assert_nothing_uncut(made.first)
    assert_comes_apart(made)


def test_it_stands_flush_on_the_end_of_a_stopped_dado():
    dado = Dado(mouth=(0, 0, 70), out=neg(Y), thickness=26, length=60, depth=9, stopped=True)
    stretcher = board((-13, dado.end[1], 10), (13, 120, 70), length=Y, up=X)
    made = joined(leaning_apron(4), stretcher, let_in(dado, made_by="j"))
    assert_play(made.second, [made.first], neg(Z), 0.0)


def test_a_through_dado_goes_right_down():
    dado = Dado(mouth=(0, 0, 70), out=neg(Y), thickness=26, length=70, depth=9, stopped=False)
    halves = let_in(dado, made_by="j")
    assert halves.kind == "dado"
    (channel,) = halves.first
    assert isinstance(channel, Channel)
    assert channel.length == 70
