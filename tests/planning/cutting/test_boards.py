from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.findings import Severity
from ground.quantities import Units
from models.parts.blank import Blank, Grain, Section
from models.parts.part import PartKind
from planning.cutting.buying import purchases
from planning.cutting.records import Node, NodeKind, Saw, Stock, StockKind, yielded
from planning.cutting.stacks import layers_in
from planning.cutting.sticks import Blank as Milled
from planning.cutting.sticks import gang_length, sticks
from planning.cutting.yard import board_feet, cubic_metres, tallied
from specs.materials import Board, Defect, Figure, FigureAt, Sold
from tests.planning.cutting.board_jobs import SHOP, assembly, part, planned, rules, spec
from tests.planning.cutting.checker import Wanted, check, ends, nodes

INCH = 25.4
SHORT = Sold(lengths=(2000.0,))


def wanted(**sizes: tuple[float, float]) -> dict[tuple[str, int, int], Wanted]:
    """Rough length and width of each label's copies, grain along the board."""
    return {
        (f"{label}.{n}", 1, 1): Wanted(length=length, width=width, locked=True)
        for label, (length, width) in sizes.items()
        for n in range(1, 5)
    }


def where(plan, copy):
    return next(
        (piece, leaf) for piece in plan.stock for leaf in ends(piece)
        if leaf.placed is not None and leaf.placed.copy == copy
    )  # fmt: skip


# ---- short parts


def test_four_short_legs_are_milled_as_one_stick_with_three_kerfs():
    """4 x 206 + 3 x 3.2 = 833.6, and 30 to trim: 863.6. One stick, cut into four."""
    legs = assembly((part("B1", (206.0, 58.0, 58.0), name="leg"), 4))
    plan = planned(spec((Board(thickness=65.0, width=210.0, length=2400.0),)), legs)
    (board,) = plan.stock
    check(plan.stock, rules(wanted(B1=(206.0, 64.0))))
    stick = next(
        node for node in nodes(board.root)
        if node.l == pytest.approx(863.6) and node.w == pytest.approx(64.0)
    )  # fmt: skip
    assert stick.cut is Saw.ACROSS
    assert sum(leaf.kind is NodeKind.PART for leaf in nodes(stick)) == 4
    assert not board.new


def test_one_short_part_is_milled_on_a_stick_as_long_as_the_shop_holds_safely():
    found = (Milled(
        placed=where_nothing(), grain=120.0, across=40.0, thick=20.0, kind=PartKind.LUMBER
    ),)  # fmt: skip
    assert gang_length(found, SHOP) == 300.0
    (stick,) = sticks(found, SHOP, 2400.0, lambda _: 200.0)
    assert stick.size == (300.0, 46.0, 24.0)


def where_nothing():
    from planning.cutting.records import Placed

    return Placed(label="B1", name="block", copy="B1.1")


def test_a_gang_too_long_for_a_board_is_two_sticks():
    """Ten of 250: 2500 and more. Boards are 2000 long: five on each of two sticks."""
    blocks = assembly((part("B1", (250.0, 40.0, 40.0)), 4), (part("B2", (250.0, 40.0, 40.0)), 6))
    plan = planned(spec((Board(thickness=52.0, width=200.0, length=2000.0),), sold=SHORT), blocks)
    lengths = [node.l for node in nodes(plan.stock[0].root) if node.note == "in order"]
    assert max(lengths) == pytest.approx(5 * 250 + 4 * 3.2 + 30)


# ---- thickness


def test_parts_go_to_the_nearest_thickness_in_the_rack():
    piece = assembly((part("B1", (500.0, 80.0, 20.0)), 1), (part("B2", (500.0, 80.0, 26.0)), 1))
    boards = (
        Board(thickness=34.0, width=180.0, length=3000.0),
        Board(thickness=27.0, width=200.0, length=2400.0),
    )
    plan = planned(spec(boards), piece)
    assert where(plan, "B1.1")[0].size[2] == 27.0
    assert where(plan, "B2.1")[0].size[2] == 34.0
    assert not any(found.code == "plan.thickness_step" for found in plan.findings)


def test_a_step_of_thickness_is_said_with_what_would_do():
    """20 out of 34: 14 planed away; 24 rough comes out of 27."""
    piece = assembly((part("B1", (500.0, 80.0, 20.0)), 1))
    plan = planned(spec((Board(thickness=34.0, width=180.0, length=3000.0),)), piece)
    (found,) = [f for f in plan.findings if f.code == "plan.thickness_step"]
    assert "14.0 mm planed away" in found.message
    assert (found.value, found.limit) == (34.0, 27.0)


