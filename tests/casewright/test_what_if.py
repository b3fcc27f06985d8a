"""The what-if verb: an answer in plain lines, exit 2 with a reason for what cannot be answered."""

import re
import sys

import pytest

from casewright import cli
from casewright.start import write_starter
from casewright.what_if import answer
from tests.helpers import examples
from tests.helpers.repository import ROOT

DEMO = ROOT / "examples" / f"{examples.DEMO}.yaml"


def step(label: str, face: str) -> int:
    """The number of the step that makes a face of a demo's part."""
    from planning.saw.job import Job
    from planning.saw.plan import part_set_ups

    part = examples.piece(examples.DEMO).part(label)
    job = Job.of(part, examples.spec(examples.DEMO).shop)
    return next(one.order for one in part_set_ups(job) if one.makes_face == face)


@pytest.fixture
def run(monkeypatch, capfd):
    def running(*words: object) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["casewright", "what-if", *map(str, words)])
        status = cli.main()
        results, messages = capfd.readouterr()
        return status, results, messages

    return running


def test_a_shoulder_cut_short_is_told_with_what_it_spoils_and_what_saves_it(run):
    """The long apron's first shoulder, 7.4 short of its 1347.4."""
    status, results, messages = run(DEMO, "B3", step("B3", "shoulder-right"), "stop at 1340")
    assert (status, messages) == (0, "")
    lines = results.splitlines()
    assert lines[0].startswith("B3 long apron, step 4: table saw, mitre gauge, compound cut")
    assert "Wood is missing, up to 7 deep." in lines
    assert any(re.search(r"step \d+, mortise .*goes into it", line) for line in lines)
    assert lines[-1].startswith("Cut it again 7 deeper with the right settings (mitre 17.0")


def test_a_cut_too_shallow_is_set_right_and_cut_again():
    lines = answer(DEMO, "b3", step("B3", "shoulder-right"), "stop at 1348.4")
    assert any(line.startswith("Wood is left on") for line in lines)
    assert lines[-1].startswith("Nothing is lost: set it as planned")


def test_a_taper_run_along_the_fence_is_past_saving():
    """30 at the foot all the way to the head, which is to be 58: 28 too little."""
    lines = answer(DEMO, "B1", step("B1", "inner-front"), "no sled")
    assert lines[-1] == "No cut within the blank saves it: make the part anew."


def test_the_question_of_the_readme_is_answered_for_the_starter(tmp_path):
    """Step 5 tapers a square leg, which has no cut at its foot to name: 24 there, said 23.4."""
    lines = answer(write_starter(tmp_path / "own"), "B1", 5, "came out 23.4 at the foot")
    assert lines[0].startswith("B1 leg, step 5: table saw, taper sled, taper")
    assert "  23.4 instead of 24 where front meets right" in lines
    at_right = answer(tmp_path / "own" / "piece.yaml", "B1", 5, "came out 23.4 at right")
    assert at_right == lines


def test_a_groove_at_the_wrong_fence_is_told_with_what_mends_it(run):
    """The back's groove, 405.9 from the edge: cut at 404, 1.9 nearer."""
    status, results, _ = run(DEMO, "C3", step("C3", "groove-1.floor"), "fence at 404")
    assert status == 0
    lines = results.splitlines()
    assert "It lies 1.9 nearer to front than it should." in lines
    assert "What fits there by case.back: it comes to sit 1.9 off." in lines
    assert lines[-1].startswith("Glue a strip 6.2 wide and 8 deep in")


def test_a_hole_right_through_and_a_blank_too_narrow_are_told_in_the_piece_s_units():
    lines = answer(DEMO, "S1", step("S1", "shelf-pin-hole-1.floor"), "came out through")
    assert "It is 6.6 too deep." in lines
    assert "It comes out of bottom." in lines
    inch = ROOT / "examples" / f"{examples.BEDSIDE}.yaml"
    lines = answer(inch, "B2", 1, "2 wide")
    assert "The finished part lacks 1/4 of width." in lines


def test_what_was_set_right_has_changed_nothing():
    lines = answer(DEMO, "B3", step("B3", "shoulder-right"), "tilt 1.1687")
    assert lines[-1] == "Nothing that a rule can measure has changed."


@pytest.mark.parametrize(
    ("question", "message"),
    [
        (("Q9", 2, "5 degrees"), "Q9: there is no such part; the parts: B1, B2"),
        (("B1", 1, "5 degrees"), "step 1 of B1 makes the blank; say '204 long'"),
        (("B1", 99, "5 degrees"), "B1 has no step 99"),
        (("B1", 2, "the wind"), "cannot tell what 'the wind' means; write '5 degrees'"),
        (("B3", 6, "came out 50 at sea"), "B3 step 6 has no line at 'sea'"),
        (("L3", 1, "5 degrees"), "step 1 of L3 makes the blank"),
    ],
)
def test_what_cannot_be_answered_is_exit_2_with_a_reason(run, question, message):
    status, results, messages = run(DEMO, *question)
    assert (status, results) == (2, "")
    assert messages.startswith(message)
