"""A spline across a butt: a slot in the end, one in the face, the strip between them."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import X, Y, Z, neg
from models.parts.blank import Grain
from specs.joints import JointKind, SplineJoint
from tests.helpers.joints import assert_play, goes_together
from tests.helpers.meetings import Sizes, sound_or_refused, tried

pytestmark = pytest.mark.kernel


def spline(**asked: object) -> SplineJoint:
    return SplineJoint.model_validate({"kind": JointKind.SPLINE, **asked})


def test_a_spline_between_panels_of_18() -> None:
    """4 thick; slots 8.5 deep, the spline 8 into each: 16 wide, 80 - 10 - 1 = 69 long."""
    it = tried(spline(), Sizes(length=80, lead=10.0))
    (strip,) = it.halves[0].loose
    assert strip.blank.size == pytest.approx((69.0, 16.0, 4.0))
    assert strip.blank.grain is Grain.WIDTH
    made = it.made()
    goes_together(made)
    both = (made.first, made.second)
    for way, play in ((Z, 0.05), (neg(Z), 0.05), (X, 0.5), (neg(Y), 0.5)):
        assert_play(made.loose[0], both, way, play)


def test_width_and_clearance_that_are_asked_for() -> None:
    """20 wide: 10 into each, in slots 10.5 deep; over half of 18 is weak."""
    it = tried(spline(width=20.0, clearance=0.2), Sizes(length=60))
    room = next(room for room in it.held.rooms if not room.enough)
    assert (room.code, room.left, room.least) == ("joint.deep_dado", 7.5, 9.0)
    made = it.made()
    assert_play(made.loose[0], (made.first,), Z, 0.1)


def test_a_spline_through_the_face_or_as_thick_as_the_end_is_refused() -> None:
    assert tried(spline(width=36.0)).refused
    assert tried(spline(thickness=18.0)).refused


@settings(max_examples=15)
@given(
    st.floats(6, 40),
    st.floats(6, 30),
    st.floats(40, 120),
    st.floats(2, 10) | st.none(),
    st.floats(4, 40) | st.none(),
    st.floats(0, 12),
)
def test_splines_go_together_or_are_refused(
    end: float,
    face: float,
    length: float,
    thickness: float | None,
    width: float | None,
    lead: float,
) -> None:
    joint = spline(thickness=thickness, width=width)
    sound_or_refused(joint, Sizes(end=end, face=face, length=length, lead=lead))
