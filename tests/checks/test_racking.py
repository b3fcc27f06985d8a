"""Legs and their joints under a push: by hand, and what is found to be too weak."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.racking import GLUE, find_racking, rack, section
from ground.findings import Severity
from specs.loads import Loads
from specs.spec import Spec
from tests.helpers.checked import found, looked, made
from tests.helpers.examples import CHEST, DEMO, spec

JOINT = "{kind: loose tenon}"


def table(
    *, leg: float = 45, height: float = 200, apron: float = 70, joint: str = JOINT, load: float = 0
) -> Spec:
    """A case on four straight square legs of oak."""
    base = (
        f"{{kind: straight legs, height: {height}, set_in: {{front: 10, back: 10, sides: 10}},"
        f" legs: {{material: oak, top: [{leg}, {leg}]}},"
        f" aprons: {{material: oak, height: {apron}, thickness: 22, set_back: 4, joint: {joint}}},"
        " fixing: {kind: figure-eight fastener, count: 6}}"
    )
    asked = made("open: true", base=base, size="{length: 800, height: 500, depth: 400}")
    return asked.model_copy(update={"loads": Loads(top=load)}) if load else asked


@pytest.mark.parametrize("axis", [0, 1])
def test_a_straight_leg_bends_as_statics_says(axis):
    """Pinned at the floor, a quarter of the push at each leg: F / 4 x 130 on 45 x 45^2 / 6."""
    mine = rack(looked(table(load=4000)), axis)
    assert mine is not None
    bending = mine.push / 4 * 130 / (45**3 / 6)
    assert mine.bending == pytest.approx(bending, rel=0.25)  # the rest is the load it carries
    assert mine.bending > bending


def test_the_joint_carries_the_moment_at_the_middle_of_the_apron():
    """F / 4 x 165, on two cheeks of the tenon: M r / I_p."""
    mine = rack(looked(table(load=4000)), 0)
    assert mine is not None
    assert mine.joint is not None
    moment = mine.push / 4 * 165
    assert mine.glue == pytest.approx(moment * mine.joint.stress, rel=0.02)
    size = re.search(r"tenon (\d+) x (\d+) mm", mine.joint.words)
    assert size
    long, deep = float(size[1]), float(size[2])
    polar = 2 * long * deep * (long**2 + deep**2) / 12
    assert mine.joint.stress == pytest.approx((long**2 + deep**2) ** 0.5 / 2 / polar, rel=0.05)


def test_the_wood_of_a_tenon_bends_as_statics_says():
    """6 M / (t h^2) of a tenon t thick and h high; dowels pull along their own axes."""
    mine = rack(looked(table(load=4000)), 0)
    assert mine is not None
    assert mine.joint is not None
    size = re.search(r"tenon (\d+) x", mine.joint.words)
    assert size
    moment = mine.glue / mine.joint.stress
    thick = 6 * moment / (mine.tenon * float(size[1]) ** 2)
    assert thick == pytest.approx(8, abs=1.5)
    dowels = rack(looked(table(joint="{kind: dowel}", load=4000)), 0)
    assert dowels is not None
    assert dowels.joint is not None
    told = re.search(r"dowels (\d+) mm, .*, (\d+) mm apart", dowels.joint.words)
    assert told
    pull = dowels.glue / dowels.joint.stress / float(told[2])
    area = math.pi * float(told[1]) ** 2 / 4
    assert dowels.tenon == pytest.approx(pull / area, rel=0.02)


def test_a_section_is_read_from_the_leg_itself():
    """The demo's legs taper from 58 to 30 over 190: 38.8 at 60 up, splay makes it no larger."""
    leg = looked(spec(DEMO)).named("leg")[0]
    assert section(leg, 60) == pytest.approx((38.84, 38.84), abs=0.05)


def test_a_slender_leg_is_found_and_the_thickness_suggested_is_enough():
    weak = table(leg=30, height=600, load=6000)
    mine = found(weak, find_racking)["racking.leg"]
    assert mine.severity is Severity.WARNING
    times = re.search(r"legs ([\d.]+) times as thick", mine.message)
    assert times
    better = table(leg=30 * float(times[1]) + 0.5, height=600, load=6000)
    assert "racking.leg" not in found(better, find_racking)


def test_a_leg_that_carries_little_is_not_called_slender():
    assert set(found(table(), find_racking)) == {"racking.push"}


def test_a_starved_joint_is_found_and_a_higher_apron_clears_it():
    starved = found(table(apron=40, height=250, load=1200), find_racking)
    assert starved["racking.joint"].value is not None
    assert starved["racking.joint"].value > GLUE
    mended = found(table(apron=110, height=250, load=1200), find_racking)
    assert "racking.joint" not in mended


@pytest.mark.parametrize(
    "joint", ["{kind: dowel}", "{kind: pocket screw}", "{kind: mortise and tenon}"]
)
def test_every_joint_of_an_apron_is_weighed(joint):
    mine = rack(looked(table(joint=joint, load=2000)), 0)
    assert mine is not None
    assert mine.joint is not None
    assert mine.glue > 0


def test_a_plinth_has_no_legs_to_bend():
    assert found(spec(CHEST), find_racking) == {}


@settings(max_examples=6)
@given(st.integers(500, 4000), st.integers(100, 3000))
def test_a_heavier_piece_bends_its_legs_more(load, more):
    one, other = (rack(looked(table(load=kg)), 0) for kg in (load, load + more))
    assert one is not None
    assert other is not None
    assert other.bending > one.bending
