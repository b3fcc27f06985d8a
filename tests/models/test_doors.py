"""Doors, worked by hand: sizes, hinges in both halves, what contradicts what, the whole swing."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.findings import Severity
from ground.vectors import Vec
from models.parts.features import Channel, ChannelKind, Hole, HoleKind
from models.setting_out.draft import Draft
from models.setting_out.hinges import DoorSize, hinge_count, hinge_findings, hinge_heights
from models.setting_out.trouble import SettingOutError
from specs.hardware import CupHinge, FittingKind
from tests.helpers.rooms import Room, codes, filled, tried

PAIR = "  doors: {count: 2, material: board, gap: 2, hinge: cup, latch: latch}"
SHELF = "\n  shelves: {count: 1, material: ply, edging: {kind: solid, material: oak, thickness: 6}}"
BAY = (542.8, 412.0, 412.8)
CUP = CupHinge(kind=FittingKind.CUP_HINGE)


def bounds(draft: Draft) -> tuple[Vec, Vec]:
    """A blank's box in piece axes."""
    (a, b, c), (d, e, f) = (
        draft.frame.point((0.0, 0.0, 0.0)),
        draft.frame.point(draft.blank.size),
    )
    return (min(a, d), min(b, e), min(c, f)), (max(a, d), max(b, e), max(c, f))


def holes(made: Room, key: str, kind: HoleKind) -> list[tuple[Vec, Hole]]:
    """Mouth (piece axes, a row's first) and hole, in order of height."""
    draft = made.bench.drafts[key]
    found = [
        (draft.frame.point(f.seat.origin), f)
        for f in draft.features
        if isinstance(f, Hole) and f.kind is kind
    ]
    return sorted(found, key=lambda pair: (round(pair[0][2], 6), round(pair[0][0], 6)))


def test_a_pair_shares_what_three_gaps_leave() -> None:
    """(542.8 - 3 x 2) / 2 = 268.4 wide, 412.8 - 2 x 2 = 408.8 high; flush at Y 0."""
    made = filled(PAIR, BAY)
    left = bounds(made.bench.drafts["door 1/1/door"])
    right = bounds(made.bench.drafts["door 1/2/door"])
    assert left[0] == pytest.approx((102.0, 0.0, 102.0))
    assert left[1] == pytest.approx((370.4, 20.0, 510.8))
    assert right[0][0] - left[1][0] == pytest.approx(2.0)
    assert right[1][0] == pytest.approx(640.8)


def test_cups_and_plates_are_bored_in_both_halves() -> None:
    """Cup's centre 5 + 17.5 = 22.5 from the door's edge, 35 across and 12.5 deep of 20.

    Plates at Y 20 + 37 = 57, two holes 32 apart about the hinge. Hinges 70 from the door's ends:
    Z 102 + 70 = 172 and 510.8 - 70 = 440.8.
    """
    made = filled(PAIR, BAY)
    cups = holes(made, "door 1/1/door", HoleKind.HINGE_CUP)
    assert [mouth for mouth, _ in cups] == [
        pytest.approx((124.5, 20.0, 172.0)),
        pytest.approx((124.5, 20.0, 440.8)),
    ]
    assert {(hole.diameter, hole.depth) for _, hole in cups} == {(35.0, 12.5)}
    plates = holes(made, "case/left", HoleKind.FITTING)
    assert [mouth for mouth, _ in plates] == [
        pytest.approx((100.0, 57.0, 156.0)),
        pytest.approx((100.0, 57.0, 424.8)),
    ]
    assert {(hole.count, hole.pitch) for _, hole in plates} == {(2, 32.0)}
    screws = holes(made, "door 1/1/door", HoleKind.PILOT)
    assert screws[0][0] == pytest.approx((134.0, 20.0, 149.5))


def test_hinges_stand_further_apart_than_the_door_is_wide() -> None:
    """408.8 high, 268.4 wide: 100 from the ends would leave 208.8; 70 leaves 268.8."""
    door = DoorSize(width=268.4, height=408.8, thick=20.0, mass=1.9)
    assert hinge_heights(CUP, door) == pytest.approx((70.0, 338.8))
    assert hinge_findings("door", CUP, door) == []
    wide = DoorSize(width=300.0, height=408.8, thick=20.0, mass=2.0)
    (found,) = hinge_findings("door", CUP, wide)
    assert found.code == "fitting.hinge_spacing"
    assert found.value == pytest.approx(268.8)
    assert found.limit == 300.0


