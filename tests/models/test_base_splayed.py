"""Splayed bases: angles against numbers worked by hand, joints against the wood that is left."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from ground.findings import Severity
from ground.vectors import Plane, Z, angle, cross, dot, meet, neg, norm, scale, sub, unit
from models.parts.features import Channel, Mortise
from models.parts.joints.walls import wall_between, wall_to
from models.setting_out.bench import Bench
from models.setting_out.legs import Corner, LegNumbers, facet_takes
from models.setting_out.splayed import inner_lean, shoulder, splayed_leg, splayed_numbers
from models.setting_out.trouble import SettingOutError
from specs.base import SplayedLegs
from tests.helpers.bases import (
    asked,
    assembly,
    assert_stands,
    based,
    codes,
    face,
    own_trims,
    reading_room,
    splayed,
    trims,
)
from tests.helpers.joints import goes_together, laid

LEG = "base/leg front left"
LEGS = tuple(f"base/leg {y} {x}" for y in ("front", "back") for x in ("left", "right"))
HANDED = 1e-4
"""Angles in the papers are rounded to four decimals (degrees), lengths to four (mm)."""


@pytest.fixture(scope="module")
def bench() -> Bench:
    return reading_room()


@pytest.fixture(scope="module")
def clipped() -> Bench:
    """The same with sharp legs (round-overs have tests of their own), and held by clips.

    Clips' slots do not come out beside, as the recesses for plates are meant to.
    """
    return reading_room(fixing="slotted clip", more="")


def sharp(one: Plane, other: Plane) -> float:
    """The angle between two planes, 0 to 90 degrees."""
    wide = angle(one.normal, other.normal)
    return min(wide, 180.0 - wide)


def cut_on_face(plane: Plane) -> tuple[float, float]:
    """A cut's mitre on the part's upper face, from square to the length, and the blade's tilt."""
    x, y, z = plane.normal
    return math.degrees(math.atan2(abs(y), abs(x))), math.degrees(math.asin(abs(z)))


def test_inner_faces_lean_by_the_splay_and_the_taper():
    """tan 17.0012 = tan 9 + 28 / 190; tan 12.2595 = tan 4 + 28 / 190."""
    base = asked(splayed()).base
    assert isinstance(base, SplayedLegs)
    assert splayed_numbers(base).inner == pytest.approx((17.0012, 12.2595), abs=HANDED)


def test_a_glide_comes_off_the_leg_and_steepens_its_taper():
    """tan ai = tan 9 + 28 / 185."""
    base = asked(splayed(rest="feet: {kind: glide, thickness: 5}")).base
    assert isinstance(base, SplayedLegs)
    numbers = splayed_numbers(base)
    assert numbers.height == 185
    assert math.tan(math.radians(numbers.inner[0])) == pytest.approx(
        math.tan(math.radians(9)) + 28 / 185
    )


@pytest.mark.parametrize("leg", LEGS)
def test_the_faces_of_every_leg_meet_as_worked(bench: Bench, leg: str):
    """90 - asin(sin 9 sin 4) = 89.3748, and 90 - asin(sin 17.0012 sin 4) = 88.8313."""
    planes, outer_front = trims(bench, leg), face(bench, leg, "bottom")
    assert sharp(planes["outer-side"], outer_front) == pytest.approx(89.3748, abs=HANDED)
    assert sharp(planes["inner-side"], outer_front) == pytest.approx(88.8313, abs=HANDED)


@pytest.mark.parametrize("leg", LEGS)
def test_the_faces_of_every_leg_lean_as_worked(bench: Bench, leg: str):
    planes = trims(bench, leg)
    leans = {
        "outer-side": 9.0,
        "inner-side": 17.0012,
        "inner-front": 12.2595,
    }
    for name, lean in leans.items():
        assert abs(90 - angle(planes[name].normal, Z)) == pytest.approx(lean, abs=HANDED)
    outer = face(bench, leg, "bottom").normal
    assert 90 - angle(outer, Z) == pytest.approx(4.0, abs=1e-9)
    assert 90 - angle(planes["outer-side"].normal, Z) == pytest.approx(9.0, abs=1e-9)


