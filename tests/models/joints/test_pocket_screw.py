"""Pocket screws: through a face at 15 degrees, out of the end in its middle."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.parts.features import Hole, HoleKind
from specs.joints import JointKind, PocketScrewJoint
from tests.helpers.joints import goes_together
from tests.helpers.meetings import Sizes, sound_or_refused, tried

pytestmark = pytest.mark.kernel


def pocket(**asked: object) -> PocketScrewJoint:
    return PocketScrewJoint.model_validate({"kind": JointKind.POCKET_SCREW, **asked})


def test_pockets_in_18_take_a_32_screw() -> None:
    """9 / sin 15 = 34.77 from face to joint; bite 14 / cos 15 = 14.49, so the head sits
    34.77 - (32 - 14.49) = 17.26 down the pocket.
    """
    it = tried(pocket(), Sizes(length=120))
    (halves,) = it.halves
    drilled, clearance = halves.first
    assert isinstance(drilled, Hole)
    assert isinstance(clearance, Hole)
    assert halves.second == ()
    assert halves.hardware[0].size == "32 mm"
    assert drilled.kind is HoleKind.POCKET
    assert drilled.depth == pytest.approx(17.26, abs=0.01)
    assert drilled.seat.origin[2] == pytest.approx(0.0)
    slant = math.degrees(math.asin(drilled.seat.into[2]))
    assert slant == pytest.approx(15.0)
    goes_together(it.made())


def test_a_length_and_a_clearance_that_are_asked_for() -> None:
    """A shank of 3.5 with 0.8 of play."""
    it = tried(pocket(length=25.0, clearance=0.8), Sizes(length=60))
    clearance = it.halves[0].first[1]
    assert isinstance(clearance, Hole)
    assert clearance.diameter == pytest.approx(4.3)
    assert it.halves[0].hardware[0].size == "25 mm"
    goes_together(it.made())


def test_a_screw_longer_than_its_way_through_the_end_is_refused() -> None:
    """64 less a bite of 14.49 is 49.5 to the head; the face is 34.77 away."""
    it = tried(pocket(length=64.0))
    room = next(room for room in it.held.rooms if room.impossible)
    assert room.code == "joint.pocket_seat"
    assert room.left == pytest.approx(34.77 - 49.51, abs=0.01)


def test_a_face_too_thin_for_the_point_is_refused() -> None:
    assert tried(pocket(), Sizes(face=4.0)).refused


@settings(max_examples=15)
@given(st.floats(10, 30), st.floats(5, 30), st.floats(40, 120), st.floats(20, 70) | st.none())
def test_pocket_screws_go_together_or_are_refused(
    end: float, face: float, length: float, long: float | None
) -> None:
    sound_or_refused(pocket(length=long), Sizes(end=end, face=face, length=length))
