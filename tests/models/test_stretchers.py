"""Stretchers: every joint that may hold them, between plumb aprons and between leaning ones."""

import pytest

from ground.errors import SpecError
from ground.findings import Severity
from ground.vectors import Vec, Z, neg
from models.parts.directions import knots
from models.parts.part import Stage
from models.setting_out.bench import Bench
from models.setting_out.piece import set_out
from models.setting_out.trouble import SettingOutError
from tests.helpers.bases import asked, based, bedside, codes, reading_room, splayed
from tests.helpers.examples import DEMO, changed
from tests.helpers.joints import goes_together, laid

HANDED = 1e-4
"""Angles in the papers are rounded to four decimals (degrees)."""
KNOWN = {"joint.mortise_wall", "joint.tenon_short", "joint.dado_shows"}
"""Notes on the legs of the bases that these stretchers stand in, and on dadoes that come out."""

PLUMB = (
    "stretchers: {{count: 1, runs: {}, material: oak, height: 1-1/2, thickness: 3/4, joint: {}}}"
)
FORTH, ACROSS = "front to back", "side to side"


def plumb(joint: str, runs: str = FORTH) -> Bench:
    """A stretcher 1-1/2 high between the bedside cabinet's aprons of 2-1/4."""
    return bedside(rest=PLUMB.format(runs, joint), fixing="slotted clip")


@pytest.mark.kernel
@pytest.mark.parametrize(
    "joint",
    [
        "{kind: loose tenon, clearance: 1/64}",
        "{kind: mortise and tenon}",
        "{kind: mortise and tenon, haunch: true}",
        "{kind: dowel, count: 2}",
        "{kind: screw, plugs: oak}",
        "{kind: dado, with: screw}",
        "{kind: stopped dado, open: bottom, with: pocket screw}",
    ],
)
def test_stretchers_between_plumb_aprons_go_together(joint: str) -> None:
    made = plumb(joint)
    assert set(codes(made)) <= KNOWN
    goes_together(laid(made, "base/apron front", "base/stretcher 1"))
    assert knots(made.joints) == ()


@pytest.mark.parametrize("kind", ["loose tenon", "mortise and tenon", "dowel", "dado", "screw"])
def test_a_stretcher_from_side_to_side_is_joined_before_the_frames_close(kind: str) -> None:
    made = plumb(f"{{kind: {kind}}}", ACROSS)
    assert set(codes(made)) <= KNOWN
    assert knots(made.joints) == ()
    ends = {part for joint in made.joints if "stretcher" in joint.id for part in joint.parts}
    assert ends == {"base/apron left", "base/apron right", "base/stretcher 1"}


def test_only_what_is_put_in_last_is_cut_to_the_glued_frame() -> None:
    """Tenons close with the frame, so their stretcher is cut before; a dado's is fitted."""
    assert plumb("{kind: loose tenon}").drafts["base/stretcher 1"].stage is Stage.NOW
    assert plumb("{kind: stopped dado}").drafts["base/stretcher 1"].stage is Stage.TO_FIT


@pytest.mark.parametrize(
    ("joint", "height", "told"),
    [
        ("{kind: dado}", "1-1/2", True),
        ("{kind: dado}", "2-1/4", False),
        ("{kind: stopped dado, open: bottom}", "1-1/2", True),
        ("{kind: stopped dado}", "1-1/2", False),
    ],
)
def test_a_dado_that_goes_on_under_its_stretcher_is_told(
    joint: str, height: str, *, told: bool
) -> None:
    rest = PLUMB.format(FORTH, joint).replace("1-1/2", height)
    assert ("joint.dado_shows" in codes(bedside(rest=rest, fixing="slotted clip"))) is told


def test_a_tenon_makes_its_stretcher_longer_by_both_its_lengths() -> None:
    """13/16 of apron less 6 behind the mortise and 1 of room: 13.6375 at either end."""
    short = plumb("{kind: dowel}").drafts["base/stretcher 1"].blank.length
    long = plumb("{kind: mortise and tenon}").drafts["base/stretcher 1"].blank.length
    assert long - short == pytest.approx(2 * (13 / 16 * 25.4 - 6 - 1))


SETS = """stretchers:
    - {count: 1, material: oak, height: 60, thickness: 26, joint: {kind: screw}}
    - {count: 2, material: oak, height: 40, thickness: 20, joint: {kind: stopped dado}}"""


