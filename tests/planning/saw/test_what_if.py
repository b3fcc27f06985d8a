"""What wrong settings and measures make of a part, against numbers worked by hand."""

import math

import pytest

from ground.quantities import Units
from ground.vectors import Plane, unit
from models.parts.blank import Blank
from models.parts.features import Trim, TrimKind
from models.parts.part import Part, PartKind
from planning.saw.heard import Said, WhatIfError, heard
from planning.saw.job import Job
from planning.saw.plan import part_set_ups
from planning.saw.what_if import Outcome, what_if
from specs.machines import BandSaw, Machines, MitreSaw, TableSaw, TrackSaw


def board(size: tuple[float, float, float], *cuts: tuple[str, Plane]) -> Job:
    length, width, thickness = size
    trims = tuple(
        Trim(kind=TrimKind.BEVEL, plane=plane, made_by="base.legs", id=name) for name, plane in cuts
    )
    part = Part(
        label="X1",
        name="board",
        kind=PartKind.LUMBER,
        material=None,
        blank=Blank(length=length, width=width, thickness=thickness),
        features=trims,
    )
    machines = Machines(
        table_saw=TableSaw(sled=100.0),
        track_saw=TrackSaw(owned=False),
        mitre_saw=MitreSaw(owned=False),
        band_saw=BandSaw(owned=False),
    )
    return Job(part=part, machines=machines)


def asked(job: Job, cut: str, words: str) -> Outcome:
    steps = part_set_ups(job)
    order = next(one.order for one in steps if one.makes_face == cut)
    found = what_if(job, steps, order, heard(words, Units.MM))
    assert isinstance(found, Outcome)
    return found


T7 = math.tan(math.radians(7))
LEG = ("side", Plane.through((0.0, 58.0, 45.0), (-26.0 * T7 / 400.0, 1.0, -T7)))
"""A side that falls by 26 over 400, bevelled 7 degrees: it wants a wedge."""


def test_without_the_wedge_one_end_comes_out_an_eighth_wrong():
    """26 tan 7 = 3.19 at the far end, nothing at the stop."""
    found = asked(board((400, 80, 45), LEG), "side", "no wedge")
    out = sorted(abs(slip.out) for slip in found.changed)
    assert out[-1] == pytest.approx(3.19, abs=0.01)
    assert all(size == pytest.approx(3.19, abs=0.02) for size in out)


END = ("end", Plane.through((450.0, 0, 0), unit((1.0, 0.0, 0.2))))


def test_a_stop_set_too_far_leaves_wood_on_and_is_cut_again_as_planned():
    found = asked(board((500, 80, 20), END), "end", "stop at 452")
    assert found.missing == 0.0
    # 2 along the board is 2 cos(11.31) square to the cut
    assert found.left_on == pytest.approx(2 / math.sqrt(1.04), abs=0.01)
    assert found.rescue is not None
    assert found.rescue.whole
    assert found.rescue.deeper == 0.0


def test_a_stop_set_too_short_is_saved_by_moving_the_part_where_its_other_end_is_uncut():
    """Both ends still to cut: 20 spare at the left takes up the 8 lost at the right."""
    start = ("start", Plane((-1.0, 0.0, 0.0), -20.0))
    stop = ("stop", Plane((1.0, 0.0, 0.0), 470.0))
    job = board((500, 80, 20), start, stop)
    steps = part_set_ups(job)
    first = next(one for one in steps if one.makes_face in {"start", "stop"})
    assert first.distance is not None
    # each is measured from the far end: shorten the first of them by 8
    said = Said(distance=first.distance - 8.0)
    found = what_if(job, steps, first.order, said)
    assert isinstance(found, Outcome)
    assert found.missing == pytest.approx(8.0)
    assert found.rescue is not None
    assert found.rescue.moved is not None
    assert abs(found.rescue.moved[0]) == pytest.approx(8.0, abs=0.01)
    assert found.rescue.moved[1:] == pytest.approx((0.0, 0.0), abs=0.01)