@pytest.mark.parametrize(("board", "layers"), [(60.3, 2), (60.4, 3), (18.0, 1), (17.9, 0)])
def test_resawing_counts_a_kerf_between_and_a_pass_on_each_face(board, layers):
    """Rough 18 = 14 and 4 for both faces; three of 18 and two kerfs of 3.2 are 60.4."""
    found = (Milled(
        placed=where_nothing(), grain=500.0, across=80.0, thick=14.0, kind=PartKind.LUMBER
    ),)  # fmt: skip
    (stick,) = sticks(found, SHOP, 2400.0, lambda _: 200.0)
    assert layers_in(board, stick, SHOP) == layers


def test_thin_parts_are_resawn_where_that_saves_wood():
    """Four of 8 thick, rough 12, need 57.6 of 65 in one go; flat each takes a board of 20."""
    piece = assembly((part("B1", (600.0, 100.0, 8.0)), 4))
    sold = Sold(thicknesses=(20.0, 65.0), width=200.0, lengths=(2000.0,))
    plan = planned(spec(sold=sold), piece)
    (board,) = plan.stock
    assert board.size[2] == 65.0
    assert any(node.cut is Saw.RESAW for node in nodes(board.root))
    each = Wanted(length=630.0, width=106.0, locked=True, thick=12.0)
    check(plan.stock, rules(dict.fromkeys(wanted(B1=(630.0, 106.0)), each)))


def test_a_strip_of_edging_stands_in_the_board():
    """6 x 20 out of a 27 board: 12 wide and 24 high on edge, instead of 26 wide lying flat."""
    strip = part("E1", (1680.0, 20.0, 6.0), name="top edging", kind=PartKind.EDGING)
    plan = planned(spec((Board(thickness=27.0, width=200.0, length=2400.0),)), assembly((strip, 1)))
    check(plan.stock, rules({("E1.1", 1, 1): Wanted(length=1710.0, width=12.0, locked=True)}))


def test_little_to_spare_is_said():
    """173.5 wide milled out of 174: 0.5 to spare, under 3."""
    piece = assembly((part("F1", (500.0, 173.5, 22.0), name="front"), 1))
    board = Board(thickness=27.0, width=174.0, length=2400.0)
    sold = Sold(thicknesses=(27.0,), width=174.0, lengths=(2000.0,))
    plan = planned(spec((board,), sold=sold), piece)
    (found,) = [f for f in plan.findings if f.code == "plan.little_to_spare"]
    assert found.value == pytest.approx(0.5)
    check(plan.stock, rules({("F1.1", 1, 1): Wanted(length=530.0, width=174.0, locked=True)}))


# ---- wide parts


def test_a_part_wider_than_a_board_is_glued_up_from_staves():
    """400 wide: four staves of 100, joints at 100, 200 and 300, each rough 106."""
    piece = assembly((part("S1", (600.0, 400.0, 20.0), name="shelf"), 1))
    plan = planned(spec((Board(thickness=27.0, width=180.0, length=3000.0, count=2),)), piece)
    (found,) = [f for f in plan.findings if f.code == "plan.staves"]
    assert "100.0, 200.0, 300.0" in found.message
    staves = {("S1.1", 1, n): Wanted(length=630.0, width=106.0, locked=True) for n in range(1, 5)}
    check(plan.stock, rules(staves))


def test_a_spline_with_its_grain_across_comes_in_pieces_of_board_width():
    """392 across the grain in boards 200 wide: two pieces 196 wide, 16 along the grain."""
    spline = part("L1", (392.0, 16.0, 4.0), name="spline", kind=PartKind.LOOSE, grain=Grain.WIDTH)
    plan = planned(spec(), assembly((spline, 1)))
    pieces = {
        ("L1.1", 1, n): Wanted(length=200.0, width=16.0, locked=True, across=True) for n in (1, 2)
    }
    check(plan.stock, rules(pieces))


# ---- defects and figure


