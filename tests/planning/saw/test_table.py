"""saw-set-ups.csv, read back; set-ups that are alike are told together."""

import csv
import io

import pytest

from exporters.set_ups_table import saw_table
from planning.saw.grouping import groups
from planning.saw.plan import saw_plan
from tests.helpers import examples


def rows(name: str):
    spec, piece = examples.spec(name), examples.piece(name)
    plan = saw_plan(piece, spec.shop)
    text = saw_table(plan.set_ups, groups(plan.set_ups, piece), piece, spec.units).decode()
    return plan, list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("name", examples.EXAMPLES)
def test_every_set_up_is_a_row_in_its_order(name):
    plan, found = rows(name)
    assert [(row["part"], row["order"]) for row in found] == [
        (one.part, str(one.order)) for one in plan.set_ups
    ]


def test_an_inch_piece_has_its_distances_in_inches_and_mm():
    _, found = rows(examples.BEDSIDE)
    row = next(row for row in found if row["part"] == "B1" and row["work"].startswith("taper"))
    # 1.5 in at the shoulder of the taper and 7/8 at the foot, where it is measured
    assert row["distance (in)"] == '7/8"'
    assert float(row["distance (mm)"]) == pytest.approx(22.2, abs=0.05)


def test_words_are_in_the_maker_s_units_too():
    """18.0 mm of tenon are 45/64 in, as near as a rule shows."""
    _, found = rows(examples.BEDSIDE)
    row = next(row for row in found if row["part"] == "B2" and row["work"].endswith("the cheeks"))
    assert row["note"].endswith('shoulder: 45/64" (18.0 mm), against a stop.')
    _, metric = rows(examples.DEMO)
    assert not any('"' in row["note"] + row["cautions"] + row["first cut"] for row in metric)


def test_every_cut_of_a_set_up_has_its_place():
    plan, found = rows(examples.BEDSIDE)
    for one, row in zip(plan.set_ups, found, strict=True):
        if one.alike:
            counts = [place.partition(" x ")[0] for place in row["places"].split("; ")]
            told = sum(int(count) if count.isdigit() else 1 for count in counts)
            assert told == len(one.cuts), row["places"]


def test_a_fence_setting_is_told_with_all_that_it_cuts():
    """Six drawer sides of the demo are 350 long: 4 x D1 and 2 x D5."""
    piece = examples.piece(examples.DEMO)
    plan = saw_plan(piece, examples.spec(examples.DEMO).shop)
    found = {group.setting: group for group in groups(plan.set_ups, piece)}
    sides = found["stop at 350.0 mm"]
    assert sides.pieces == 6
    assert sides.said == "stop at 350.0 mm: 6 pieces (4 x D1 drawer side, 2 x D5 drawer side)"


def test_nothing_is_a_group_that_is_cut_once():
    piece = examples.piece(examples.DEMO)
    plan = saw_plan(piece, examples.spec(examples.DEMO).shop)
    assert all(group.pieces > 1 for group in groups(plan.set_ups, piece))
