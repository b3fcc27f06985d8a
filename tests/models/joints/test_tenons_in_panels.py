"""Loose tenons between panels, and a rail's own tenon in a side."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import X, Y, Z, neg
from models.parts.features import Channel, Mortise, Waste
from specs.joints import JointKind, LooseTenonJoint, MortiseAndTenonJoint
from tests.helpers.joints import assert_play, goes_together
from tests.helpers.meetings import Sizes, sound_or_refused, tried

pytestmark = pytest.mark.kernel


def loose(**asked: object) -> LooseTenonJoint:
    return LooseTenonJoint.model_validate({"kind": JointKind.LOOSE_TENON, **asked})


def own(**asked: object) -> MortiseAndTenonJoint:
    return MortiseAndTenonJoint.model_validate({"kind": JointKind.MORTISE_AND_TENON, **asked})


def test_loose_tenons_in_panels_of_18() -> None:
    """A third of 18 is 6; 40 long: 18 - 6 = 12 into the face, 28 into the end."""
    it = tried(loose(), Sizes(length=160))
    (halves,) = it.halves
    end = halves.first[0]
    assert isinstance(end, Mortise)
    assert (end.width, end.length, end.depth) == (6.0, 20.0, 28.0)
    assert len(halves.loose) == 2
    assert all(room.enough for room in it.held.rooms)
    goes_together(it.made())


def test_a_loose_tenons_play_is_its_clearance() -> None:
    """0.05 on each face by rule; 0.4 asked for between the halves is 0.2 on each face."""
    made = tried(loose(), Sizes(length=70)).made()
    for way in (Y, Z):
        assert_play(made.loose[0], (made.first, made.second), way, 0.05)
    assert_play(made.loose[0], (made.first, made.second), X, 1.0)
    made = tried(loose(clearance=0.4), Sizes(length=70)).made()
    for way in (Y, Z):
        assert_play(made.loose[0], (made.first, made.second), way, 0.2)


@pytest.mark.parametrize(
    ("asked", "code", "left", "least"),
    [
        ({"thickness": 13.0}, "joint.thin_wall", 2.5, 3.0),
        ({"depth": 15.0}, "joint.thin_floor", 3.0, 5.0),
        ({"width": 58.0, "count": 1}, "joint.thin_end", 1.0, 3.0),
        ({"count": 2, "width": 38.0}, "joint.crowded", 2.0, 3.0),
    ],
)
def test_what_makes_loose_tenons_weak_is_said_with_its_number(
    asked: dict[str, float], code: str, left: float, least: float
) -> None:
    """(18 - 13) / 2; 18 - 15; 30 - 29 in a joint of 60; two in 120, 40 apart, 38 wide."""
    length = 60.0 if "count" in asked and asked["count"] == 1 else 120.0
    it = tried(loose(**asked), Sizes(length=length))
    room = next(room for room in it.held.rooms if not room.enough and room.code == code)
    assert (room.left, room.least) == pytest.approx((left, least))
    assert not it.refused


def test_a_mortise_through_the_panel_or_wider_than_it_is_refused() -> None:
    assert tried(loose(depth=18.0)).refused
    assert tried(loose(thickness=18.0)).refused
    assert tried(loose(thickness=8.0, width=8.0)).refused


def test_a_rails_tenon_in_a_side_of_18() -> None:
    """Rail 18 x 60: tenon 6 thick, 5 x 6 = 30 wide, 18 - 6 - 1 = 11 long."""
    it = tried(own(), Sizes(length=60))
    (halves,) = it.halves
    mortise = halves.second[0]
    assert isinstance(mortise, Channel)
    assert (mortise.length, mortise.width, mortise.depth) == (30.0, 6.0, 12.0)
    assert sum(isinstance(feature, Waste) for feature in halves.first) == 4
    made = it.made()
    goes_together(made)
    for way in (Y, Z, neg(Z)):
        assert_play(made.second, (made.first,), way, 0.05)
    assert_play(made.second, (made.first,), X, 0.0)


def test_a_tenon_keeps_out_of_the_edging_before_it() -> None:
    """6 of the rail's 18 stand before the side: the tenon is a third of 12, in their middle."""
    it = tried(own(), Sizes(length=60, shy=6.0))
    mortise = it.halves[0].second[0]
    assert isinstance(mortise, Channel)
    assert mortise.width == 4.0
    assert mortise.seat.origin[2] == pytest.approx(18 - 6 - 6)
    goes_together(it.made())


def test_a_tenon_too_long_for_its_side_is_refused_and_a_deep_one_warned_of() -> None:
    """14 long is 15 deep: 3 are left of 18, 5 are wanted."""
    assert tried(own(length=17.0), Sizes(length=60)).refused
    room = next(room for room in tried(own(length=14.0)).held.rooms if not room.enough)
    assert (room.code, room.left, room.least) == ("joint.thin_floor", 3.0, 5.0)


@settings(max_examples=15)
@given(
    st.floats(9, 40),
    st.floats(9, 30),
    st.floats(40, 120),
    st.floats(3, 14) | st.none(),
    st.floats(8, 40) | st.none(),
    st.floats(4, 25) | st.none(),
)
def test_loose_tenons_go_together_or_are_refused(
    end: float,
    face: float,
    length: float,
    thickness: float | None,
    width: float | None,
    depth: float | None,
) -> None:
    joint = loose(thickness=thickness, width=width, depth=depth)
    sound_or_refused(joint, Sizes(end=end, face=face, length=length))


@settings(max_examples=15)
@given(
    st.floats(9, 40),
    st.floats(9, 40),
    st.floats(30, 120),
    st.floats(0, 6) | st.just(0.0),
    st.floats(3, 14) | st.none(),
    st.floats(4, 30) | st.none(),
)
def test_a_rails_tenon_goes_together_or_is_refused(
    end: float,
    face: float,
    length: float,
    shy: float,
    thickness: float | None,
    long: float | None,
) -> None:
    joint = own(thickness=thickness, length=long)
    sound_or_refused(joint, Sizes(end=end, face=face, length=length, shy=shy))
