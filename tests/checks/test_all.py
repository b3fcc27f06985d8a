"""All checks together: on the examples, on generated specs, through the program's own door."""

import json
import subprocess
import sys

import pytest
from hypothesis import HealthCheck, given, settings

from casewright.checking import check
from checks.all import look
from checks.bearing import find_bearing
from checks.cautions import CAUTIONS
from ground.findings import Severity
from models.setting_out.piece import set_out
from models.setting_out.trouble import SettingOutError
from specs.loads import Loads
from specs.reading import read
from tests.helpers.checked import found, made
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, EXAMPLES, piece, spec
from tests.helpers.repository import ROOT
from tests.helpers.specs_strategy import spec_texts


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_finding_says_of_what_how_much_and_whence(name):
    whole = piece(name)
    ids = {copy.id for copy in whole.copies}
    said = look(whole, spec(name)).findings
    for one in said:
        assert one.message
        assert one.subject
        assert one.source
        assert set(one.copies) <= ids
        assert "compl" not in one.message.lower()
    assert [(one.code, one.message) for one in said[-len(CAUTIONS) :]] == list(CAUTIONS)


@pytest.mark.parametrize("name", [BEDSIDE, CHEST, DEMO])
def test_the_three_pieces_can_be_made_and_used(name):
    said = look(piece(name), spec(name)).findings
    assert [one.code for one in said if one.severity is Severity.ERROR] == []


def test_the_anchor_is_on_the_hardware_list_of_what_is_built():
    checked = check(ROOT / "examples" / f"{DEMO}.yaml")
    assert [line.quantity for line in checked.assembly.hardware if "anchor" in line.name] == [2]


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(spec_texts())
def test_whatever_can_be_set_out_can_be_checked(text):
    asked = read(text, "generated.yaml").spec
    try:
        whole = set_out(asked)
    except SettingOutError:
        return
    codes = {one.code for one in look(whole, asked).findings}
    assert {"tip.ratios", "carry.mass", "finish.area", "caution.estimate"} <= codes


def test_the_program_prints_the_cautions_and_the_numbers_as_json():
    done = subprocess.run(
        [sys.executable, "-P", "-m", "casewright", "check", "examples/plan-chest.yaml", "--json"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    said = {one["code"]: one for one in json.loads(done.stdout)}
    assert {code for code, _ in CAUTIONS} <= set(said)
    assert said["tip.all_open_loaded"]["value"] < said["tip.all_open_loaded"]["limit"] == 1


DIVIDED = (
    "{split: upright, dividers: {material: oak, thickness: %s, joint: dowel},"
    " into: [{size: 1 share, open: true}, {size: 1 share, open: true}]}"
)


def test_a_thin_divider_under_a_heavy_top_is_pressed_too_hard():
    """40 kN on 1400 x 330: 1.25 x 682 x 330 of it on 12 x 310; 5 MPa bears 18.6 kN there."""
    size = "{length: 1400, height: 500, depth: 330}"
    heavy = made(DIVIDED % 12, size=size).model_copy(update={"loads": Loads(top=40_000)})
    mine = found(heavy, find_bearing)["load.bearing"]
    assert mine.limit == 5
    assert mine.value is not None
    assert mine.value > 5
    thicker = made(DIVIDED % 30, size=size).model_copy(update={"loads": Loads(top=40_000)})
    assert "divider" not in " ".join(one.subject for one in found(thicker, find_bearing).values())
    light = made(DIVIDED % 12, size=size).model_copy(update={"loads": Loads(top=4_000)})
    assert found(light, find_bearing) == {}
