"""What a picture needs of a part agrees with what a package has of it."""

from dataclasses import replace

import pytest

from ground.vectors import Frame, Plane, Z
from models.solids.records import Measured, PlaneFace
from tests.helpers.hand_made_parts import board, hole, trim
from tests.helpers.small_piece import BOARD

pytestmark = pytest.mark.kernel


@pytest.fixture(scope="module")
def one():
    from models.solids.shown import shown

    return shown(BOARD)


FLAT = board(300, 80, 20, hole((100, 40, 20), 8, None), trim((260, 0, 0), (1, 0.5, 0)))


@pytest.fixture(scope="module")
def flat():
    from models.solids.shown import shown

    return shown(FLAT)


@pytest.fixture(scope="module")
def sketch():
    from models.solids.shown import sketched

    return sketched(FLAT)


def test_a_part_measures_the_same_in_a_picture_and_in_a_package(one, flat, sketch):
    from models.solids.made import make

    assert one.measured == make(BOARD).measured
    assert flat.measured == make(FLAT).measured
    assert sketch.measured.agrees_with(flat.measured)
    assert sketch.body is None


def test_only_the_solid_of_an_eased_part_is_made():
    from models.solids.shown import sketched

    assert sketched(BOARD) is None


def test_a_picture_beside_a_package_is_of_facets_that_agree(one, flat, sketch):
    from models.solids.shown import picture_of

    found = picture_of(FLAT, flat.body, flat.measured)
    assert (found.points == sketch.mesh.points).all()
    other = replace(flat.measured, volume=1.001 * flat.measured.volume)
    assert (picture_of(FLAT, flat.body, other).points == flat.mesh.points).all()
    assert (picture_of(BOARD, one.body, one.measured).points == one.mesh.points).all()


@pytest.mark.parametrize(
    "turned",
    [
        Frame(),
        Frame((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)),
        Frame((0.0, 0.0, -1.0), (0.0, 1.0, 0.0)),
        Frame((0.6, 0.8, 0.0), (-0.8, 0.6, 0.0)),
    ],
)
def test_the_box_of_a_turned_part_is_that_of_its_turned_solid(one, flat, sketch, turned):
    from models.solids.clash import moved
    from models.solids.measure import exact_box
    from models.solids.shown import box

    for shown, made in ((one, one), (flat, flat), (sketch, flat)):
        expected = exact_box(moved(made.body.wrapped, turned))
        for corner, asked in zip(box(shown, turned), expected, strict=True):
            assert corner == pytest.approx(asked, abs=1e-9)


@pytest.mark.parametrize(
    "other",
    [
        {"volume": 1001.1},
        {"box": ((0.0, 0.0, 0.0), (10.0, 10.0, 10.00001))},
        {"faces": ()},
    ],
    ids=["volume", "box", "faces"],
)
def test_facets_that_measure_otherwise_do_not_agree(other):
    plane = PlaneFace(name="top", plane=Plane(Z, 1.0), made_by=None)
    box = ((0.0, 0.0, 0.0), (10.0, 10.0, 10.0))
    cube = Measured(volume=1000.0, box=box, faces=(plane,))
    assert replace(cube, volume=1000.9).agrees_with(cube)
    assert not replace(cube, **other).agrees_with(cube)
