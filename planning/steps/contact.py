"""Where copies that no joint names touch others: edgings on panels, runners on sides, pins."""

from collections.abc import Iterable, Mapping

import numpy as np

from ground.vectors import Vec
from models.parts.part import Stage
from planning.steps.bodies import Body
from planning.steps.units import Piece

NEAR = 1.0
"""Copies with less than this between them touch (mm): play and glue lines are less."""


def touched(found: Mapping[str, Body], copy: str, others: Iterable[str]) -> tuple[str, Vec] | None:
    """Of ``others``, the one that ``copy`` bears on with most of itself, and the way onto it."""
    mine = found[copy]
    best: tuple[float, str, Vec] | None = None
    for other in others:
        theirs = found[other]
        shared = np.minimum(mine.high, theirs.high) - np.maximum(mine.low, theirs.low)
        axis = int(np.argmin(shared))
        if shared[axis] < -NEAR:
            continue
        area = float(np.prod(np.maximum(np.delete(shared, axis), 0.0)))
        if best is None or area > best[0]:
            sign = 1.0 if theirs.centre[axis] > mine.centre[axis] else -1.0
            way = tuple(sign if place == axis else 0.0 for place in range(3))
            best = (area, other, (way[0], way[1], way[2]))
    return None if best is None or best[0] <= 0 else (best[1], best[2])


def carriers(piece: Piece, found: Mapping[str, Body]) -> dict[str, tuple[str, Vec]]:
    """The panel that each edging is on, and the way onto it."""
    edgings = [*piece.edgings(Stage.NOW), *piece.edgings(Stage.AFTER_GLUE_UP)]
    panels = [copy for copy in piece.copies if piece.part(copy).banded and copy not in edgings]
    hits = {edging: touched(found, edging, panels) for edging in edgings}
    return {edging: hit for edging, hit in hits.items() if hit is not None}
