"""The jigs of the examples, held against sums by hand and against the set-ups that want them."""

from dataclasses import replace

import pytest

from models.parts.assembly import Assembly, Copy
from models.parts.features import Hole
from planning.jigs.holes import strips
from planning.jigs.plan import SLANTED, jigs, sled_setting
from planning.jigs.records import (
    ClampWedge,
    GuideBlock,
    HoleStrip,
    LevellingWedge,
    MitreCaul,
    Spacer,
    TaperSled,
)
from planning.machines import Tool
from planning.saw.records import SetUp
from planning.saw.settings import Hand
from tests.helpers import examples
from tests.helpers.examples import CHEST, DEMO


@pytest.fixture(scope="module")
def demo():
    set_ups = examples.saw(DEMO).set_ups
    return jigs(examples.spec(DEMO), examples.piece(DEMO), set_ups, examples.order(DEMO))


def of(kind, found):
    return [jig for jig in found if isinstance(jig, kind)]


def test_one_strip_drills_the_dowels_of_dividers_top_and_bottom(demo):
    """The dividers are 406 deep, dowels 40 in from both edges, four of them: 326 / 3 = 108.7."""
    strip = next(jig for jig in of(HoleStrip, demo) if jig.places == (40.0, 148.7, 257.3, 366.0))
    assert {row.part for row in strip.rows} == {"C1", "C2", "S1", "S2"}
    assert {row.edge for row in strip.rows} == {"front"}
    assert strip.times == 8
    assert {bit.depth for bit in strip.bits} == {12.6, 19.4}


def test_the_shelf_pins_of_both_sides_are_drilled_with_one_strip(demo):
    """Seven of them 32 apart from 129 up, on both lines of either side: 129 + 6 x 32 = 321."""
    found = [jig for jig in of(HoleStrip, demo) if jig.bits[0].kind == "shelf-pin hole"]
    (sides,) = [jig for jig in found if {row.part for row in jig.rows} == {"C3", "C4"}]
    assert sides.places == tuple(129.0 + 32.0 * n for n in range(7))
    assert sides.times == 4


def test_every_hole_of_a_strip_is_in_every_part_that_it_is_for(demo):
    """Mirrored lines are measured from the other edge: the strip is turned over."""
    at = {"left": (0, 0.0), "front": (1, 0.0), "bottom": (2, 0.0)}
    for strip in of(HoleStrip, demo):
        for row in strip.rows:
            blank = examples.piece(DEMO).part(row.part).blank
            ends = at | {"right": (0, blank.length), "back": (1, blank.width)}
            ends |= {"top": (2, blank.thickness)}
            (run, start), (aside, beside) = ends[row.edge], ends[row.beside]
            wanted = {
                (round(abs(start - place), 1), round(abs(beside - row.aside), 1))
                for place in strip.places
            }
            diameters = {bit.diameter for bit in strip.bits}
            there = {
                (round(place[run], 1), round(place[aside], 1))
                for place in drilled(row.part, diameters)
            }
            assert wanted <= there, (row, wanted - there)


def drilled(label: str, diameters: set[float]):
    for feature in examples.piece(DEMO).part(label).features:
        if isinstance(feature, Hole) and feature.diameter in diameters:
            x, y, z = feature.seat.origin
            u, v, w = feature.seat.along
            for n in range(feature.count):
                step = n * feature.pitch
                yield (x + step * u, y + step * v, z + step * w)


def test_a_line_that_comes_seldom_has_no_strip():
    """One side of the chest alone: each of its lines is drilled once, three are too few."""
    assembly = examples.piece(CHEST)
    side = assembly.part("C3")
    few = tuple(f for f in side.features if isinstance(f, Hole) and f.count > 1)
    alone = replace(side, features=few)
    one = Copy(
        id="C3.1", label="C3", placement=assembly.copies_of("C3")[0].placement, group=("case",)
    )
    assert 0 < len(few) < 4 * 3
    assert strips(Assembly(name="side", parts=(alone,), copies=(one,))) == ()


def test_the_chest_drills_its_runner_screws_with_one_strip():
    """33, 321 and 641 from the front, in every drawer side: two sides a drawer, five drawers."""
    found = [
        strip for strip in strips(examples.piece(CHEST)) if strip.places == (33.0, 321.0, 641.0)
    ]
    assert [strip.times for strip in found] == [10]
    assert {row.edge for row in found[0].rows} == {"left", "right"}  # hands of one strip


@pytest.mark.parametrize(("side", "far"), [(Hand.RIGHT, 65.264), (Hand.LEFT, -5.264)])
def test_a_cleat_is_set_by_two_sizes(side, far):
    """10 degrees over 200 is 35.2654: away from the edge, or towards it for the other hand."""
    cut = SetUp(
        part="B1",
        order=1,
        machine=Tool.SLED,
        does="taper",
        mitre=80.0,
        mitre_to=Hand.RIGHT,
        tilt=2.0,
        distance=30.0,
    )
    found = sled_setting(cut, side)
    assert found.near == 30.0
    assert found.angle == pytest.approx(10.0)
    assert found.far == pytest.approx(far, abs=0.002)


def test_the_legs_of_the_demo_widen_on_the_sled(demo):
    """8.16 degrees over 200 is 28.7: 29.6 at the foot, 58.3 further on."""
    (sled,) = of(TaperSled, demo)
    askew = [setting for setting in sled.settings if setting.angle > 1.0]
    assert all(setting.far > setting.near for setting in askew)
    assert any((round(setting.near, 1), round(setting.far, 1)) == (29.6, 58.3) for setting in askew)
    assert {use.part for setting in askew for use in setting.uses} == {"B1", "B2"}


@pytest.mark.parametrize("name", [DEMO, examples.BEDSIDE])
def test_every_set_up_that_wants_a_jig_has_one(name):
    set_ups = examples.saw(name).set_ups
    made = jigs(examples.spec(name), examples.piece(name), set_ups, ())
    for kind, wants in (
        (TaperSled, lambda one: one.machine is Tool.SLED and one.distance is not None),
        (LevellingWedge, lambda one: one.wedge is not None),
        (
            GuideBlock,
            lambda one: (
                one.cutter is not None
                and one.cutter.diameter is not None
                and one.cutter.lean > SLANTED
            ),
        ),
    ):
        wanted = {(one.part, one.order) for one in set_ups if wants(one)}
        uses = [
            use
            for jig in of(kind, made)
            for use in (
                [use for setting in jig.settings for use in setting.uses]
                if isinstance(jig, TaperSled)
                else jig.uses
            )
        ]
        assert {(use.part, order) for use in uses for order in use.orders} == wanted


def test_wedges_and_mitre_blocks_are_those_of_the_glue_ups(demo):
    """One clamp at the legs, two across the base; the case closes two mitres 423.4 long."""
    assert [(round(jig.angle, 1), jig.count, jig.steps) for jig in of(ClampWedge, demo)] == [
        (17.0, 2, (2,)),
        (12.3, 4, (3,)),
    ]
    (caul,) = of(MitreCaul, demo)
    assert (caul.length, caul.count) == (423.4, 4)


def test_spacers_are_as_thick_as_the_gaps(demo):
    """Gaps of 2: two sticks for each of the four gaps of three fronts, four for a pair of doors."""
    assert {(jig.what, jig.thickness, jig.count) for jig in of(Spacer, demo)} == {
        ("doors", 2.0, 4),
        ("drawer fronts", 2.0, 8),
    }
