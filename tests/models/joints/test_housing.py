"""Dadoes: right across, and stopped at the edge that shows."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import X, Y, Z, neg
from models.parts.features import Channel, ChannelKind
from specs.joints import DadoJoint, Helper, JointKind, OpenSide, StoppedDadoJoint
from tests.helpers.joints import assert_play, goes_together
from tests.helpers.meetings import Sizes, sound_or_refused, tried

pytestmark = pytest.mark.kernel


def dado(**asked: object) -> DadoJoint:
    return DadoJoint.model_validate({"kind": JointKind.DADO, **asked})


def stopped(**asked: object) -> StoppedDadoJoint:
    return StoppedDadoJoint.model_validate({"kind": JointKind.STOPPED_DADO, **asked})


def channel(features: tuple[object, ...], kind: ChannelKind) -> Channel:
    (found,) = (f for f in features if isinstance(f, Channel) and f.kind is kind)
    return found


def test_a_dado_in_18_is_6_deep_and_a_tenth_wider_than_what_it_houses() -> None:
    it = tried(dado(), Sizes(length=60))
    cut = channel(it.halves[0].second, ChannelKind.DADO)
    assert (cut.length, cut.width, cut.depth) == pytest.approx((60.0, 18.1, 6.0))
    made = it.made()
    goes_together(made)
    for way in (Z, neg(Z)):
        assert_play(made.second, (made.first,), way, 0.05)
    assert_play(made.second, (made.first,), X, 0.0)


def test_the_clearance_that_is_asked_for_is_across_the_dado() -> None:
    made = tried(dado(clearance=0.5), Sizes(length=60)).made()
    assert_play(made.second, (made.first,), Z, 0.25)


@pytest.mark.parametrize(
    ("open_side", "starts", "length"), [(OpenSide.BACK, 12.0, 48.0), (OpenSide.FRONT, 0.0, 48.0)]
)
def test_a_stopped_dado_runs_out_at_one_side_and_the_corner_is_notched(
    open_side: OpenSide, starts: float, length: float
) -> None:
    it = tried(stopped(open=open_side, stop=12.0), Sizes(length=60))
    cut = channel(it.halves[0].second, ChannelKind.DADO)
    notch = channel(it.halves[0].first, ChannelKind.NOTCH)
    assert cut.seat.origin[1] == pytest.approx(starts)
    assert (cut.length, notch.length, notch.depth) == pytest.approx((length, 12.0, 6.0))
    made = it.made()
    goes_together(made)
    # It cannot be pushed further towards the stop.
    assert_play(made.first, (made.second,), neg(Y) if starts else Y, 0.0)


def test_what_stands_before_the_panel_is_cut_back() -> None:
    """A rail 18 thick, 6 of them before the side's edge: 12 go in."""
    it = tried(dado(), Sizes(length=60, shy=6.0))
    cut = channel(it.halves[0].second, ChannelKind.DADO)
    back = channel(it.halves[0].first, ChannelKind.RABBET)
    assert (cut.width, back.width, back.depth) == pytest.approx((12.1, 6.0, 6.0))
    goes_together(it.made())


def test_screws_through_the_floor_of_a_dado() -> None:
    """The face has 18 - 6 = 12 left for them to pass."""
    it = tried(dado(**{"with": Helper.SCREW}), Sizes(length=120))
    assert len(it.held.swapped) == 1
    clearance = it.held.swapped[0].first[0]
    assert getattr(clearance, "depth", None) == pytest.approx(12.0)
    goes_together(it.made())


def test_a_dado_over_half_the_panel_is_weak_and_one_through_it_refused() -> None:
    room = next(room for room in tried(dado(depth=10.0)).held.rooms if not room.enough)
    assert (room.code, room.left, room.least) == ("joint.deep_dado", 8.0, 9.0)
    assert not tried(dado(depth=9.0)).refused
    assert tried(dado(depth=18.0)).refused


def test_a_stop_that_leaves_no_dado_is_refused() -> None:
    assert tried(stopped(stop=60.0), Sizes(length=60)).refused


@settings(max_examples=15)
@given(
    st.builds(
        Sizes,
        end=st.floats(6, 40),
        face=st.floats(9, 30),
        length=st.floats(30, 120),
        shy=st.floats(0, 4),
    ),
    st.floats(2, 25) | st.none(),
    st.floats(4, 40) | st.none(),
)
def test_dadoes_go_together_or_are_refused(
    sizes: Sizes, depth: float | None, stop: float | None
) -> None:
    joint = dado(depth=depth) if stop is None else stopped(depth=depth, stop=stop)
    sound_or_refused(joint, sizes)
