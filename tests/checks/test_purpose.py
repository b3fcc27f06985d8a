"""What it is for, what it weighs."""

from typing import Any

import pytest

from checks.purpose import find_purpose, spaces
from checks.totals import find_totals
from checks.way_in import find_way
from ground.findings import Severity
from specs.loads import Loads
from specs.place import Held, Things
from specs.reading import read
from specs.spec import Spec
from tests.helpers.checked import found, looked, made
from tests.helpers.examples import CHEST, DEMO, EXAMPLES, spec
from tests.helpers.repository import ROOT

SHELVES = "shelves: {count: 1, material: panel, support: dado}"


def holding(asked: Spec, **held: Any) -> Spec:
    keys = ("height", "width", "depth", "count", "mass", "opening")
    whole: dict[str, Any] = {**dict.fromkeys(keys), "what": Things.BOOKS, **held}
    return asked.model_copy(update={"holds": (Held.model_construct(**whole),)})


def test_spaces_between_shelves_are_what_is_left_of_the_opening():
    """564 clear less one 18 mm shelf, in two."""
    low, high = spaces(looked(made(SHELVES)))
    assert low.height + high.height == pytest.approx(600 - 36 - 18)
    assert low.width == pytest.approx(800 - 36)


def test_books_that_fit_under_the_shelf_and_books_that_do_not():
    piece = made(SHELVES)
    tallest = max(one.height for one in spaces(looked(piece)))
    fits = holding(piece, height=tallest - 10.5, width=30, count=20)
    assert set(found(fits, find_purpose)) == {"holds.fits"}
    mine = found(holding(piece, height=tallest - 9.5, width=30), find_purpose)["holds.too_small"]
    assert mine.severity is Severity.ERROR


def test_as_many_books_as_the_width_takes():
    """764 / 30 = 25 a space, two spaces."""
    piece = made(SHELVES)
    assert "holds.fits" in found(holding(piece, height=200, width=30, count=50), find_purpose)
    mine = found(holding(piece, height=200, width=30, count=51), find_purpose)["holds.too_few"]
    assert (mine.value, mine.limit) == (50, 51)


@pytest.mark.parametrize(
    ("width", "depth", "code"),
    [
        (841, 594, "holds.fits"),  # A1, as it lies
        (594, 841, "holds.fits"),  # the same, turned
        (1189, 841, "holds.too_small"),  # A0 does not go into 1034 x 660
    ],
)
def test_sheets_lie_flat_in_the_chests_drawers(width, depth, code):
    asked = holding(spec(CHEST), what=Things.SHEETS, width=width, depth=depth)
    assert set(found(asked, find_purpose)) == {code}


def test_heavy_things_against_the_load_that_was_checked():
    piece = made(SHELVES).model_copy(update={"loads": Loads(shelf=200)})
    light = holding(piece, height=200, width=30, count=40, mass=1.0)
    assert "holds.load" not in found(light, find_purpose)
    heavy = holding(piece, height=200, width=30, count=44, mass=1.0)
    assert found(heavy, find_purpose)["holds.load"].limit == 200


def test_an_opening_that_does_not_exist_takes_nothing():
    asked = holding(made(SHELVES), height=100, opening="7")
    assert "no such opening" in found(asked, find_purpose)["holds.too_small"].message


def test_the_keys_are_read_from_text():
    text = (ROOT / "examples" / f"{DEMO}.yaml").read_text(encoding="utf-8")
    text += (
        "\nholds: [{what: books, height: 240, width: 28, count: 20}]"
        "\nway: {door_width: 800, door_height: 2000, base_off: true}\n"
    )
    asked = read(text, "more.yaml").spec
    assert set(found(asked, find_purpose)) <= {"holds.fits", "holds.too_small"}
    assert set(found(asked, find_way)) == {"way.passes"}


@pytest.mark.parametrize("name", EXAMPLES)
def test_groups_add_up_to_the_whole(name):
    piece = looked(spec(name))
    mine = {one.code: one for one in find_totals(piece)}
    told = mine["carry.mass"].message.split("(")[1].split(")")[0]
    assert sum(float(part.rsplit(" ", 1)[1]) for part in told.split(", ")) == pytest.approx(
        piece.kg, abs=0.3
    )
