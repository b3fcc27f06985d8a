import itertools
import math

import pytest
from hypothesis import given

from drawings import polyhedron
from ground.vectors import Plane, Vec, cross, dot
from models.parts.blank import Blank
from tests.helpers.hand_made_parts import LEG_HEIGHT, board, splayed_leg, trim
from tests.helpers.parts_strategy import parts


def volume(body: polyhedron.Body) -> float:
    """Signed tetrahedra from the origin over every facet."""
    return sum(_fan(facet.corners) for facet in body)


def _fan(corners: tuple[Vec, ...]) -> float:
    first = corners[0]
    pairs = itertools.pairwise(corners[1:])
    return sum(dot(first, cross(a, b)) / 6 for a, b in pairs)


def test_a_blank_is_its_own_box():
    body = polyhedron.block(Blank(length=600, width=100, thickness=20))
    assert volume(body) == pytest.approx(600 * 100 * 20)
    assert sorted(polyhedron.area(facet) for facet in body) == pytest.approx(
        [2000, 2000, 12000, 12000, 60000, 60000]
    )


def test_a_mitre_takes_half_a_square_prism():
    """45 degrees over 20 mm of 100 wide: 20 x 20 / 2 x 100 off."""
    body = polyhedron.base(board(600, 100, 20, trim((600, 0, 0), (1, 0, 1))))
    assert volume(body) == pytest.approx(600 * 100 * 20 - 20000)
    assert "right" not in {facet.name for facet in body}


def test_a_bite_is_what_it_shares_with_the_base():
    """A bite from 90 to 130 wide in a board of 100 takes 10 of it, and leaves three walls."""
    walls = (
        ("wall-a", Plane((0, -1, 0), -90)),
        ("", Plane((0, 1, 0), 130)),
        ("wall-b", Plane((-1, 0, 0), -50)),
        ("wall-c", Plane((1, 0, 0), 80)),
        ("", Plane((0, 0, 1), 40)),
        ("", Plane((0, 0, -1), 10)),
    )
    bite = polyhedron.bitten(polyhedron.base(board(600, 100, 20)), walls)
    assert volume(bite) == pytest.approx(10 * 30 * 20)
    assert {facet.name for facet in bite if facet.wall} == {"wall-a", "wall-b", "wall-c"}


def test_a_bite_beside_the_base_is_nothing():
    aside = (("wall", Plane((0, -1, 0), -150)),)
    assert polyhedron.bitten(polyhedron.base(board(600, 100, 20)), aside) == ()


def test_the_splayed_leg_has_its_worked_volume():
    """A frustum between 58 and 30 square over 190 high: h/3 (A + a + sqrt(A a)), facet apart."""
    top, foot = 58.0**2, 30.0**2
    frustum = LEG_HEIGHT / 3 * (top + foot + math.sqrt(top * foot))
    assert volume(polyhedron.base(splayed_leg(facet=0, ease_by=0, deep=0))) == pytest.approx(
        frustum, rel=1e-9
    )


@given(parts())
def test_every_base_is_closed(part):
    """Each edge of a facet is met once the other way by a neighbour."""
    body = polyhedron.base(part)
    edges: dict[tuple[tuple[float, ...], ...], int] = {}
    for facet in body:
        around = [tuple(round(c, 5) + 0.0 for c in corner) for corner in facet.corners]
        for a, b in zip(around, (*around[1:], around[0]), strict=True):
            edges[(a, b)] = edges.get((a, b), 0) + 1
    assert all(edges.get((b, a)) == count == 1 for (a, b), count in edges.items())
    assert 0 < volume(body) <= part.blank.volume * (1 + 1e-9)
