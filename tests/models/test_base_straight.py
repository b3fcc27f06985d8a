"""Straight legs: square through the aprons, tapered below, shoulders at 90.00."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.findings import Severity
from ground.vectors import Vec, X, Y, Z, angle, dot
from models.parts.features import Channel, EasedEdge, Trim, Waste
from models.setting_out.bench import Bench
from models.setting_out.trouble import SettingOutError
from tests.helpers.bases import (
    asked,
    assembly,
    assert_stands,
    based,
    bedside,
    codes,
    own_trims,
    straight,
    trims,
)
from tests.helpers.joints import goes_together, laid

IN = 25.4
LEG = "base/leg front left"


@pytest.fixture(scope="module")
def bench() -> Bench:
    return bedside()


def test_the_glide_comes_off_the_leg(bench: Bench):
    """9-1/2 less 3/16 = 9-5/16 in = 236.5375 mm; the foot stands 3/16 above the floor."""
    assert bench.drafts[LEG].blank.size == pytest.approx((9.3125 * IN, 1.5 * IN, 1.5 * IN))
    glide = next(draft for draft in bench.drafts.values() if draft.name == "glide")
    ends = sorted(glide.frame.point((x, 0, 0))[2] for x in (0, glide.blank.length))
    assert ends == pytest.approx([0.0, 3 / 16 * IN])
    assert not glide.made


def test_the_taper_starts_below_the_aprons(bench: Bench):
    """Inside faces lose 5/8 in over 9-5/16 less 2-3/4 = 6-9/16 in: 5.44 degrees."""
    planes = trims(bench, LEG)
    lean = math.degrees(math.atan(0.625 / 6.5625))
    for name in ("taper-inner-side", "taper-inner-front"):
        plane = planes[name]
        assert abs(90 - angle(plane.normal, Z)) == pytest.approx(lean)
        starts = (9.5 - 2.75) * IN
        corner = (1 * IN + 1.5 * IN, 0.75 * IN + 1.5 * IN, starts)
        assert plane.height(corner) == pytest.approx(0.0, abs=1e-9)
    assert (9.5 - 2.75) * IN < (9.5 - 2.25) * IN  # below the aprons' lower edges


@pytest.mark.parametrize("apron", ["front", "back", "left", "right"])
def test_shoulders_are_square(bench: Bench, apron: str):
    draft = bench.drafts[f"base/apron {apron}"]
    shoulders = [
        plane
        for feature in draft.features
        if isinstance(feature, Waste)
        for name, plane in feature.planes
        if name == "shoulder"
    ]
    assert len(shoulders) == 8
    for plane in shoulders:
        assert angle(plane.normal, X) in (0.0, 180.0)


def test_the_apron_is_its_shoulders_and_two_tenons_long(bench: Bench):
    """21-3/4 - 2 - 3 = 16-3/4 in between shoulders, and 18 mm a tenon, less its end room."""
    blank = bench.drafts["base/apron front"].blank
    mortise = _mortises(bench, LEG)[0]
    assert blank.length == pytest.approx(16.75 * IN + 2 * (mortise.depth - 1))
    assert (blank.width, blank.thickness) == pytest.approx((2.25 * IN, 13 / 16 * IN))


def test_a_haunch_is_a_third_of_the_apron_and_fills_its_groove_to_the_top(bench: Bench):
    """2-1/4 in / 3 = 3/4 in; the mortise starts that far down and ends 5 mm over the edge."""
    mortise, groove = _mortises(bench, LEG)[0], _grooves(bench, LEG)[0]
    frame = bench.drafts[LEG].frame
    ends = sorted(
        frame.point(_far(feature, share))[2] for feature in (mortise,) for share in (0.0, 1.0)
    )
    assert ends == pytest.approx([(9.5 - 2.25) * IN + 5, (9.5 - 0.75) * IN])
    assert groove.length == pytest.approx(0.75 * IN)
    tops = [frame.point(_far(groove, share))[2] for share in (0.0, 1.0)]
    assert max(tops) == pytest.approx(9.5 * IN)
    assert groove.depth < mortise.depth


def _far(channel: Channel, share: float) -> Vec:
    seat = channel.seat
    return tuple(  # type: ignore[return-value]
        o + a * channel.length * share for o, a in zip(seat.origin, seat.along, strict=True)
    )


def _mortises(bench: Bench, key: str) -> list[Channel]:
    features = bench.drafts[key].features
    return [f for f in features if isinstance(f, Channel) and f.kind == "square mortise"]


def _grooves(bench: Bench, key: str) -> list[Channel]:
    features = bench.drafts[key].features
    return [f for f in features if isinstance(f, Channel) and f.kind == "groove"]


def test_tenons_are_a_third_of_the_apron_to_the_nearest_chisel(bench: Bench):
    """13/16 / 3 = 0.271 in: 1/4 in."""
    assert _mortises(bench, LEG)[0].width == pytest.approx(0.25 * IN)


def test_legs_with_the_same_mortises_are_one_part_of_four_copies(bench: Bench):
    made = assembly(bench)
    (leg,) = [part for part in made.parts if part.name.startswith("leg")]
    assert leg.name == "leg"
    assert len(made.copies_of(leg.label)) == 4


def test_the_wall_between_two_mortises_is_printed_and_short_tenons_are_noted(bench: Bench):
    walls = [f for f in bench.findings if f.code == "joint.mortise_wall"]
    assert [f.severity for f in walls] == [Severity.NOTE]
    assert walls[0].value is not None
    assert walls[0].value >= 3
    assert codes(bench).count("joint.tenon_short") == 2


def test_a_tenon_that_reaches_the_other_mortise_is_refused_with_the_wall():
    made = bedside(joint="{kind: mortise and tenon, length: 1}")
    (wall,) = [f for f in made.findings if f.code == "joint.mortise_wall"]
    assert wall.severity is Severity.ERROR
    assert wall.value is not None
    assert wall.value < 3


def test_arrises_are_eased_above_and_below_the_taper_and_the_top_is_not(bench: Bench):
    """4 above, 3 more below (the outer arris runs through), 4 at the foot."""
    edges = [f for f in bench.drafts[LEG].features if isinstance(f, EasedEdge)]
    assert len(edges) == 4 + 3 + 4
    assert not any("left" in edge.between for edge in edges)  # the top is the stick's left end


@pytest.mark.parametrize(("faces", "trims_there"), [("inside", 2), ("outside", 2), ("all", 4)])
def test_the_faces_asked_are_tapered_and_the_foot_is_the_size_asked(faces: str, trims_there: int):
    made = bedside(faces=faces)
    planes = own_trims(made, LEG)
    assert len([name for name in planes if name.startswith("taper")]) == trims_there
    size = made.drafts[LEG].blank.size
    foot = size[0]
    for axis, width in ((1, size[1]), (2, size[2])):
        lost = 0.0
        for feature in made.drafts[LEG].features:
            if isinstance(feature, Trim) and abs(feature.plane.normal[axis]) > 0.5:
                n = feature.plane.normal
                at = (feature.plane.offset - n[0] * foot) / n[axis]
                lost += width - at if n[axis] > 0 else at
        assert width - lost == pytest.approx(7 / 8 * IN)


def test_a_taper_that_starts_below_the_foot_is_refused_at_its_place():
    base = straight().replace("starts: 2-3/4", "starts: 9-3/8")
    with pytest.raises(SettingOutError) as refused:
        based(asked(base, size=("21-3/4", "18-3/8", "15-1/8"), units="in"), ())
    assert refused.value.problems[0].path == ("base", "legs", "taper", "starts")


def test_a_leveller_is_bored_for():
    made = bedside(foot="leveller")
    holes = [f for f in made.drafts[LEG].features if str(f.kind) == "fitting hole"]
    assert len(holes) == 1
    assert [line.quantity for line in made.hardware if line.name == "leveller"] == [4]


@pytest.mark.kernel
@pytest.mark.parametrize("kind", ["mortise and tenon", "loose tenon", "dowel", "pocket screw"])
def test_the_joints_of_straight_legs_go_together(kind: str):
    # Round-overs and the plates' recesses have tests of their own.
    base = straight(joint=f"{{kind: {kind}}}", fixing="slotted clip").replace(", ease: 1/16", "")
    made = based(asked(base, size=("21-3/4", "18-3/8", "15-1/8"), units="in"), ())
    for apron in ("front", "left"):
        goes_together(laid(made, f"base/apron {apron}", LEG))


@pytest.mark.kernel
def test_blocks_and_stretchers_of_a_square_base_go_together():
    rest = (
        "stretchers: {count: 1, at: even, material: oak, height: 1-1/2, thickness: 3/4, "
        "joint: {kind: stopped dado, open: top}}\n"
        "  corner_blocks: {material: oak, thickness: 3/4, legs: 2-3/4}"
    )
    base = straight(rest=rest, fixing="slotted clip").replace(", ease: 1/16", "")
    made = based(asked(base, size=("21-3/4", "18-3/8", "15-1/8"), units="in"), ())
    goes_together(laid(made, "base/apron front", "base/stretcher 1"))
    goes_together(laid(made, "base/apron front", "base/corner block front left"))
    assert all(dot(made.drafts["base/stretcher 1"].frame.x, way) in (0, 1, -1) for way in (X, Y))


@pytest.mark.kernel
@settings(max_examples=6)
@given(
    st.sampled_from(["inside", "outside", "all"]),
    st.sampled_from(
        ["", ", facet: {arris: outer, width: 1/4}", ", facet: {arris: inner, width: 1/4}"]
    ),
    st.sampled_from(["loose tenon", "mortise and tenon", "dowel", "pocket screw"]),
    st.sampled_from(["figure-eight fastener", "slotted clip", "screw block", "screw"]),
    st.sampled_from(["glide", "leveller"]),
)
def test_what_is_accepted_is_solid_and_shares_no_wood(faces, more, joint, fixing, foot):
    made = bedside(faces=faces, more=more, joint=f"{{kind: {joint}}}", fixing=fixing, foot=foot)
    if not [f for f in made.findings if f.severity is Severity.ERROR]:
        assert_stands(made)
