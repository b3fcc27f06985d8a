"""Drawers, worked by hand: fronts, boxes from their runners, bottoms, pulls, what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import Vec, neg
from models.parts.features import Channel, ChannelKind, Hole, HoleKind, Waste
from models.setting_out.draft import Draft
from models.setting_out.trouble import SettingOutError
from tests.helpers.rooms import Room, codes, filled, tried

STACK = """
  drawers:
    heights: [1 share, 1 share, 1.5 shares]
    front: {{material: oak, cut: quartered, thickness: 20, gap: 2}}
    box: {{material: box, corner: {corner}}}
    bottom: {{material: thin, layers: {layers}, groove_depth: 6, up: {up}}}
    runner: {runner}
"""
PINNED = "{kind: rabbet, pins: {diameter: 8, count: 2, species: black walnut}}"
DEMO = (520.0, 412.0, 412.8)
CORNERS = (
    "butt",
    "rabbet",
    PINNED,
    "lock rabbet",
    "{kind: half-blind dovetail, slope: 1:7}",
    "{kind: through dovetail, slope: 1:8}",
    "box joint",
)


def stack(corner: str = PINNED, *, runner: str = "push", layers: int = 2, up: float = 13.0) -> str:
    """The demo's stack of three."""
    return STACK.format(corner=corner, runner=runner, layers=layers, up=up)


def single(height: str, corner: str, runner: str, up: float) -> str:
    """One drawer that fills its opening."""
    return (
        f"  drawers: {{heights: [{height}], front: {{material: oak, thickness: 20, gap: 2}}, "
        f"box: {{material: box, corner: {corner}}}, "
        f"bottom: {{material: thin, groove_depth: 5, up: {up}}}, runner: {runner}}}"
    )


def size(made: Room, key: str) -> list[float]:
    """A blank's length, width and thickness, to 0.001 mm."""
    return [round(value, 3) for value in made.bench.drafts[key].blank.size]


def bounds(draft: Draft) -> tuple[Vec, Vec]:
    """A blank's box in piece axes."""
    ends = (draft.frame.point((0.0, 0.0, 0.0)), draft.frame.point(draft.blank.size))
    (a, b, c), (d, e, f) = ends
    return (min(a, d), min(b, e), min(c, f)), (max(a, d), max(b, e), max(c, f))


def test_the_demos_fronts_share_what_four_gaps_leave() -> None:
    """412.8 - 4 x 2 = 404.8 over 3.5 shares: 115.657, 115.657, 173.486; 520 - 2 x 2 = 516 wide."""
    made = filled(stack(), DEMO)
    fronts = [size(made, f"drawer 1/{n}/front") for n in (1, 2, 3)]
    assert fronts == [[516.0, 115.657, 20.0], [516.0, 115.657, 20.0], [516.0, 173.486, 20.0]]
    lo, hi = bounds(made.bench.drafts["drawer 1/1/front"])
    assert lo == pytest.approx((102.0, 0.0, 100.0 + 412.8 - 2.0 - 115.657), abs=1e-3)
    assert hi == pytest.approx((618.0, 20.0, 510.8), abs=1e-3)


def test_the_demos_sums() -> None:
    """20 + 3 + 350 + 39 = 412; 520 - 42 = 478; 478 + 15 + 15 = 508."""
    made = filled(stack(), DEMO)
    sums = [s for s in made.bench.sums if s.subject == "drawer 1/1"]
    assert [[value for _, value in s.terms] for s in sums] == [
        [20.0, 3.0, 350.0, 39.0],
        [520.0, -42.0],
        [478.0, 15.0, 15.0],
    ]
    assert [s.total for s in sums] == [412.0, 478.0, 508.0]


def test_the_demos_box() -> None:
    """Sides 350 long; 115.657 - 14 - 7 = 94.657 high; ends 508 - 2 x 7.5 = 493 long.

    Bottom: inside 478 x 320, 5 into every groove: 488 x 330; two sheets of 6 are 12 thick.
    """
    made = filled(stack(), DEMO)
    assert size(made, "drawer 1/1/side left") == [350.0, 94.657, 15.0]
    assert size(made, "drawer 1/1/box front") == [493.0, 94.657, 15.0]
    assert size(made, "drawer 1/1/bottom") == [488.0, 330.0, 12.0]
    bottom = made.bench.drafts["drawer 1/1/bottom"]
    assert (bottom.blank.layers, bottom.over) == (2, (5.0, 5.0, 0.0))
    lo, _ = bounds(bottom)
    side, _ = bounds(made.bench.drafts["drawer 1/1/side left"])
    assert lo[2] - side[2] == pytest.approx(13.0)


