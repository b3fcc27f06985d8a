"""What is finished, surface by surface."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks import finish as finishing
from checks.finish import COVERS, OVER, Surface, face_area, find_finish, finish
from checks.solid_geometry import between, box
from ground.vectors import Plane, X, Y, Z, add, neg
from tests.helpers.checked import looked, made
from tests.helpers.examples import CHEST, DEMO, EXAMPLES, spec


def surfaces(asked):
    return {one.surface: one for one in finish(looked(asked)).surfaces}


def test_the_faces_of_a_box():
    assert sum(map(face_area, box((30.0, 20.0, 10.0)))) == pytest.approx(2 * (600 + 300 + 200))


def test_an_open_case_worked_by_hand():
    """A case of 800 x 600 x 330 in 18 mm, its back 6 mm in grooves, 764 x 564 clear.

    Outside: 800 x 330 + 2 x 600 x 330 + the front edges 800 x 600 - 764 x 564 = 709 104 mm2,
    whichever panel runs past the other at a corner. Inside: 2 x (764 + 564) x (330 - 6) of walls
    and 764 x 564 of the back = 1 291 440 mm2.
    """
    found = surfaces(made("open: true"))
    assert found[Surface.CASE_OUTSIDE].area == pytest.approx(0.709104, rel=1e-6)
    assert found[Surface.CASE_INSIDE].area == pytest.approx(1.291440, rel=1e-3)


def test_what_stands_under_the_case_is_not_finished_twice():
    """780 x 310 of plinth, 18 mm thick: 37 944 mm2 of the underside, and its four blocks."""
    behind = surfaces(made("open: true"))[Surface.CASE_BEHIND].area
    open_to_air = (764 * 564 + (800 * 600 - 764 * 564) + 800 * 330 - 37_944) * 1e-6
    assert open_to_air - 0.02 < behind < open_to_air


def test_linoleum_comes_ready_and_its_edges_do_not():
    """Four doors of 268.4 x 408 x 20: 0.876 m2 of covering, 4 x 2 x 676.4 x 20 = 0.108 m2 bare."""
    doors = surfaces(spec(DEMO))[Surface.DOORS]
    assert doors.faced == pytest.approx(4 * 2 * 0.2684 * 0.408, rel=0.01)
    assert 0.108 < doors.area < 0.14


def test_litres_are_area_by_coats_and_a_tenth_over():
    found = surfaces(spec(CHEST))
    fronts, boxes = found[Surface.FRONTS], found[Surface.BOXES]
    assert (fronts.coats, boxes.coats) == (3, 1)
    assert fronts.litres == pytest.approx(fronts.area * 3 / COVERS * (1 + OVER))
    assert boxes.litres == pytest.approx(boxes.area / COVERS * (1 + OVER))


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_finding_tells_every_surface_once_and_its_sum(name):
    piece = looked(spec(name))
    whole = finish(piece)
    (told,) = find_finish(piece)
    assert told.value == pytest.approx(sum(one.area for one in whole.surfaces), abs=1e-6)
    for one in whole.surfaces:
        assert told.message.count(f"{one.surface.value} ") == 1
    assert f"{whole.litres:.1f} l" in told.message


def test_one_more_drawer_is_one_more_bottom_to_finish():
    """Sides of the same height together; a bottom of about 720 x 285 on both faces more."""

    def boxes(heights):
        text = (
            f"drawers: {{heights: [{heights}], front: {{material: panel, gap: 3}},"
            " box: {material: panel, corner: rabbet},"
            " bottom: {material: thin, groove_depth: 6, up: 12}, runner: slide}"
        )
        return surfaces(made(text))[Surface.BOXES].area

    more = boxes("1 share, 1 share") - boxes("1 share")
    assert more == pytest.approx(2 * 0.72 * 0.285, rel=0.1)


EDGES = st.integers(0, 40).map(float)
SPANS = st.integers(1, 30).map(float)


@given(st.tuples(EDGES, EDGES, EDGES), st.tuples(SPANS, SPANS, SPANS), st.integers(0, 5))
def test_a_rectangle_is_covered_as_clipping_says(low, size, side):
    """A side of a box of 30 x 20 x 10 against a neighbour that lies anywhere, or beside it."""
    high = add(low, size)
    planes = (
        *(Plane(way, high[axis]) for axis, way in enumerate((X, Y, Z))),
        *(Plane(neg(way), -low[axis]) for axis, way in enumerate((X, Y, Z))),
    )
    face = box((30.0, 20.0, 10.0))[side]
    flat = finishing._rectangle(face, face_area(face))
    assert flat is not None
    hood = finishing._Hood(None, planes, between(planes))  # type: ignore[arg-type]
    clipped = finishing._covered(face, None, hood)
    assert finishing._covered(face, flat, hood) == pytest.approx(clipped, abs=1e-9)


def test_a_slanted_face_is_no_rectangle_and_a_triangle_is_none():
    slanted = ((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 10.0, 1.0), (0.0, 10.0, 1.0))
    triangle = ((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (0.0, 10.0, 0.0))
    for face in (slanted, triangle):
        assert finishing._rectangle(face, face_area(face)) is None
