"""The example's page in headless Chromium: what a person does with it, and what comes of it."""

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest

from casewright.building import build
from tests.helpers.browser import needed
from tests.helpers.readers import READERS
from tests.helpers.repository import ROOT
from tests.helpers.small_piece import EXAMPLES

pytestmark = [pytest.mark.kernel, pytest.mark.slow]

NAME = "<script>globalThis.hit = 1</script>"
LARGEST = 2_500_000


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("page")
    spec = folder / "piece.yaml"
    text = (EXAMPLES / "reading-room-cabinet.yaml").read_text(encoding="utf-8")
    named = text.replace("name: Reading-room cabinet", f'name: "{NAME}"')
    assert named != text
    spec.write_text(named, encoding="utf-8")
    build(spec, str(folder / "out"), only=("piece.html",))
    return folder / "out" / "piece.html"


@pytest.fixture(scope="module")
def seen(page) -> dict[str, Any]:
    """What one walk through the page saw; its pictures lie in out/screens for a look."""
    node, browser = needed()
    pictures = ROOT / "out" / "screens"
    pictures.mkdir(parents=True, exist_ok=True)
    command = [node, "page.mjs", str(page), browser, str(pictures)]
    ran = subprocess.run(
        command, cwd=READERS, check=False, capture_output=True, text=True, timeout=280
    )
    assert ran.returncode == 0, ran.stderr
    found: dict[str, Any] = json.loads(ran.stdout)
    return found


def test_the_page_is_small(page):
    assert page.stat().st_size < LARGEST


def test_nothing_goes_wrong_and_nothing_is_asked_of_a_network(seen):
    assert seen["state"] == "yes"
    assert seen["errors"] == []
    assert seen["requests"] == []


def test_markup_in_a_name_is_text(seen):
    assert seen["title"] == seen["heading"] == NAME
    assert seen["hit"] is None


def test_sizes_of_the_piece_and_of_its_openings_stand_in_the_picture(seen):
    assert seen["sizes"] == ["1680", "430", "640"]
    assert seen["openings"] == ["542.8", "412.8", "520", "412.8", "542.8", "412.8"]


def test_a_click_tells_what_a_part_is(seen):
    for told in ("F3.1 drawer front", "516 × 115.7 × 20", "oak: white oak", "applied front"):
        assert told in seen["card"]


def test_a_second_click_opens_its_drawer(seen):
    assert seen["slider"] == "1"


def test_one_part_can_be_left_alone_and_all_shown_again(seen):
    assert (seen["isolated"], seen["again"]) == (1, True)


def test_a_known_opening_measures_its_size(seen):
    assert seen["measured"].startswith("520 mm (20-15/32 in)")


def test_almost_everything_comes_apart(seen):
    assert seen["moved"] > 100


def test_taken_apart_it_stays_within_the_picture(seen):
    assert seen["outside"] == []


def test_a_cut_is_filled(seen):
    """The left divider, cut from the front: 412.8 high by 18.6 thick is 7678.08 mm2."""
    assert seen["filled"] == pytest.approx(412.8 * 18.6, rel=1e-5)


def test_the_parts_can_be_walked_with_keys_alone(seen):
    assert seen["focused"] == seen["selected"] == "B1.1 leg left"
    assert seen["hiddenByKey"] == 1
    assert seen["parent"] == "true"


def test_findings_have_pins(seen):
    assert 0 < seen["pins"] <= seen["findings"]


def test_a_step_shows_only_what_is_there_by_then(seen):
    assert seen["step"] == 1
    assert 0 < seen["inStep"] < seen["moved"]


def test_a_client_sees_neither_findings_nor_steps(seen):
    assert seen["clientTabs"] == ["Open and cut", "Parts"]
    assert seen["clientPins"] == 0


def test_a_phone_needs_no_scrolling_sideways(seen):
    assert seen["wide"] <= 390


def test_where_nothing_is_drawn_there_is_a_still_drawing_and_the_lists(seen):
    assert seen["still"]
    assert "still drawing" in seen["why"]
    assert seen["stillTree"] > 0
