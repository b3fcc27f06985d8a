"""Runners, hinges, pins and screws: what carries too much, and what clears it."""

import math
import re

import pytest

from checks.fittings import find_fittings, ultimate_withdrawal, withdrawal
from ground.findings import Severity
from specs.loads import Loads
from specs.spec import Spec
from tests.helpers.checked import case, found, made
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, changed, spec

DOOR = "doors: {count: 1, material: panel, gap: 2, hinge: hinge, stop: block, pull: knob}"


def test_allowable_withdrawal_as_worked_on_the_published_page():
    """G 0.45, D 0.190 in, one inch of thread: 109.65 lb."""
    assert withdrawal(0.45, 0.190 * 25.4, 25.4) / 4.4482216 == pytest.approx(109.65, abs=0.01)


def test_ultimate_withdrawal_in_both_unit_systems():
    """15 700 G^2 D L in lb and inches is 108.25 G^2 D L in N and mm: No. 8, 25 mm, G 0.42."""
    mine = ultimate_withdrawal(0.42, 0.164 * 25.4, 25)
    assert mine == pytest.approx(15_700 * 0.42**2 * 0.164 * 25 / 25.4 * 4.4482216, rel=1e-3)
    assert mine == pytest.approx(1988.6, abs=1)


@pytest.mark.parametrize("name", [BEDSIDE, CHEST, DEMO])
def test_the_examples_carry_what_they_hold(name):
    assert found(spec(name), find_fittings) == {}


def test_an_overloaded_runner_is_found_and_the_one_suggested_carries_it():
    weak = changed(DEMO, ("capacity: 30", "capacity: 15"))
    mine = found(weak, find_fittings)["load.runner"]
    assert mine.severity is Severity.ERROR
    assert mine.value is not None
    assert 15 < mine.value < 30
    better = re.search(r"runners for (\d+) kg", mine.message)
    assert better
    mended = changed(DEMO, ("capacity: 30", f"capacity: {better[1]}"))
    assert "load.runner" not in found(mended, find_fittings)


def test_the_limit_of_a_runner_is_sharp():
    kg = found(changed(DEMO, ("capacity: 30", "capacity: 15")), find_fittings)["load.runner"].value
    assert kg is not None
    over = changed(DEMO, ("capacity: 30", f"capacity: {math.floor(kg * 10) / 10:g}"))
    assert "load.runner" in found(over, find_fittings)


def test_a_runner_without_a_capacity_is_said():
    unknown = changed(DEMO, (", capacity: 30", ""))
    assert found(unknown, find_fittings)["load.runner_unknown"].severity is Severity.NOTE


def test_wide_shallow_drawers_stick_and_longer_runners_mend_it():
    short = changed(CHEST, ("length: 700", "length: 500"))
    mine = found(short, find_fittings)["load.wide_drawer"]
    assert mine.value == pytest.approx(1084 / 500)
    assert "load.wide_drawer" not in found(
        changed(CHEST, ("length: 700", "length: 550")), find_fittings
    )


def tall(height: float, *, panel: float = 25, hinge: str = "") -> Spec:
    size = f"{{length: 450, height: {height}, depth: 330}}"
    return made(DOOR, size=size, panel=panel, hinge=hinge)


def test_too_few_hinges_are_found_and_the_number_suggested_clears_it():
    mine = found(tall(1200, hinge=", count: 2"), find_fittings)["load.hinges"]
    assert (mine.value, mine.limit) == (2, 3)
    assert "load.hinges" not in found(tall(1200, hinge=", count: 3"), find_fittings)
    assert "load.hinges" not in found(tall(700, hinge=", count: 2"), find_fittings)


def test_long_thin_doors_bow():
    mine = found(tall(1200, panel=18), find_fittings)["load.long_door"]
    thick = re.search(r"make it ([\d.]+) mm thick", mine.message)
    assert thick
    assert "load.long_door" not in found(tall(1200, panel=float(thick[1]) + 0.1), find_fittings)


@pytest.mark.parametrize(("density", "told"), [(300.0, True), (740.0, False)])
def test_a_wide_low_heavy_door_pulls_the_screws_out_of_a_light_panel(density, told):
    """Oak 860 x 260 x 40, 6.8 kg, its hinges 160 apart: near 180 N; 2850 G^2 D with G = 0.27."""
    door = DOOR.replace("material: panel", "material: oak, thickness: 40")
    asked = made(door, size="{length: 900, height: 300, depth: 330}", hinge=", count: 2")
    panel = asked.materials["panel"].model_copy(update={"density": density})
    asked = asked.model_copy(update={"materials": {**asked.materials, "panel": panel}})
    mine = found(asked, find_fittings).get("load.hinge_screws")
    assert (mine is not None) == told
    if mine is not None:
        assert mine.value == pytest.approx(180, rel=0.2)
        holds = 2 * withdrawal(300 / 1120, 3.5, 12)
        assert mine.limit == pytest.approx(holds, rel=1e-6)


def test_pins_under_a_heavy_shelf():
    shelf = "shelves: {count: 1, material: panel, support: shelf pins}"
    assert "load.pins" not in found(case(shelf, loads=Loads(shelf=700)), find_fittings)
    mine = found(case(shelf, loads=Loads(shelf=800)), find_fittings)["load.pins"]
    limit = re.search(r"under (\d+) N", mine.message)
    assert limit
    light = case(shelf, loads=Loads(shelf=float(limit[1]) - 1))
    assert "load.pins" not in found(light, find_fittings)


def test_a_shelf_in_dados_needs_no_pins():
    shelf = "shelves: {count: 1, material: panel, support: dado}"
    assert "load.pins" not in found(case(shelf, loads=Loads(shelf=2000)), find_fittings)