def test_two_hinges_want_room_for_both_in_a_low_door() -> None:
    """Half of either: (45 + 8) / 2 + 2 = 28.5, so 57 between their middles.

    127 high: a fifth is 25.4, at least 35 from the end: 127 - 70 = 57. 126 high: 56.
    """
    fits = DoorSize(width=50.0, height=127.0, thick=20.0, mass=0.5)
    assert hinge_findings("door", CUP, fits) == []
    (found,) = hinge_findings("door", CUP, DoorSize(width=50.0, height=126.0, thick=20.0, mass=0.5))
    assert (found.code, found.severity) == ("fitting.hinges_meet", Severity.ERROR)
    assert found.value == pytest.approx(56.0)
    assert found.limit == pytest.approx(57.0)


@pytest.mark.parametrize(
    ("height", "mass", "count"),
    [(409.0, 1.9, 2), (1016.0, 6.8, 2), (1017.0, 2.0, 3), (900.0, 15.0, 4), (2600.0, 5.0, 6)],
)
def test_hinges_are_counted_by_height_and_mass(height: float, mass: float, count: int) -> None:
    """The chart: 2 to 1016 mm and 6.8 kg, 3 to 1524 and 13.6, 4 to 2032 and 20.4, 5 to 2540."""
    assert hinge_count(height, mass) == count


def test_a_thin_door_cannot_take_the_cup() -> None:
    """14 - 12.5 = 1.5 behind the cup, 2 at least."""
    door = DoorSize(width=200.0, height=500.0, thick=14.0, mass=1.0)
    (found,) = hinge_findings("door", CUP, door)
    assert (found.code, found.value) == ("fitting.cup_depth", 1.5)


def test_a_single_door_hangs_where_it_is_told() -> None:
    text = "  doors: {{material: board, hinge: cup, catch: catch, pull: {{kind: knob}}, hung: {0}}}"
    right = filled(text.format("right"), (300.0, 400.0, 500.0))
    (mover,) = right.bench.movers
    assert mover.axis == (0.0, 0.0, 1.0)
    assert mover.origin[0] == pytest.approx(398.0)
    assert holes(right, "case/left", HoleKind.FITTING) == []
    left = filled(text.format("left"), (300.0, 400.0, 500.0))
    assert left.bench.movers[0].axis == (0.0, 0.0, -1.0)
    pull = holes(left, "door 1/1/door", HoleKind.CLEARANCE)
    assert pull[0][0] == pytest.approx((398.0 - 40.0, 0.0, 350.0))


def test_butt_hinges_are_let_in_on_both_sides() -> None:
    """Leaves 2 thick, gap 2: each let in 1; three pilots under each."""
    text = "  doors: {material: oak, thickness: 20, hinge: butt, catch: catch}"
    made = filled(text, (300.0, 400.0, 500.0))
    for key in ("case/left", "door 1/1/door"):
        beds = [
            f
            for f in made.bench.drafts[key].features
            if isinstance(f, Channel) and f.kind is ChannelKind.RECESS
        ]
        assert [(bed.depth, bed.length, bed.width) for bed in beds] == [(1.0, 16.0, 60.0)] * 2
        pilots = [hole for _, hole in holes(made, key, HoleKind.PILOT) if hole.count > 1]
        assert [hole.count for hole in pilots] == [3, 3]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("hinge: sprung, latch: latch", "fitting.latch_fights_hinge"),
        ("hinge: cup, latch: latch, pull: {kind: knob}", "fitting.pull_on_push_latch"),
        ("hinge: cup, latch: latch, stop: block", "fitting.stop_blocks_latch"),
        ("hinge: cup", "fitting.door_swings_in"),
    ],
)
def test_fittings_that_contradict_one_another_are_found(text: str, code: str) -> None:
    made = filled(f"  doors: {{material: board, {text}}}", (250.0, 400.0, 500.0))
    assert code in codes(made)


def test_the_demos_fittings_do_not_contradict() -> None:
    made = filled(PAIR, BAY)
    assert codes(made) == []


