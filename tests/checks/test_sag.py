"""What sags too much, what does not, and that what is suggested is enough."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.limits import shelf_test
from checks.members import members
from checks.sag import LEFT_OF_GAP, bend, find_sag
from ground.findings import Severity
from specs.loads import Loads
from tests.helpers.checked import case, found, looked
from tests.helpers.examples import BEDSIDE, CHEST, changed, spec
from tests.helpers.to_check import loaded, on_legs

RAIL = "rails: {under_top: {material: ash, height: 60, thickness: 18}}"
SHELF = "shelves: {{count: 1, material: panel, support: {support}{more}}}"


def shelf(support: str = "shelf pins", more: str = "") -> str:
    return SHELF.format(support=support, more=more)


def test_the_chests_top_comes_down_on_its_drawer_without_the_rail():
    """1084 of 18 mm plywood under 400 N and its own 80 N: it passes L/144 (7.5) and jams."""
    mine = found(changed(CHEST, (RAIL, "rails: {}")), find_sag)["sag.top"]
    assert mine.severity is Severity.ERROR
    assert mine.limit == pytest.approx(3.0 - LEFT_OF_GAP)
    assert mine.value is not None
    assert 2.5 < mine.value < 6.8
    assert "jams" in mine.message
    assert "F1.1" in mine.message


def test_the_rail_keeps_the_chests_top_off_its_drawer():
    assert "sag.top" not in found(spec(CHEST), find_sag)


def test_a_wider_gap_clears_the_top_of_its_drawer():
    looser = changed(CHEST, (RAIL, "rails: {}"), ("gap: 3,", "gap: 6,"))
    assert found(looser, find_sag)["sag.top"].severity is Severity.NOTE  # it shows, no more


def test_an_mdf_shelf_worked_by_hand():
    """764 clear, 18 MDF, 150 N and its own weight: 5 w L^4 / 384 E I and the shear."""
    piece = looked(case(shelf(), loads=Loads(shelf=150)))
    (member,) = [one for one in members(piece) if one.code == "sag.shelf"]
    bent = bend(piece, member)
    assert bent is not None
    deep = member.panel.size[1]
    span = 800 - 2 * 18
    along = 150 / member.panel.size[0] + 740e-9 * 9.80665 * 18 * deep
    by_hand = 5 * along * span**4 / (384 * 2200 * deep * 18**3 / 12)
    by_hand += along * span**2 / 8 / (2200 / 16 * 5 / 6 * deep * 18)  # shear
    assert bent.span == pytest.approx(span)
    assert bent.now == pytest.approx(by_hand, rel=0.005)
    assert bent.later == pytest.approx(by_hand * 3.25, rel=0.005)


@pytest.mark.parametrize(("support", "force"), [("shelf pins", 400), ("dado", 600)])
def test_a_shelf_that_is_too_weak_is_found_and_what_is_suggested_is_enough(support, force):
    """In a dado the shelf and its load are longer by the dados, the span is the same."""
    loads = Loads(shelf=force, top=50)
    mine = found(case(shelf(support), loads=loads), find_sag)["sag.shelf"]
    assert mine.severity is Severity.ERROR
    thick = re.search(r"enough would be ([\d.]+) mm thick", mine.message)
    assert thick
    better = case(shelf(support), panel=float(thick[1]), loads=loads)
    mended = found(better, find_sag).get("sag.shelf")
    assert mended is None or mended.severity is not Severity.ERROR


def test_the_lip_that_is_suggested_is_enough_by_hand():
    """MDF 292 x 18 and oak 20 x lip, flush on top; 764 clear under 400 N and its own weight."""
    loads = Loads(shelf=400, top=50)
    edging = ", edging: {kind: solid, material: oak, thickness: 20}"
    spec = case(shelf(more=edging), loads=loads)
    mine = found(spec, find_sag)["sag.shelf"]
    lip = re.search(r"a solid front edging (\d+) mm high", mine.message)
    assert lip
    high = float(lip[1])
    n, a1 = 12273 / 2200, 292 * 18
    a2 = n * 20 * high
    middle = (a1 * 9 + a2 * high / 2) / (a1 + a2)
    inertia = 292 * 18**3 / 12 + a1 * (middle - 9) ** 2
    inertia += n * 20 * high**3 / 12 + a2 * (high / 2 - middle) ** 2
    along = 400 / 762 * 312 / 292 + 740e-9 * 9.80665 * 18 * 312
    assert 5 * along * 764**4 / (384 * 2200 * inertia) < 764 / 144


def test_the_structural_test_allows_no_more_than_6_4_mm_however_long_the_span():
    """1/16 in a foot and 1/4 in at most: they meet at 1228.8 mm."""
    assert 960 / shelf_test(960) == pytest.approx(5.0)
    assert 1920 / shelf_test(1920) == pytest.approx(6.4)
    long = loaded(on_legs(length=1800, apron=90), top=3500)
    mine = found(long, find_sag)["sag.apron"]
    assert mine.limit == pytest.approx(6.4)


def test_half_the_span_is_enough_where_it_says_so():
    loads = Loads(shelf=400, top=50)
    mine = found(case(shelf(), loads=loads), find_sag)["sag.shelf"]
    assert "one more divider" in mine.message
    halved = case(
        f"{{split: upright, dividers: {{material: panel, joint: dowel}},"
        f" into: [{{size: 1 share, {shelf()}}}, {{size: 1 share, {shelf()}}}]}}",
        loads=loads,
    )
    mended = found(halved, find_sag).get("sag.shelf")
    assert mended is None or mended.severity is not Severity.ERROR


def test_a_point_in_the_middle_counts():
    light = found(case(shelf(), loads=Loads(shelf=20, top=50)), find_sag)
    assert light.get("sag.shelf") is None or light["sag.shelf"].severity is Severity.NOTE
    heavy = case(shelf(), loads=Loads(shelf=20, top=50, shelf_point=300))
    assert found(heavy, find_sag)["sag.shelf"].severity is Severity.ERROR


def test_a_drawer_bottom_is_a_plate_and_a_thicker_one_clears_it():
    mine = found(spec(CHEST), find_sag)["sag.drawer_bottom"]
    assert mine.severity is Severity.WARNING
    thick = re.search(r"enough would be ([\d.]+) mm thick", mine.message)
    assert thick
    thin = "core: veneer plywood, thickness: 9,"
    thicker = changed(CHEST, (thin, thin.replace("9,", f"{thick[1]},")))
    mended = found(thicker, find_sag).get("sag.drawer_bottom")
    assert mended is None or mended.severity is Severity.NOTE


def test_a_panel_of_which_nothing_is_known_is_said():
    unknown = changed(
        BEDSIDE,
        (
            "core: veneer plywood, face: black cherry, thickness: 3/4",
            "core: blockboard, density: 500, thickness: 3/4",
        ),
    )
    assert found(unknown, find_sag)["sag.unknown"].severity is Severity.NOTE


def test_aprons_of_a_wood_that_nothing_is_known_of_are_said():
    mine = found(on_legs(species="bog oak"), find_sag)["sag.unknown"]
    assert "long apron" in mine.subject
    assert "sag.unknown" not in found(on_legs(), find_sag)


def test_what_passes_is_summed_up_with_its_numbers():
    mine = found(spec(BEDSIDE), find_sag)["sag.within"]
    assert mine.value is not None
    assert mine.limit is not None
    assert 0 < mine.value < mine.limit


def test_a_value_from_memory_is_marked_in_the_message():
    assert "from memory" in found(spec(CHEST), find_sag)["sag.drawer_bottom"].message


@settings(max_examples=10)
@given(st.integers(50, 1500), st.integers(10, 500))
def test_more_load_never_sags_less(force, more):
    def now(load: float) -> float:
        piece = looked(case(shelf(), loads=Loads(shelf=load)))
        (member,) = [one for one in members(piece) if one.code == "sag.shelf"]
        bent = bend(piece, member)
        assert bent is not None
        return bent.now

    assert now(force + more) > now(force)
