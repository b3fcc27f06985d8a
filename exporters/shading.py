"""Normals for a picture: flat faces stay flat, arrises sharp, round-overs and bores smooth.

A mesh does not say which triangles made one face. Triangles in one plane are taken for a facet;
two facets that meet at a small angle along a side that is long against their widths are strips of
one rounded surface; everything else meets in an arris.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from exporters.meshes import Doubles, Indices, SingleMesh, Singles

SAME_PLANE = 0.2
"""Triangles whose normals differ by less (degrees) lie in one plane: rounding turns them."""
ARRIS = 35.0
"""Facets that meet at more than this (degrees) meet in an arris; a mesh's strips at 23 or so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShadedMesh:
    """Points with a unit normal each; a point on an arris is there once for every surface."""

    points: Singles
    normals: Singles
    triangles: Indices


@dataclass(frozen=True, slots=True)
class _Sides:
    """The sides of a closed mesh: the two triangles along each, and its two ends' corners.

    A corner is a place in the flattened list of triangles; ``length`` is the side's.
    """

    first: Indices
    second: Indices
    links: tuple[tuple[Indices, Indices], tuple[Indices, Indices]]
    length: Doubles


def shaded(mesh: SingleMesh) -> ShadedMesh:
    """``mesh`` with its points parted along arrises and a normal for each."""
    points = mesh.points.astype(np.float64)
    normals, areas = _normals(points, mesh.triangles)
    sides = _sides(points, mesh.triangles)
    facets = _facets(normals, sides)
    facet_normals, facet_areas = _summed(normals * areas[:, None], areas, facets)
    smooth = _smooth(facets, facet_normals, facet_areas, sides)
    corner_of = np.arange(mesh.triangles.size)
    pairs = [np.column_stack(link)[smooth] for link in sides.links]
    group = _components(len(corner_of), np.concatenate(pairs))
    # The square lets a wide flat keep its own normal where a narrow strip runs out into it.
    weight = np.repeat(facet_areas[facets] ** 2, 3) * _angles(points, mesh.triangles).reshape(-1)
    turned = np.repeat(facet_normals[facets], 3, axis=0) * weight[:, None]
    total = np.zeros((int(group.max()) + 1, 3))
    np.add.at(total, group, turned)
    first = np.unique(group, return_index=True)[1]
    return ShadedMesh(
        points=mesh.points[mesh.triangles.reshape(-1)[first]],
        normals=_unit(total).astype(np.float32),
        triangles=group.reshape(-1, 3),
    )


def _unit(vectors: Doubles) -> Doubles:
    length = np.linalg.norm(vectors, axis=1, keepdims=True)
    upright = np.tile([0.0, 0.0, 1.0], (len(vectors), 1))
    return np.asarray(np.divide(vectors, length, out=upright, where=length > 0))


def _normals(points: Doubles, triangles: Indices) -> tuple[Doubles, Doubles]:
    """The unit normal and the area of each triangle."""
    a, b, c = (points[triangles[:, corner]] for corner in range(3))
    product = np.cross(b - a, c - a)
    return _unit(product), np.linalg.norm(product, axis=1) / 2


def _angles(points: Doubles, triangles: Indices) -> Doubles:
    """The angle of each triangle at each of its corners (radians)."""
    corners = points[triangles]
    there = corners[:, (1, 2, 0)] - corners
    back = corners[:, (2, 0, 1)] - corners
    height = np.linalg.norm(np.cross(there, back), axis=2)
    return np.asarray(np.arctan2(height, np.sum(there * back, axis=2)), np.float64)


def _sides(points: Doubles, triangles: Indices) -> _Sides:
    starts, ends = triangles.reshape(-1), triangles[:, (1, 2, 0)].reshape(-1)
    corner = np.arange(triangles.size)
    onward = corner - corner % 3 + (corner + 1) % 3
    order = np.lexsort((np.maximum(starts, ends), np.minimum(starts, ends)))
    one, two = order[0::2], order[1::2]  # closed: every side is there exactly twice
    return _Sides(
        one // 3,
        two // 3,
        ((one, onward[two]), (onward[one], two)),
        np.linalg.norm(points[starts[one]] - points[ends[one]], axis=1),
    )


def _facets(normals: Doubles, sides: _Sides) -> Indices:
    """The number of the facet that each triangle lies in."""
    flat = _between(normals, sides.first, sides.second) > np.cos(np.radians(SAME_PLANE))
    return _components(len(normals), np.column_stack((sides.first, sides.second))[flat])


def _between(normals: Doubles, first: Indices, second: Indices) -> Doubles:
    return np.asarray(np.sum(normals[first] * normals[second], axis=1))


def _summed(weighted: Doubles, areas: Doubles, facets: Indices) -> tuple[Doubles, Doubles]:
    """The unit normal and the area of each facet."""
    count = int(facets.max()) + 1
    total = np.zeros((count, 3))
    np.add.at(total, facets, weighted)
    return _unit(total), np.bincount(facets, areas, count).astype(np.float64)


def _smooth(facets: Indices, normals: Doubles, areas: Doubles, sides: _Sides) -> NDArray[np.bool_]:
    """Tell of each side whether a normal runs on across it."""
    one, two = facets[sides.first], facets[sides.second]
    pair = np.minimum(one, two) * len(areas) + np.maximum(one, two)
    _, which = np.unique(pair, return_inverse=True)
    along = np.bincount(which, sides.length)[which]
    narrow = np.minimum(areas[one], areas[two]) <= along**2
    gentle = _between(normals, one, two) > np.cos(np.radians(ARRIS))
    return np.asarray((one == two) | (narrow & gentle))


def _components(count: int, pairs: Indices) -> Indices:
    """Number the groups that ``pairs`` join among ``count`` things, in order of first member."""
    root = np.arange(count)
    while len(pairs):
        low = np.minimum(root[pairs[:, 0]], root[pairs[:, 1]])
        high = np.maximum(root[pairs[:, 0]], root[pairs[:, 1]])
        if np.array_equal(low, high):
            break
        np.minimum.at(root, high, low)
        while not np.array_equal(root, root[root]):
            root = root[root]
    return np.unique(root, return_inverse=True)[1].reshape(-1)