def test_the_bedsides_box() -> None:
    """In inches: opening 552.45 - 2 x 18.161 = 516.128 wide, 139.7 high, back panel at 451.993.

    Front 139.7 - 2 x 1.984375 = 135.731 high; box 516.128 - 42 + 2 x 14.2875 = 502.703 outside,
    135.731 - 14 - 7 = 114.731 high. Lap 0.3 x 14.2875 = 4.28625: sides 381 - 2 x 4.286 = 372.428.
    Depth 19.05 + 3 + 381 + 48.943 = 451.993.
    """
    inside = """
  drawers:
    heights: [1 share]
    front: {material: oak, thickness: 3/4 in, gap: 5/64 in}
    box: {material: box, corner: {kind: half-blind dovetail, slope: 1:7}}
    bottom: {material: thin, layers: 1, groove_depth: 3/16 in, up: 1/2 in}
    runner: fifteen
    pull: {kind: knob, count: 1}
"""
    made = filled(inside, (516.128, 451.993, 139.7), box=14.2875, thin=5.207)
    assert size(made, "drawer 1/1/side left")[1:] == [114.731, 14.287]
    assert size(made, "drawer 1/1/box front")[0] == pytest.approx(502.703)
    assert size(made, "drawer 1/1/side left")[0] == pytest.approx(381.0 - 8.5725, abs=1e-3)
    assert made.bench.sums[0].total == pytest.approx(451.993)
    assert codes(made) == []


def test_a_side_mount_slide_fixes_the_outside_width() -> None:
    """Opening 1084, slides 12.7: 1084 - 25.4 = 1058.6 outside, less 2 x 12 = 1034.6 inside."""
    made = filled(single("1 share", "lock rabbet", "slide", 12.0), (1084.0, 500.0, 120.0), box=12.0)
    outside, inside = (s for s in made.bench.sums if "width" in s.what)
    assert (outside.total, inside.total) == pytest.approx((1058.6, 1034.6))
    assert size(made, "drawer 1/1/box front")[0] == pytest.approx(1058.6)
    lo, hi = bounds(made.bench.drafts["drawer 1/1/runner left"])
    assert (lo[0], hi[0]) == pytest.approx((100.0, 112.7))


def test_taped_fronts_are_their_opening_less_gaps_with_the_tape_on() -> None:
    """Front 300 - 2 x 3 = 294 wide, 140 - 6 = 134 high; tape 1: panel 292 x 132.

    The long tapes run over the short ones' ends: 294 and 132 long.
    """
    inside = (
        "  drawers: {heights: [1 share], front: {material: ply, gap: 3, edging: {kind: veneer tape,"
        " thickness: 1}}, box: {material: box, corner: rabbet}, "
        "bottom: {material: thin, groove_depth: 5, up: 13}, runner: under, pull: {kind: knob}}"
    )
    made = filled(inside, (300.0, 450.0, 140.0))
    front = made.bench.drafts["drawer 1/1/front"]
    assert front.blank.size == pytest.approx((292.0, 132.0, 18.0))
    assert front.edged == pytest.approx((294.0, 134.0, 18.0))
    tapes = sorted(
        draft.blank.length
        for key, draft in made.bench.drafts.items()
        if key.startswith("drawer 1/1/front/")
    )
    assert tapes == pytest.approx([132.0, 132.0, 294.0, 294.0])


def test_the_bottoms_groove_shows_nowhere() -> None:
    """Through dovetails: grooves stop 6 inside both outer faces, so they come out on no end."""
    made = filled(stack("{kind: through dovetail, slope: 1:8}", layers=1), DEMO)
    for key in ("side left", "side right", "box front", "box back"):
        draft = made.bench.drafts[f"drawer 1/1/{key}"]
        (groove,) = (
            f for f in draft.features if isinstance(f, Channel) and f.kind is ChannelKind.GROOVE
        )
        start = groove.seat.origin[0] * groove.seat.along[0]
        ends = sorted((start, start + groove.length))
        length = draft.blank.length
        if groove.seat.along[0] < 0:
            ends = [length + ends[0], length + ends[1]]
        assert ends[0] >= 8.9
        assert ends[1] <= length - 8.9


def test_the_back_is_notched_and_bored_for_the_runner() -> None:
    """Notch from the side's inner face to 35 from the box's outside, 13 high, each side.

    Hook holes 7 in from the inner face, 13 + 11 = 24 up, 6 across and 10 deep.
    """
    made = filled(stack(), DEMO)
    back = made.bench.drafts["drawer 1/1/box back"]
    notches = [f for f in back.features if isinstance(f, Waste)]
    hooks = [f for f in back.features if isinstance(f, Hole) and f.kind is HoleKind.FITTING]
    assert (len(notches), len(hooks)) == (2, 2)
    lo, _ = bounds(made.bench.drafts["drawer 1/1/side left"])
    mouths = sorted(back.frame.point(hook.seat.origin) for hook in hooks)
    assert mouths[0] == pytest.approx((lo[0] + 15.0 + 7.0, 370.0, lo[2] + 24.0))
    assert [(hook.diameter, hook.depth) for hook in hooks] == [(6.0, 10.0)] * 2