def test_a_stop_set_too_short_at_the_only_cut_makes_a_shorter_part():
    found = asked(board((500, 80, 20), END), "end", "stop at 447")
    assert found.missing == pytest.approx(3 / math.sqrt(1.04), abs=0.01)
    assert found.rescue is not None
    assert not found.rescue.whole
    assert found.rescue.deeper == pytest.approx(found.missing, abs=0.01)
    assert found.rescue.setting.distance == pytest.approx(447.0, abs=0.01)


def test_too_much_missing_is_past_saving():
    found = asked(board((500, 80, 20), END), "end", "stop at 400")
    assert found.rescue is None


def test_a_measure_at_one_end_turns_the_cut_and_leaves_the_other_end_right():
    """A rip at 60 that came out 57 at the right end: 60 still at the left."""
    rip = ("side", Plane((0.0, 1.0, 0.0), 60.0))
    found = asked(board((400, 80, 20), rip), "side", "came out 57 at right / bottom")
    lines = {frozenset((slip.face, slip.end)): slip.got for slip in found.changed}
    assert lines[frozenset(("bottom", "right"))] == pytest.approx(57.0, abs=1e-4)
    assert frozenset(("bottom", "left")) not in lines
    assert found.missing == pytest.approx(3.0, abs=0.01)


def test_what_leans_on_a_spoilt_face_is_named():
    end = ("end", Plane.through((450.0, 0, 0), unit((1.0, 0.2, 0.0))))
    other = ("other", Plane.through((20.0, 0, 0), unit((-1.0, 0.2, 0.0))))
    job = board((500, 80, 20), end, other)
    steps = part_set_ups(job)
    cuts = [one for one in steps if one.makes_face in {"end", "other"}]
    assert cuts[1].stop == cuts[0].makes_face
    assert cuts[0].distance is not None
    said = Said(distance=cuts[0].distance - 2.0)
    found = what_if(job, steps, cuts[0].order, said)
    assert isinstance(found, Outcome)
    assert any(str(cuts[1].makes_face) in line for line in found.spoils)
    assert any("base.legs" in line for line in found.spoils)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("5 degrees, no wedge", Said(tilt=5.0, no_help=True)),
        ("blade at 7.5", Said(tilt=7.5)),
        ("mitre 9 degrees", Said(mitre=9.0)),
        ("fence at 57.2", Said(distance=57.2)),
        ("came out 53.6 at the foot", Said(measured=((53.6, "foot"),))),
        ("Along the fence,  tilt 4", Said(tilt=4.0, no_help=True)),
        ("stop at 40", Said(stop=40.0)),
        ("12.5 deep, fence at 9", Said(depth=12.5, distance=9.0)),
        ("came out through", Said(through=True)),
        ("9 bit", Said(width=9.0)),
        ("204 long, 57.2 wide, 19 thick", Said(long=204.0, width=57.2, thick=19.0)),
        ("radius 4", Said(radius=4.0)),
    ],
)
def test_what_a_maker_says_is_heard(words, said):
    assert heard(words, Units.MM) == said


def test_inches_are_heard_in_a_piece_of_inches():
    assert heard("fence at 2-1/4", Units.INCH).distance == pytest.approx(57.15)
    assert heard("3/4 deep", Units.INCH).depth == pytest.approx(19.05)


@pytest.mark.parametrize("words", ["", " , ", "the wind", "fence at blue", "7"])
def test_what_is_not_understood_is_told_with_examples(words):
    with pytest.raises(ValueError, match=r"write|cannot read"):
        heard(words, Units.MM)


def test_what_cannot_be_set_at_a_step_is_told():
    job = board((500, 80, 20), END)
    with pytest.raises(WhatIfError, match="step 1 of X1 makes the blank; say '204 long'"):
        what_if(job, part_set_ups(job), 1, Said(tilt=5.0))
    with pytest.raises(WhatIfError, match="step 2 of X1 is a cut right through; say the degrees"):
        what_if(job, part_set_ups(job), 2, Said(depth=5.0))
    with pytest.raises(WhatIfError, match="X1 has no step 9"):
        what_if(job, part_set_ups(job), 9, Said(tilt=5.0))


def test_a_place_that_is_not_on_the_cut_is_told():
    with pytest.raises(WhatIfError, match="has no line at 'nowhere'"):
        asked(board((500, 80, 20), END), "end", "came out 53 at nowhere")
