"""What the wood comes to."""

import pytest

from checks.costs import find_costs, used
from specs.materials import Lumber, Sheet
from specs.spec import Spec
from tests.helpers.checked import looked, made
from tests.helpers.examples import BEDSIDE, EXAMPLES, spec


def priced(asked: Spec, **prices: float | None) -> Spec:
    materials: dict[str, Lumber | Sheet] = {
        key: one.model_copy(update={"price": prices[key]}) if key in prices else one
        for key, one in asked.materials.items()
    }
    return asked.model_copy(update={"materials": materials})


def test_sheets_of_a_plain_case_worked_by_hand():
    """MDF for two sides, top, bottom and a plinth: about 1.0 m2 of 2780 x 1200; one sheet at 40.

    The back: 0.45 m2 of birch plywood out of 1505 x 1505, one sheet at 25.
    """
    piece = looked(priced(made("open: true"), panel=40, thin=25))
    (told,) = find_costs(piece)
    assert told.value == pytest.approx(65)
    assert "panel 1 sheet x 40 = 40.00" in told.message
    assert "hours are the maker's own" in told.message


def test_lumber_is_counted_rough():
    """Every blank of oak with 30, 6 and 5 mm on its length, width and thickness."""
    base = (
        "{kind: straight legs, height: 200, set_in: {front: 10, back: 10, sides: 10},"
        " legs: {material: oak, top: [45, 45]},"
        " aprons: {material: oak, height: 70, thickness: 22, set_back: 4,"
        " joint: {kind: loose tenon}}, fixing: {kind: figure-eight fastener, count: 6}}"
    )
    piece = looked(made("open: true", base=base))
    oak = next(one for one in used(piece) if one.material == "oak")
    by_hand = 0.0
    for one in piece.placed:
        if one.part.material == "oak":
            long, wide, thick = one.part.blank.size
            by_hand += (long + 30) * (wide + 6) * (thick + 5)
    assert oak.quantity == pytest.approx(by_hand / 1e9)
    assert oak.unit == "m3"


def test_the_sum_carries_the_currency_of_the_spec():
    asked = priced(made("open: true"), panel=40, thin=25).model_copy(update={"currency": "EUR"})
    (told,) = find_costs(looked(asked))
    assert told.unit == "EUR"
    assert "65.00 EUR at least" in told.message


def test_an_inch_file_counts_board_feet():
    """A board foot is 12 x 12 x 1 inches."""
    (cherry,) = [one for one in used(looked(spec(BEDSIDE))) if one.unit == "board feet"]
    assert cherry.material == "cherry"
    assert 3 < cherry.quantity < 8


def test_what_has_no_price_is_named():
    (told,) = find_costs(looked(priced(made("open: true"), panel=40, thin=None)))
    assert told.value == pytest.approx(40)
    assert "no price is given of oak, thin" in told.message
    (nothing,) = find_costs(looked(made("open: true")))
    assert nothing.value is None
    assert "no price is given of oak, panel, thin" in nothing.message


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_sum_is_that_of_its_lines(name):
    piece = looked(spec(name))
    (told,) = find_costs(piece)
    assert told.value == pytest.approx(sum(one.total or 0.0 for one in used(piece)), abs=1e-6)