def test_no_part_lies_on_a_defect():
    knot = Defect(x=900.0, y=60.0, length=80.0, width=50.0, what="knot")
    edge = Defect(x=0.0, y=0.0, length=2400.0, width=20.0, what="sapwood")
    board = Board(thickness=27.0, width=200.0, length=2400.0, defects=(knot, edge))
    piece = assembly((part("B1", (700.0, 60.0, 20.0)), 4))
    plan = planned(spec((board,)), piece)
    check(plan.stock, rules(wanted(B1=(730.0, 66.0))))
    assert plan.stock[0].keep_out == ((900.0, 60.0, 80.0, 50.0), (0.0, 0.0, 2400.0, 20.0))


def test_what_a_cut_leaves_of_a_defect_is_cut_off_as_well():
    """The cut beside the first spot ends at 164.2 and leaves 2.8 of the second one, up to 167."""
    spots = ((850.0, 160.0, 123.0, 1.0), (287.0, 153.0, 1.0, 14.0))
    defects = tuple(Defect(x=x, y=y, length=a, width=b) for x, y, a, b in spots)
    board = Board(thickness=27.0, width=200.0, length=2400.0, defects=defects)
    piece = assembly((part("B1", (2300.0, 140.0, 20.0)), 1), (part("B2", (2300.0, 20.0, 20.0)), 1))
    plan = planned(spec((board,)), piece)
    assert [piece.new for piece in plan.stock] == [False]
    sizes = {"B1.1": (2330.0, 146.0), "B2.1": (2330.0, 26.0)}
    found = {(k, 1, 1): Wanted(length=a, width=b, locked=True) for k, (a, b) in sizes.items()}
    check(plan.stock, rules(found))


def test_a_board_that_defects_cover_is_said_and_bought_instead():
    all_of_it = Defect(x=0.0, y=0.0, length=2400.0, width=200.0, what="rot")
    board = Board(thickness=27.0, width=200.0, length=2400.0, defects=(all_of_it,))
    plan = planned(spec((board,)), assembly((part("B1", (700.0, 60.0, 20.0)), 1)))
    assert "plan.board_spoilt" in {found.code for found in plan.findings}
    assert [piece.new for piece in plan.stock] == [True]


def test_legs_come_from_where_the_board_is_straight():
    straight = FigureAt(start=1400.0, length=1000.0, figure=Figure.STRAIGHT)
    rest = FigureAt(start=0.0, length=1400.0, figure=Figure.CATHEDRAL)
    board = Board(thickness=65.0, width=210.0, length=2400.0, figure=(rest, straight))
    legs = assembly((part("B1", (206.0, 58.0, 58.0), name="leg"), 4))
    plan = planned(spec((board,)), legs)
    assert all(where(plan, f"B1.{n}")[1].x >= 1400.0 for n in range(1, 5))
    check(plan.stock, rules(wanted(B1=(206.0, 64.0))))


def test_legs_without_straight_wood_are_cut_all_the_same_and_said():
    rest = FigureAt(start=0.0, length=2400.0, figure=Figure.CATHEDRAL)
    board = Board(thickness=65.0, width=210.0, length=2400.0, figure=(rest,))
    legs = assembly((part("B1", (206.0, 58.0, 58.0), name="leg"), 4))
    plan = planned(spec((board,)), legs)
    assert "plan.figure" in {found.code for found in plan.findings}
    check(plan.stock, rules(wanted(B1=(206.0, 64.0))))


# ---- rack and yard


def test_the_rack_comes_first_and_the_rest_is_bought():
    """One board of 2000 takes two rails of 900 end to end in each of two rows; six are asked."""
    board = Board(thickness=27.0, width=140.0, length=2000.0)
    plan = planned(spec((board,)), assembly((part("B1", (900.0, 60.0, 20.0)), 6)))
    assert [piece.new for piece in plan.stock] == [False, True]
    six = {(f"B1.{n}", 1, 1): Wanted(length=930.0, width=66.0, locked=True) for n in range(1, 7)}
    check(plan.stock, rules(six))


def test_matching_parts_lie_in_one_board():
    """Two pairs of rails of one size in two boards: each pair in one of them."""
    boards = (Board(thickness=27.0, width=80.0, length=2000.0, count=2),)
    piece = assembly((part("B1", (900.0, 60.0, 20.0)), 2), (part("B2", (900.0, 60.0, 20.0)), 2))
    plan = planned(spec(boards), piece)
    assert where(plan, "B1.1")[0].id == where(plan, "B1.2")[0].id
    assert where(plan, "B2.1")[0].id == where(plan, "B2.2")[0].id


