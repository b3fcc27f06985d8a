"""Grooves, holes, joints and blanks set wrong, against numbers worked by hand."""

import math

import pytest

from ground.quantities import Units
from ground.vectors import Plane, Vec, X, Y, Z, neg
from models.parts.blank import Blank
from models.parts.features import (
    Channel,
    ChannelKind,
    EasedEdge,
    Feature,
    Hole,
    HoleKind,
    Mortise,
    Seat,
    Waste,
    WasteKind,
)
from models.parts.part import Part, PartKind, Stage, numbered
from planning.saw.boxes import Box
from planning.saw.heard import WhatIfError, heard
from planning.saw.job import Job
from planning.saw.plan import part_set_ups
from planning.saw.what_if import what_if
from planning.saw.wrong_blank import BlankOutcome, SizeOutcome
from planning.saw.wrong_pass import Mend, PassOutcome
from planning.saw.wrong_wall import WallOutcome
from specs.machines import Machines
from tests.helpers import examples

GROOVE = Channel(
    kind=ChannelKind.GROOVE,
    seat=Seat((0.0, 13.0, 0.0), X, Z),
    length=500.0,
    width=6.0,
    depth=8.0,
    made_by="case.back",
)
"""In the lower face, its nearer wall 10 from the front edge."""


def job(*features: Feature, show: str | None = None, over: Vec = (0.0, 0.0, 0.0)) -> Job:
    made = Part(
        label="X1",
        name="board",
        kind=PartKind.LUMBER,
        material=None,
        blank=Blank(length=500.0, width=120.0, thickness=20.0),
        features=numbered(features),
        show=show,
        over=over,
        stage=Stage.FROM_HARDWARE if any(over) else Stage.NOW,
    )
    return Job(part=made, machines=Machines())


def asked(made: Job, face: str, words: str):
    steps = part_set_ups(made)
    order = next(
        one.order for one in steps for cut in one.cuts if (cut.makes_face or one.does) == face
    )
    return what_if(made, steps, order, heard(words, Units.MM))


def in_groove(words: str, *others: Feature, show: str | None = None) -> PassOutcome:
    found = asked(job(GROOVE, *others, show=show), "groove-1.floor", words)
    assert isinstance(found, PassOutcome)
    return found


def test_a_groove_at_the_wrong_fence_is_off_by_the_difference_and_is_filled():
    found = in_groove("fence at 12")
    assert found.farther == pytest.approx((2.0, 0.0))
    assert found.fits == "case.back"
    assert (found.mend, found.deeper, found.out) == (Mend.FILL, 0.0, None)


def test_a_groove_too_deep_has_its_wall_left_told():
    """20 thick, 8 deep as planned, 18 as cut: 10 too deep, 2 left, and that is thin."""
    found = in_groove("18 deep")
    assert found.left is not None
    assert (found.deeper, found.left) == pytest.approx((10.0, 2.0))
    assert found.thin
    assert found.mend is Mend.SLIP
    assert not in_groove("16 deep").thin


def test_a_groove_right_through_comes_out_of_the_other_face():
    found = in_groove("came out through")
    assert (found.out, found.left) == ("top", 0.0)
    assert found.deeper == pytest.approx(12.0)
    assert found.mend is Mend.FILL
    assert in_groove("through", show="top").mend is Mend.REMAKE


def test_too_shallow_and_too_narrow_are_cut_again():
    found = in_groove("6.5 deep, 5 wide")
    assert (found.deeper, found.wider) == pytest.approx((-1.5, -1.0))
    assert found.mend is Mend.CUT_AGAIN


def test_too_wide_is_loose_and_is_filled():
    found = in_groove("7 wide")
    assert found.wider == pytest.approx(1.0)
    assert found.mend is Mend.FILL


def hole(place: Vec, depth: float, into: Vec) -> Hole:
    return Hole(
        kind=HoleKind.DOWEL,
        seat=Seat(place, X, into),
        diameter=8.0,
        depth=depth,
        made_by="case.corners",
    )


def test_what_a_groove_runs_into_when_it_is_too_deep_is_named():
    """A hole 8 deep from the other face above it: it ends at 12, the groove now at 14."""
    above = hole((100.0, 13.0, 20.0), 8.0, neg(Z))
    assert in_groove("11.9 deep", above).meets == ()
    assert in_groove("14 deep", above).meets == ("dowel-hole-1",)


def test_what_a_groove_runs_into_beside_it_is_named():
    """A hole 8 wide, its middle 25 from the edge, begins at 21; the groove ends at 16."""
    beside = hole((100.0, 25.0, 0.0), 8.0, Z)
    assert in_groove("fence at 14.9", beside).meets == ()
    assert in_groove("fence at 15.2", beside).meets == ("dowel-hole-1",)


def test_a_hole_is_measured_from_fence_and_stop_and_plugged():
    made = job(hole((60.0, 40.0, 0.0), 12.0, Z))
    found = asked(made, "dowel-hole-1.floor", "fence at 43, stop at 58")
    assert isinstance(found, PassOutcome)
    assert found.farther == pytest.approx((3.0, -2.0))
    assert (found.mend, found.width) == (Mend.FILL, 8.0)


def test_the_floor_that_a_later_step_starts_on_takes_it_along():
    recess = Hole(
        kind=HoleKind.RECESS,
        seat=Seat((60.0, 40.0, 0.0), X, Z),
        diameter=20.0,
        depth=3.0,
        made_by="base.fixing",
    )
    pilot = Hole(
        kind=HoleKind.PILOT,
        seat=Seat((60.0, 40.0, 3.0), X, Z),
        diameter=2.6,
        depth=10.0,
        made_by="base.fixing",
    )
    found = asked(job(recess, pilot), "round-recess-1.floor", "5 deep")
    assert isinstance(found, PassOutcome)
    assert [line.split(", ")[1] for line in found.later] == ["pilot hole"]
    assert found.meets == ()


