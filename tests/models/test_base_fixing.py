"""What holds the case on its base: as many as asked, clear of joints, in sound wood."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.findings import Severity
from ground.vectors import Plane, X, Y, Z, dot, neg, norm, sub
from models.parts.features import Hole, HoleKind
from models.parts.joints.screw import NUMBER_8
from models.setting_out.bearers import Bearer, places, shared
from models.setting_out.bench import Bench
from models.setting_out.trouble import SettingOutError
from tests.helpers.bases import BLOCKS, asked, based, bedside, codes, reading_room, splayed
from tests.helpers.joints import assert_comes_apart, assert_no_clash, laid


def bearer(length: float, *taken: tuple[float, float]) -> Bearer:
    return Bearer(
        key="rail",
        run=X,
        up=Z,
        out=neg(Y),
        inner=Plane(Y, 0.0),
        thickness=26.0,
        low=0.0,
        high=70.0,
        span=(0.0, length),
        taken=taken,
    )


def test_eight_on_a_long_base_are_three_along_and_one_at_either_end():
    long, side = bearer(1304), bearer(266)
    assert shared(8, (long, long, side, side)) == (3, 3, 1, 1)


def test_four_on_a_small_base_are_one_a_rail():
    long, side = bearer(425), bearer(352)
    assert shared(4, (long, long, side, side)) == (1, 1, 1, 1)


@given(st.integers(1, 40), st.floats(100, 3000), st.floats(100, 3000))
def test_every_fastener_asked_for_has_a_rail(count, long, side):
    shares = shared(count, (bearer(long), bearer(long), bearer(side), bearer(side)))
    assert sum(shares) == count
    assert min(shares) >= 0
    if count >= 4:
        assert min(shares) >= 1


def test_places_are_even_where_all_is_free():
    """Three on 600: 100, 300, 500."""
    assert places(bearer(600), 3, 12) == pytest.approx((100, 300, 500))


def test_a_place_that_is_taken_moves_to_the_nearest_free_one():
    """Half a fastener of 12 beside a stretcher from 290 to 330: 278."""
    assert places(bearer(600, (290, 330)), 1, 12) == pytest.approx((278,))


def test_no_room_is_no_place():
    assert places(bearer(200, (0, 90), (110, 200)), 1, 12) is None


@given(
    st.floats(100, 2000),
    st.integers(1, 8),
    st.lists(st.tuples(st.floats(0, 2000), st.floats(1, 200)), max_size=4),
)
def test_places_keep_clear_of_what_is_taken_and_of_one_another(length, count, blocks):
    taken = tuple((start, start + wide) for start, wide in blocks)
    found = places(bearer(length, *taken), count, 12)
    if found is None:
        return
    assert len(found) == count
    for place in found:
        assert 12 - 1e-5 <= place <= length - 12 + 1e-5
        assert all(place <= a - 12 + 1e-5 or place >= b + 12 - 1e-5 for a, b in taken)
    assert all(b - a >= 24 - 1e-5 for a, b in pairwise(found))


@pytest.fixture(scope="module")
def bench() -> Bench:
    return reading_room()


def holes(bench: Bench, key: str, kind: HoleKind) -> list[Hole]:
    draft = bench.drafts[key]
    return [f.moved(draft.frame) for f in draft.features if isinstance(f, Hole) and f.kind is kind]


def test_eight_plates_have_eight_recesses_and_sixteen_screws(bench: Bench):
    recesses = sum(
        len(holes(bench, f"base/apron {name}", HoleKind.RECESS))
        for name in ("front", "back", "left", "right")
    )
    assert recesses == 8
    assert len(holes(bench, "case/bottom", HoleKind.PILOT)) == 8
    lines = {(line.name, line.size): 0 for line in bench.hardware}
    for line in bench.hardware:
        lines[line.name, line.size] += line.quantity
    assert lines["wood screw", "4.2 x 16 mm"] == 16
    plates = [size for (name, _), size in lines.items() if name == "figure-eight fastener"]
    assert plates == [8]


def test_recesses_are_in_the_apron_s_top_and_break_out_inwards_only(bench: Bench):
    """20 across, 3 past the inner edge; 26 / cos 4 - 17 = 9.06 mm of rim outside."""
    for recess in holes(bench, "base/apron front", HoleKind.RECESS):
        assert recess.seat.origin[2] == pytest.approx(190)
        inner_edge = 24 + (8 + 26) / math.cos(math.radians(4))
        assert recess.seat.origin[1] + recess.diameter / 2 == pytest.approx(inner_edge + 3)


def test_plates_keep_clear_of_stretchers_blocks_and_tenons(bench: Bench):
    for recess in holes(bench, "base/apron front", HoleKind.RECESS):
        x = recess.seat.origin[0]
        for divider in (580, 1100):
            assert abs(x - divider) >= 13 + 10
        assert 164 + 80 + 10 <= x <= 1680 - 164 - 80 - 10


@pytest.mark.parametrize("make", [reading_room, bedside])
def test_pilots_are_never_shank_size_and_stop_inside_the_panel(make):
    """90 % of the root, .112 in: 2.6 mm in hardwood, against a shank of 4.2."""
    made = make()
    panel = made.drafts["case/bottom"].blank.thickness
    for hole in holes(made, "case/bottom", HoleKind.PILOT):
        assert hole.diameter == pytest.approx(2.6)
        assert hole.diameter < NUMBER_8.shank
        assert hole.depth is not None
        assert hole.depth <= panel - 4


def test_the_two_screws_of_a_plate_stand_as_far_apart_as_its_holes(bench: Bench):
    below = [hole.seat.origin for hole in holes(bench, "case/bottom", HoleKind.PILOT)]
    for recess in holes(bench, "base/apron left", HoleKind.RECESS):
        nearest = min(norm(sub(at, recess.seat.origin)) for at in below)
        assert nearest == pytest.approx(21)


@pytest.mark.kernel
def test_plates_and_their_screws_share_no_wood_and_part_downwards(bench: Bench):
    made = laid(bench, "case/bottom", "base/apron front")
    assert_no_clash(made.pieces)
    assert_comes_apart(made)
    assert dot(made.ways[1], Z) == 1.0


@pytest.mark.parametrize("kind", ["slotted clip", "screw", "screw block"])
def test_other_fasteners_are_made(kind: str):
    made = reading_room(fixing=kind)
    assert not [code for code in codes(made) if code.startswith("not-made")]
    assert not [f for f in made.findings if f.severity is Severity.ERROR]
    assert len(holes(made, "case/bottom", HoleKind.PILOT)) == 8


@pytest.mark.kernel
def test_screws_through_leaning_aprons_stay_inside_them():
    made = laid(reading_room(fixing="screw", more="", rest=""), "case/bottom", "base/apron left")
    assert_no_clash(made.pieces)
    assert_comes_apart(made)


def test_more_than_fit_is_found_with_the_room_that_there_is():
    made = reading_room(fixing="screw block", rest=BLOCKS.replace("80", "125"))
    (found, *_) = [f for f in made.findings if f.code == "fit.fixing_place"]
    assert found.severity is Severity.ERROR
    assert found.value is not None
    assert found.limit is not None


@pytest.mark.parametrize(
    ("kind", "panel", "told"),
    [
        ("screw", "12.9 mm", {(12.9, 13.0)}),
        ("screw", "13 mm", set()),
        ("screw block", "12.9 mm", {(12.9, 13.0)}),
        ("screw block", "13 mm", set()),
    ],
)
def test_a_bottom_too_thin_for_a_screw_is_found_with_what_it_should_be(kind, panel, told):
    """8 of thread, and 5 left over the screw's point."""
    made = based(asked(splayed(fixing=kind, rest=""), panel=panel))
    found = [f for f in made.findings if f.code == "fit.fixing_screw"]
    assert {(f.value, f.limit) for f in found} == told
    assert all(f.severity is Severity.ERROR for f in found)


