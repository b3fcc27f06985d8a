"""Screws through a face into an end: pilot, clearance and head are three holes; plugs fit."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from ground.vectors import X, Y
from models.parts.features import Countersink, Hole, HoleKind
from models.parts.joints.screw import NUMBER_6, NUMBER_8, WoodScrew
from specs.joints import JointKind, ScrewJoint, ScrewSide
from tests.helpers.joints import assert_play, goes_together
from tests.helpers.meetings import Sizes, sound_or_refused, tried

pytestmark = pytest.mark.kernel


def screw(**asked: object) -> ScrewJoint:
    return ScrewJoint.model_validate({"kind": JointKind.SCREW, **asked})


def test_pilots_follow_the_root_and_are_never_shank_size() -> None:
    """No. 8: root .112 in = 2.8448 mm; 90 % = 2.56, 70 % = 1.99 (check values 10)."""
    assert NUMBER_8.pilot(hard=True) == 2.6
    assert NUMBER_8.pilot(hard=False) == 2.0
    assert NUMBER_6.pilot(hard=True) == 2.1
    for one in (NUMBER_6, NUMBER_8):
        assert one.pilot(hard=True) < one.root < one.shank <= one.clearance


@given(st.floats(2.0, 8.0), st.floats(0.0, 1.0))
def test_a_clearance_hole_is_never_smaller_than_its_screw(shank: float, play: float) -> None:
    one = WoodScrew(shank=shank, root=shank * 0.68, length=50.0, play=play)
    assert one.clearance >= shank - 1e-6
    assert one.clearance < shank + play + 0.11


def test_flush_heads_in_panels_of_18() -> None:
    """No. 8 x 50: 18 to pass, 32 in the end; clearance 4.5, head 8.33 at 90 degrees."""
    it = tried(screw(), Sizes(length=120))
    (halves,) = it.held.swapped
    clearance, head = halves.first
    (pilot,) = halves.second
    assert isinstance(clearance, Hole)
    assert isinstance(head, Countersink)
    assert isinstance(pilot, Hole)
    assert (clearance.kind, clearance.diameter, clearance.depth) == (HoleKind.CLEARANCE, 4.5, 18.0)
    assert (pilot.kind, pilot.diameter, pilot.depth) == (HoleKind.PILOT, 2.6, 32.0)
    assert head.diameter == pytest.approx(8.3312)
    assert pilot.seat.origin[0] == 18.0
    goes_together(it.made())


def test_plugs_fill_their_holes() -> None:
    """10 across, 5 deep; the head sits 5 down, so 37 of the screw's 50 go into the end."""
    it = tried(screw(plugs="oak", count=1), Sizes(length=60))
    (halves,) = it.held.swapped
    pilot = halves.second[0]
    assert isinstance(pilot, Hole)
    assert pilot.depth == 37.0
    made = it.made()
    goes_together(made)
    assert_play(made.loose[0], (made.second,), Y, 0.0)
    assert_play(made.loose[0], (made.second,), X, 0.0)
    assert made.loose[0].shape.Volume() == pytest.approx(3.14159265 * 25 * 5)


def test_a_thin_end_takes_a_thinner_screw() -> None:
    """12 thick: a No. 8 wants 6.25 to either face, a No. 6 5.26."""
    it = tried(screw(), Sizes(end=12.0, length=60))
    assert it.held.swapped[0].hardware[0].size == "3.5 x 40 mm"
    assert all(room.enough for room in it.held.rooms)


@pytest.mark.parametrize(
    ("asked", "sizes", "code", "left", "least"),
    [
        ({"length": 40.0}, Sizes(), "joint.short_grip", 22.0, 24.9936),
        ({"diameter": 7.0, "length": 90.0}, Sizes(), "joint.thin_wall", 9.0, 10.5),
        ({"plugs": "oak"}, Sizes(face=4.5), "joint.thin_plug", 1.5, 2.0),
    ],
)
def test_what_makes_screws_weak_is_said_with_its_number(
    asked: dict[str, object], sizes: Sizes, code: str, left: float, least: float
) -> None:
    """40 - 18 = 22 of 6 x 4.1656; half of 18 of 1.5 x 7; 4.5 less 3 under the head."""
    it = tried(screw(**asked), sizes)
    room = next(room for room in it.held.rooms if not room.enough and room.code == code)
    assert (room.left, room.least) == pytest.approx((left, least))
    assert not it.refused


def test_screws_that_do_not_reach_and_plugs_without_room_are_refused() -> None:
    assert tried(screw(length=18.0)).refused
    assert tried(screw(plugs="oak"), Sizes(face=3.0)).refused


def test_screws_from_inside_are_refused_where_they_are_written() -> None:
    assert screw(**{"from": ScrewSide.OUTSIDE}).from_ is ScrewSide.OUTSIDE
    with pytest.raises(ValidationError, match="write kind: pocket screw, or from: outside"):
        screw(**{"from": ScrewSide.INSIDE})


@settings(max_examples=15)
@given(
    st.floats(9, 30),
    st.floats(4, 30),
    st.floats(40, 120),
    st.floats(2.5, 7) | st.none(),
    st.floats(20, 80) | st.none(),
    st.sampled_from((None, "oak")),
)
def test_screws_go_together_or_are_refused(
    end: float,
    face: float,
    length: float,
    diameter: float | None,
    long: float | None,
    plugs: str | None,
) -> None:
    joint = screw(diameter=diameter, length=long, plugs=plugs)
    sound_or_refused(joint, Sizes(end=end, face=face, length=length))
