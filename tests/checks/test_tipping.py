"""Whether it stands: the worked case, every finding with its pair, symmetry and monotony."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.cautions import cautions
from checks.contents import contents, feet
from checks.placed import read
from checks.statics import Load, ballast, edges, hull, moments
from checks.tipping import (
    ANCHOR_HEIGHT,
    CHILD,
    MARGIN,
    anchor_force,
    anchors,
    cases,
    find_tipping,
)
from ground.findings import Finding, Severity
from specs.spec import Spec
from tests.helpers.checked import all_found, found, looked, made
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, changed, piece, spec

CASE = Load(kg=35, out=-220, up=450)
FILLED = 0.05 * 136.157
HEIGHTS = (300, 450, 600, 750)


def drawers(contents_kg: float) -> list[Load]:
    return [Load(kg=4 + contents_kg, out=80, up=up) for up in HEIGHTS]


def test_all_open_and_filled_as_worked_by_hand():
    """35 x 0.22 = 7.700 against 4 x (4 + 6.808) x 0.08 = 3.4585: 2.226."""
    worked = moments([CASE, *drawers(FILLED)])
    assert worked.restoring == pytest.approx(7700)
    assert worked.overturning == pytest.approx(3458.5, abs=0.1)
    assert worked.ratio == pytest.approx(2.226, abs=0.0005)


def test_a_child_on_one_front_as_worked_by_hand():
    """4 x 4 x 0.08 + 27.216 x 0.32 = 9.989: 0.771."""
    child = Load(kg=CHILD, out=320, up=750)
    assert moments([CASE, *drawers(0), child]).ratio == pytest.approx(0.771, abs=0.0005)


def test_the_same_on_carpet_and_the_ballast_that_answers():
    """Tilted by atan(10.9 / 400) = 1.561 degrees: 7.268 against 10.770; 9.32 kg at 0.38, 0.15."""
    tilt = math.degrees(math.atan(10.9 / 400))
    assert tilt == pytest.approx(1.561, abs=0.0005)
    child = Load(kg=CHILD, out=320, up=750)
    worked = moments([CASE, *drawers(0), child], tilt=tilt)
    assert worked.restoring == pytest.approx(7268, abs=0.6)
    assert worked.overturning == pytest.approx(10_770, abs=0.6)
    assert worked.ratio == pytest.approx(0.675, abs=0.0005)
    assert ballast(worked, 380, 150, tilt=tilt, wanted=1.0) == pytest.approx(9.32, abs=0.005)


def test_a_pull_at_900_adds_4_082_kg_m():
    assert moments([], push=44.48, height=900).overturning == pytest.approx(4082, abs=0.5)


def test_ballast_brings_the_ratio_to_what_is_wanted():
    worked = moments([CASE, *drawers(0), Load(kg=CHILD, out=320, up=750)])
    heavy = ballast(worked, 380, 150, tilt=0.0, wanted=1.1)
    loads = [CASE, *drawers(0), Load(kg=CHILD, out=320, up=750), Load(kg=heavy, out=-380, up=150)]
    assert moments(loads).ratio == pytest.approx(1.1)


@given(st.lists(st.tuples(st.floats(0, 1000), st.floats(0, 500)), min_size=4, max_size=12))
def test_no_foot_lies_outside_of_the_ground_it_helps_to_make(spots):
    corners = hull(spots)
    if len(corners) < 3:
        return
    for edge in edges(spots):
        for x, y in spots:
            assert edge.load(1.0, (x, y, 0.0)).out < 1e-3


@given(st.floats(0.1, 50), st.floats(1, 500), st.floats(0, 1000), st.floats(0, 5))
def test_more_weight_out_in_front_never_stands_better(kg, out, up, tilt):
    loads = [CASE, *drawers(0)]
    more = [*loads, Load(kg=kg, out=out, up=up)]
    assert moments(more, tilt=tilt).ratio < moments(loads, tilt=tilt).ratio


def test_the_demo_stands_on_the_middles_of_its_feet():
    """Legs' outer top corners 130 and 24 in, splayed 9 and 4 degrees over 190; feet 30 square.

    x = 130 - 190 tan 9 + 15; y = 24 - 190 tan 4 + 15.
    """
    x = 130 - 190 * math.tan(math.radians(9)) + 15
    y = 24 - 190 * math.tan(math.radians(4)) + 15
    mine = min(feet(looked(spec(DEMO))))
    assert mine == pytest.approx((x, y), abs=0.3)


def test_drawers_hold_what_their_clear_inside_takes():
    """478 x 320 x (152.49 - 13 - 12) clear in the lowest of the demo: 19.5 l."""
    (lowest,) = [one for one in contents(looked(spec(DEMO))) if one.mover == "drawer 2/3"]
    litres = 478 * 320 * (152.4857 - 13 - 12) * 1e-6
    assert lowest.kg == pytest.approx(max(litres * 0.136157, 120 / 9.80665), rel=1e-3)


def anchored(asked: Spec) -> Spec:
    from specs.case import WallAnchor

    case = asked.case.model_copy(update={"anchor": WallAnchor(count=2)})
    return asked.model_copy(update={"case": case})


@pytest.mark.parametrize("name", [BEDSIDE, CHEST, DEMO])
def test_a_child_on_a_front_tips_light_cases_and_the_anchor_answers(name):
    before = found(spec(name), find_tipping)
    assert before["tip.weight"].severity is Severity.WARNING
    assert "ratio = " in before["tip.weight"].message
    after = found(anchored(spec(name)), find_tipping)
    assert {one.severity for one in after.values()} == {Severity.NOTE}


def test_the_anchor_holds_what_the_piece_lacks():
    """A pull of that force at that height, backward, brings the ratio to the margin."""
    mine = looked(spec(DEMO))
    case = next(one for one in cases(mine) if one.code == "tip.weight")
    force, high = anchor_force(mine, case)
    back = force / 9.80665 * high
    assert (case.found.restoring + back) / case.found.overturning == pytest.approx(MARGIN)
    told = found(spec(DEMO), find_tipping)["tip.weight"].message
    assert f"it has to hold {force:.0f} N, {high:.0f} mm up" in told


def test_a_deep_heavy_chest_with_short_drawers_does_not_tip():
    """Travel 100 only: neither loaded drawers nor a child bring it over."""
    asked = changed(CHEST, ("opens: pull}", "opens: pull, travel: 100}"))
    heavy = asked.model_copy(
        update={
            "materials": {
                name: one.model_copy(update={"density": 700.0})
                for name, one in asked.materials.items()
            }
        }
    )
    codes = set(found(heavy, find_tipping))
    assert codes == {"tip.high", "tip.ratios"}


def test_height_alone_calls_for_an_anchor():
    low = made("open: true", size="{length: 800, height: 620, depth: 400}")
    high = made("open: true", size="{length: 800, height: 630, depth: 400}")
    assert "tip.high" not in found(low, find_tipping)
    assert found(high, find_tipping)["tip.high"].limit == ANCHOR_HEIGHT
    assert "tip.high" not in found(anchored(high), find_tipping)


def test_a_case_that_overhangs_its_feet_does_not_stand_at_all():
    legs = (
        "{kind: plinth, height: 60, set_in: {front: 300, back: 10, sides: 10}, material: panel,"
        " fixing: {kind: screw block, count: 4}}"
    )
    mine = found(
        made("open: true", base=legs, size="{length: 800, height: 500, depth: 450}"), find_tipping
    )
    assert mine["tip.closed"].severity is Severity.ERROR


@pytest.mark.parametrize(("name", "count"), [(BEDSIDE, 2), (DEMO, 2), (CHEST, 3)])
def test_the_anchors_are_on_the_hardware_list_where_they_are_needed(name, count):
    """831 N hang on the chest's when its five drawers stand open and full; each holds 339 N."""
    mine = looked(spec(name))
    (line,) = anchors(mine, find_tipping(mine))
    assert "anchor" in line.name
    assert line.quantity == count