def test_a_part_longer_than_any_board_is_named_and_the_rest_is_planned():
    """4000 + 30 against 3500: 530 too long."""
    piece = assembly((part("B1", (4000.0, 60.0, 20.0)), 1), (part("B2", (500.0, 60.0, 20.0)), 1))
    plan = planned(spec(), piece)
    (found,) = [f for f in plan.findings if f.severity is Severity.ERROR]
    assert (found.code, found.copies) == ("plan.too_large", ("B1.1",))
    assert "530.0 mm longer" in found.message
    check(plan.stock, rules({("B2.1", 1, 1): Wanted(length=530.0, width=66.0, locked=True)}))


def test_a_part_thicker_than_any_board_is_named():
    plan = planned(spec(), assembly((part("B1", (500.0, 120.0, 120.0)), 1)))
    (found,) = [f for f in plan.findings if f.severity is Severity.ERROR]
    assert "124.0 mm thick" in found.message
    assert plan.stock == ()


@given(
    st.lists(
        st.tuples(st.integers(80, 1500), st.integers(20, 170), st.integers(8, 50)),
        min_size=1,
        max_size=6,
    ),
    st.lists(
        st.tuples(*(st.integers(a, b) for a, b in ((0, 2300), (0, 190), (1, 300), (1, 90)))),
        max_size=3,
    ),
)  # fmt: skip
def test_every_board_plan_can_be_sawn(sizes, spots):
    defects = tuple(
        Defect(x=float(x), y=float(y), length=float(long), width=float(w))
        for x, y, long, w in spots
    )
    boards = (
        Board(thickness=27.0, width=200.0, length=2400.0, defects=defects),
        Board(thickness=65.0, width=210.0, length=2400.0),
    )
    parts = [part(f"B{n}", (float(a), float(b), float(c))) for n, (a, b, c) in enumerate(sizes)]
    piece = assembly(*((made, 2) for made in parts))
    plan = planned(spec(boards), piece)
    assert plan.unmade == ()
    rough = {made.label: made.blank.thickness + SHOP.milling.thickness for made in parts}
    found = {
        (p.copy, p.layer, p.stave): Wanted(
            length=leaf.w if p.turned else leaf.l,
            width=leaf.l if p.turned else leaf.w,
            locked=True,
            thick=rough[p.label],
        )
        for it in plan.stock
        for leaf in ends(it)
        if (p := leaf.placed) is not None
    }
    assert {key[0] for key in found} == {copy.id for copy in piece.copies}
    for made in parts:
        for n in (1, 2):
            mine = [want for key, want in found.items() if key[0] == f"{made.label}.{n}"]
            assert sum(want.width for want in mine) >= made.blank.width
            assert all(want.length >= made.blank.length - 1e-6 for want in mine)
    check(plan.stock, rules(found))


# ---- counting


def test_board_feet_are_thickness_width_and_length_in_inches_over_144():
    """1 x 6 x 96 = 4; 2 x 6 x 60 = 5; 1-1/4 x 7-1/2 x 120 = 7.8125; 3/4 counts as 1."""
    assert board_feet(INCH, 6 * INCH, 96 * INCH) == pytest.approx(4.0)
    assert board_feet(2 * INCH, 6 * INCH, 60 * INCH) == pytest.approx(5.0)
    assert board_feet(1.25 * INCH, 7.5 * INCH, 120 * INCH) == pytest.approx(7.8125)
    assert board_feet(0.75 * INCH, 6 * INCH, 96 * INCH) == pytest.approx(4.0)


def test_a_yard_tallies_whole_feet_of_surface():
    """7.5 x 10 / 12 = 6.25, so 6, x 1.25 = 7.5. Two of 9 x 10 / 12 = 7.5: 8 and 7."""
    one = (1.25 * INCH, 7.5 * INCH, 120 * INCH)
    assert tallied([one]) == Decimal("7.50")
    assert tallied([(INCH, 9 * INCH, 120 * INCH)] * 2) == Decimal(15)


def test_cubic_metres_go_up_to_the_next_litre():
    """34 x 180 x 3000 = 0.01836 m3, sold as 0.019; 50 x 200 x 2000 is 0.02 as it is."""
    assert cubic_metres([(34.0, 180.0, 3000.0)]) == Decimal("0.019")
    assert cubic_metres([(50.0, 200.0, 2000.0)]) == Decimal("0.020")