def test_a_mortise_off_its_mark_is_told():
    mortise = Mortise(
        seat=Seat((100.0, 60.0, 0.0), X, Z), length=40.0, width=8.0, depth=12.0, made_by="base.legs"
    )
    found = asked(job(mortise), "mortise-1.floor", "fence at 55, 13 deep")
    assert isinstance(found, PassOutcome)
    # its nearer wall is 56 from the front edge
    assert found.farther[0] == pytest.approx(-1.0)
    assert found.deeper == pytest.approx(1.0)


def test_a_saw_s_words_at_a_cutter_are_answered_with_what_can_be_said():
    with pytest.raises(WhatIfError, match=r"step 2 of X1 is a cutter's; say 'fence at'"):
        in_groove("mitre 9")


TENON = Waste(
    kind=WasteKind.TENON,
    planes=(("shoulder", Plane(X, 40.0)), ("cheek", Plane(Z, 7.0)), ("", Plane(neg(Z), 1.0))),
    made_by="base.aprons",
)


def at_shoulder(words: str) -> WallOutcome:
    found = asked(job(TENON), "tenon-1.shoulder", words)
    assert isinstance(found, WallOutcome)
    return found


def test_a_shoulder_sawn_off_its_line_gapes_or_does_not_close():
    """Stop at 36.8 for a shoulder at 40 with a kerf of 3.2."""
    far = at_shoulder("stop at 38.8")
    assert (far.missing, far.left_on) == pytest.approx((2.0, 0.0))
    near = at_shoulder("stop at 35.8")
    assert (near.missing, near.left_on) == pytest.approx((0.0, 1.0))
    assert near.fits == "base.aprons"


def test_a_shoulder_out_of_square_is_out_by_its_width():
    """2 degrees over 120: 120 tan 2 = 4.19."""
    found = at_shoulder("mitre 2")
    assert found.missing + found.left_on == pytest.approx(120 * math.tan(math.radians(2)), abs=0.01)


def test_a_blade_too_high_at_a_shoulder_runs_into_the_tenon():
    assert at_shoulder("8.5 deep").deeper == pytest.approx(1.5)
    assert at_shoulder("6 deep").deeper == pytest.approx(-1.0)


def test_a_blank_too_small_lacks_what_the_part_needs():
    found = asked(job(), "mill the board square", "119 wide")
    assert isinstance(found, BlankOutcome)
    assert (found.short, found.over, found.moved) == ((0.0, 1.0, 0.0), (0.0, 0.0, 0.0), None)


def test_a_blank_too_large_is_taken_down():
    found = asked(job(), "mill the board square", "502 long")
    assert isinstance(found, BlankOutcome)
    assert (found.short, found.over) == ((0.0, 0.0, 0.0), (2.0, 0.0, 0.0))


def test_a_trim_short_is_past_mending_and_a_trim_long_is_not():
    made = job(over=(5.0, 0.0, 0.0))
    short, long = (asked(made, "right", words) for words in ("stop at 498", "501 long"))
    assert isinstance(short, SizeOutcome)
    assert isinstance(long, SizeOutcome)
    assert (short.over, short.again) == (-2.0, False)
    assert (long.over, long.again) == (1.0, True)


def test_a_round_over_too_large_takes_wood_that_does_not_come_back():
    made = job(EasedEdge(between=("top", "front"), size=3.0, made_by="base.legs"))
    found = asked(made, "round-over, radius 3.0 mm", "radius 5")
    assert isinstance(found, SizeOutcome)
    assert (found.over, found.again) == (2.0, False)


def box(middle: Vec) -> Box:
    return Box(middle=middle, axes=(X, Y, Z), halves=(10.0, 5.0, 2.0))


@pytest.mark.parametrize(
    ("place", "met"),
    [((19.9, 0.0, 0.0), True), ((20.0, 0.0, 0.0), False), ((0.0, 0.0, 4.1), False)],
)
def test_boxes_that_only_touch_do_not_meet(place, met):
    assert box((0.0, 0.0, 0.0)).meets(box(place)) is met


def test_a_box_turned_by_45_degrees_reaches_by_its_corner():
    """A square of 10, turned, reaches 7.07 to the side of its middle."""
    half = math.sqrt(0.5)
    turned = Box(
        middle=(17.0, 0.0, 0.0), axes=((half, half, 0.0), (-half, half, 0.0), Z), halves=(5, 5, 2)
    )
    assert box((0.0, 0.0, 0.0)).meets(turned)
    away = Box(middle=(17.1, 0.0, 0.0), axes=turned.axes, halves=turned.halves)
    assert not box((0.0, 0.0, 0.0)).meets(away)


EVERYTHING = ("8 degrees", "mitre 3", "fence at 9", "12 deep", "204 long", "radius 9", "no wedge")


@pytest.mark.parametrize("name", examples.EXAMPLES)
def test_every_kind_of_step_of_the_examples_can_be_asked(name):
    spec = examples.spec(name)
    asked_of: set[tuple[str, str, str | None]] = set()
    for part in examples.piece(name).parts:
        if not part.made:
            continue
        made = Job.of(part, spec.shop)
        steps = part_set_ups(made)
        for step in steps:
            kind = (step.machine.value, step.does, step.measured)
            if kind in asked_of:
                continue
            asked_of.add(kind)
            assert any(answers(made, steps, step.order, words) for words in EVERYTHING), kind
    assert len(asked_of) > 10


def answers(made: Job, steps, order: int, words: str) -> bool:
    try:
        what_if(made, steps, order, heard(words, Units.MM))
    except WhatIfError:
        return False
    return True
