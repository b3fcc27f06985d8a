"""Plates and clips between a rail's top and a panel."""

import pytest

from ground.vectors import X, Y, Z, neg, norm, sub
from models.parts.features import Hole, HoleKind
from models.parts.joints.figure_eight import (
    BREAKS_OUT,
    HOLES,
    PLATE,
    RECESS,
    RECESS_DEPTH,
    Edge,
    figure_eight,
    screw_length,
    slotted_clip,
)
from tests.helpers.joints import assert_comes_apart, assert_no_clash, goes_together, joined
from tests.helpers.joints import board as boarded

PLACE = Edge(at=(0, 0, 70), out=neg(Y), run=X, rail=26.0, panel=18.6)
RAIL = boarded((-80, -26, 0), (80, 0, 70), length=X, up=neg(Y))
PANEL = boarded((-80, -60, 70), (80, 60, 88.6), length=X, up=Z)


def test_a_plate_lies_under_the_rail_s_top_and_reaches_the_panel():
    halves = figure_eight(PLACE, 16, made_by="j")
    (below,) = halves.first
    recess, thread = halves.second
    assert isinstance(below, Hole)
    assert isinstance(recess, Hole)
    assert isinstance(thread, Hole)
    assert recess.kind is HoleKind.RECESS
    assert PLATE < RECESS_DEPTH == recess.depth
    assert norm(sub(below.seat.origin, recess.seat.origin)) == HOLES
    assert recess.seat.origin[1] == BREAKS_OUT - RECESS / 2
    assert thread.seat.origin == (0, BREAKS_OUT - RECESS / 2, 70 - RECESS_DEPTH)


@pytest.mark.parametrize(("panel", "length"), [(18.6, 16), (12, 10), (24, 20)])
def test_screws_stop_4_mm_under_the_panel_s_far_face(panel: float, length: float):
    """16 - 2.5 = 13.5 of 18.6 - 4 = 14.6; 10 - 2.5 = 7.5 of 8; 20 - 2.5 = 17.5 of 20."""
    assert screw_length(panel, PLATE) == length


def test_no_screw_is_short_enough_for_a_thin_panel():
    assert screw_length(9, PLATE) is None


def test_a_thin_rail_leaves_no_rim():
    """18 - (20 - 3) = 1."""
    assert Edge(at=(0, 0, 0), out=neg(Y), run=X, rail=18, panel=18).rim == 1


@pytest.mark.kernel
def test_a_plate_s_cuts_part_downwards():
    made = joined(PANEL, RAIL, figure_eight(PLACE, 16, made_by="j"))
    assert_no_clash(made.pieces)
    assert_comes_apart(made)


@pytest.mark.kernel
def test_a_clip_s_cuts_part_downwards():
    goes_together(joined(PANEL, RAIL, slotted_clip(PLACE, 16, made_by="j")))