def test_the_buying_list_prices_what_is_bought_and_shows_waste_apart():
    """2 boards of 27 x 200 x 2000 are 0.0216, sold as 0.022 at 2900: 63.80; 30 % is 0.0066."""
    sold = Sold(thicknesses=(27.0,), width=200.0, lengths=(2000.0,))
    found = spec(price=Decimal(2900), sold=sold)
    piece = assembly((part("B1", (900.0, 180.0, 20.0)), 4))
    plan = planned(found, piece)
    board, waste, *_ = purchases(found, piece, plan.stock)
    assert (board.item, board.quantity, board.unit) == ("2 boards", Decimal("0.022"), "m3")
    assert board.total == Decimal("63.800")
    assert (waste.item, waste.quantity) == ("allowance for waste", Decimal("0.007"))


def test_the_yield_is_the_share_of_the_board_that_becomes_parts():
    """Two of 930 x 66 out of 2000 x 140: 0.4384."""
    board = Board(thickness=27.0, width=140.0, length=2000.0)
    plan = planned(spec((board,)), assembly((part("B1", (900.0, 60.0, 20.0)), 2)))
    assert yielded(plan.stock[0]) == pytest.approx(2 * 930 * 66 / (2000 * 140))


def test_the_yield_counts_what_is_resawn_by_its_thickness():
    """Four of 630 x 106 x 12 out of 65: three kerfs of 3.2 leave 55.4 of wood, 4.2 of it to plane
    off the last. 630 x 106 x 55.4 of 2000 x 200 x 65 is 0.1423; by the face it would be 0.668."""
    piece = assembly((part("B1", (600.0, 100.0, 8.0)), 4))
    sold = Sold(thicknesses=(65.0,), width=200.0, lengths=(2000.0,))
    (board,) = planned(spec(sold=sold), piece).stock
    assert yielded(board) == pytest.approx(630 * 106 * 55.4 / (2000 * 200 * 65))


def test_spares_come_out_of_offcuts():
    legs = assembly((part("B1", (206.0, 58.0, 58.0), name="leg"), 4))
    found = spec((Board(thickness=65.0, width=210.0, length=2400.0),))
    plan = planned(found, legs)
    (spare,) = [it for it in purchases(found, legs, plan.stock) if it.item.startswith("spare")]
    assert spare.note.startswith("out of offcut")
    assert spare.size == "236 x 64 x 62"


def test_spares_lie_beside_each_other_in_an_offcut():
    """64 + 3.2 + 64 is 131.2 of 140; a third finds no room."""
    legs = assembly((part("B1", (206.0, 58.0, 58.0), name="leg"), 4))
    found = spec(shop=SHOP.model_copy(update={"spare": 3}))
    rest = Node(id="1", x=0.0, y=0.0, l=240.0, w=140.0, kind=NodeKind.OFFCUT)
    board = Stock(
        id="board-1", material="oak", kind=StockKind.BOARD, size=(240.0, 140.0, 65.0),
        grain=Grain.LENGTH, new=False, root=rest,
    )  # fmt: skip
    (spare,) = [it for it in purchases(found, legs, [board]) if it.item.startswith("spare")]
    assert spare.note == "out of offcut 1 of board-1; no offcut is large enough for 1"


def test_pins_are_cut_from_rod():
    """25 of 30.5 and 24 kerfs of 3.2 are 839.3: one rod of a metre; 40 take two."""
    blank = Blank(length=30.5, width=8.0, thickness=8.0, section=Section.ROUND)
    pin = replace(part("L4", (30.5, 8.0, 8.0), name="walnut pin", kind=PartKind.LOOSE), blank=blank)
    for many, rods in ((24, 1), (39, 2)):
        piece = assembly((replace(pin, material=None), many))
        (line,) = purchases(spec(), piece, ())
        assert (line.item, line.quantity) == ("rod for walnut pin", Decimal(rods))


def test_an_inch_file_counts_board_feet():
    """Two boards of 8 in x 6 ft are 4 feet of surface each; 27 mm is 1.063 in: 8.50."""
    found = spec(sold=Sold(thicknesses=(27.0,), width=8 * INCH, lengths=(72 * INCH,)))
    found = found.model_copy(update={"units": Units.INCH})
    piece = assembly((part("B1", (33 * INCH, 7 * INCH, 20.0)), 4))
    board = purchases(found, piece, planned(found, piece).stock)[0]
    assert board.unit == "board foot"
    assert board.quantity == Decimal("8.50")