def test_a_show_front_is_held_by_two_fixed_and_two_slotted_screws() -> None:
    """Box front 15, front 20: a screw of at most 31, so 30 long, 15 into the front."""
    made = filled(stack(), DEMO)
    box = made.bench.drafts["drawer 1/1/box front"].features
    fixed = [f for f in box if isinstance(f, Hole) and f.kind is HoleKind.CLEARANCE]
    slots = [f for f in box if isinstance(f, Channel) and f.kind is ChannelKind.SLOT]
    pilots = [
        f
        for f in made.bench.drafts["drawer 1/1/front"].features
        if isinstance(f, Hole) and f.kind is HoleKind.PILOT
    ]
    assert (len(fixed), len(slots), len(pilots)) == (2, 2, 4)
    assert {pilot.depth for pilot in pilots} == {15.0}
    assert pilots[0].diameter < fixed[0].diameter


def test_two_bars_stand_540_apart_with_holes_160_apart() -> None:
    """From the middle of the front: -350, -190, 190, 350."""
    inside = single("1 share", "rabbet", "slide", 12.0)[:-1]
    inside += ", pull: {kind: bar, holes: 160, count: 2, spacing: 540}}"
    made = filled(inside, (1084.0, 500.0, 120.0))
    front = made.bench.drafts["drawer 1/1/front"]
    holes = [f for f in front.features if isinstance(f, Hole) and f.kind is HoleKind.CLEARANCE]
    middle = 100.0 + 1084.0 / 2
    xs = sorted(front.frame.point(hole.seat.origin)[0] - middle for hole in holes)
    assert xs == pytest.approx([-350.0, -190.0, 190.0, 350.0])


def test_a_runner_too_long_is_an_error_with_its_number() -> None:
    """Depth 360: 20 + 3 + 350 = 373 is 13 too long; 337 is what there is."""
    made = filled(stack(), (520.0, 360.0, 412.8))
    (found,) = {(f.code, f.value, f.limit) for f in made.bench.findings if "depth" in f.code}
    assert found == ("fit.runner_depth", 350.0, 337.0)
    assert size(made, "drawer 1/1/side left")[0] == 350.0


@pytest.mark.parametrize(("up", "said"), [(12.4, True), (12.5, False), (13.5, False), (14, True)])
def test_the_bottom_lies_within_half_a_millimetre_of_the_recess(up: float, *, said: bool) -> None:
    made = filled(stack(runner="under", layers=1, up=up), DEMO)
    assert ("fit.bottom_recess" in codes(made)) is said


def test_a_pull_on_a_push_runner_and_nothing_to_pull_are_found() -> None:
    with_pull = stack().rstrip() + "\n    pull: {kind: knob}\n"
    assert "fitting.pull_on_push_runner" in codes(filled(with_pull, DEMO))
    assert "fitting.nothing_to_pull" in codes(filled(stack(runner="under"), DEMO))
    assert codes(filled(stack(), DEMO)) == []


def test_a_front_too_low_for_its_box_is_refused_with_its_number() -> None:
    """A front 50 high: 50 - 14 - 7 = 29; 13 + 6.2 + 20 = 39.2 is wanted, so 60.2 at least."""
    with pytest.raises(SettingOutError) as caught:
        filled(single("1 share", "rabbet", "under", 13.0), (520.0, 412.0, 54.0))
    (problem,) = caught.value.problems
    assert problem.path == ("inside", "drawers", "heights", 0)
    assert problem.message.endswith("make it 60.2 mm at least")


def test_fixed_heights_over_the_opening_are_refused_at_their_place() -> None:
    inside = stack().replace("[1 share, 1 share, 1.5 shares]", "[250, 250, 1 share]")
    with pytest.raises(SettingOutError) as caught:
        filled(inside, DEMO)
    assert caught.value.problems[0].path == ("inside", "drawers", "heights")


def test_a_drawer_slides_out_by_its_runners_length() -> None:
    mover = filled(stack(), DEMO).bench.movers[0]
    assert (mover.id, mover.axis, mover.limit) == ("drawer 1/1", neg((0.0, 1.0, 0.0)), 350.0)