def test_plates_keep_clear_of_what_is_bored_from_the_other_side() -> None:
    """A hole 12 deep behind the lower plate hole: 11 + 12 + 2 > 18, so the hinge moves 8 up."""
    from ground.vectors import X, Z, neg
    from models.parts.features import Seat
    from models.setting_out.doors import lay_doors
    from tests.helpers.rooms import room

    made = room(PAIR, BAY)
    made.bench.cut(
        "case/left",
        (
            Hole(
                kind=HoleKind.PILOT,
                seat=Seat((82.0, 57.0, 156.0), Z, X),
                diameter=2.0,
                depth=12.0,
                made_by="test",
            ),
        ),
    )
    lay_doors(made.bench, made.spec, made.leaf)
    assert neg(X) == (-1.0, 0.0, 0.0)
    cups = holes(made, "door 1/1/door", HoleKind.HINGE_CUP)
    assert cups[0][0][2] == pytest.approx(180.0)


def test_an_opening_too_small_for_doors_is_refused_with_its_number() -> None:
    with pytest.raises(SettingOutError, match=r"47\.0 mm wide"):
        filled(PAIR, (100.0, 400.0, 400.0))


@given(
    st.floats(90.0, 1200.0),
    st.floats(100.0, 1500.0),
    st.integers(1, 2),
    st.floats(1.5, 4.0),
)
@settings(max_examples=60)
def test_what_is_accepted_keeps_its_gaps(
    width: float, height: float, count: int, gap: float
) -> None:
    text = f"  doors: {{count: {count}, material: board, gap: {gap}, hinge: cup, latch: latch}}"
    made = tried(text, (width, 400.0, height))
    if isinstance(made, str):
        assert "mm wide" in made
        return
    edges = [100.0]
    for number in range(1, count + 1):
        lo, hi = bounds(made.bench.drafts[f"door 1/{number}/door"])
        edges += [lo[0], hi[0]]
        assert (lo[2] - 100.0, 100.0 + height - hi[2]) == pytest.approx((gap, gap))
        cups = holes(made, f"door 1/{number}/door", HoleKind.HINGE_CUP)
        apart = cups[-1][0][2] - cups[0][0][2]
        if apart <= hi[0] - lo[0] - 1e-6:
            assert "fitting.hinge_spacing" in codes(made)
        assert lo[2] + 17.5 < cups[0][0][2]
        assert cups[-1][0][2] < hi[2] - 17.5
    edges.append(100.0 + width)
    gaps = [edges[i + 1] - edges[i] for i in range(0, len(edges), 2)]
    assert gaps == pytest.approx([gap] * (count + 1))


@pytest.mark.kernel
@pytest.mark.parametrize("hinge", ["cup", "sprung", "butt"])
def test_doors_swing_all_the_way_past_the_shelf_behind_them(hinge: str) -> None:
    """Closed, half open and open, no door shares wood with anything else."""
    from tests.helpers.moving import meets, shapes

    text = PAIR.replace("hinge: cup", f"hinge: {hinge}") + SHELF
    piece = filled(text, BAY).bench.assembly("room")
    placed = shapes(piece)
    for mover in piece.movers:
        for part in (0.0, 0.02, 0.1, 0.5, 1.0):
            assert meets(piece, placed, mover, part) == []


@pytest.mark.kernel
@pytest.mark.parametrize("hinge", ["cup", "sprung", "butt"])
def test_hinges_are_cut_in_the_wood_of_both_halves(hinge: str) -> None:
    from tests.helpers.joints import goes_together, laid

    made = filled(PAIR.replace("hinge: cup", f"hinge: {hinge}"), BAY)
    goes_together(laid(made.bench, "case/left", "door 1/1/door"))


@pytest.mark.kernel
@pytest.mark.parametrize("stop", ["block", "strip"])
def test_a_stop_lies_against_the_doors_inside(stop: str) -> None:
    """It begins at Y 20, hangs 18 down from the panel above, and no door meets it on its way."""
    from tests.helpers.moving import meets, shapes

    text = PAIR.replace("latch: latch", f"stop: {{kind: {stop}, material: oak}}")
    made = filled(text, BAY)
    lo, hi = bounds(made.bench.drafts["doors of opening 1/stop"])
    assert (lo[1], hi[2] - lo[2]) == pytest.approx((20.0, 18.0))
    assert hi[2] == pytest.approx(512.8)
    piece = made.bench.assembly("room")
    placed = shapes(piece)
    for mover in piece.movers:
        assert [meets(piece, placed, mover, part) for part in (0.0, 0.1, 1.0)] == [[], [], []]
