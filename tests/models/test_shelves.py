"""Shelves, worked by hand: places on the grid, rows of holes, dados, what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import Vec, X, Y, Z, neg
from models.parts.features import Channel, ChannelKind, Hole, HoleKind, Seat
from models.parts.lowering import row
from models.setting_out.draft import Draft
from models.setting_out.shelf_boards import even_places
from models.setting_out.shelves import lay_shelves
from models.setting_out.trouble import SettingOutError
from tests.helpers.rooms import Room, codes, filled, room, tried

DOORS = "  doors: {count: 2, material: board, gap: 2, hinge: cup, latch: latch}\n"
EDGED = "edging: {kind: solid, material: oak, thickness: 6}"
BAY = (542.8, 412.0, 412.8)


def bounds(draft: Draft) -> tuple[Vec, Vec]:
    """A blank's box in piece axes."""
    (a, b, c), (d, e, f) = (
        draft.frame.point((0.0, 0.0, 0.0)),
        draft.frame.point(draft.blank.size),
    )
    return (min(a, d), min(b, e), min(c, f)), (max(a, d), max(b, e), max(c, f))


def pin_holes(made: Room, key: str) -> list[Vec]:
    """The mouth of every shelf-pin hole of a panel, in piece axes."""
    draft = made.bench.drafts[key]
    return sorted(
        draft.frame.point(mouth)
        for f in draft.features
        if isinstance(f, Hole) and f.kind is HoleKind.SHELF_PIN
        for mouth in row(f.seat, f.count, f.pitch)
    )


def test_a_shelf_behind_doors_clears_them_and_the_back() -> None:
    """Doors 20 that sink 3, and 2: front 25; back panel 412 less 2: rear 410; 6 of it edging.

    Width 542.8 - 2 x 1 = 540.8; panel 385 - 6 = 379 deep.
    """
    made = filled(f"{DOORS}  shelves: {{count: 1, material: ply, {EDGED}}}", BAY)
    shelf = made.bench.drafts["shelf 1/1"]
    assert shelf.blank.size == pytest.approx((540.8, 379.0, 18.0))
    lo, hi = bounds(shelf)
    assert (lo[0], hi[0]) == pytest.approx((101.0, 641.8))
    assert (lo[1], hi[1]) == pytest.approx((31.0, 410.0))
    assert shelf.edged == pytest.approx((540.8, 385.0, 18.0))


def test_a_shelf_without_a_place_stands_evenly_on_the_grid() -> None:
    """(412.8 - 18) / 2 = 197.4 up; its pins 2.5 lower at 194.9; nearest of 64, 96, ... is 192.

    The underside is 192 + 2.5 = 194.5 up.
    """
    made = filled("  open: true\n  shelves: {count: 1, material: ply}", BAY)
    lo, _ = bounds(made.bench.drafts["shelf 1/1"])
    assert lo[2] - 100.0 == pytest.approx(194.5)
    assert even_places(1, 412.8, 18.0) == pytest.approx((197.4,))


def test_even_places_divide_the_height() -> None:
    """Three shelves 20 thick in 500: (500 - 60) / 4 = 110 between: 110, 240, 370."""
    assert even_places(3, 500.0, 20.0) == pytest.approx((110.0, 240.0, 370.0))


def test_rows_stand_behind_the_door_and_before_the_back() -> None:
    """Front row 20 + 37 = 57; rear row 57 + 10 x 32 = 377, no further than 410 - 32 = 378."""
    made = filled(f"{DOORS}  shelves: {{count: 1, material: ply}}", BAY)
    assert sorted({round(y, 6) for _, y, _ in pin_holes(made, "case/left")}) == [57.0, 377.0]
    left, right = (
        [(y, z) for _, y, z in pin_holes(made, key)] for key in ("case/left", "case/right")
    )
    assert left == right