@given(
    st.floats(250.0, 1200.0),
    st.floats(300.0, 700.0),
    st.floats(60.0, 400.0),
    st.sampled_from(CORNERS),
    st.sampled_from(["under", "push", "slide", "wooden"]),
)
@settings(max_examples=60)
def test_what_is_accepted_keeps_its_gaps_and_sums(
    width: float, depth: float, height: float, corner: str, runner: str
) -> None:
    made = tried(single("1 share", corner, runner, 13.0), (width, depth, height))
    if isinstance(made, str):
        assert any(digit in made for digit in "0123456789")
        return
    lo, hi = bounds(made.bench.drafts["drawer 1/1/front"])
    assert (lo[0], hi[0]) == pytest.approx((102.0, 98.0 + width))
    assert (lo[2], hi[2]) == pytest.approx((102.0, 98.0 + height))
    depths = made.bench.sums[0]
    assert depths.total == pytest.approx(depth)
    if dict(depths.terms)["spare"] < 0.0:
        assert "fit.runner_depth" in codes(made)
    sides = [bounds(made.bench.drafts[f"drawer 1/1/side {hand}"]) for hand in ("left", "right")]
    outside = next(s for s in made.bench.sums if s.what == "outside width")
    assert sides[1][1][0] - sides[0][0][0] == pytest.approx(outside.total)
    assert sides[0][0][0] - 100.0 == pytest.approx(100.0 + width - sides[1][1][0])
    assert sides[0][1][2] < hi[2]


@pytest.mark.kernel
@pytest.mark.parametrize("corner", CORNERS)
def test_every_box_is_sound_and_shares_no_wood(corner: str) -> None:
    assert_no_clash(filled(stack(corner, layers=1), DEMO))


@pytest.mark.kernel
@pytest.mark.parametrize("runner", ["under", "slide", "wooden"])
def test_every_runner_leaves_its_drawer_free_all_the_way(runner: str) -> None:
    """Closed, half-way and open, no drawer shares wood with anything that stands still."""
    from tests.helpers.moving import meets, shapes

    piece = filled(stack(runner=runner, layers=1), DEMO).bench.assembly("room")
    placed = shapes(piece)
    for mover in piece.movers:
        for part in (0.0, 0.5, 1.0):
            assert meets(piece, placed, mover, part) == []


@pytest.mark.kernel
def test_a_front_with_mitred_solid_edging_shares_no_wood() -> None:
    """Front 296 wide, 136 high; strips 8 thick, each as long as the outside, both ends mitred."""
    inside = (
        "  drawers: {heights: [1 share], front: {material: ply, edging: {kind: solid, "
        "material: oak, thickness: 8, corners: mitre}}, box: {material: box, corner: rabbet}, "
        "bottom: {material: thin, groove_depth: 5, up: 13}, runner: under, pull: {kind: knob}}"
    )
    made = filled(inside, (300.0, 450.0, 140.0))
    strips = [d for key, d in made.bench.drafts.items() if key.startswith("drawer 1/1/front/")]
    assert sorted(strip.blank.length for strip in strips) == pytest.approx([136, 136, 296, 296])
    assert {len(strip.features) for strip in strips} == {2}
    assert_no_clash(made)


def test_screws_of_a_front_step_aside_from_its_pull() -> None:
    """Knobs 290 apart come through at 215, 145 from the middle; screws at 216.6 move 30 in."""
    inside = single("1 share", "rabbet", "under", 13.0)[:-1]
    low = (520.0, 412.0, 100.0)
    plain = filled(inside + "}", low)
    knobs = filled(inside + ", pull: {kind: knob, count: 2, spacing: 290}}", low)
    for made, aside in ((plain, 0.0), (knobs, 30.0)):
        box = made.bench.drafts["drawer 1/1/box front"]
        pilots = made.bench.drafts["drawer 1/1/front"]
        xs = sorted(
            pilots.frame.point(f.seat.origin)[0]
            for f in pilots.features
            if isinstance(f, Hole) and f.kind is HoleKind.PILOT
        )
        assert xs[0] == pytest.approx(100.0 + 21.0 + 0.2 * 478.0 + aside)
        assert box.features


@pytest.mark.kernel
def test_every_joint_of_a_box_goes_together() -> None:
    from tests.helpers.joints import goes_together, laid

    bench = filled(stack("lock rabbet", layers=1, runner="slide"), DEMO).bench
    for end, hand in (("front", "left"), ("back", "right")):
        keys = (f"drawer 1/1/box {end}", f"drawer 1/1/side {hand}")
        goes_together(laid(bench, *keys))
    goes_together(laid(bench, "drawer 1/1/box front", "drawer 1/1/bottom"))
    goes_together(laid(bench, "drawer 1/1/box front", "drawer 1/1/front"))


def assert_no_clash(made: Room) -> None:
    """Build every part of the room and assert that no two share wood."""
    from models.solids.clash import clashes
    from models.solids.made import make, solid_of

    piece = made.bench.assembly("room")
    solids = {part.label: solid_of(make(part, views=())) for part in piece.parts}
    names = {part.label: part.name for part in piece.parts}
    found = [
        (names[c.first.split(".")[0]], names[c.second.split(".")[0]], c.volume)
        for c in clashes(piece, solids)
        if c.volume > 1.0
    ]
    assert found == []