@pytest.mark.parametrize("leg", LEGS)
def test_the_outer_arris_is_as_long_as_worked(bench: Bench, leg: str):
    """190 x sqrt(1 + tan^2 9 + tan^2 4) = 192.8266."""
    planes, outer_front = trims(bench, leg), face(bench, leg, "bottom")
    ends = [meet(planes["outer-side"], outer_front, planes[end]) for end in ("head", "foot")]
    assert norm(sub(*ends)) == pytest.approx(192.8266, abs=HANDED)


@pytest.mark.parametrize("leg", LEGS)
def test_feet_stand_flat_on_the_floor_and_tops_under_the_case(bench: Bench, leg: str):
    planes = trims(bench, leg)
    assert planes["foot"].normal == pytest.approx((0, 0, -1), abs=1e-12)
    assert planes["foot"].offset == pytest.approx(0.0, abs=1e-9)
    assert planes["head"].normal == pytest.approx((0, 0, 1), abs=1e-12)
    assert planes["head"].offset == pytest.approx(190.0, abs=1e-9)


def test_the_top_and_foot_are_the_sections_asked(bench: Bench):
    """Top 58 x 58 from (130, 24); foot 30 x 30, its outer corner 190 tan 9 and 190 tan 4 out."""
    planes, front = trims(bench, LEG), face(bench, LEG, "bottom")
    for end, size in (("head", 58.0), ("foot", 30.0)):
        near = meet(planes["outer-side"], front, planes[end])
        far = meet(planes["inner-side"], planes["inner-front"], planes[end])
        assert sub(far, near) == pytest.approx((size, size, 0.0), abs=1e-9)
    assert meet(planes["outer-side"], front, planes["head"]) == pytest.approx((130, 24, 190))
    out = (130 - 190 * math.tan(math.radians(9)), 24 - 190 * math.tan(math.radians(4)), 0)
    assert meet(planes["outer-side"], front, planes["foot"]) == pytest.approx(out, abs=1e-9)


def test_the_stick_is_as_small_as_the_leg_allows(bench: Bench):
    """Along the outer arris: 192.8266 and what the top's inner corner stands higher by."""
    assert bench.drafts[LEG].blank.size == pytest.approx((205.8746, 57.9207, 57.8587), abs=1e-4)


def test_four_legs_are_a_left_and_a_right_pair(bench: Bench):
    legs = [part for part in assembly(bench).parts if part.name.startswith("leg")]
    assert {part.name for part in legs} == {"leg left", "leg right"}
    assert [len(assembly(bench).copies_of(part.label)) for part in legs] == [2, 2]


def test_aprons_alike_are_one_part_of_two_copies(bench: Bench):
    made = assembly(bench)
    for name in ("long apron", "side apron", "stretcher"):
        (part,) = [part for part in made.parts if part.name == name]
        assert len(made.copies_of(part.label)) == 2


@pytest.mark.parametrize(
    ("apron", "mitre", "tilt"),
    [("front", 16.9621, 1.1687), ("back", 16.9621, 1.1687), ("left", 12.1131, 1.9036)],
)
def test_shoulders_are_cut_as_worked(bench: Bench, apron: str, mitre: float, tilt: float):
    """atan(tan 17.0012 cos 4), asin(sin 17.0012 sin 4); atan(tan 12.2595 cos 9) and its tilt."""
    planes = own_trims(bench, f"base/apron {apron}")
    for end in ("shoulder-left", "shoulder-right"):
        assert cut_on_face(planes[end]) == pytest.approx((mitre, tilt), abs=HANDED)


def test_shoulders_by_formula_are_the_shoulders_of_the_planes():
    assert shoulder(17.0012, 4) == pytest.approx((16.9621, 1.1687), abs=2 * HANDED)
    assert shoulder(12.2595, 9) == pytest.approx((12.1131, 1.9036), abs=2 * HANDED)


def test_apron_blanks_are_as_wide_as_worked(bench: Bench):
    """70 / cos 4 + 26 tan 4 = 71.989; 70 / cos 9 + 26 tan 9 = 74.991: 72.0 and 75.0."""
    wide = {name: bench.drafts[f"base/apron {name}"].blank.width for name in ("front", "left")}
    assert wide == pytest.approx({"front": 71.989, "left": 74.991}, abs=5e-4)
    assert {name: round(width, 1) for name, width in wide.items()} == {"front": 72.0, "left": 75.0}


