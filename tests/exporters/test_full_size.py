"""Full-size paper read back: true sizes, marks that meet, labels that can be found."""

import io
import itertools
import math
from functools import cache

import pytest
from pypdf import PdfReader

from drawings.paper import SIZES
from drawings.records import Pen
from drawings.templates import of_part, templates
from drawings.tiling import OVERLAP, Piece, leaves, room
from exporters.templates import runs, templates_pdf
from ground.quantities import Units
from ground.vectors import X
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.part import PartKind
from models.parts.views import Line
from specs.spec import Paper
from tests.helpers.examples import DEMO, EXAMPLES, piece, spec
from tests.helpers.hand_made_parts import board, hole
from tests.helpers.pdf_lines import segments


@cache
def paper_of(name: str) -> PdfReader:
    asked = spec(name)
    found = templates(piece(name), asked.units)
    return PdfReader(io.BytesIO(templates_pdf(found, asked.drawings.paper, asked.name)))


def big(width: float, height: float) -> Piece:
    return Piece(
        title="a large piece",
        note="",
        low=(0.0, 0.0),
        high=(width, height),
        strokes=((Pen.VISIBLE, Line((0.0, 0.0), (width, height))),),
    )


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_leaf_has_a_bar_of_100_mm_and_one_of_4_in(name):
    for page in paper_of(name).pages[1:]:
        lengths = {round(math.dist(a, b), 3) for a, b in segments(page)}
        assert any(abs(length - 100.0) < 0.01 for length in lengths)
        assert any(abs(length - 101.6) < 0.01 for length in lengths)


def test_a_row_of_shelf_pins_is_32_mm_apart_on_paper():
    """Pins stand on a 32 mm grid: their centre marks are measured in the PDF within 0.01 mm."""
    crosses = []
    for page in paper_of(DEMO).pages[1:]:
        level = [
            (a, b)
            for a, b in segments(page)
            if abs(a[1] - b[1]) < 1e-6 and 9 < abs(a[0] - b[0]) < 11
        ]
        crosses += [(round(a[1], 2), (a[0] + b[0]) / 2) for a, b in level]
    rows = [
        [x for _, x in row] for _, row in itertools.groupby(sorted(crosses), key=lambda one: one[0])
    ]
    pitches = [b - a for row in rows if len(row) > 4 for a, b in itertools.pairwise(sorted(row))]
    pins = [pitch for pitch in pitches if abs(pitch - 32.0) < 0.5]
    assert len(pins) >= 6
    assert all(abs(pitch - 32.0) < 0.01 for pitch in pins)


@pytest.mark.parametrize("name", EXAMPLES)
def test_leaves_are_as_large_as_the_paper_asked_for(name):
    wide, high = SIZES[spec(name).drawings.paper]
    for page in paper_of(name).pages:
        assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(wide, abs=0.01)
        assert float(page.mediabox.height) * 25.4 / 72 == pytest.approx(high, abs=0.01)


def test_every_leg_and_every_drilled_panel_has_a_template():
    text = "".join(page.extract_text() for page in paper_of(DEMO).pages)
    for part in piece(DEMO).parts:
        drilled = any("hole" in str(f.kind) for f in part.features)
        if part.made and part.kind in (PartKind.LUMBER, PartKind.SHEET) and drilled:
            assert f"{part.label} {part.name}" in text
        if part.name.startswith("leg"):
            assert f"{part.label} {part.name}" in text


def test_leaves_of_one_template_are_counted_together():
    assert runs([4]) == "4"
    assert runs([1, 2, 3, 7, 7]) == "1–3, 7"
    assert runs([10, 5]) == "5, 10"


LONG_GROOVE = Channel(
    seat=Seat((100.0, 60.0, 18.0), X, (0.0, 0.0, -1.0)),
    kind=ChannelKind.GROOVE,
    length=400.0,
    width=6.0,
    depth=8.0,
    made_by="test",
)


