"""What a picture needs of a part agrees with what a package has of it."""

import pytest

from ground.vectors import Frame
from tests.helpers.small_piece import BOARD

pytestmark = pytest.mark.kernel


@pytest.fixture(scope="module")
def one():
    from models.solids.shown import shown

    return shown(BOARD)


def test_a_part_measures_the_same_in_a_picture_and_in_a_package(one):
    from models.solids.made import make

    made = make(BOARD, picture=True)
    assert one.measured == made.measured
    assert made.picture is not None
    assert (one.mesh.points == made.picture.points).all()


@pytest.mark.parametrize(
    "turned",
    [
        Frame(),
        Frame((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)),
        Frame((0.0, 0.0, -1.0), (0.0, 1.0, 0.0)),
        Frame((0.6, 0.8, 0.0), (-0.8, 0.6, 0.0)),
    ],
)
def test_the_box_of_a_turned_part_is_that_of_its_turned_solid(one, turned):
    from models.solids.clash import moved
    from models.solids.measure import exact_box
    from models.solids.shown import box

    expected = exact_box(moved(one.body.wrapped, turned))
    for corner, asked in zip(box(one, turned), expected, strict=True):
        assert corner == pytest.approx(asked, abs=1e-9)