def test_apron_edges_lie_level_and_set_back_from_the_leg(bench: Bench):
    planes = trims(bench, "base/apron front")
    assert planes["upper-edge"].normal == pytest.approx((0, 0, 1), abs=1e-12)
    assert planes["lower-edge"].offset == pytest.approx(-120.0, abs=1e-9)
    apron, leg = face(bench, "base/apron front", "top"), face(bench, LEG, "bottom")
    assert apron.normal == pytest.approx(leg.normal, abs=1e-12)
    assert leg.offset - apron.offset == pytest.approx(8.0, abs=1e-9)


def test_shoulders_lie_on_the_legs_inner_faces(bench: Bench):
    for apron, leg, shoulder_of, inner in (
        ("front", "front left", "shoulder-left", "inner-side"),
        ("back", "back right", "shoulder-left", "inner-side"),
        ("left", "front left", "shoulder-right", "inner-front"),
    ):
        end = trims(bench, f"base/apron {apron}")[shoulder_of]
        wall = trims(bench, f"base/leg {leg}")[inner].flipped()
        assert end.normal == pytest.approx(wall.normal, abs=1e-12)
        assert end.offset == pytest.approx(wall.offset, abs=1e-9)


# Splay seen from the front and from the side, and what follows from both, computed from vectors:
# lean of the arris, sightline, length by height, mitre and bevel of a level foot (degrees).
LEG_ANGLES = [
    (0, 5, 5.0, 0.0, 1.0038, 0.0, 5.0),
    (5, 5, 7.0532, 45.0, 1.0076, 5.0189, 4.9621),
    (5, 8, 9.3999, 31.9028, 1.0136, 5.0485, 7.9394),
    (7, 7, 9.8508, 45.0, 1.015, 7.0513, 6.8963),
    (8, 12, 14.2957, 33.4724, 1.032, 8.173, 11.7692),
    (10, 10, 14.0019, 45.0, 1.0306, 10.1466, 9.7),
    (10, 15, 17.7842, 33.3474, 1.0502, 10.335, 14.5526),
    (12, 12, 16.7308, 45.0, 1.0442, 12.2489, 11.4849),
    (15, 15, 20.7536, 45.0, 1.0694, 15.4709, 14.0061),
    (12, 20, 22.855, 30.2847, 1.0852, 12.7145, 19.1514),
    (5, 0, 5.0, 90.0, 1.0038, 5.0, 0.0),
    (15, 25, 28.2718, 29.8825, 1.1354, 16.3768, 23.3713),
]


@pytest.mark.parametrize("row", LEG_ANGLES)
def test_an_untapered_leg_has_the_angles_of_the_table(row: tuple[float, ...]):
    """The foot's mitre is read square to the outer side face, its bevel against that cut."""
    a, b, lean, sightline, length, mitre, bevel = row
    numbers = LegNumbers(
        top=(40, 40),
        foot=(40, 40),
        height=100,
        lift=0,
        outer=(a, b),
        inner=(inner_lean(a, 0.0), inner_lean(b, 0.0)),
    )
    leg = splayed_leg(Corner(1, 1), (0.0, 0.0, 100.0), numbers)
    top, foot = leg.hull[4], leg.hull[5]
    arris = sub(meet(*leg.outer, foot), meet(*leg.outer, top))
    down = unit(arris)
    side = leg.outer[0].normal
    across = cross(down, side)
    assert angle(down, neg(Z)) == pytest.approx(lean, abs=HANDED)
    assert math.degrees(math.atan2(down[0], down[1])) == pytest.approx(sightline, abs=HANDED)
    assert norm(arris) / 100 == pytest.approx(length, abs=HANDED)
    assert math.degrees(math.atan2(dot(Z, side), -dot(Z, down))) == pytest.approx(mitre, abs=HANDED)
    assert math.degrees(math.asin(abs(dot(Z, across)))) == pytest.approx(bevel, abs=HANDED)


