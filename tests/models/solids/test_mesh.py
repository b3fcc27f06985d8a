import numpy as np
import pytest
import trimesh
from hypothesis import given, settings

from ground.vectors import X, Y, neg
from models.parts.blank import Blank, Section
from models.solids.kernel import KernelTrouble
from models.solids.mesh import Arrays, mesh, picture_mesh, welded
from models.solids.mesh_record import Mesh
from models.solids.patches import open_edges, patched, rings_of
from models.solids.solid import solid
from tests.helpers.hand_made_parts import board, groove, hole, part, splayed_leg
from tests.helpers.parts_strategy import parts

pytestmark = pytest.mark.kernel

DOWELS = [
    part(Blank(length=40, width=size, thickness=size, section=Section.ROUND))
    for size in (3.0, 6.0, 8.0, 10.0)
]
INCHES = board(25.4 * 36.5, 25.4 * 11.171875, 25.4 * 0.703125, hole((30, 30, 17.859375), 6.35, 9))


@pytest.mark.parametrize("made", [*DOWELS, INCHES, splayed_leg(), board(300, 80, 20)])
def test_a_mesh_is_closed_outward_and_within_half_a_percent(made):
    """Closed and outward as another library sees it, as it loads any file."""
    body, found = solid(made), mesh(solid(made))
    other = trimesh.Trimesh(found.points, found.triangles)
    assert other.is_watertight
    assert other.is_winding_consistent
    assert other.is_volume
    assert found.volume() == pytest.approx(other.volume, rel=1e-9)
    assert found.volume() == pytest.approx(body.Volume(), rel=0.004)
    assert other.area == pytest.approx(body.Area(), rel=0.004)


def test_a_flat_part_is_meshed_exactly():
    made = board(300, 80, 20, groove((0, 40, 20), X, (300, 6, 9)))
    assert mesh(solid(made)).volume() == pytest.approx(300 * 80 * 20 - 300 * 6 * 9, rel=1e-12)


def test_a_meshs_points_keep_full_precision():
    made = board(1680.123456789, 412, 20)
    assert mesh(solid(made)).box()[1] == pytest.approx((1680.123456789, 412, 20), abs=1e-11)


def test_a_small_dowel_is_meshed_finer_than_a_picture_of_it():
    body = solid(DOWELS[1])
    assert len(picture_mesh(body).triangles) < len(mesh(body).triangles) / 2


def test_a_picture_is_closed_too():
    found = picture_mesh(solid(splayed_leg()))
    assert trimesh.Trimesh(found.points, found.triangles).is_watertight


def test_meshing_twice_gives_the_same_arrays():
    body = solid(INCHES)
    first = mesh(body)
    picture_mesh(body)
    again = mesh(body)
    assert np.array_equal(first.points, again.points)
    assert np.array_equal(first.triangles, again.triangles)


def test_bores_that_touch_leave_no_wall():
    """Two bores of 10, 10 apart: the wall between them has no thickness at x = 105."""
    made = board(200, 60, 20, hole((100, 30, 20), 10, None), hole((110, 30, 20), 10, None))
    with pytest.raises(KernelTrouble, match=r"no wall is left at \(105\.00, 30\.00"):
        mesh(solid(made))


def test_a_bore_from_the_back_meeting_nothing_stays_closed():
    made = board(200, 60, 20, hole((100, 60, 10), 8, 30, neg(Y)), hole((100, 0, 10), 8, 20, Y))
    assert not len(open_edges(mesh(solid(made)).triangles))


def test_an_open_net_is_seen():
    corner = np.array(((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)), dtype=np.float64)
    closed = np.array(((0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2)), dtype=np.int32)
    assert not len(open_edges(closed))
    assert len(open_edges(closed[:3])) == 3
    assert len(open_edges(closed[:, (0, 2, 1)][:1])) == 3
    turned = closed.copy()
    turned[0] = turned[0][::-1]
    assert len(open_edges(turned)) > 0
    assert welded(Arrays(corner, closed), 0.3).volume() == pytest.approx(1 / 6)


NOTCHED = board(
    410.190625,
    176,
    25.4,
    *(
        groove((x, y, 25.4), X, (246.114375, 6, 7.62))
        for x, y in ((25, 23), (25, 51), (0, 121), (0, 37), (25, 65), (25, 107))
    ),
    hole((36.18525, 93, 25.4), 3, 10.16),
)


def test_a_flat_piece_that_the_kernel_leaves_out_is_filled():
    """Six grooves, some stopped, and a hole: the kernel loses a four-cornered piece of the top."""
    found = mesh(solid(NOTCHED))
    assert not len(open_edges(found.triangles))
    assert found.volume() == pytest.approx(solid(NOTCHED).Volume(), rel=1e-5)


def test_a_ring_with_an_inward_corner_is_filled_to_its_area():
    """A square of 4 less a triangle 4 wide and 2 deep: 16 - 4 = 12, looking down."""
    points = np.array(((0, 0, 0), (4, 0, 0), (4, 4, 0), (2, 2, 0), (0, 4, 0), (2, 2, 9)), float)
    sides = [(0, 1), (1, 2), (2, 3), (3, 4), (4, 0)]
    tent = np.array([(j, i, 5) for i, j in sides], dtype=np.int32)[:, (1, 0, 2)]
    whole = patched(Mesh(points=points, triangles=tent))
    assert not len(open_edges(whole.triangles))
    base = whole.triangles[len(tent) :]
    a, b, c = (points[base[:, corner]] for corner in range(3))
    assert np.cross(b - a, c - a)[:, 2].sum() / 2 == pytest.approx(-12)


def test_gaps_that_are_not_flat_or_lie_within_one_another_are_left():
    points = np.array(((0, 0, 0), (4, 0, 0), (4, 4, 1), (0, 4, 0), (2, 2, 9)), float)
    tent = np.array(((0, 1, 4), (1, 2, 4), (2, 3, 4), (3, 0, 4)), dtype=np.int32)
    assert len(patched(Mesh(points=points, triangles=tent)).triangles) == 4
    assert rings_of(np.array(((0, 1), (0, 2)), dtype=np.int32)) == []


def test_welding_drops_triangles_without_an_area():
    points = np.array(((0, 0, 0), (1, 0, 0), (1, 1e-7, 0), (0, 1, 0)), dtype=np.float64)
    triangles = np.array(((0, 1, 2), (0, 2, 3)), dtype=np.int32)
    found = welded(Arrays(points, triangles), 0.3719)
    assert len(found.points) == 3
    assert len(found.triangles) == 1


@settings(max_examples=15)
@given(parts())
def test_any_part_has_a_closed_mesh_of_its_volume(made):
    body, found = solid(made), mesh(solid(made))
    assert not len(open_edges(found.triangles))
    assert found.volume() == pytest.approx(body.Volume(), rel=0.004)
