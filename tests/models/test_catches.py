"""Latches, catches, hinges and pulls as fittings: their holes by hand, their solids, no clash."""

import pytest

from models.parts.features import Hole, HoleKind
from models.parts.part import PartKind
from tests.helpers.rooms import codes, filled, shared_wood
from tests.models.test_doors import PAIR, bounds, holes

BAY = (542.8, 412.0, 412.8)


def one(rest: str, width: float = 300.0) -> tuple[str, tuple[float, float, float]]:
    """A single door of board in a bay 500 high."""
    return f"  doors: {{material: board, gap: 2, hinge: cup, {rest}}}", (width, 400.0, 500.0)


def test_a_push_latch_stands_behind_the_door_by_what_it_sinks() -> None:
    """Door 20 thick, sinks 3, 1 of room: its block begins at Y 24; body 10 across, 40 deep.

    The free edge is at 398, its middle 30 in; the block hangs 30 down from the panel at 600.
    """
    made = filled(*one("latch: latch"))
    lo, hi = bounds(made.bench.drafts["door 1/1/push latch block"])
    assert lo == pytest.approx((398.0 - 30 - 22, 24.0, 570.0))
    assert hi == pytest.approx((398.0 - 30 + 22, 74.0, 600.0))
    ((mouth, body),) = holes(made, "door 1/1/push latch block", HoleKind.FITTING)
    assert mouth == pytest.approx((368.0, 24.0, 585.0))
    assert (body.diameter, body.depth) == (10.0, 40.0)
    rod = bounds(made.bench.drafts["door 1/1/push latch"])
    assert (rod[0][1], rod[1][1]) == pytest.approx((20.0, 63.0))
    assert codes(made) == []


def test_its_plate_is_let_into_the_door_and_goes_with_it() -> None:
    """12 across and 1.5 deep; its screw's pilot ends at 0.3 x 20 = 6 from the face."""
    made = filled(*one("latch: latch"))
    ((at, bed),) = holes(made, "door 1/1/door", HoleKind.RECESS)
    assert at == pytest.approx((368.0, 20.0, 585.0))
    assert (bed.diameter, bed.depth) == (12.0, 1.5)
    pilot = next(hole for _, hole in holes(made, "door 1/1/door", HoleKind.PILOT) if hole.count < 2)
    assert pilot.depth == pytest.approx(4.5)
    assert made.bench.drafts["door 1/1/push latch plate"].mover == "door 1/1"
    assert made.bench.drafts["door 1/1/push latch"].mover is None


def test_its_block_is_screwed_up_into_the_panel() -> None:
    """Block 30 and panel 18, 4 left over the point: 40 is the longest screw, 10 in the panel."""
    made = filled(*one("latch: latch"))
    ((_, pilot),) = holes(made, "case/above", HoleKind.PILOT)
    assert (pilot.count, pilot.pitch, pilot.depth) == (2, 28.0, 10.0)
    clearance = holes(made, "door 1/1/push latch block", HoleKind.CLEARANCE)
    assert clearance[0][1].diameter >= 4.2
    assert clearance[0][1].diameter > pilot.diameter


def test_a_catch_touches_the_closed_door_and_steps_aside_for_a_stop() -> None:
    """A stop block of 60 in the middle of 300: 220 to 280. The catch stays at 398 - 30 - 22."""
    made = filled(*one("catch: catch, stop: block"))
    lo, _ = bounds(made.bench.drafts["door 1/1/magnetic catch block"])
    assert lo[:2] == pytest.approx((346.0, 20.0))
    narrow = filled(*one("catch: catch, stop: block", width=260.0))
    stop = bounds(narrow.bench.drafts["doors of opening 1/stop"])
    block = bounds(narrow.bench.drafts["door 1/1/magnetic catch block"])
    assert block[0][0] >= stop[1][0] + 1.0 or block[1][0] <= stop[0][0] - 1.0


def test_a_door_with_no_place_for_a_catch_is_found_with_its_number() -> None:
    made = filled(*one("catch: catch, stop: block", width=120.0))
    (found,) = (f for f in made.bench.findings if f.code == "fitting.no_room_for_catch")
    assert found.value == pytest.approx(116.0)


def test_a_stop_is_of_what_edges_the_panels_where_it_names_nothing() -> None:
    made = filled(*one("stop: strip"))
    assert made.bench.drafts["doors of opening 1/stop"].material == "oak"
    assert codes(made) == []


def test_every_fitting_has_a_solid_and_the_doors_carry_what_moves() -> None:
    made = filled(PAIR.replace("latch: latch", "catch: catch, pull: knob"), BAY)
    drafts = made.bench.drafts.values()
    bought = {draft.name: draft.mover for draft in drafts if draft.kind is PartKind.HARDWARE}
    assert set(bought) == {"hinge cup", "hinge arm and plate", "magnetic catch", "strike plate"} | {
        "knob"
    }
    assert bought["hinge arm and plate"] is None
    assert bought["hinge cup"] == bought["knob"] == bought["strike plate"] == "door 1/2"