def test_the_facet_is_as_wide_as_asked_measured_on_it(bench: Bench):
    planes = trims(bench, LEG)
    level = Plane(Z, 100.0)
    # Square to the arris: the facet's two edges are parallel to it.
    sides = [
        meet(planes["facet"], wall, level)
        for wall in (planes["outer-side"], face(bench, LEG, "bottom"))
    ]
    run = unit(cross(planes["outer-side"].normal, face(bench, LEG, "bottom").normal))
    apart = sub(*sides)
    wide = norm(sub(apart, scale(run, dot(apart, run))))
    assert wide == pytest.approx(12.0, abs=1e-9)


def mortises(bench: Bench, key: str) -> list[Mortise]:
    draft = bench.drafts[key]
    return [f.moved(draft.frame) for f in draft.features if isinstance(f, Mortise)]


@pytest.mark.parametrize("leg", LEGS)
def test_two_tenons_in_a_leg_leave_a_wall_and_a_margin(bench: Bench, leg: str):
    """8 thick, 20 deep: about 7 to 8 mm, worked in three dimensions; 10 mm under the leg's top."""
    one, other = mortises(bench, leg)
    assert (one.width, one.depth) == (8, 20)
    assert 6.5 < wall_between(one, other) < 8.5
    for slot in (one, other):
        assert wall_to(slot, Plane(Z, 190.0)) >= 10.0
        assert slot.seat.origin[2] < 190 - 70 / 2  # the climb pushes it below the middle


def test_tenons_25_deep_are_refused_with_the_wall_that_they_leave():
    made = reading_room(joint="{kind: loose tenon, depth: 25}")
    (wall,) = [f for f in made.findings if f.code == "joint.mortise_wall"]
    assert wall.severity is Severity.ERROR
    assert wall.value is not None
    assert wall.value < 3
    assert wall.limit == 3
    assert "between the two mortises of a leg" in wall.message


def test_a_wider_tenon_than_fits_is_found_at_the_leg_s_top():
    made = reading_room(joint="{kind: loose tenon, width: 55}")
    walls = [f for f in made.findings if f.severity is Severity.ERROR]
    assert any("under the leg's top, the climb of the slot counted" in f.message for f in walls)


def test_a_splay_that_no_leg_can_have_is_refused_at_its_place():
    with pytest.raises(SettingOutError) as refused:
        reading_room(a=42, apron=40, rest="")
    (problem,) = refused.value.problems
    assert problem.path == ("base", "legs", "splay", "front")
    assert problem.message == (
        "the leg's inner face leans 46.3 degrees, and a tenon 8.0 mm thick and 12.0 mm deep has "
        "no room in aprons 40.0 mm high: its slot climbs 8.7 mm in the leg and drops as much in "
        "the apron; splay or taper the legs less, or make the aprons higher"
    )


def test_a_facet_wider_than_the_foot_is_refused_at_its_place():
    with pytest.raises(SettingOutError) as refused:
        reading_room(more=", facet: {width: 40}, ease: 3")
    assert refused.value.problems[0].path == ("base", "legs", "facet", "width")


def test_legs_that_leave_no_room_for_aprons_are_refused_at_their_place():
    with pytest.raises(SettingOutError) as refused:
        reading_room(top="[58, 200]")
    assert refused.value.problems[0].path == ("base", "legs", "top", 1)


def test_feet_under_the_case_raise_nothing(bench: Bench):
    assert "base.feet_beyond_case" not in codes(bench)
    assert not [f for f in bench.findings if f.severity is not Severity.NOTE]


def test_feet_past_the_case_are_found_with_how_far():
    """Set in 10, splayed by 4 over 190: 190 tan 4 - 10 = 3.286 mm past the case."""
    found = [f for f in reading_room(front=10).findings if f.code == "base.feet_beyond_case"]
    assert len(found) == 4
    assert found[0].value == pytest.approx(3.286, abs=1e-3)


def test_a_stretcher_s_dado_has_a_plumb_floor_and_square_ends(bench: Bench):
    """A third of 26 / cos 4 is 8.69, up to 9; 60 lower the face has drawn 4.2 mm away: 4.8."""
    draft = bench.drafts["base/apron front"]
    dadoes = [f.moved(draft.frame) for f in draft.features if isinstance(f, Channel)]
    assert [dado.depth for dado in dadoes] == [9, 9]
    assert all(dado.seat.into == pytest.approx((0, -1, 0), abs=1e-12) for dado in dadoes)
    stretcher = bench.drafts["base/stretcher 1"]
    assert not stretcher.features
    assert stretcher.frame.point(stretcher.blank.size)[2] == pytest.approx(190)


