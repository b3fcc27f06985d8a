"""Mitred corners of a small case: splines, loose tenons, dowels and screws square to the mitre."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.errors import SpecError
from ground.findings import Severity
from ground.vectors import X, Y, Z, along, neg, sub, unit
from models.parts.features import Channel, ChannelKind, Hole, HoleKind, Mortise
from models.parts.joints.mitre import WALL_AT_HEEL, WALL_AT_TOE, seat_in, spline_seat
from models.setting_out.bench import Bench
from tests.helpers.joints import Joined, assert_play, goes_together, laid
from tests.helpers.small_case import small_case, small_spec

pytestmark = pytest.mark.kernel

MITRED = "{top: mitre, bottom: butt}"
HALF = math.sqrt(0.5)


def mitred(joint: str, *, panel: float = 18.0, size: str = "") -> tuple[Bench, Joined]:
    """The top left corner of a case whose top is mitred, and the bench it stands on."""
    more = {"size": size} if size else {}
    bench, _ = small_case(small_spec(MITRED, f"{{top: {joint}}}", panel=panel, **more))
    return bench, laid(bench, "case/top", "case/side left")


def test_the_top_comes_down_while_the_side_comes_in() -> None:
    bench, made = mitred("{kind: spline}")
    assert made.ways == (neg(Z), X)
    assert bench.findings == []
    goes_together(made)


def test_a_spline_has_the_play_of_its_slots() -> None:
    """4 in a slot of 4.1; 0.5 at each end of 16 wide, and at either end of its length."""
    _, made = mitred("{kind: spline}")
    (spline,) = made.loose
    assert spline.part.blank.width == pytest.approx(16.0)
    along_mitre = unit(sub((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)))
    square = (HALF, 0.0, HALF)
    both = (made.first, made.second)
    assert_play(spline, both, along_mitre, 0.05)
    assert_play(spline, both, square, 0.5)
    for way in (Y, neg(Y)):
        assert_play(spline, both, way, 0.5)


def test_a_spline_asked_for_by_thickness_width_and_clearance() -> None:
    """3 thick in 3.2, 12 wide: 6 + 0.5 deep into either half."""
    _, made = mitred("{kind: spline, thickness: 3, width: 12, clearance: 0.2}")
    slot = next(
        f for f in made.first.part.features if isinstance(f, Channel) and f.kind is ChannelKind.SLOT
    )
    assert (slot.width, slot.depth) == pytest.approx((3.2, 6.5))
    goes_together(made)


@pytest.mark.parametrize(
    "joint",
    [
        "{kind: loose tenon}",
        "{kind: dowel}",
        "{kind: screw}",
        "{kind: screw, plugs: oak}",
        "{kind: dowel, with: screw}",
    ],
)
def test_what_else_holds_a_mitre(joint: str) -> None:
    bench, made = mitred(joint)
    assert bench.findings == []
    goes_together(made)


def test_tenons_of_a_mitre_stand_square_to_it() -> None:
    """5 thick: the deepest sound is 14 sqrt 2 - 2.5 - (3 sqrt 2 + 2.5) = 10.56, so 10 are kept."""
    _, made = mitred("{kind: loose tenon}")
    mortise = next(f for f in made.first.part.features if isinstance(f, Mortise))
    assert (mortise.width, mortise.depth) == (5.0, 10.0)
    into = made.first.frame.direction(mortise.seat.into)
    assert into == pytest.approx((HALF, 0.0, HALF))


@given(st.floats(12.0, 40.0), st.floats(2.0, 8.0), st.floats(0.0, 1.0))
def test_no_slot_comes_nearer_to_either_face_than_it_should(
    panel: float, thickness: float, clearance: float
) -> None:
    """Corners of the slot's section, measured from the heel along and square to the mitre."""
    seat = seat_in(panel, thickness, 8.5, clearance=clearance)
    if seat.depth <= 0.0:
        return
    half = (thickness + clearance) / 2
    inner = min((seat.up + side * half - seat.depth * 0) * HALF for side in (-1, 1))
    outer = panel - (seat.up + half + seat.depth) * HALF
    assert inner >= WALL_AT_HEEL - 1e-9
    assert outer >= WALL_AT_TOE - 1e-9
    assert seat.toe(panel) == pytest.approx(outer)