def test_no_anchor_where_nothing_calls_for_it():
    mine = looked(made("open: true", size="{length: 800, height: 400, depth: 600}"))
    assert anchors(mine, find_tipping(mine)) == ()


@pytest.mark.parametrize("hung", ["left", "right"])
def test_a_mirrored_piece_has_the_same_ratios(hung):
    doors = (
        "doors: {{count: 1, hung: {hung}, material: panel, gap: 2, hinge: hinge, stop: block,"
        " pull: knob}}"
    )
    one = cases(looked(made(doors.format(hung=hung))))
    other = cases(looked(made(doors.format(hung="left"))))
    for mine, theirs in zip(one, other, strict=True):
        assert mine.found.ratio == pytest.approx(theirs.found.ratio, rel=1e-6)
        assert mine.present == pytest.approx(theirs.present, rel=1e-6)


masses = st.lists(
    st.tuples(st.floats(0.1, 60), st.floats(-600, 600), st.floats(-600, 600), st.floats(0, 900)),
    min_size=1,
    max_size=8,
)


@given(masses, st.tuples(st.floats(50, 400), st.floats(50, 400)), st.floats(0, 60))
def test_the_mirror_image_of_a_piece_has_the_same_ratios(loads, half, push):
    """Feet and masses with left and right exchanged: edge for edge the same."""
    wide, deep = half
    stands = [(-wide, -deep), (wide * 0.8, -deep), (wide, deep), (-wide * 0.9, deep)]

    def ratios(side: int) -> list[float]:
        found = edges([(side * x, y) for x, y in stands])
        return sorted(
            moments(
                [edge.load(kg, (side * x, y, z)) for kg, x, y, z in loads], push=push, height=500.0
            ).ratio
            for edge in found
        )

    assert ratios(-1) == pytest.approx(ratios(1), rel=1e-6)


def test_the_centre_of_gravity_of_a_plain_case_is_in_its_middle():
    """Alike left and right; the back and the plinth draw it back and down, a little."""
    mine = looked(made("open: true"))
    x, y, z = mine.centre
    assert x - mine.lo[0] == pytest.approx(400, abs=0.5)
    assert 165 < y - mine.lo[1] < 200
    assert 280 < z < 60 + 300
    assert "from its left" in found(made("open: true"), find_tipping)["tip.ratios"].message


@settings(max_examples=8)
@given(st.floats(400, 1500), st.floats(10, 500))
def test_heavier_drawers_never_stand_better_open(density, more):
    def ratio(kg: float) -> float:
        asked = spec(DEMO)
        heavier = asked.materials["drawer-panel"].model_copy(update={"density": kg})
        asked = asked.model_copy(update={"materials": {**asked.materials, "drawer-panel": heavier}})
        found_cases = cases(read(piece(DEMO), asked))
        return next(one for one in found_cases if one.code == "tip.all_open").found.ratio

    assert ratio(density + more) <= ratio(density) * (1 + 1e-9)


def test_the_cautions_say_what_they_must_and_nothing_says_complies():
    told = " ".join(one.message for one in cautions())
    for words in (
        "Static estimate only",
        "physical",
        "whatever the ratio",
        "Not modelled",
        "Local codes",
        "licensed practice",
    ):
        assert words in told
    every: tuple[Finding, ...] = (*cautions(), *all_found(spec(CHEST), find_tipping))
    assert not any("compl" in one.message.lower() for one in every)
