"""Frame-and-panel doors, worked by hand: grooves, the panel's room to move, every joint."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.parts.features import Channel, ChannelKind, HoleKind
from models.setting_out.hinges import DoorSize, hinge_heights
from models.setting_out.trouble import SettingOutError
from specs.hardware import CupHinge, FittingKind
from tests.helpers.rooms import codes, filled, shared_wood, tried
from tests.models.test_doors import bounds, holes

BAY = (304.0, 412.0, 504.0)


def framed(
    panel: str = "{material: thin}", joint: str = "", rest: str = "hinge: cup, catch: catch"
) -> str:
    """One door 300 x 500 x 20 in the bay: stiles and rails 50, grooves 8 deep."""
    wide = f"stiles: 50, rails: 50, groove_depth: 8{joint}"
    frame = f"{{material: oak, thickness: 20, {wide}}}"
    return f"  doors: {{kind: frame and panel, frame: {frame}, panel: {panel}, {rest}}}"


def test_a_sheet_fills_its_grooves_but_for_a_millimetre() -> None:
    """It shows 300 - 100 = 200 x 400, and is 200 + 2 x 7 = 214 x 414; its groove is 6.2 wide."""
    made = filled(framed(), BAY)
    lo, hi = bounds(made.bench.drafts["door 1/1/panel"])
    assert (hi[0] - lo[0], hi[2] - lo[2]) == pytest.approx((214.0, 414.0))
    assert (lo[1], hi[1]) == pytest.approx((7.0, 13.0))
    (groove,) = (
        f
        for f in made.bench.drafts["door 1/1/left stile"].features
        if isinstance(f, Channel) and f.kind is ChannelKind.GROOVE
    )
    assert (groove.width, groove.depth, groove.length) == pytest.approx((6.2, 8.0, 416.0))


def test_lumber_has_half_of_each_groove_to_move_in() -> None:
    """200 + 2 x 4 = 208 wide, so 4 mm at each long edge; along its grain 414 as a sheet."""
    made = filled(framed("{material: oak, thickness: 8}"), BAY)
    panel = made.bench.drafts["door 1/1/panel"]
    lo, hi = bounds(panel)
    assert (hi[0] - lo[0], hi[2] - lo[2]) == pytest.approx((208.0, 414.0))
    assert "4.0 mm of room" in panel.note
    (sum_,) = (s for s in made.bench.sums if s.what == "panel's width")
    assert sum_.total == pytest.approx(208.0)


def test_a_thick_panel_is_thinned_to_a_tongue() -> None:
    """12 is more than 20 - 2 x 5 = 10: its edges are thinned to 20 / 3 = 6.667, on the inside.

    The step is 12 - 6.667 deep; at a long edge it reaches 4 into the groove and 4 beside the stile,
    at an end 7 and 1.
    """
    made = filled(framed("{material: oak, thickness: 12}"), BAY)
    steps = [
        f
        for f in made.bench.drafts["door 1/1/panel"].features
        if isinstance(f, Channel) and f.kind is ChannelKind.RABBET
    ]
    assert [step.depth for step in steps] == pytest.approx([12 - 20 / 3] * 4)
    assert sorted(step.width for step in steps) == pytest.approx([8.0] * 4)


def test_tenons_are_a_third_of_the_frame_and_clear_of_groove_and_end() -> None:
    """Rails 50: 8 of groove and 8 at the end leave 34; tenon 7 thick, 34 - 2 x 5 = 24 wide."""
    made = filled(framed(), BAY)
    mortises = [
        f
        for f in made.bench.drafts["door 1/1/left stile"].features
        if isinstance(f, Channel) and f.kind is ChannelKind.MORTISE
    ]
    assert [(m.width, m.length) for m in mortises] == [(7.0, 24.0)] * 2
    draft = made.bench.drafts["door 1/1/left stile"]
    starts = sorted(draft.frame.point(m.seat.origin)[2] for m in mortises)
    assert starts == pytest.approx([102.0 + 8 + 5, 602.0 - 8 - 34 + 5])


def test_hinges_keep_clear_of_a_frames_rails() -> None:
    """Rails 90 and half a cup's width with its screws, 26.5, and 2: the first stands at 118.5."""
    hinge = CupHinge(kind=FittingKind.CUP_HINGE)
    door = DoorSize(width=200.0, height=600.0, thick=20.0, mass=2.0, keep=90.0)
    assert hinge_heights(hinge, door)[0] == pytest.approx(118.5)


