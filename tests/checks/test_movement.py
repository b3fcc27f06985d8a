"""Solid wood through the year: fronts in their openings, panels, boxes, glue across the grain."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.across import find_across
from checks.air import unknown
from checks.fronts import LEAST, find_fronts
from ground.findings import Severity
from specs.spec import Spec
from tests.helpers.checked import all_found, found, made
from tests.helpers.examples import BEDSIDE, DEMO, changed, spec

FLAT = ("cut: quartered", "cut: flat")


def stack(species: str, *, cut: str = "flat", gap: float = 2.00333, box: str = "panel") -> Spec:
    """Two fronts of 206.58 in an opening 419.17 high: 3 x 2.00333 + 2 x 206.58."""
    text = (
        "drawers: {heights: [1 share, 1 share],"
        f" front: {{material: oak, thickness: 20, gap: {gap}, cut: {cut}}},"
        f" box: {{material: {box}{', thickness: 14' if box == 'oak' else ''}, corner: butt}},"
        " bottom: {material: thin, layers: 1, groove_depth: 6, up: 13}, runner: slide}"
    )
    return made(text, size="{length: 500, height: 455.17, depth: 400}", species=species)


def at(asked: Spec, dry: float, damp: float) -> Spec:
    return asked.model_copy(
        update={"shop": asked.shop.model_copy(update={"humidity": (dry, damp)})}
    )


def test_the_demos_fronts_keep_0_96_mm_quartered():
    """115.657 and 173.486 high: 2 - (115.657 + 173.486) / 2 x 0.00180 x 3.996 = 0.96."""
    mine = found(spec(DEMO), find_fronts)["movement.fronts_keep"]
    assert mine.value == pytest.approx(0.96, abs=0.005)
    assert "flat -0.11, quartered 0.96" in mine.message


def test_the_demos_fronts_lose_0_11_mm_too_much_flat_sawn():
    """2 - (115.657 + 173.486) / 2 x 0.00365 x 3.996 = -0.11."""
    mine = found(changed(DEMO, FLAT), find_fronts)["movement.fronts_bind"]
    assert mine.severity is Severity.ERROR
    assert mine.value == pytest.approx(-0.11, abs=0.005)
    assert "quartered boards" in mine.message
    assert "fixed at its middle" in mine.message


def test_the_gap_that_is_suggested_is_enough():
    mine = found(changed(DEMO, FLAT), find_fronts)["movement.fronts_bind"]
    gap = re.search(r"a gap of ([\d.]+) mm", mine.message)
    assert gap
    wider = changed(
        DEMO,
        FLAT,
        ("cut: flat, thickness: 20, gap: 2}", f"cut: flat, thickness: 20, gap: {gap[1]}}}"),
    )
    assert set(found(wider, find_fronts)) == {"movement.fronts_keep"}


def test_beech_fronts_that_grow_4_7_mm_each_bind():
    """206.58 x 0.00431 x (M - 8) = 4.7 where M = 13.28 %: near 70.6 % at 20 degrees."""
    mine = found(at(stack("American beech"), 35, 70.6), find_fronts)["movement.fronts_bind"]
    assert mine.severity is Severity.ERROR
    grown = 2.00333 - (mine.value or 0.0)  # half of each of two neighbours: one front's growth
    assert grown == pytest.approx(4.7, abs=0.03)


def test_just_inside_and_just_outside_of_what_should_be_left():
    """White oak, flat: 2.00333 - 206.58 x 0.00365 x (M - 8) = 0.5 where M = 9.994, 54.37 %."""
    inside, outside = at(stack("white oak"), 40, 54.2), at(stack("white oak"), 40, 54.6)
    assert set(found(inside, find_fronts)) == {"movement.fronts_keep"}
    mine = found(outside, find_fronts)["movement.fronts_tight"]
    assert mine.severity is Severity.WARNING
    assert mine.value is not None
    assert 0.4 < mine.value < LEAST


def test_gaps_that_gape_in_the_driest_month():
    mine = found(at(stack("American beech"), 15, 40), find_fronts)["movement.fronts_gape"]
    assert mine.value is not None
    assert mine.value > 4


def test_a_wood_from_memory_is_used_and_marked():
    mine = found(stack("European beech"), find_fronts)
    (one,) = mine.values()
    assert "from memory (low confidence)" in one.message


def test_a_wood_of_which_nothing_is_known_is_said_and_not_worked():
    asked = stack("bog oak")
    assert found(asked, find_fronts) == {}
    (one,) = all_found(asked, unknown)
    assert one.code == "movement.unknown"


DOORS = (
    "doors: {{count: {count}, kind: slab, material: oak, thickness: 20, cut: {cut}, gap: {gap},"
    " hinge: hinge, stop: block, pull: knob}}"
)


@pytest.mark.parametrize(
    ("count", "cut", "gap", "code"),
    [
        (1, "flat", 2, "movement.fronts_bind"),  # 320 x 0.00365 x 4 = 4.7 at the free edge
        (2, "flat", 2, "movement.fronts_bind"),  # 2 x 160 meet in the middle
        (1, "flat", 7.5, "movement.fronts_gape"),  # room when damp, too much when dry
        (1, "quartered", 2.9, "movement.fronts_keep"),  # 320 x 0.00180 x 4 = 2.3
    ],
)
def test_solid_doors_move_at_the_edge_that_opens(count, cut, gap, code):
    doors = DOORS.format(count=count, cut=cut, gap=gap)
    asked = made(doors, size="{length: 360, height: 400, depth: 330}")
    assert set(found(asked, find_fronts)) == {code}


def test_a_solid_divider_glued_across_its_grain_is_found_and_a_sheet_is_not():
    divided = (
        "{{split: upright, dividers: {{material: {what}, joint: {{kind: dado, depth: 6}}}},"
        " into: [{{size: 1 share, open: true}}, {{size: 1 share, open: true}}]}}"
    )

    def codes(what: str) -> set[str]:
        asked = made(divided.format(what=what), size="{length: 700, height: 400, depth: 330}")
        return set(found(asked, find_across))

    assert "movement.cross_grain" in codes("oak, thickness: 18")
    assert "movement.cross_grain" not in codes("panel")


def test_narrow_aprons_are_not_called_cross_grain():
    assert "movement.cross_grain" not in found(spec(BEDSIDE), find_across)


def test_a_solid_box_that_rubs_on_its_kicker():
    """Sides of cherry 115 high grow 115 x 0.00248 x 4 = 1.1 mm; 0.5 mm is not room enough."""
    tight = changed(BEDSIDE, ("opens: pull}", "opens: pull, above: 0.5 mm}"))
    mine = found(tight, find_across)["movement.box_rubs"]
    assert mine.severity is Severity.ERROR
    room = re.search(r"room above ([\d.]+) mm", mine.message)
    assert room
    looser = changed(BEDSIDE, ("opens: pull}", f"opens: pull, above: {room[1]} mm}}"))
    assert "movement.box_rubs" not in found(looser, find_across)


def test_slots_of_a_tall_front_are_too_short_when_it_moves_far():
    """A slot lets the front move 2.5 mm; a screw 80 mm from the middle moves 80 x C x dM."""
    assert "movement.slot_short" not in found(at(stack("American beech"), 35, 60), find_across)
    far = at(stack("American beech"), 5, 94)
    assert found(far, find_across)["movement.slot_short"].severity is Severity.WARNING


@settings(max_examples=8)
@given(st.floats(41, 85), st.floats(0.5, 10))
def test_a_damper_month_never_leaves_more(damp, more):
    def left(humidity: float) -> float:
        (one,) = found(at(stack("white oak"), 40, humidity), find_fronts).values()
        flat = re.search(r"\(flat (-?[\d.]+)", one.message)
        assert flat
        return float(flat[1])

    assert left(damp + more) <= left(damp)
