"""The screws of a block: they hold in the rail, sit on a full seat, and miss the far side."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.vectors import Plane, X, Y, Z, dot, neg
from models.parts.features import Hole, HoleKind
from models.parts.joints.corner_block import (
    BEHIND,
    LEAST_HELD_IN,
    LEAST_HOLD,
    SUNK,
    BlockScrew,
    block_screw,
    screwed_block,
)
from models.parts.joints.screw import NUMBER_8
from tests.helpers.joints import board, goes_together, joined


def square(block: float, rail: float) -> BlockScrew:
    """A screw square through ``block`` mm into a rail behind X = 0."""
    return BlockScrew(mouth=(0, 0, 0), into_rail=neg(X), rail=rail, front=Plane(X, block))


def test_the_block_on_a_screw_s_way_is_read_square_to_the_rail():
    """A front at 45 degrees, 30 from the mouth along the screw; the rim rises half a head."""
    half = math.sqrt(0.5)
    slanted = BlockScrew(
        mouth=(0, 0, 0),
        into_rail=neg(X),
        rail=26,
        front=Plane.through((30, 0, 0), (half, half, 0.0)),
    )
    assert slanted.in_block == pytest.approx(30)
    assert slanted.slant == pytest.approx(SUNK / 2)


def test_a_screw_is_chosen_by_what_the_rail_holds():
    """26 less 5 behind holds 21; 40 long leaves 19 of the block under its head."""
    choice = block_screw(square(30, 26))
    assert choice is not None
    screw, under = choice
    assert (screw.length, under) == (40, 19)


def test_a_slanting_counterbore_never_just_touches_its_own_rim():
    """13 of the block on the way, 5 of slant: 8 are left at the rim, so the head goes to 7.5.

    Seated at 8 its floor would meet the block's face in one point, which no boolean cuts well.
    """
    half = math.sqrt(0.5)
    place = BlockScrew(
        mouth=(0, 0, 0), into_rail=neg(X), rail=22, front=Plane.through((13, 0, 0), (half, half, 0))
    )
    choice = block_screw(place)
    assert choice is not None
    screw, under = choice
    assert screw.length == 20
    assert under == pytest.approx(7.5)


def test_no_screw_holds_in_too_thin_a_rail():
    assert block_screw(square(30, 12)) is None


@given(st.floats(1, 60), st.floats(12, 60))
def test_what_is_chosen_holds_and_stays_inside(block, rail):
    place = square(block, rail)
    choice = block_screw(place)
    if choice is None:
        assert rail < LEAST_HELD_IN or block <= place.least_block + 1e-9
        return
    assert rail >= LEAST_HELD_IN
    assert block >= place.least_block - 1e-9
    screw, under = choice
    hold = screw.length - under
    assert hold >= LEAST_HOLD
    assert hold <= rail - BEHIND + 1e-9
    assert 0 < under <= block


@pytest.mark.kernel
def test_pilot_clearance_and_counterbore_are_three_holes_of_three_sizes():
    place = square(30, 26)
    choice = block_screw(place)
    assert choice is not None
    halves = screwed_block(place, choice, neg(X), made_by="j")
    sizes = {h.kind: h.diameter for h in (*halves.first, *halves.second) if isinstance(h, Hole)}
    assert sizes[HoleKind.PILOT] == NUMBER_8.pilot(hard=True) == 2.6
    assert sizes[HoleKind.PILOT] < NUMBER_8.shank <= sizes[HoleKind.CLEARANCE] < SUNK
    assert sizes[HoleKind.COUNTERBORE] == SUNK
    rail = board((-26, -50, -40), (0, 50, 40), length=Y, up=X)
    block = board((0, -30, -13), (30, 30, 13), length=Y, up=Z)
    made = joined(rail, block, halves)
    goes_together(made)
    assert dot(made.ways[1], X) == -1