def test_holes_of_the_grid_that_would_meet_a_hinge_plate_are_left_out() -> None:
    """Plates at Y 57, their holes at 156, 188, 424.8 and 456.8; no pin hole within 7 of one."""
    made = filled(f"{DOORS}  shelves: {{count: 1, material: ply}}", BAY)
    front = [z for _, y, z in pin_holes(made, "case/left") if y == 57.0]
    assert front
    assert all(abs(z - plate) >= 7.0 for z in front for plate in (156.0, 188.0, 424.8, 456.8))


def test_written_places_are_kept() -> None:
    made = filled("  open: true\n  shelves: {places: [100, 250], material: ply}", BAY)
    lows = [bounds(made.bench.drafts[f"shelf 1/{n}"])[0][2] for n in (1, 2)]
    assert lows == pytest.approx([200.0, 350.0])
    heights = {round(z, 6) for _, _, z in pin_holes(made, "case/left")}
    assert {197.5, 347.5} <= heights


def test_a_row_may_be_limited_to_a_few_holes() -> None:
    made = filled("  open: true\n  shelves: {count: 1, material: ply, pins: pins}", BAY)
    assert len(pin_holes(made, "case/left")) == 2 * 3


def test_each_shelf_rests_on_four_pins() -> None:
    """A pin 5 thick: its top is the shelf's underside; 12 in the panel and 8 out of it."""
    made = filled("  open: true\n  shelves: {count: 1, material: ply}", BAY)
    pins = [d for key, d in made.bench.drafts.items() if "/pin " in key]
    shelf, _ = bounds(made.bench.drafts["shelf 1/1"])
    assert len(pins) == 4
    for pin in pins:
        lo, hi = bounds(pin)
        assert hi[2] == pytest.approx(shelf[2])
        assert hi[0] - lo[0] == pytest.approx(20.0)
    assert [(line.name, line.quantity) for line in made.bench.hardware] == [("shelf pin", 4)]


def test_rows_face_to_face_in_one_panel_are_half_a_pitch_apart() -> None:
    """Pins 12 deep from both sides: 12 + 12 + 2 > 18, so the second rows move 16 back."""
    made = room("  open: true\n  shelves: {count: 1, material: ply}", BAY)
    first = [(y, z) for y in (37.0, 357.0) for z in range(164, 440, 32)]
    made.bench.cut(
        "case/left",
        [
            Hole(
                kind=HoleKind.SHELF_PIN,
                seat=Seat((82.0, y, float(z)), Z, X),
                diameter=5.0,
                depth=12.0,
                made_by="test",
            )
            for y, z in first
        ],
    )
    lay_shelves(made.bench, made.spec, made.leaf)
    mine = [(y, z) for x, y, z in pin_holes(made, "case/left") if x > 99.0]
    assert {y for y, _ in mine} == {53.0, 373.0}
    assert codes(made) == []


def test_a_place_that_meets_other_holes_is_an_error() -> None:
    made = room("  open: true\n  shelves: {places: [200], material: ply}", BAY)
    made.bench.cut(
        "case/right",
        [
            Hole(
                kind=HoleKind.PILOT,
                seat=Seat((660.8, y, 297.5), Y, neg(X)),
                diameter=3.0,
                depth=12.0,
                made_by="test",
            )
            for y in (21.0, 37.0, 53.0, 341.0, 357.0, 373.0)
        ],
    )
    lay_shelves(made.bench, made.spec, made.leaf)
    assert "drilling.holes_meet" in codes(made)


def test_a_fixed_shelf_is_housed_in_a_third_of_each_panel() -> None:
    """18 / 3 = 6 in each: 542.8 + 12 = 554.8 long; edging as long as the clear opening."""
    made = filled(
        f"  open: true\n  shelves: {{count: 1, material: ply, support: dado, {EDGED}}}", BAY
    )
    shelf = made.bench.drafts["shelf 1/1"]
    assert shelf.blank.length == pytest.approx(554.8)
    strip = made.bench.drafts["shelf 1/1/edging front"]
    assert strip.blank.length == pytest.approx(542.8)
    (dado,) = (f for f in made.bench.drafts["case/left"].features if isinstance(f, Channel))
    assert (dado.kind, dado.depth) == (ChannelKind.DADO, 6.0)
    assert dado.width == pytest.approx(18.1)


