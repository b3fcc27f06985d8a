"""Whether a body can come home along a straight way, past those that stand there.

The space that a convex piece sweeps is convex, so planes that part it from another piece are
looked for among their sides and edges (separating axes).
"""

from collections.abc import Iterable

import numpy as np

from ground.vectors import Vec
from planning.steps.bodies import Array, Body, Piece

TOUCH = 0.05
"""Bodies may share this much (mm): solids proven apart touch all along their joints."""


def obstacles(mover: Body, way: Vec, travel: float, standing: Iterable[Body]) -> int:
    """How many of ``standing`` are in the way of ``mover`` over its last ``travel`` mm home.

    Bodies that share space at home are not judged: what lets one into the other is left filled.
    """
    path = np.array(way) * travel
    return sum(
        1
        for other in standing
        if boxes_meet(mover, path, other)
        and any(
            meets(piece, path, against)
            for piece in mover.pieces
            for against in other.pieces
            if near(piece, path, against)
        )
        and not at_home(mover, other)
    )


def at_home(mover: Body, other: Body) -> bool:
    """Tell whether two bodies share space where they stand."""
    still = np.zeros(3)
    return any(
        meets(piece, still, against)
        for piece in mover.pieces
        for against in other.pieces
        if near(piece, still, against)
    )


def boxes_meet(mover: Body, path: Array, other: Body) -> bool:
    """Tell whether the upright boxes of the sweep and of a body meet."""
    low = np.minimum(mover.low, mover.low - path)
    high = np.maximum(mover.high, mover.high - path)
    return bool(np.all(np.minimum(high, other.high) - np.maximum(low, other.low) > TOUCH))


def near(piece: Piece, path: Array, other: Piece) -> bool:
    """The same for two pieces."""
    low, high = piece.corners.min(axis=0), piece.corners.max(axis=0)
    low, high = np.minimum(low, low - path), np.maximum(high, high - path)
    theirs = np.minimum(high, other.corners.max(axis=0)) - np.maximum(
        low, other.corners.min(axis=0)
    )
    return bool(np.all(theirs > TOUCH))


def meets(piece: Piece, path: Array, other: Piece) -> bool:
    """Tell whether a piece that comes home by ``path`` passes through another."""
    swept = np.vstack((piece.corners, piece.corners - path))
    lines = [piece.edges, other.edges]
    if float(np.abs(path).max()) > 0:
        along = path / np.linalg.norm(path)
        lines[0] = np.vstack((piece.edges, along))
    crossed = np.cross(lines[0][:, None, :], lines[1][None, :, :]).reshape(-1, 3)
    own = np.cross(lines[0][:, None, :], lines[0][None, -1:, :]).reshape(-1, 3)
    axes = np.vstack((piece.normals, other.normals, crossed, own))
    lengths = np.linalg.norm(axes, axis=1)
    axes = axes[lengths > TOUCH / 1e3] / lengths[lengths > TOUCH / 1e3][:, None]
    first, second = swept @ axes.T, other.corners @ axes.T
    shared = np.minimum(first.max(axis=0), second.max(axis=0)) - np.maximum(
        first.min(axis=0), second.min(axis=0)
    )
    return bool(shared.min() > TOUCH)