@pytest.mark.kernel
@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("base/apron front", "base/leg front left"),
        ("base/apron left", "base/leg front left"),
        ("base/apron back", "base/leg back left"),
        ("base/apron front", "base/stretcher 1"),
        ("base/apron left", "base/corner block front left"),
        ("base/apron back", "base/corner block back right"),
    ],
)
def test_the_joints_of_a_splayed_base_go_together(clipped: Bench, first: str, second: str):
    goes_together(laid(clipped, first, second))


@pytest.mark.kernel
@pytest.mark.parametrize(
    "kind",
    ["mortise and tenon", "dowel, length: 45, with: pocket screw", "pocket screw, count: 3"],
)
def test_other_joints_of_splayed_aprons_go_together(kind: str):
    made = reading_room(joint=f"{{kind: {kind}}}", fixing="slotted clip", more="")
    for apron in ("front", "left"):
        goes_together(laid(made, f"base/apron {apron}", LEG))


def tenth(number: int) -> float:
    """Sizes as a maker writes them."""
    return number / 10


@given(
    st.integers(0, 200).map(tenth),
    st.integers(0, 150).map(tenth),
    st.integers(1200, 4000).map(tenth),
    st.integers(400, 900).map(tenth),
    st.integers(4, 10).map(tenth),
    st.integers(150, 400).map(tenth),
)
def test_what_is_accepted_has_its_walls_and_margins(a, b, height, top, taper, thickness):
    """Or it says the number that is wrong, or is refused at its place in the spec."""
    base = splayed(
        a=a,
        b=b,
        height=height,
        front=60,
        top=[top, top],
        foot=[top * taper, top * taper],
        more="",
        thickness=thickness,
        rest="",
    )
    assume(top * taper > 20)
    try:
        made = based(asked(base, size=(1680, 500, 450)))
    except SettingOutError as refused:
        problems = refused.problems
    else:
        problems = ()
        _holds(made, height, inner_lean(a, top * (1 - taper) / height))
    assert all(p.path[:2] == ("base", "legs") and p.message for p in problems)


def _holds(made: Bench, height: float, lean: float) -> None:
    one, other = mortises(made, LEG)
    wall, margin = wall_between(one, other), min(wall_to(s, Plane(Z, height)) for s in (one, other))
    errors = [f for f in made.findings if f.severity is Severity.ERROR]
    if not errors:
        assert wall >= 3
        assert margin >= 10 - 1e-6
    assert all(f.message for f in errors)
    planes = trims(made, LEG)
    if "inner-side" in planes:
        assert abs(90 - angle(planes["inner-side"].normal, Z)) == pytest.approx(lean, abs=1e-6)


@pytest.mark.kernel
@settings(max_examples=6)
@given(
    st.integers(0, 150).map(tenth),
    st.integers(0, 60).map(tenth),
    st.sampled_from([0, 5, 12]),
    st.sampled_from(["loose tenon", "mortise and tenon", "dowel", "pocket screw"]),
    st.sampled_from(["figure-eight fastener", "slotted clip", "screw block", "screw"]),
)
def test_what_is_accepted_is_solid_and_shares_no_wood(a, b, facet, joint, fixing):
    more = f", facet: {{width: {facet}}}, ease: 3" if facet else ""
    made = reading_room(a=a, b=b, more=more, joint=f"{{kind: {joint}}}", fixing=fixing, front=40)
    if not [f for f in made.findings if f.severity is Severity.ERROR]:
        assert_stands(made)


def test_what_a_facet_takes_is_half_its_width_where_faces_are_square_and_it_lies_at_45():
    """A facet of 10 on a square arris takes 10 / sqrt 2 of each face."""
    one, other = Plane((1.0, 0.0, 0.0), 0.0), Plane((0.0, 1.0, 0.0), 0.0)
    assert facet_takes(one, other, 10) == pytest.approx(10 / math.sqrt(2))
