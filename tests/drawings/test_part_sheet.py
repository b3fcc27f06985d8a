"""Shop drawings as records: every number worked by hand, nothing left out, nothing colliding."""

import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from drawings.paper import SCALES, SIZES
from drawings.part_sheet import part_sheet
from drawings.records import Issue, Linear, Ordinate
from drawings.title_block import CELLS, LIMITS, furniture, title_block
from ground.quantities import Units
from ground.vectors import X, Y, Z, neg
from models.parts.features import Mortise, Seat
from specs.spec import Paper, Projection, Standard
from tests.helpers.hand_made_parts import (
    board,
    box_bite,
    countersink,
    ease,
    groove,
    hole,
    splayed_leg,
    trim,
)
from tests.helpers.parts_strategy import parts
from tests.helpers.sheets import (
    angles,
    asme,
    collisions,
    crossed,
    distances,
    empty_views,
    iso,
    leader_end,
    note_of,
    sizes,
    stated,
    texts,
)

PANEL = board(
    600,
    200,
    20,
    groove((0, 150, 20), X, (600, 6, 8)),
    hole((50, 40, 20), 5, 12, count=4, pitch=32),
    groove((100, 80, 20), X, (300, 10, 5)),
)


def test_whole_sizes_are_given_once_each():
    sheet = iso(PANEL)
    assert sizes(sheet, "top") == [600, 200]
    assert sizes(sheet, "front") == [20]


def test_a_groove_that_runs_through_is_fixed_by_its_near_wall():
    """Its middle 150 from the front, 6 wide: the near wall at 147."""
    sheet = iso(PANEL)
    assert distances(sheet, "top", "groove-1") == pytest.approx([147])
    assert note_of(sheet, "groove-1") == "groove 6 wide, 8 deep"


def test_a_stopped_groove_is_fixed_by_both_ends_too():
    assert distances(iso(PANEL), "top", "groove-2") == pytest.approx([100, 400, 75])


def test_a_row_of_holes_is_fixed_by_its_first_hole_and_pitch():
    sheet = iso(PANEL)
    assert distances(sheet, "top", "shelf-pin-hole-1") == pytest.approx([50, 40])
    note = "4 × \N{DIAMETER SIGN}5 shelf-pin hole, 12 deep, pitch 32"
    assert note_of(sheet, "shelf-pin-hole-1") == note


def test_rows_that_are_alike_are_worded_once():
    rows = [hole((50, y, 20), 5, 12, count=4, pitch=32) for y in (30, 170)]
    sheet = iso(board(600, 200, 20, *rows))
    assert note_of(sheet, "shelf-pin-hole-2").startswith("2 rows of 4 × ")
    assert distances(sheet, "top", "shelf-pin-hole-2") == pytest.approx([50, 170])


def test_a_part_worked_from_below_is_drawn_from_below():
    """Numbers still start at the left end and the front edge."""
    sheet = iso(board(600, 200, 20, hole((50, 40, 0), 8, 10, into=Z)))
    assert [view.name for view in sheet.views] == ["bottom", "back"]
    assert distances(sheet, "bottom", "shelf-pin-hole-1") == pytest.approx([50, 40])


def test_a_mortise_in_an_edge_is_drawn_in_the_edge_view():
    """40 x 8 about (300, 10) in the front edge: from 280 on, as long as its note says, and 6 up."""
    seat = Seat((300.0, 0.0, 10.0), X, Y)
    mortise = Mortise(seat=seat, length=40, width=8, depth=25, made_by="joint")
    sheet = iso(board(600, 200, 20, mortise))
    assert distances(sheet, "front", "mortise-1") == pytest.approx([280, 6])
    assert note_of(sheet, "mortise-1") == "mortise 40 × 8, 25 deep"


def test_work_on_an_end_calls_for_the_end_view():
    plain, bored = board(400, 200, 20), board(400, 200, 20, hole((400, 60, 8), 8, 30, neg(X)))
    assert [view.name for view in iso(plain).views] == ["top", "front"]
    sheet = iso(bored)
    assert [view.name for view in sheet.views] == ["top", "front", "right"]
    assert sorted(distances(sheet, "right", "shelf-pin-hole-1")) == pytest.approx([8, 60])