def test_a_knob_stands_out_in_front_and_a_bar_on_two_feet() -> None:
    """A knob 30 across, 25 out; a bar on screws 96 apart is 96 + 12 long and 32 out."""
    knob = filled(*one("catch: catch, pull: knob"))
    lo, hi = bounds(knob.bench.drafts["door 1/1/pull 1"])
    assert (lo[1], hi[1]) == pytest.approx((-25.0, 0.0))
    assert hi[0] - lo[0] == pytest.approx(30.0)
    bar = filled(*one("catch: catch, pull: {kind: bar, holes: 96}"))
    lo, hi = bounds(bar.bench.drafts["door 1/1/pull 1"])
    size = tuple(b - a for a, b in zip(lo, hi, strict=True))
    assert size == pytest.approx((12.0, 32.0, 108.0))
    assert hi[1] == pytest.approx(0.0)


@pytest.mark.kernel
@pytest.mark.parametrize(
    "rest",
    [
        "latch: latch",
        "catch: catch, pull: knob",
        "catch: ball, pull: {kind: bar, holes: 96}",
        "catch: catch, stop: block",
        "catch: catch, edging: {kind: solid, material: oak, thickness: 8}",
        "catch: ball, edging: {kind: solid, material: oak, thickness: 6, corners: mitre}",
    ],
)
@pytest.mark.parametrize("hinge", ["cup", "sprung", "butt"])
def test_fittings_share_nothing_closed_or_on_the_way(rest: str, hinge: str) -> None:
    from tests.helpers.moving import meets, shapes

    text = f"  doors: {{count: 2, material: board, gap: 2, hinge: {hinge}, {rest}}}"
    made = filled(text, BAY)
    assert shared_wood(made) == []
    piece = made.bench.assembly("room")
    placed = shapes(piece)
    for mover in piece.movers:
        for part in (0.02, 0.5, 1.0):
            assert meets(piece, placed, mover, part) == []


def test_a_magnet_is_let_into_a_stop_strip_where_there_is_one() -> None:
    """18 deep (12 of magnet and 5 behind are 17), 2 x (2 + 4 + 6) = 24 high: middle 12 down."""
    made = filled(*one("catch: catch, stop: strip"))
    strip = "doors of opening 1/stop"
    lo, hi = bounds(made.bench.drafts[strip])
    assert (hi[1] - lo[1], hi[2] - lo[2]) == pytest.approx((18.0, 24.0))
    ((mouth, body),) = holes(made, strip, HoleKind.FITTING)
    assert mouth == pytest.approx((368.0, 20.0, 588.0))
    assert (body.diameter, body.depth) == (10.0, 12.0)
    assert not [key for key in made.bench.drafts if key.endswith("block")]


def test_a_ball_is_bored_into_the_doors_upper_edge_through_its_edging() -> None:
    """Edging 6: through it, and 12 - 6 = 6 deep in the door; its plate half the gap high."""
    edging = "edging: {kind: solid, material: oak, thickness: 6}"
    made = filled(*one(f"catch: ball, {edging}"))
    ((_, inside),) = holes(made, "door 1/1/door", HoleKind.FITTING)
    assert (inside.diameter, inside.depth) == (8.0, 6.0)
    top = next(
        draft
        for key, draft in made.bench.drafts.items()
        if key.startswith("door 1/1/door/edging")
        and bounds(draft)[1][2] == pytest.approx(598.0)
        and bounds(draft)[0][2] == pytest.approx(592.0)
    )
    assert [f.depth for f in top.features if isinstance(f, Hole)] == [None]
    ((_, pilots),) = holes(made, "case/above", HoleKind.PILOT)
    assert (pilots.count, pilots.pitch) == (2, 20.0)
    lo, hi = bounds(made.bench.drafts["door 1/1/ball catch plate"])
    assert hi[2] - lo[2] == pytest.approx(1.0)


def test_plates_of_hinges_and_shelf_pins_share_one_row() -> None:
    """268.8 between hinges becomes 288, so plates stand at 44.4 + 2 and 76.4 + 2 from the floor.

    First hinge (408.8 - 288) / 2 = 60.4 above the door's end: plate holes at 2 + 60.4 -/+ 16. Every
    pin on that line stands a whole number of 32 mm from them.
    """
    text = PAIR + "\n  shelves: {count: 1, material: ply}"
    made = filled(text, BAY)
    plates = [at for at, _ in holes(made, "case/left", HoleKind.FITTING)]
    assert [at[2] - 100.0 for at in plates] == pytest.approx([46.4, 334.4])
    for at, hole in holes(made, "case/left", HoleKind.SHELF_PIN):
        steps = (at[2] - plates[0][2]) / 32.0
        assert steps == pytest.approx(round(steps))
        assert hole.pitch in (0.0, 32.0)
    assert codes(made) == []


def test_pins_at_written_places_leave_the_hinges_where_they_are() -> None:
    text = PAIR + "\n  shelves: {places: [190], material: ply}"
    plates = holes(filled(text, BAY), "case/left", HoleKind.FITTING)
    assert [at[2] for at, _ in plates] == pytest.approx([156.0, 424.8])