def test_a_spline_in_18() -> None:
    """Lowest 3 sqrt 2 + 2.05 = 6.29; deepest 14 sqrt 2 - 2.05 - 6.29 = 11.46; 8.5 are kept."""
    seat = spline_seat(18.0)
    assert seat is not None
    assert (seat.thickness, seat.depth) == (4.0, 8.5)
    assert seat.up == pytest.approx(6.2926 + (11.4563 - 8.5) / 2, abs=1e-3)
    assert spline_seat(8.0) is None


def test_a_slot_near_the_toe_is_weak_and_one_through_it_is_refused() -> None:
    """26 wide is 13.5 deep: 18 - (13.5 + 2.05 + 6.2926) / sqrt 2 = 2.55 at the toe, 4 wanted."""
    bench, made = mitred("{kind: spline, width: 26}")
    (found,) = (f for f in bench.findings if f.subject == "case/top left")
    assert found.severity is Severity.WARNING
    assert (found.code, found.limit) == ("joint.thin_toe", 4.0)
    assert found.value == pytest.approx(2.555, abs=0.01)
    goes_together(made)
    bench, made = mitred("{kind: spline, width: 40}")
    errors = [f for f in bench.findings if f.severity is Severity.ERROR]
    assert {f.code for f in errors} == {"joint.thin_toe"}
    assert made.loose == ()
    goes_together(made)


@pytest.mark.parametrize(
    ("joint", "said"),
    [
        ("{kind: pocket screw}", "case.joints.top: has no place in a mitre"),
        ("{kind: tongue and groove}", "write kind: spline"),
        ("{kind: dowel, with: pocket screw}", "case.joints.top.with: would come out of a mitre"),
    ],
)
def test_what_no_mitre_can_have_is_refused_in_the_spec(joint: str, said: str) -> None:
    with pytest.raises(SpecError, match=said):
        mitred(joint)


def test_screws_stand_on_either_side_of_a_single_dowel() -> None:
    """109 between edging and the back's groove, less 3: 106 long; dowel at 53, screws at 26.5."""
    bench, made = mitred("{kind: dowel, count: 1, with: screw}")
    assert bench.findings == []
    pilot = next(
        f for f in made.second.part.features if isinstance(f, Hole) and f.kind is HoleKind.PILOT
    )
    dowel = next(
        f for f in made.second.part.features if isinstance(f, Hole) and f.kind is HoleKind.DOWEL
    )
    assert (pilot.count, dowel.count) == (2, 1)
    middles = [made.second.frame.point(f.seat.origin)[1] for f in (pilot, dowel)]
    assert middles[1] - middles[0] == pytest.approx(pilot.pitch / 2)
    goes_together(made)


@settings(max_examples=6)
@given(
    st.sampled_from(("spline", "loose tenon", "dowel", "screw")),
    st.floats(9.0, 30.0),
    st.integers(100, 180),
    st.floats(2.0, 10.0) | st.none(),
)
def test_mitres_go_together_or_say_what_is_wrong(
    kind: str, panel: float, depth: int, thickness: float | None
) -> None:
    word = {"dowel": "diameter", "screw": "diameter"}.get(kind, "thickness")
    asked = "" if thickness is None else f", {word}: {thickness:.3f}"
    size = f"{{length: 260, height: 200, depth: {depth}}}"
    bench, made = mitred(f"{{kind: {kind}{asked}}}", panel=round(panel, 3), size=size)
    errors = [f for f in bench.findings if f.severity is Severity.ERROR]
    for found in bench.findings:
        assert found.value is not None
        assert found.limit is not None
        assert found.value < found.limit
    assert kind == "screw" or bool(errors) == (made.loose == ())
    goes_together(made)


def test_the_heel_and_toe_are_where_the_panels_meet() -> None:
    """18 from the outside both ways; the toe is 18 sqrt 2 up the mitre."""
    _, made = mitred("{kind: spline}")
    heel = (18.0, 0.0, 60.0 + 200.0 - 18.0)
    toe = along(heel, (-HALF, 0.0, HALF), 18.0 * math.sqrt(2))
    assert toe == pytest.approx((0.0, 0.0, 260.0))
    box = made.first.shape.BoundingBox(1e-6)
    assert (box.xmin, box.zmax) == pytest.approx((0.0, 260.0), abs=1e-5)