def test_an_end_without_room_beside_the_part_lies_level():
    """600 x 200 is 300 long at 1:2: the end, 100 wide, lies under it."""
    sheet = iso(board(600, 200, 20, hole((600, 60, 8), 8, 30, neg(X))))
    assert str(sheet.scale) == "1:2"
    assert [view.name for view in sheet.views] == ["top", "front", "right end, lying"]
    assert sorted(distances(sheet, "right end, lying", "shelf-pin-hole-1")) == [8, 60]
    assert collisions(sheet) == []


def test_work_on_the_far_side_says_so():
    both = board(600, 200, 20, hole((50, 40, 20), 5, 12), hole((90, 60, 0), 8, 10, into=Z))
    assert note_of(iso(both), "shelf-pin-hole-2").endswith(", in the bottom")


def test_a_mitre_has_its_angle_and_its_length():
    """45 degrees over 20: the short side is 580 long, and rises 100 in 100."""
    sheet = iso(board(600, 100, 20, trim((600, 0, 0), (1, 0, 1))))
    assert note_of(sheet, "mitre-1") == "mitre, rise 100.0 in 100, shorter at the top"
    assert angles(sheet, "front", "mitre-1") == pytest.approx([45.0], abs=1e-9)
    assert distances(sheet, "front", "mitre-1") == pytest.approx([580])


def test_a_taper_has_its_angle_and_where_it_ends():
    """40 over 600: 3.814 degrees, 6.7 in 100."""
    sheet = iso(board(600, 100, 20, trim((0, 100, 0), (40, 600, 0))))
    assert note_of(sheet, "mitre-1") == "mitre, rise 6.7 in 100, narrower at the right end"
    assert angles(sheet, "top", "mitre-1") == pytest.approx([math.degrees(math.atan(40 / 600))])
    assert distances(sheet, "top", "mitre-1") == pytest.approx([60])


def test_the_splayed_leg_states_its_splays():
    """Inner faces: tan 17.0012 and tan 12.2595 over the height (worked in the design)."""
    leg = splayed_leg()
    sheet = iso(leg)
    said = " ".join(text.text for text in texts(sheet))
    assert "17.0°" in said
    assert "12.3°" in said
    assert "9.0°" in said


def test_an_angle_without_room_stays_in_the_note():
    """0.4 degrees: an arc's arms would be one line."""
    sheet = iso(board(600, 100, 20, trim((0, 100, 0), (4, 600, 0))))
    assert note_of(sheet, "mitre-1") == "mitre 0.4°, rise 0.7 in 100, narrower at the right end"
    assert angles(sheet, "top", "mitre-1") == []


def test_inches_are_mixed_fractions():
    """600 mm is 23-5/8 to the nearest 1/64; 147 is 5-25/32."""
    sheet = asme(PANEL)
    overall = next(
        d for v in sheet.views for d in v.dimensions if isinstance(d, Linear) and v.name == "top"
    )
    assert overall.text == '23-5/8"'
    near = next(
        d
        for v in sheet.views
        for d in v.dimensions
        if isinstance(d, Ordinate) and "groove-1" in d.states
    )
    assert near.text == '5-25/32"'
    assert near.measured == pytest.approx(147)


def test_iso_is_drawn_in_first_angle_and_asme_in_third():
    """The front edge stands over the broad face in first angle, under it in third."""
    places = {}
    for sheet in (iso(PANEL), asme(PANEL)):
        top, front = sheet.views[:2]
        places[sheet.projection] = front.at[1] > top.at[1]
    assert places == {Projection.FIRST_ANGLE: True, Projection.THIRD_ANGLE: False}


def test_the_title_block_is_filled_and_cut_to_length():
    long = replace(PANEL, label="P1", name="a panel with a name that is much too long for it")
    sheet = part_sheet(
        long,
        empty_views(long),
        units=Units.MM,
        standard=Standard.ISO,
        paper=Paper.A3,
        piece=Issue(
            piece="Hall chest",
            quantity=3,
            sheet=2,
            sheets=9,
            owner="a small shop by the river",
            creator="the one who draws, and draws",
            approved="the one who looks",
            issued="2024-05-01",
        ),
    )
    block = sheet.title
    for name, limit in LIMITS.items():
        assert 0 < len(block.field(name)) <= limit, name
    assert block.field("legal owner") == "a small shop by the river"
    assert block.field("quantity") == "3"
    assert block.field("sheet number") == "2 / 9"
    assert block.field("title").startswith("P1 a panel with")
    assert block.field("scale") == str(sheet.scale)
    assert sheet.scale in SCALES


