"""The live view in headless Chromium: what a person does with it, and what comes of it."""

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest

from specs.starter import starter
from tests.helpers.browser import needed
from tests.helpers.live import viewing
from tests.helpers.readers import READERS
from tests.helpers.repository import ROOT

pytestmark = [pytest.mark.kernel, pytest.mark.slow]

NAME = "Night stand"


@pytest.fixture(scope="module")
def spec(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("live") / "piece.yaml"
    path.write_text(starter(NAME), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def seen(spec) -> dict[str, Any]:
    """What one walk saw; its pictures lie in out/screens for a look."""
    node, browser = needed()
    pictures = ROOT / "out" / "screens"
    pictures.mkdir(parents=True, exist_ok=True)
    with viewing(spec, spec.with_name("out")) as view:
        walk = [view.address, browser, str(pictures), str(spec), str(view.process.pid)]
        command = [node, "live.mjs", *walk]
        ran = subprocess.run(
            command, cwd=READERS, check=False, capture_output=True, text=True, timeout=280
        )
    assert ran.returncode == 0, ran.stderr
    found: dict[str, Any] = json.loads(ran.stdout)
    return found


def test_nothing_goes_wrong_and_nothing_is_asked_of_a_network(seen):
    assert seen["errors"] == []
    assert seen["requests"] == []
    assert seen["title"] == NAME


def test_a_number_put_anew_in_its_field_changes_one_line_of_the_file(seen, spec):
    before, after = starter(NAME).splitlines(), spec.read_text(encoding="utf-8").splitlines()
    assert (after.pop(), after.pop()) == ("# unseen", "# for two")
    changed = [pair for pair in zip(before, after, strict=True) if pair[0] != pair[1]]
    assert len(changed) == 1
    assert changed[0][1] == changed[0][0].replace(seen["height"], "471", 1)


def test_the_page_says_what_else_moved(seen):
    assert any(line.startswith("opening ") for line in seen["moved"])
    assert "C3 side left 380 to 462.5 long" in seen["moved"]


def test_the_picture_follows(seen):
    assert "462.5" not in seen["size"]
    assert "high" in seen["size"]
    assert seen["followed"] == "470"


def test_what_is_no_number_is_refused_beside_its_field(seen):
    assert "'wide' is not a number" in seen["refused"]
    assert seen["again"] == "462.5"


def test_what_is_open_and_where_somebody_stands_stays_so(seen):
    assert seen["staysOpen"]
    assert seen["staysTurned"]


def test_a_mistake_stands_over_the_last_good_piece_with_its_place(seen):
    line = next(at for at, row in enumerate(starter(NAME).splitlines(), 1) if "units: mm" in row)
    assert seen["wrong"].startswith(f"piece.yaml:{line}:8: units: 'furlong' is not one of mm, in")
    assert seen["lastGood"] > 20
    assert not seen["wrongGone"]


def test_markup_in_a_name_is_text(seen):
    shown, name = seen["name"]
    assert shown == name
    assert seen["hit"] is None


def test_two_windows_show_the_same(seen):
    first, second = seen["both"]
    assert first == second > 1


def test_a_window_that_nobody_sees_catches_up_when_it_is_seen(seen):
    assert (seen["missed"], seen["caughtUp"]) == (0, 1)


def test_a_phone_needs_no_scrolling_sideways(seen):
    assert seen["wide"] <= 390


def test_a_picture_that_is_put_right_is_shown_and_one_told_again_is_not_asked_for(seen):
    assert seen["putRight"] == 2


def test_the_drawings_are_shown_as_pages(seen):
    assert seen["choices"][:3] == ["assembly", "exploded", "exploded-1"]
    assert seen["leaves"] == len(seen["choices"])
    assert seen["paper"]


def test_a_killed_worker_is_told_and_started_again(seen):
    assert "The kernel was lost" in seen["lost"]
    assert "high" in seen["afterLoss"]
