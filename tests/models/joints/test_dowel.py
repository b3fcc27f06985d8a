"""Dowels between an end and a face: how deep, how sound, and together."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import X, Y, neg
from models.parts.features import Hole, HoleKind
from specs.joints import DowelJoint, Helper, JointKind
from tests.helpers.joints import assert_play, goes_together
from tests.helpers.meetings import Sizes, sound_or_refused, tried

pytestmark = pytest.mark.kernel


def dowel(**asked: object) -> DowelJoint:
    return DowelJoint.model_validate({"kind": JointKind.DOWEL, **asked})


def test_dowels_in_panels_of_18() -> None:
    """8 x 30: 18 - 6 - 1 = 11 into the face, 19 into the end; each hole 1 deeper."""
    it = tried(dowel(), Sizes(length=160))
    (halves,) = it.halves
    (end,), (face,) = halves.first, halves.second
    assert isinstance(end, Hole)
    assert isinstance(face, Hole)
    assert (end.kind, end.diameter, end.depth) == (HoleKind.DOWEL, 8.0, 20.0)
    assert (face.diameter, face.depth) == (8.0, 12.0)
    assert (face.count, face.pitch) == (2, 80.0)
    assert it.held.rooms
    assert all(room.enough for room in it.held.rooms)
    goes_together(it.made())


def test_a_dowel_has_no_play_across_and_a_millimetre_along() -> None:
    made = tried(dowel(), Sizes(length=60)).made()
    for way, play in ((Y, 0.0), (X, 1.0), (neg(X), 1.0)):
        assert_play(made.loose[0], (made.first, made.second), way, play)


def test_the_clearance_that_is_asked_for_is_in_both_halves() -> None:
    """0.3 wider all over is 0.15 on either side."""
    made = tried(dowel(clearance=0.3), Sizes(length=60)).made()
    assert_play(made.loose[0], (made.first,), Y, 0.15)
    assert_play(made.loose[0], (made.second,), Y, 0.15)


def test_pocket_screws_stand_half_way_between_dowels() -> None:
    it = tried(dowel(**{"with": Helper.POCKET_SCREW}), Sizes(length=160))
    _, pockets = it.halves
    assert isinstance(pockets.first[0], Hole)
    assert pockets.hardware[0].quantity == 1
    goes_together(it.made())


@pytest.mark.parametrize(
    ("asked", "code", "left", "least"),
    [
        ({"diameter": 14.0}, "joint.thin_wall", 2.0, 3.0),
        ({"depth": 16.0}, "joint.thin_floor", 1.0, 3.0),
        ({"length": 18.0}, "joint.short_grip", 7.0, 8.0),
    ],
)
def test_what_makes_dowels_weak_is_said_with_its_number(
    asked: dict[str, float], code: str, left: float, least: float
) -> None:
    """(18 - 14) / 2 = 2; 18 - 16 - 1 = 1; 18 - 11 = 7 in the end, a diameter is 8."""
    it = tried(dowel(**asked))
    room = next(room for room in it.held.rooms if not room.enough and room.code == code)
    assert (room.left, room.least) == pytest.approx((left, least))
    assert not it.refused


@pytest.mark.parametrize("asked", [{"diameter": 18.0}, {"depth": 17.0}, {"depth": 30.0}])
def test_a_dowel_that_comes_out_is_refused(asked: dict[str, float]) -> None:
    assert tried(dowel(**asked)).refused


@settings(max_examples=15)
@given(
    st.floats(9, 40),
    st.floats(9, 30),
    st.floats(40, 120),
    st.floats(4, 14) | st.none(),
    st.floats(4, 25) | st.none(),
    st.integers(1, 4) | st.none(),
)
def test_dowels_go_together_or_are_refused(
    end: float,
    face: float,
    length: float,
    diameter: float | None,
    depth: float | None,
    count: int | None,
) -> None:
    joint = dowel(diameter=diameter, depth=depth, count=count)
    sound_or_refused(joint, Sizes(end=end, face=face, length=length))
