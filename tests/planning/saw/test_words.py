"""Cautions where a cut is dangerous, always with the manual first in rank."""

from dataclasses import replace

import pytest

from planning.machines import Tool
from planning.saw.care import MANUAL, cautions
from planning.saw.records import Wedge
from planning.saw.settings import Hand, Keeps, Lean, Setting
from planning.saw.ways import Way
from planning.saw.words import fence_side, first_cut, offcut_side, show_side
from specs.machines import BladeTilts, Machines, TableSaw

RIP = Setting(mitre=90.0, mitre_to=None, tilt=0.0, tilt_to=None, distance=60.0, keeps=Keeps.NEAR)
WAY = Way(
    cut="side", tool=Tool.TABLE_SAW, table="bottom", reference="front", stop=None, setting=RIP
)
WEDGE = Wedge(rise=5.0, length=400.0, under="bottom", thin_at="left", made_from="a stick")


@pytest.mark.parametrize(
    ("way", "long", "word"),
    [
        (WAY, 206.0, "clamp it"),
        (replace(WAY, setting=replace(RIP, distance=8.0)), 900.0, "push sticks"),
        (replace(WAY, setting=replace(RIP, keeps=Keeps.FAR)), 900.0, "between fence and blade"),
        (
            replace(WAY, setting=replace(RIP, tilt=9.0, tilt_to=Lean.TOWARD)),
            900.0,
            "can trap the offcut",
        ),
        (replace(WAY, wedge=WEDGE), 900.0, "held by tape"),
        (replace(WAY, wedge=WEDGE), 900.0, "band saw outside it and plane"),
    ],
)
def test_each_danger_has_its_caution_and_the_manual_comes_with_it(way, long, word):
    found = cautions(way, long)
    assert any(word in caution for caution in found)
    assert found[-1] == MANUAL
    assert word not in " ".join(cautions(WAY, 900.0))


def test_a_saw_cut_without_danger_still_names_the_manual():
    assert cautions(WAY, 900.0) == (MANUAL,)


def test_the_first_cut_on_scrap_has_its_check_value():
    """Over 50 of height 9 degrees are 50 tan 9 = 7.9; 15.8 in 100."""
    tilted = replace(RIP, tilt=9.0, tilt_to=Lean.AWAY)
    assert "stands off by 7.9 mm" in first_cut(Tool.TABLE_SAW, tilted)
    assert "9.0 degrees (15.8 in 100)" in first_cut(Tool.TABLE_SAW, tilted)
    assert "width 60.0 mm" in first_cut(Tool.TABLE_SAW, RIP)


def test_the_offcut_falls_on_the_side_away_from_fence_or_stop():
    cross = replace(RIP, mitre=0.0)
    assert offcut_side(Tool.TABLE_SAW, RIP, 1.0, Hand.RIGHT) == "left"
    assert offcut_side(Tool.TABLE_SAW, RIP, 1.0, Hand.LEFT) == "right"
    assert offcut_side(Tool.GAUGE, cross, 1.0, None) == "right"
    assert offcut_side(Tool.GAUGE, cross, -1.0, None) == "left"
    assert offcut_side(Tool.MITRE_SAW, cross, 1.0, None) == "left"
    assert offcut_side(Tool.HAND_SAW, cross, 1.0, None) is None


@pytest.mark.parametrize(
    ("tilts", "lean", "side"),
    [
        (BladeTilts.LEFT, Lean.AWAY, Hand.RIGHT),
        (BladeTilts.LEFT, Lean.TOWARD, Hand.LEFT),
        (BladeTilts.RIGHT, Lean.AWAY, Hand.LEFT),
        (BladeTilts.RIGHT, Lean.TOWARD, Hand.RIGHT),
        (BladeTilts.RIGHT, None, Hand.RIGHT),
    ],
)
def test_the_fence_stands_where_the_blade_can_lean_as_it_must(tilts, lean, side):
    machines = Machines(table_saw=TableSaw(tilts=tilts))
    made = replace(RIP, tilt=0.0 if lean is None else 9.0, tilt_to=lean)
    assert fence_side(Tool.TABLE_SAW, made, machines) is side
    assert fence_side(Tool.GAUGE, replace(made, mitre=0.0), machines) is None


def test_the_face_on_view_lies_where_it_does_not_splinter():
    assert show_side(WAY, "top") == "up or aside"
    assert show_side(WAY, "bottom") == "down"
    assert show_side(replace(WAY, tool=Tool.TRACK_SAW), "top") == "down"
    assert show_side(WAY, None) is None