def test_a_cup_that_comes_out_in_the_groove_is_found() -> None:
    """Stiles 45, grooves 8: 37 are whole, and the cup reaches 5 + 35 = 40."""
    made = filled(framed().replace("stiles: 50", "stiles: 45"), BAY)
    (found,) = (f for f in made.bench.findings if f.code == "fitting.cup_in_groove")
    assert (found.value, found.limit) == (40.0, 37.0)


def test_a_pull_and_a_catch_stand_in_the_free_stile() -> None:
    made = filled(framed(rest="hinge: cup, catch: catch, pull: knob"), BAY)
    (pull,) = holes(made, "door 1/1/right stile", HoleKind.CLEARANCE)
    assert pull[0] == pytest.approx((402.0 - 25.0, 0.0, 352.0))
    (plate,) = holes(made, "door 1/1/right stile", HoleKind.RECESS)
    assert plate[0][0] == pytest.approx(402.0 - 25.0)
    assert codes(made) == []


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("stiles: 50", "stiles: 145", "shows 10.0 x 400.0 mm"),
        ("groove_depth: 8", "groove_depth: 26", "at most 25.0 mm"),
        ("thickness: 20", "thickness: 14", "beside the panel's groove"),
    ],
)
def test_what_leaves_no_frame_is_refused_with_the_number(old: str, new: str, said: str) -> None:
    text = framed("{material: box}") if "thickness" in old else framed()
    with pytest.raises(SettingOutError, match=said):
        filled(text.replace(old, new), BAY, box=6.0)


JOINTS = ["", ", joint: loose tenon", ", joint: dowel", ", joint: pocket screw"]


@pytest.mark.kernel
@pytest.mark.parametrize("joint", JOINTS)
@pytest.mark.parametrize(
    "panel", ["{material: thin}", "{material: oak, thickness: 12}"], ids=["sheet", "lumber"]
)
def test_a_frame_is_sound_and_shares_no_wood(joint: str, panel: str) -> None:
    made = filled(framed(panel, joint), BAY)
    assert codes(made) == []
    assert shared_wood(made) == []


@pytest.mark.kernel
@pytest.mark.parametrize("joint", JOINTS)
def test_rails_and_stiles_go_together(joint: str) -> None:
    from tests.helpers.joints import goes_together, laid

    made = filled(framed(joint=joint), BAY)
    for rail in ("upper", "lower"):
        goes_together(laid(made.bench, f"door 1/1/{rail} rail", "door 1/1/left stile"))


@pytest.mark.kernel
def test_a_panel_has_its_room_to_move() -> None:
    """4 mm at each long edge, 1 at each end, and 0.2 between the walls of the groove."""
    from ground.vectors import X, Z, neg
    from tests.helpers.joints import assert_play, laid

    made = filled(framed("{material: oak, thickness: 8}"), BAY)
    for way, part, play in (
        (X, "right stile", 4.0),
        (neg(X), "left stile", 4.0),
        (Z, "upper rail", 1.0),
        (neg(Z), "lower rail", 1.0),
    ):
        pair = laid(made.bench, "door 1/1/panel", f"door 1/1/{part}")
        assert_play(pair.first, (pair.second,), way, play)


def test_a_frame_goes_together_stile_by_stile() -> None:
    from models.parts.directions import knots

    made = filled(framed(), BAY)
    assert list(knots(made.bench.assembly("door").joints)) == []


@settings(max_examples=60)
@given(
    width=st.floats(180.0, 620.0),
    height=st.floats(200.0, 900.0),
    stiles=st.floats(30.0, 90.0),
    rails=st.floats(30.0, 120.0),
    deep=st.floats(3.0, 14.0),
    panel=st.sampled_from(["{material: thin}", "{material: oak, thickness: 9}"]),
)
def test_what_is_accepted_keeps_its_panel_in_its_grooves(
    width: float, height: float, stiles: float, rails: float, deep: float, panel: str
) -> None:
    text = framed(panel).replace("stiles: 50", f"stiles: {stiles:.2f}")
    text = text.replace("rails: 50", f"rails: {rails:.2f}")
    made = tried(text.replace("groove_depth: 8", f"groove_depth: {deep:.2f}"), (width, 400, height))
    if isinstance(made, str):
        assert "mm" in made
        return
    drafts = made.bench.drafts
    lo, hi = bounds(drafts["door 1/1/panel"])
    left = bounds(drafts["door 1/1/left stile"])[1][0]
    right = bounds(drafts["door 1/1/right stile"])[0][0]
    for inside, edge in ((left, lo[0]), (hi[0], right)):
        reach = abs(inside - edge)
        assert 0.0 < reach < deep
    assert left - lo[0] == pytest.approx(hi[0] - right)
    low = bounds(drafts["door 1/1/lower rail"])[1][2]
    assert low - lo[2] == pytest.approx(round(deep, 2) - 1.0)