def test_dados_that_together_take_over_half_the_panel_are_found() -> None:
    """6 from this side and 4 from the other are 10 of 18, more than 9."""
    made = room("  open: true\n  shelves: {count: 1, material: ply, support: dado}", BAY)
    made.bench.cut(
        "case/left",
        [
            Channel(
                kind=ChannelKind.DADO,
                seat=Seat((82.0, 0.0, 310.0), Y, X),
                length=400.0,
                width=18.0,
                depth=4.0,
                made_by="test",
            )
        ],
    )
    lay_shelves(made.bench, made.spec, made.leaf)
    (found,) = made.bench.findings
    assert (found.code, found.value, found.limit) == ("joint.opposed_dados", 10.0, 9.0)


def test_a_shelf_that_meets_the_door_is_an_error() -> None:
    made = filled(f"{DOORS}  shelves: {{count: 1, material: ply, set_back: 10}}", BAY)
    found = next(f for f in made.bench.findings if f.code == "fit.shelf_meets_door")
    assert (found.value, found.limit) == (10.0, 23.0)


def test_too_many_shelves_are_refused_with_the_number() -> None:
    """Six of 18 in 300: (300 - 108) / 7 = 27.4 between."""
    with pytest.raises(SettingOutError, match=r"leaves 27\.4 mm") as caught:
        filled("  open: true\n  shelves: {count: 6, material: ply}", (500.0, 400.0, 300.0))
    assert caught.value.problems[0].path == ("inside", "shelves", "count")


@given(
    st.floats(200.0, 1200.0),
    st.floats(200.0, 700.0),
    st.floats(200.0, 1800.0),
    st.integers(1, 6),
    st.sampled_from((DOORS, "  open: true\n")),
)
@settings(max_examples=60)
def test_what_is_accepted_lies_in_its_opening(
    width: float, depth: float, height: float, count: int, front: str
) -> None:
    text = front + f"  shelves: {{count: {count}, material: ply}}"
    made = tried(text, (width, depth, height))
    if isinstance(made, str):
        assert "mm" in made
        return
    tops = 100.0
    for number in range(1, count + 1):
        lo, hi = bounds(made.bench.drafts[f"shelf 1/{number}"])
        assert lo[2] > tops
        assert (lo[0] - 100.0, 100.0 + width - hi[0]) == pytest.approx((1.0, 1.0))
        assert lo[1] == pytest.approx(25.0 if front == DOORS else 0.0)
        assert hi[1] == pytest.approx(depth - 2.0)
        tops = hi[2]
    assert tops < 100.0 + height
    rows = pin_holes(made, "case/left")
    assert all(0.0 < y < depth and 100.0 < z < 100.0 + height for _, y, z in rows)


@pytest.mark.kernel
@pytest.mark.parametrize(
    "text",
    [
        f"{DOORS}  shelves: {{count: 1, material: ply, {EDGED}}}",
        f"  open: true\n  shelves: {{count: 2, material: ply, {EDGED}}}",
        f"  open: true\n  shelves: {{count: 2, material: ply, support: dado, {EDGED}}}",
    ],
)
def test_shelves_share_no_wood_with_anything(text: str) -> None:
    from models.solids.clash import clashes
    from models.solids.made import make, solid_of

    piece = filled(text, BAY).bench.assembly("room")
    solids = {part.label: solid_of(make(part, views=())) for part in piece.parts}
    assert [c for c in clashes(piece, solids) if c.volume > 0.001] == []


@pytest.mark.kernel
def test_a_fixed_shelf_goes_together() -> None:
    from tests.helpers.joints import goes_together, laid

    made = filled("  open: true\n  shelves: {count: 1, material: ply, support: dado}", BAY)
    goes_together(laid(made.bench, "shelf 1/1", "case/left"))