def test_a_long_groove_has_both_of_its_ends_on_paper():
    """From 100 to 500, its walls at 57 and 63: the ends are seen, the middle is not."""
    found = list(of_part(board(600, 200, 18, LONG_GROOVE), Units.MM))
    walls = [
        (line.start[0], line.end[0])
        for piece in found
        for _, line in piece.strokes
        if isinstance(line, Line) and line.start[1] == line.end[1] == pytest.approx(57.0)
    ]
    reached = [u for wall in walls for u in wall]
    assert min(reached) == pytest.approx(100.0)
    assert max(reached) == pytest.approx(500.0)
    assert not any(low < 300.0 < high for low, high in map(sorted, walls))


def test_the_cross_of_a_hole_that_breaks_an_edge_is_where_the_bit_goes_in():
    """20 across, 5 from the front edge: the middle of what is left of it lies further in."""
    part = board(300, 100, 18, hole((150, 5, 18), 20, 6))
    (made,) = [piece for piece in of_part(part, Units.MM) if ", top" in piece.title]
    arms = [
        line for _, line in made.strokes if isinstance(line, Line) and 130 < line.start[0] < 170
    ]
    level = [line.start[1] for line in arms if line.start[1] == line.end[1] and line.start[1] > 0]
    plumb = [line.start[0] for line in arms if line.start[0] == line.end[0]]
    assert level == pytest.approx([5.0])
    assert plumb == pytest.approx([150.0])


def test_the_same_templates_give_the_same_bytes():
    asked = spec(DEMO)
    found = templates(piece(DEMO), asked.units)
    one = templates_pdf(found, asked.drawings.paper, asked.name)
    assert one == templates_pdf(found, asked.drawings.paper, asked.name)


@pytest.mark.parametrize("size", [(900.0, 200.0), (900.0, 700.0), (401.0, 100.0)])
def test_crosses_of_neighbours_lie_on_the_same_place_of_the_piece(size):
    laid = leaves([big(*size)], Paper.A3)
    places: dict[tuple[float, float], int] = {}
    for leaf in laid:
        (patch,) = leaf.patches
        for u, v in leaf.crosses:
            spot = (round(u - patch.at[0], 6), round(v - patch.at[1], 6))
            places[spot] = places.get(spot, 0) + 1
    assert places
    assert set(places.values()) == {2}


def test_the_windows_of_neighbours_overlap_and_leave_nothing_out():
    laid = leaves([big(900.0, 700.0)], Paper.A3)
    shown = [
        tuple((end[0] - leaf.patches[0].at[0], end[1] - leaf.patches[0].at[1])
              for end in leaf.patches[0].window)
        for leaf in laid
    ]  # fmt: skip
    wide, high = laid[0].patches[0].piece.size  # turned where that takes fewer leaves
    assert {wide, high} == {900.0, 700.0}
    for u in range(0, int(wide) + 1, 10):
        for v in range(0, int(high) + 1, 10):
            inside = (
                a - 1e-6 <= u <= c + 1e-6 and b - 1e-6 <= v <= d + 1e-6 for (a, b), (c, d) in shown
            )
            assert any(inside), (u, v)
    firsts = sorted({round(low[0], 6) for low, _ in shown})
    seconds = sorted({round(high[0], 6) for _, high in shown})
    assert seconds[0] - firsts[1] == pytest.approx(OVERLAP)


def test_small_pieces_share_a_leaf_and_lie_apart():
    pieces = [big(80.0, 60.0) for _ in range(9)]
    (leaf,) = leaves(pieces, Paper.A3)
    (left, floor), (right, top) = room(Paper.A3)
    windows = [patch.window for patch in leaf.patches]
    assert len(windows) == 9
    for (a, b), (c, d) in windows:
        assert left <= a < c <= right
        assert floor <= b < d <= top
    for ((a, b), (c, d)), ((e, f), (g, h)) in itertools.combinations(windows, 2):
        assert c <= e or g <= a or d <= f or h <= b


def test_nothing_in_a_name_becomes_markup():
    title = '#panic("x") *Küche* <b>&amp; $y$ @z'
    made = templates_pdf((big(80.0, 60.0),), Paper.A4, title)
    reader = PdfReader(io.BytesIO(made))
    said = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    assert said.count(title) >= 2  # on the first page, and on the leaf as part of its picture
