"""What moved is told in the piece's units, troubles first."""

import pytest

from casewright.checking import Checked, assembled, look
from casewright.live.moved import clause, moved
from specs.reading import read
from tests.helpers.small_piece import EXAMPLES

METRIC = (EXAMPLES / "reading-room-cabinet.yaml").read_text(encoding="utf-8")


def checked(text: str) -> Checked:
    loaded = read(text, "piece.yaml")
    return look(loaded.spec, assembled(loaded))


@pytest.fixture(scope="module")
def before() -> Checked:
    return checked(METRIC)


def test_nothing_moves_where_nothing_changed(before):
    assert moved(before, before) == ()


def test_the_fronts_of_a_stack_move_together(before):
    """412.8 less 8 of gaps is 404.8; 1 of 3.5 shares is 115.66, 1 of 3.6 is 112.44.

    Half as much again is 173.49, and 1.6 shares are 179.91.
    """
    words = moved(before, checked(METRIC.replace("1.5 shares", "1.6 shares")))
    assert "F3 drawer front 115.7 to 112.4 wide" in words
    assert any("drawer front 173.5 to 179.9 wide" in one for one in words)
    assert not any(one.startswith("opening") for one in words)


def test_a_wider_bay_says_which_openings_give_way(before):
    words = moved(before, checked(METRIC.replace("size: 520", "size: 600")))
    assert "opening 1 542.8 to 502.8 wide" in words
    assert "opening 2 520 to 600 wide" in words


def test_a_trouble_that_is_new_comes_first_and_one_that_is_gone_is_said(before):
    tall = checked(METRIC.replace("height: 450", "height: 900"))
    there, back = moved(before, tall), moved(tall, before)
    assert there[0].startswith(("new error: ", "new warning: "))
    assert any(one.startswith("no longer: ") for one in back)


def test_a_message_is_cut_to_its_first_clause():
    assert clause("sags 3 mm; make it thicker") == "sags 3 mm"
    assert clause("sags (source)") == "sags"
    assert clause("x" * 100) == "x" * 79 + "…"
