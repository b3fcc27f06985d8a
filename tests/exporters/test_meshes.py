"""Meshes rounded to single precision stay closed; normals part at arrises and nowhere else."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from exporters.meshes import is_closed, single
from exporters.shading import ShadedMesh, shaded
from ground.errors import BuildError
from models.solids.mesh_record import Mesh
from tests.helpers import door_and_leg as small


def box(*size: float) -> Mesh:
    return small.mesh_of(Manifold.cube(size))


def shade(solid: Manifold) -> ShadedMesh:
    return shaded(single(small.mesh_of(solid), "part"))


def test_a_part_that_rounding_flattens_is_refused():
    """Far from the origin 0.00004 mm are lost: of this wedge two triangles back to back stay."""
    points = np.array([(1680, 0, 0), (1680.00004, 0, 0), (1680, 50, 0), (1690, 25, 30)], float)
    triangles = np.array([(0, 2, 1), (0, 1, 3), (1, 2, 3), (2, 0, 3)], np.int32)
    assert is_closed(triangles.astype(np.int64))
    with pytest.raises(BuildError, match="part: mesh: it is not closed"):
        single(Mesh(points=points, triangles=triangles), "part")


def test_a_sliver_that_rounding_flattens_leaves_the_rest_closed():
    """A box whose one arris carries a point 0.00004 mm from its end keeps its twelve triangles."""
    whole = box(1680, 50, 20)
    ends = [(1680.0, 0.0, 0.0), (1680.0, 0.0, 20.0)]
    a, b = (int(np.flatnonzero((whole.points == end).all(axis=1))[0]) for end in ends)
    new = len(whole.points)
    triangles: list[tuple[int, int, int]] = []
    for one, two, three in whole.triangles.tolist():
        for first, second, third in ((one, two, three), (two, three, one), (three, one, two)):
            if {first, second} == {a, b}:
                triangles += [(first, new, third), (new, second, third)]
                break
        else:
            triangles.append((one, two, three))
    split = Mesh(
        points=np.vstack([whole.points, [(1680.0, 0.0, 20 - 4e-7)]]),
        triangles=np.array(triangles, np.int32),
    )
    assert is_closed(split.triangles.astype(np.int64))
    assert len(split.triangles) == 14
    closed = single(split, "part")
    assert is_closed(closed.triangles)
    assert (len(closed.points), len(closed.triangles)) == (8, 12)


@given(
    st.lists(st.floats(-2000, 2000), min_size=24, max_size=60),
    st.floats(1e-6, 1.0),
)
def test_any_hull_stays_closed_or_is_refused(values, squeeze):
    points = np.array(values[: len(values) // 3 * 3]).reshape(-1, 3) * (1.0, squeeze, 1.0)
    hull = Manifold.hull_points(points.astype(np.float32))
    if hull.is_empty():
        return
    try:
        closed = single(small.mesh_of(hull), "part", scale=0.001)
    except BuildError:
        return
    assert is_closed(closed.triangles)
    assert len(np.unique(closed.points, axis=0)) == len(closed.points)


def test_nothing_is_not_a_mesh():
    empty = Mesh(points=np.zeros((0, 3)), triangles=np.zeros((0, 3), np.int32))
    with pytest.raises(BuildError):
        single(empty, "part")


def test_a_box_has_three_points_a_corner():
    read = shade(Manifold.cube((600, 300, 18)))
    assert len(read.points) == 24
    assert sorted(map(tuple, np.unique(read.normals, axis=0).tolist())) == sorted(
        tuple(sign * float(axis == place) + 0.0 for place in range(3))
        for axis in range(3)
        for sign in (-1, 1)
    )


@pytest.mark.parametrize("facets", [16, 32, 64])
def test_a_rod_is_smooth_round_and_flat_at_its_ends(facets):
    read = shade(small.rod(40.0, 8.0, facets))
    flat = np.abs(read.normals[:, 2]) > 0.5
    assert np.allclose(np.abs(read.normals[flat]), (0, 0, 1), atol=1e-6)
    radial = read.points[~flat, :2] / 4.0
    assert np.allclose(read.normals[~flat, :2], radial, atol=1e-5)
    assert len(read.points) == 4 * facets


def test_a_bore_leaves_the_face_around_it_flat():
    board = Manifold.cube((100, 80, 18)) - small.rod(40, 35, 24).translate((50, 40, -5))
    read = shade(board)
    at_top = np.isclose(read.points[:, 2], 18) & (read.normals[:, 2] > 0.1)
    assert np.allclose(read.normals[at_top], (0, 0, 1), atol=1e-6)


def test_a_round_over_runs_into_its_flats():
    """A bar with one arris rounded to 3: the flats stay flat where the round begins."""
    angles = [math.radians(a) for a in (0, 22.5, 45, 67.5, 90)]
    outline = [(0, 0), (40, 0), *((37 + 3 * math.cos(a), 27 + 3 * math.sin(a)) for a in angles)]
    corners = [(x, y, z) for x, y in [*outline, (0, 30)] for z in (0.0, 200.0)]
    read = shade(Manifold.hull_points(corners))
    start = np.isclose(read.points[:, :2], (40, 27)).all(axis=1) & (
        np.abs(read.normals[:, 2]) < 0.5
    )
    assert start.sum() == 2
    assert np.degrees(np.arccos(read.normals[start] @ (1, 0, 0))).max() < 0.1


def test_a_taper_that_starts_down_a_leg_is_an_arris():
    """4 degrees between two flats, longer than they are wide: no shading across them."""
    profile = [(0, 0), (0, 60), (150, 60), (400, 43), (400, 0)]
    corners = [(x, y, z) for x, y in profile for z in (0.0, 60.0)]
    read = shade(Manifold.hull_points(corners))
    turned = {tuple(np.round(normal, 4)) for normal in read.normals.tolist()}
    assert len(turned) == 7


def test_a_chamfer_is_two_arrises():
    profile = [(0, 0), (0, 60), (48, 60), (60, 48), (60, 0)]
    read = shade(Manifold.hull_points([(x, y, z) for x, y in profile for z in (0.0, 190.0)]))
    assert len({tuple(np.round(normal, 4)) for normal in read.normals.tolist()}) == 7
