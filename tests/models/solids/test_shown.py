"""What a picture needs of a part agrees with what a package has of it."""

import pytest

from ground.vectors import Frame
from models.parts.assembly import Copy
from tests.helpers.small_piece import BOARD, DOWEL, FRONT, PIECE

pytestmark = pytest.mark.kernel


TURNED = (0.6, 0.8, 0.0), (-0.8, 0.6, 0.0)


@pytest.fixture(scope="module")
def shown():
    from models.solids.shown import shown

    return {part.label: shown(part) for part in (BOARD, FRONT, DOWEL)}


def test_a_part_measures_the_same_in_a_picture_and_in_a_package(shown):
    from models.solids.made import make

    made = make(BOARD, picture=True)
    assert shown[BOARD.label].measured == made.measured
    assert made.picture is not None
    assert (shown[BOARD.label].mesh.points == made.picture.points).all()


def test_the_box_of_a_piece_is_the_exact_one_though_few_copies_are_measured(shown):
    """A copy in the middle of the others is not measured, and the box is that of all."""
    from models.solids.clash import piece_bounds
    from models.solids.shown import bounds

    copies = [copy for copy in PIECE.copies if copy.label in shown]
    places = [(9.0 * n, float(n), 400.0 * (n % 2)) for n in range(5)]
    tilted = [
        Copy(id=str(place), label=DOWEL.label, group=(), placement=Frame(*TURNED, place))
        for place in places
    ]
    solids = {label: one.body for label, one in shown.items()}
    for some in (copies, tilted, [*copies, *tilted]):
        assert bounds(some, shown) == piece_bounds(some, solids)


def test_a_piece_of_which_nothing_was_made_has_no_box():
    from models.solids.shown import bounds

    assert bounds(PIECE.copies, {}) is None
