"""Tolerances, each by name: mm, degrees, or none for a unit vector's entries."""

LENGTH_EPS = 1e-6
"""Two lengths closer than this are the same length (mm)."""

ANGLE_EPS = 1e-9
"""Unit vectors whose entries are closer than this point the same way."""

SAME_PLACE = 1e-5
"""Corners closer than this are one corner when parts are compared or meshes welded (mm)."""

CLASH_VOLUME = 1.0
"""Parts of the closed piece may share less than this (mm3): kernel noise, not wood."""


def close(a: float, b: float, within: float = LENGTH_EPS) -> bool:
    """Tell whether two lengths are the same length."""
    return abs(a - b) <= within
