import math

import numpy as np
import pytest
from hypothesis import given, settings

from ground.vectors import X, Y, Z, unit
from models.parts.cuts import Bore
from models.parts.features import Mortise, Seat
from models.solids.base import convex_base
from models.solids.cutters import cutters_of
from models.solids.hulls import Hull, apart
from models.solids.pockets import pocket_of, standing_free
from models.solids.solid import Attempt, at_once, solid
from models.solids.tools import OVERCUT, bench
from tests.helpers import twins
from tests.helpers.hand_made_parts import (
    board,
    countersink,
    ease,
    groove,
    hole,
    splayed_leg,
    trim,
)
from tests.helpers.parts_strategy import parts

pytestmark = pytest.mark.kernel


def pockets(made):
    return len(cutters_of(made, bench(made), let_in=True).pockets)


def free(*features):
    made = board(300, 80, 20, *features)
    assert solid(made).Volume() == pytest.approx(twins.volume(made), rel=twins.tolerance(made))
    return pockets(made)


def test_a_row_of_holes_stands_free():
    assert free(hole((40, 37, 20), 5, 12, count=7, pitch=32)) == 7


def test_holes_through_and_mortises_stand_free():
    mortise = Mortise(seat=Seat((150, 0, 10), X, Y), length=50, width=8, depth=25, made_by="t")
    assert free(hole((40, 37, 20), 5, None), mortise) == 2


def test_a_hole_in_a_trim_stands_free():
    """Square to a mitre of 45 degrees, clear of both its arrises."""
    waste = unit((1, 0, 1))
    made = board(
        300, 80, 60, trim((300, 0, 0), waste), hole((270, 40, 30), 8, 12, unit((-1, 0, -1)))
    )
    assert pockets(made) == 1
    assert solid(made).Volume() == pytest.approx(twins.volume(made), rel=1e-6)


@pytest.mark.parametrize(
    ("what", "features"),
    [
        ("slanted", [hole((40, 37, 20), 5, 12, unit((0.1, 0, -1)), lead=5)]),
        ("out at the edge", [hole((40, 1, 20), 5, 12)]),
        ("from inside a groove", [groove((0, 37, 20), X, (300, 8, 6)), hole((40, 37, 14), 5, 6)]),
        ("through a groove", [groove((0, 37, 20), X, (300, 8, 6)), hole((40, 37, 20), 5, 12)]),
        ("in a counterbore", [hole((40, 37, 20), 12, 6), hole((40, 37, 20), 5, None)]),
        ("countersunk", [countersink((40, 37, 20), 9), hole((40, 37, 20), 5, None)]),
        (
            "into a groove below",
            [groove((0, 37, 0), X, (300, 8, 6), Z), hole((40, 37, 20), 5, None)],
        ),
        ("through one another", [hole((40, 37, 20), 5, None), hole((40, 0, 10), 4, 60, Y)]),
        ("at an eased arris", [ease("top", "front", 6), hole((40, 8, 20), 5, 12)]),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_meets_another_cut_does_not_stand_free(what, features):
    assert free(*features) == 0, what


def test_holes_closer_than_a_hundredth_do_not_stand_free():
    """Two holes of 5: 5.02 apart they do, 5.005 apart they do not."""
    assert pockets(board(300, 80, 20, *(hole((x, 40, 20), 5, 12) for x in (100, 105.02)))) == 2
    assert pockets(board(300, 80, 20, *(hole((x, 40, 20), 5, 12) for x in (100, 105.005)))) == 0


def test_opposite_holes_with_wood_between_them_stand_free():
    across = [hole((100, 40, 20), 5, 8), hole((100, 40, 0), 5, 8, Z)]
    assert free(*across) == 2
    assert pockets(board(300, 80, 20, hole((100, 40, 20), 5, 12), across[1])) == 0


def test_a_hole_ending_just_at_the_far_face_comes_out_there():
    body = convex_base(board(300, 80, 20))
    ((_, cut),) = board(300, 80, 20, hole((40, 37, 20), 5, 20)).cuts()
    assert isinstance(cut, Bore)
    found = pocket_of(cut, body)
    assert found is not None
    assert (found.mouth, found.out, found.depth) == ("top", "bottom", 20.0)


def test_a_hole_through_a_slanted_far_side_is_no_pocket():
    made = board(300, 80, 20, trim((150, 40, 4), (0.05, 0, -1)), hole((150, 40, 20), 5, None))
    assert pockets(made) == 0
    assert solid(made).Volume() == pytest.approx(twins.volume(made), rel=1e-6)


def test_the_legs_mortises_stand_free():
    assert pockets(splayed_leg()) == 2


@settings(max_examples=25)
@given(parts())
def test_letting_in_is_the_same_as_cutting(made):
    let_in = at_once(made, Attempt(overcut=OVERCUT))
    cut = at_once(made, Attempt(overcut=OVERCUT, let_in=False))
    assert let_in.isValid()
    assert let_in.Volume() == pytest.approx(cut.Volume(), rel=1e-9)
    assert len(let_in.Faces()) == len(cut.Faces())
    assert let_in.Area() == pytest.approx(cut.Area(), rel=1e-9)


def box(centre, size, turn=0.0):
    c, s = math.cos(turn), math.sin(turn)
    axes = np.array(((c, s, 0.0), (-s, c, 0.0), (0.0, 0.0, 1.0)))
    signs = np.array([(x, y, z) for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)])
    return Hull(corners=np.array(centre) + (signs * np.array(size) / 2) @ axes, axes=axes)


def test_hulls_apart_touching_and_crossing():
    assert apart(box((0, 0, 0), (10, 10, 10)), box((11, 0, 0), (10, 10, 10)))
    assert not apart(box((0, 0, 0), (10, 10, 10)), box((10, 0, 0), (10, 10, 10)))
    assert not apart(box((0, 0, 0), (10, 10, 10)), box((11, 0, 0), (10, 10, 10), math.pi / 4))
    assert apart(box((0, 0, 0), (10, 10, 10)), box((12.1, 0, 0), (10, 10, 10), math.pi / 4))


def test_no_pockets_are_no_trouble():
    assert standing_free([], [box((0, 0, 0), (1, 1, 1))]) == []
