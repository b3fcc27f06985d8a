"""A tongue on an end in a groove across a face."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import X, Z, neg
from models.parts.features import Channel, ChannelKind
from specs.joints import JointKind, TongueAndGrooveJoint
from tests.helpers.joints import assert_play, goes_together
from tests.helpers.meetings import Sizes, sound_or_refused, tried

pytestmark = pytest.mark.kernel


def tongue(**asked: object) -> TongueAndGrooveJoint:
    return TongueAndGrooveJoint.model_validate({"kind": JointKind.TONGUE_AND_GROOVE, **asked})


def test_a_tongue_on_18_is_6_by_6_between_shoulders_of_6() -> None:
    """The groove is 6.1 wide, and 6.5 deep so that the shoulders close: volumes by hand.

    End: 2 x 6 x 6 x 60 = 4320 taken; face: 6.1 x 6.5 x 60 = 2379.
    """
    it = tried(tongue(), Sizes(length=60))
    made = it.made()
    taken = (
        (90 + 6) * 60 * 18 - made.first.shape.Volume(),
        (18 + 2 * 90) * 60 * 18 - made.second.shape.Volume(),
    )
    assert taken == pytest.approx((4320.0, 2379.0))
    goes_together(made)
    for way in (Z, neg(Z)):
        assert_play(made.second, (made.first,), way, 0.05)
    assert_play(made.second, (made.first,), X, 0.0)


def test_sizes_and_clearance_that_are_asked_for() -> None:
    it = tried(tongue(thickness=5.0, depth=8.0, clearance=0.3), Sizes(length=60))
    groove = it.halves[0].second[0]
    assert isinstance(groove, Channel)
    assert (groove.kind, groove.width, groove.depth) == (ChannelKind.GROOVE, 5.3, 8.5)
    made = it.made()
    assert_play(made.second, (made.first,), Z, 0.15)


def test_a_groove_that_would_show_stops_and_the_tongue_is_notched() -> None:
    it = tried(tongue(), Sizes(length=60, lead=10.0))
    groove = it.halves[0].second[0]
    assert isinstance(groove, Channel)
    assert (groove.seat.origin[1], groove.length) == (10.0, 50.0)
    goes_together(it.made())


@pytest.mark.parametrize(
    ("asked", "code", "left", "least"),
    [
        ({"depth": 9.0}, "joint.deep_dado", 8.5, 9.0),
        ({"thickness": 14.0}, "joint.thin_shoulder", 2.0, 3.0),
    ],
)
def test_what_makes_a_tongue_weak_is_said_with_its_number(
    asked: dict[str, float], code: str, left: float, least: float
) -> None:
    """18 - 9.5 = 8.5; (18 - 14) / 2 = 2."""
    it = tried(tongue(**asked))
    room = next(room for room in it.held.rooms if not room.enough)
    assert room.code == code
    assert (room.left, room.least) == pytest.approx((left, least))
    assert not it.refused


def test_a_groove_through_its_panel_and_a_tongue_without_shoulders_are_refused() -> None:
    assert tried(tongue(depth=18.0)).refused
    assert tried(tongue(thickness=18.0)).refused


@settings(max_examples=15)
@given(
    st.builds(
        Sizes,
        end=st.floats(6, 40),
        face=st.floats(6, 30),
        length=st.floats(30, 120),
        lead=st.floats(0, 25),
        tail=st.floats(0, 25),
    ),
    st.floats(2, 20) | st.none(),
    st.floats(2, 20) | st.none(),
)
def test_tongues_go_together_or_are_refused(
    sizes: Sizes, thickness: float | None, depth: float | None
) -> None:
    sound_or_refused(tongue(thickness=thickness, depth=depth), sizes)
