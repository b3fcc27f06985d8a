import pytest

from ground.errors import BuildError
from ground.vectors import Frame, X, Y, Z, neg, unit
from models.parts.assembly import Assembly, Copy
from models.parts.blank import Blank, Section
from models.parts.features import Mortise, Seat
from models.solids.clash import clashes, piece_bounds
from models.solids.solid import solid
from tests.helpers.hand_made_parts import board, hole, part, trim

pytestmark = pytest.mark.kernel

RAIL = board(300, 60, 20)
POST = part(
    Blank(length=200, width=40, thickness=40),
    Mortise(seat=Seat((100, 20, 40), X, neg(Z)), length=40, width=10, depth=22, made_by="joint"),
    label="P",
)
TENON = part(
    Blank(length=40, width=40, thickness=10, section=Section.ROUND_EDGED), label="LT", name="tenon"
)


def copy(name, label, frame):
    return Copy(id=name, label=label, group=(), placement=frame)


def piece(parts, *copies):
    made = Assembly(name="test", parts=parts, copies=copies)
    return made, {one.label: solid(one) for one in parts}


def test_boards_that_touch_do_not_clash():
    made = piece(
        (RAIL,),
        copy("a", "T1", Frame()),
        copy("b", "T1", Frame(X, Y, (0, 0, 20))),
        copy("c", "T1", Frame(X, Y, (300, 0, 0))),
    )
    assert clashes(*made) == ()


def test_boards_that_cross_share_their_crossing():
    """Turned a quarter about z and raised by 19: 60 x 60 in plan less what hangs out, 1 high."""
    made = piece((RAIL,), copy("a", "T1", Frame()), copy("b", "T1", Frame(Y, neg(X), (150, 0, 19))))
    (found,) = clashes(*made)
    assert (found.first, found.second) == ("a", "b")
    assert found.volume == pytest.approx(60 * 60 * 1, rel=1e-9)


def test_boards_turned_out_of_square_whose_upright_boxes_meet_do_not_clash():
    slant = Frame(unit((1, 1, 0)), unit((-1, 1, 0)), (0, 80, 0))
    made = piece((RAIL,), copy("a", "T1", Frame()), copy("b", "T1", slant))
    assert clashes(*made) == ()


def test_a_loose_tenon_in_its_mortise_does_not_clash_and_a_longer_one_does():
    """The tenon enters 22 deep less 2; pushed to 23 it shares a round-ended slice 1 high.

    40 x 10 round-ended: 30 x 10 + 25 pi = 378.54 mm2.
    """
    upright = Frame(Z, X)  # its length stands up, its width lies along the post
    seated = Frame(upright.x, upright.y, (80, 15, 20))
    pushed = Frame(upright.x, upright.y, (80, 15, 17))
    assert clashes(*piece((POST, TENON), copy("p", "P", Frame()), copy("t", "LT", seated))) == ()
    (found,) = clashes(*piece((POST, TENON), copy("p", "P", Frame()), copy("t", "LT", pushed)))
    assert found.volume == pytest.approx(300 + 25 * 3.141592653589793, rel=1e-6)


def test_a_screw_through_a_board_is_ignored_by_its_label():
    pin = part(Blank(length=40, width=6, thickness=6, section=Section.ROUND), label="S")
    made, solids = piece(
        (RAIL, pin), copy("a", "T1", Frame()), copy("s", "S", Frame(neg(Z), Y, (100, 20, 30)))
    )
    assert [found.volume for found in clashes(made, solids)] == pytest.approx(
        [9 * 3.141592653589793 * 20], rel=1e-6
    )
    assert clashes(made, solids, ignore={"S"}) == ()
    assert clashes(made, solids, pairs=[("a", "b")]) == ()
    assert len(clashes(made, solids, pairs=[("s", "a")])) == 1


def test_pairs_that_stand_alike_share_alike():
    copies = [copy(f"c{n}", "T1", Frame(X, Y, (290.0 * n, 0, 0))) for n in range(4)]
    found = clashes(*piece((RAIL,), *copies))
    assert [(one.first, one.second) for one in found] == [("c0", "c1"), ("c1", "c2"), ("c2", "c3")]
    assert {round(one.volume, 6) for one in found} == {10 * 60 * 20}


def test_comparing_does_not_change_the_solids():
    made, solids = piece(
        (RAIL,), copy("a", "T1", Frame()), copy("b", "T1", Frame(X, Y, (290, 0, 0)))
    )
    before = len(solids["T1"].Faces()), solids["T1"].Volume()
    clashes(made, solids)
    assert (len(solids["T1"].Faces()), solids["T1"].Volume()) == before


def test_bounds_are_exact_over_placed_copies():
    """A rail turned by 30 degrees: 300 cos 30 + 60 sin 30 wide."""
    slant = Frame((0.75**0.5, 0.5, 0.0), (-0.5, 0.75**0.5, 0.0), (10, 20, 30))
    made, solids = piece((RAIL,), copy("a", "T1", slant))
    low, high = piece_bounds(made.copies, solids)
    assert low == pytest.approx((10 - 30, 20, 30), abs=1e-9)
    assert high == pytest.approx((10 + 300 * 0.75**0.5, 20 + 150 + 60 * 0.75**0.5, 50), abs=1e-9)


def test_bounds_of_a_trimmed_part_do_not_reach_to_its_blank():
    made, solids = piece(
        (board(300, 60, 20, trim((250, 0, 0), X)),), copy("a", "T1", Frame(Y, neg(X), (0, 0, 0)))
    )
    low, high = piece_bounds(made.copies, solids)
    assert low == pytest.approx((-60, 0, 0), abs=1e-9)
    assert high == pytest.approx((0, 250, 20), abs=1e-9)


def test_bounds_of_nothing_are_an_error():
    with pytest.raises(ValueError, match="no copy has a solid"):
        piece_bounds((), {})


def test_a_part_that_cannot_be_made_is_no_part_of_the_comparison():
    made, solids = piece((RAIL,), copy("a", "T1", Frame()), copy("b", "missing", Frame()))
    assert clashes(made, solids) == ()
    assert piece_bounds(made.copies, solids)[1] == pytest.approx((300, 60, 20))
    with pytest.raises(BuildError):
        solid(board(300, 60, 20, hole((10, 10, 20), -1, 5)))