def test_a_field_that_nobody_filled_stays_with_a_line_to_write_on():
    """The owner, who draws, who approves, the date: four free fields, four lines, no word."""

    def lines(issue: Issue) -> int:
        block = title_block(issue, {"title": "P1 board"}, "1:1")
        done = furniture(Paper.A3, Projection.FIRST_ANGLE, block)
        names = {text.text for text in done.texts}
        assert {name for row in CELLS for name, _ in row} <= names
        return len(done.ruled)

    some = Issue(piece="Hall chest")
    every = replace(some, owner="a shop", creator="one", approved="two", issued="2024-05-01")
    assert lines(some) - lines(every) == 4
    assert title_block(some, {}, "1:1").field("legal owner") == ""


def test_the_largest_scale_that_fits_is_taken():
    assert str(iso(board(60, 40, 20)).scale) == "2:1"
    assert str(iso(board(200, 80, 20)).scale) == "1:1"
    assert str(iso(board(1680, 430, 20)).scale) == "1:5"  # 336 of the 378 inside the frame
    assert str(iso(board(1900, 430, 20)).scale) == "1:10"


def test_the_end_of_a_long_part_stands_by_itself_and_larger():
    """1340 x 72: 268 long at 1:5, which leaves no room beside it; its end is 72 at 1:2."""
    mortise = Mortise(seat=Seat((1340.0, 36.0, 13.0), Y, neg(X)), length=40, width=8, depth=20,
                      made_by="joint")  # fmt: skip
    sheet = iso(board(1340, 72, 26, mortise, hole((300, 20, 26), 8, 12)))
    assert str(sheet.scale) == "1:5"
    end = next(view for view in sheet.views if view.name == "right")
    assert end.by == pytest.approx(2.5)
    assert sorted(distances(sheet, "right", "mortise-1")) == pytest.approx([9, 16])
    assert any(note.text.text == "right end (1:2)" for note in sheet.notes)
    assert collisions(sheet) == []
    assert crossed(sheet) == []


def test_a_part_too_full_for_its_paper_takes_a_larger_sheet():
    rows = [hole((20 + 9 * n, 20 + 3 * n, 20), 3 + n / 8, 8) for n in range(45)]
    full = board(500, 200, 20, *rows)
    sheet = part_sheet(
        full,
        empty_views(full),
        units=Units.MM,
        standard=Standard.ISO,
        paper=Paper.A4,
        piece="Test piece",
    )
    assert SIZES[sheet.paper][0] > SIZES[Paper.A4][0]
    assert collisions(sheet) == []
    assert crossed(sheet) == []


def test_a_leader_ends_on_its_feature():
    sheet = iso(PANEL)
    u, v = leader_end(sheet, "shelf-pin-hole-1")
    top = sheet.views[0]
    factor = sheet.scale.factor
    assert ((u - top.at[0]) / factor, (v - top.at[1]) / factor) == pytest.approx((50, 40), abs=2.6)


MIXED = board(
    480,
    300,
    22,
    trim((480, 0, 0), (1, 0, 1)),
    groove((0, 280, 22), X, (480, 6, 8)),
    groove((0, 20, 22), X, (480, 6, 8)),
    hole((50, 40, 22), 5, 12, count=8, pitch=32),
    hole((50, 260, 22), 5, 12, count=8, pitch=32),
    hole((60, 150, 22), 35, 12),
    hole((300, 150, 0), 8, 10, into=Z),
    hole((0, 90, 11), 8, 25, into=X),
    hole((0, 210, 11), 8, 25, into=X),
    countersink((400, 70, 22), 9),
    box_bite((-1, 140, -1), (30, 160, 23), -1, 3, -3),
    ease("top", "front", 3),
)


@pytest.mark.parametrize("part", [PANEL, MIXED, splayed_leg()], ids=["panel", "mixed", "leg"])
@pytest.mark.parametrize("draw", [iso, asme])
def test_every_feature_is_stated_and_nothing_collides(part, draw):
    sheet = draw(part)
    assert {feature.id for feature in part.features} - stated(sheet) == set()
    assert collisions(sheet) == []
    assert crossed(sheet) == []


# a part of forty features shrinks for minutes: the first one found says enough
@settings(
    max_examples=25,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow],
)
@given(parts())
def test_any_part_is_stated_without_collisions(part):
    for sheet in (iso(part), asme(part)):
        assert {feature.id for feature in part.features} - stated(sheet) == set()
        assert collisions(sheet) == []
        assert crossed(sheet) == []
        assert all(math.isfinite(d.measured) for view in sheet.views for d in view.dimensions)
