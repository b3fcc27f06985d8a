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
    # 1.5 in at the shoulder of the taper and less at the foot
    assert row["distance (in)"].endswith('"')
    assert float(row["distance (mm)"]) == pytest.approx(44.8, abs=0.05)


def test_a_fence_setting_is_told_with_all_that_it_cuts():
    """Six drawer sides of the demo are 350 long: 4 x D1 and 2 x D5."""
    piece = examples.piece(examples.DEMO)
    plan = saw_plan(piece, examples.spec(examples.DEMO).shop)
    found = {group.setting: group for group in groups(plan.set_ups, piece)}
    sides = found["stop at 350.0"]
    assert sides.pieces == 6
    assert sides.said == "stop at 350.0: 6 pieces (4 x D1 drawer side, 2 x D5 drawer side)"


def test_nothing_is_a_group_that_is_cut_once():
    piece = examples.piece(examples.DEMO)
    plan = saw_plan(piece, examples.spec(examples.DEMO).shop)
    assert all(group.pieces > 1 for group in groups(plan.set_ups, piece))