def test_several_sorts_of_stretchers_share_the_room_in_their_order() -> None:
    made = reading_room(rest=SETS, fixing="slotted clip")
    middles = [made.drafts[f"base/stretcher {n}"] for n in (1, 2, 3)]
    at = [draft.frame.point(draft.blank.centre)[0] for draft in middles]
    assert at == sorted(at)
    assert at[1] - at[0] == pytest.approx(at[2] - at[1])
    # The blank of one between leaning faces is as wide as its plumb height.
    assert [round(draft.blank.size[1]) for draft in middles] == [60, 40, 40]
    assert set(codes(made)) <= KNOWN


def test_stretchers_that_meet_are_found_with_how_far() -> None:
    """Sixty of 26 between the legs stand closer than they are thick."""
    crowd = "stretchers: {count: 60, material: oak, height: 60, thickness: 26, joint: screw}"
    found = [f for f in reading_room(rest=crowd).findings if f.code == "fit.stretcher_place"]
    assert found[0].severity is Severity.ERROR
    assert "into another stretcher" in found[0].message


@pytest.mark.parametrize(
    ("rest", "said"),
    [
        (PLUMB.format(FORTH, "{kind: stopped dado, open: front}"), "write top or bottom"),
        (PLUMB.format(ACROSS, "dado").replace("runs", "at: dividers, runs"), "write at: even"),
        (
            SETS.replace("count: 2,", "count: 2, runs: side to side,"),
            "base.stretchers: cross one another",
        ),
        (SETS.replace("height: 40", "height: forty"), r"base.stretchers\[2\].height: "),
    ],
)
def test_what_no_stretcher_can_have_is_refused_in_the_spec(rest: str, said: str) -> None:
    with pytest.raises(SpecError, match=said):
        asked(splayed(rest=rest))


@pytest.mark.parametrize("kind", ["loose tenon", "mortise and tenon", "dowel"])
def test_stretchers_with_level_tenons_are_refused_in_the_whole_piece(kind: str):
    """The frame closes along 12.2595 degrees, the apron leans by 4: 8.26 apart, at four ends."""
    level = changed(DEMO, ("joint: {kind: stopped dado, open: top}", f"joint: {{kind: {kind}}}"))
    found = [f for f in set_out(level).findings if f.code == "assembly.two_directions"]
    assert len(found) == 4
    for one in found:
        assert one.severity is Severity.ERROR
        assert one.value == pytest.approx(8.2595, abs=HANDED)
        assert "let the stretcher in from above" in one.message


STRETCHED = (
    "stretchers: {{count: 2, at: dividers, material: oak, height: 60, thickness: 26, joint: {}}}"
)


@pytest.mark.kernel
@pytest.mark.parametrize(
    ("joint", "way"),
    [
        ("{kind: stopped dado, open: bottom}", Z),
        ("{kind: stopped dado, stop: 25}", neg(Z)),
        ("{kind: dado, clearance: 0.3}", neg(Z)),
        ("{kind: screw, plugs: oak}", None),
        ("{kind: pocket screw}", None),
    ],
)
def test_stretchers_between_leaning_aprons_go_together(joint: str, way: Vec | None):
    """In a dado from above or from below; screwed they are only held against the aprons."""
    made = reading_room(rest=STRETCHED.format(joint), fixing="slotted clip")
    assert set(codes(made)) <= KNOWN
    between = laid(made, "base/apron front", "base/stretcher 1")
    goes_together(between)
    assert way is None or between.ways[1] == way
    assert knots(made.joints) == ()


@pytest.mark.parametrize(
    ("joint", "said"),
    [
        ("{kind: stopped dado, stop: 5}", "joint.stop: ends the dado 65.0 mm under"),
        ("{kind: stopped dado, open: bottom, stop: 60}", "joint.stop: leaves nothing"),
        ("{kind: dado, with: screw}", "joint.with: would go through aprons that lean by 4.0"),
    ],
)
def test_dadoes_of_stretchers_that_cannot_be_are_refused_at_their_place(joint: str, said: str):
    with pytest.raises(SettingOutError) as refused:
        reading_room(rest=STRETCHED.format(joint))
    (problem,) = refused.value.problems
    assert f"{'.'.join(map(str, problem.path[2:]))}: {problem.message}".startswith(said)


def test_a_stretcher_count_that_does_not_match_the_dividers_is_found():
    made = based(asked(splayed()), (580.0,))
    assert "base.stretcher_count" in codes(made)
