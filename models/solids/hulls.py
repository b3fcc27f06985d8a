"""Convex outlines of cutters, to tell which cutters do not meet: numbers only, no kernel."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

APART = 0.01
"""Cutters with less than this between them count as touching (mm)."""

UPRIGHT = np.eye(3)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hull:
    """Corners (n, 3) around a cutter, and unit ``axes`` (m, 3) that may part it from others.

    The first axis is the way that it runs.
    """

    corners: Array
    axes: Array


def apart(a: Hull, b: Hull) -> bool:
    """Tell whether a plane with some space on both sides parts two hulls (separating axes)."""
    between = cross(a.axes[0], b.axes[0])
    length = float(np.sqrt(between @ between))
    axes = np.vstack((a.axes, b.axes, between / length if length > APART else a.axes[0]))
    first, second = a.corners @ axes.T, b.corners @ axes.T
    gaps = np.maximum(
        first.min(axis=0) - second.max(axis=0), second.min(axis=0) - first.max(axis=0)
    )
    return bool(gaps.max() > APART)


def cross(a: Array, b: Array) -> Array:
    """Vector products of rows: much quicker than the general one on short arrays."""
    ax, ay, az = a[..., 0], a[..., 1], a[..., 2]
    bx, by, bz = b[..., 0], b[..., 1], b[..., 2]
    return np.stack((ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx), axis=-1)