def test_an_apron_too_thin_for_the_screws_of_a_block_is_found():
    made = reading_room(thickness=12, fixing="screw block", rest="", joint="{kind: dowel}")
    found = [f for f in made.findings if f.code == "fit.fixing_screw"]
    assert found
    assert "the rail is 12.0 mm thick" in found[0].message


def test_an_apron_too_thin_for_a_recess_is_found_with_its_rim():
    """18 / cos 4 - 17 = 1.04 mm."""
    made = reading_room(thickness=18)
    rims = [f.value for f in made.findings if f.code == "fit.recess_rim"]
    assert min(value for value in rims if value) == pytest.approx(1.044, abs=1e-3)


def test_blocks_that_meet_are_refused_at_their_place():
    with pytest.raises(SettingOutError) as refused:
        bedside(rest="corner_blocks: {material: oak, thickness: 3/4, legs: 8}")
    assert refused.value.problems[0].path == ("base", "corner_blocks", "legs")
    assert "two blocks meet" in refused.value.problems[0].message


def test_blocks_that_do_not_reach_past_the_leg_are_refused_at_their_place():
    with pytest.raises(SettingOutError) as refused:
        reading_room(rest=BLOCKS.replace("80", "40"))
    assert refused.value.problems[0].path == ("base", "corner_blocks", "legs")


def test_a_stretcher_that_runs_into_a_block_is_found():
    """Corners of the aprons at 164.4, a block of 80 and half a stretcher: free from 257.4 on."""
    made = based(asked(splayed()), (250.0, 1100.0))
    (found,) = [f for f in made.findings if f.code == "fit.stretcher_place"]
    assert found.severity is Severity.ERROR
    assert found.value is not None
    assert -9 < found.value < -6
