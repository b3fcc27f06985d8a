"""Lists that a maker carries to the saw: sizes in the piece's units, nothing a formula."""

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exporters.tables import cut_list, hardware_list
from ground.quantities import Units
from models.parts.assembly import HardwareLine
from planning.cutting.cut_sizes import cut_sizes
from tests.helpers.small_piece import BOARD, DOWEL, FRONT, PIECE, spec

FINISHED = {"B10": (400.0, 100.0, 20.0), "F2": (300.03, 200.0, 20.0), "L1": (40.0, 8.0, 8.0)}


def rows(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode(), newline="")))


@pytest.fixture
def metric():
    return rows(cut_list(spec(), PIECE, FINISHED))


@pytest.fixture
def inches():
    inch = spec().model_copy(update={"units": Units.INCH})
    return rows(cut_list(inch, PIECE, FINISHED))


def test_only_what_is_made_is_cut(metric):
    assert [row["label"] for row in metric] == ["B10", "F2", "L1"]


def test_a_board_goes_from_rough_to_finished(metric):
    """Cut 400 x 100 x 20; milling leaves 30, 6 and 4 on rough lumber; 1 is left to fit."""
    board = metric[0]
    sizes = {
        size: [board[f"{size} {side} (mm)"] for side in ("length", "width", "thickness")]
        for size in ("rough", "milled", "cut", "finished")
    }
    assert sizes == {
        "rough": ["430", "106", "24"],
        "milled": ["401", "100", "20"],
        "cut": ["400", "100", "20"],
        "finished": ["400", "100", "20"],
    }
    assert (board["quantity"], board["stage"], board["edges banded"]) == ("2", "to fit", "front")
    assert (board["kind"], board["material"], board["grain"]) == ("lumber", "oak", "length")


def test_a_sheet_that_is_edged_is_ten_larger_where_no_two_edgings_end_it():
    """Its ends carry tape, so its length is final; its width is cut when the tape is on."""
    sizes = cut_sizes(FRONT, spec().materials["front-panel"], spec().shop, None)
    assert sizes.rough == (300.03, 210.0, 20.0)
    assert sizes.milled == sizes.cut == (300.03, 200.0, 20.0)


def test_a_dowel_is_cut_from_rod_as_it_is():
    sizes = cut_sizes(DOWEL, None, spec().shop, None)
    assert sizes.rough == sizes.milled == sizes.cut == (40.0, 8.0, 8.0)


def test_a_glued_up_blank_is_so_many_rough_pieces():
    """100 wide of two staves, 20 thick of two layers: 50 + 6 wide, 10 + 4 thick each."""
    glued = replace(BOARD, blank=replace(BOARD.blank, staves=2, layers=2), over=(0.0, 0.0, 0.0))
    sizes = cut_sizes(glued, spec().materials["oak"], spec().shop, None)
    assert sizes.rough == (430.0, 56.0, 14.0)
    assert sizes.cut == (400.0, 100.0, 20.0)


def test_an_inch_piece_shows_inches_with_their_mark_and_millimetres_beside(inches):
    """400 mm is 15.748 in: 15-3/4; 20 mm is 0.7874: 25/32 (50.39 of 64, so 50)."""
    board = inches[0]
    assert board["finished length (in)"] == '15-3/4"'
    assert board["finished thickness (in)"] == '25/32"'
    assert board["finished length (mm)"] == "400"


def test_a_front_is_never_shown_larger_than_it_is(metric, inches):
    """300.03 mm shows as 300; in inches 11.8122 is 755.98 of 64: 755, not 756."""
    assert metric[1]["finished length (mm)"] == "300"
    assert inches[1]["finished length (in)"] == '11-51/64"'


def test_a_metric_piece_has_each_size_once(metric):
    assert [head for head in metric[0] if head.startswith("cut ")] == [
        "cut length (mm)",
        "cut width (mm)",
        "cut thickness (mm)",
    ]


def test_a_part_that_could_not_be_made_has_no_finished_size():
    board = rows(cut_list(spec(), PIECE, {}))[0]
    assert board["finished length (mm)"] == ""
    assert board["cut length (mm)"] == "400"


def test_hardware_is_in_natural_order_with_places_and_notes():
    found = rows(hardware_list(PIECE.hardware))
    assert [(row["item"], row["size"]) for row in found] == [
        ("'+glide", ""),
        ("screw", "3.5 x 16"),
        ("screw", "4 x 30"),
    ]
    assert found[2] == {
        "item": "screw",
        "quantity": "12",
        "size": "4 x 30",
        "for": "base",
        "notes": "brass",
    }


def test_text_from_the_spec_is_no_formula(metric):
    assert metric[0]["notes"] == "'=HYPERLINK(1)"


@given(st.text(), st.text())
def test_no_cell_starts_a_formula_and_every_row_comes_back(name, note):
    line = HardwareLine(name=name, quantity=1, note=note)
    (row,) = rows(hardware_list([line]))
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in row.values())


def test_rows_end_as_the_standard_for_such_files_says():
    content = cut_list(spec(), PIECE, FINISHED)
    assert content.count(b"\r\n") == content.count(b"\n") == 4
