"""Pictures of some copies of the piece as plain records: asked for here, drawn where the kernel is.

Strokes are flat: ``u`` to the right, ``v`` up, mm at full size.
"""

from dataclasses import dataclass

from ground.vectors import Vec
from models.parts.views import SectionCut, Stroke


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A picture to be drawn: ``standing`` copies plain, ``moving`` ones marked.

    ``right`` and ``up`` span the paper (unit vectors, square to one another). ``away`` is how far
    copies are shown from their places (mm).
    """

    name: str
    standing: tuple[str, ...]
    moving: tuple[str, ...] = ()
    right: Vec
    up: Vec
    away: tuple[tuple[str, Vec], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A scene, drawn: what is seen of either sort, and what is hidden of what moves."""

    scene: Scene
    standing: tuple[Stroke, ...]
    moving: tuple[Stroke, ...] = ()
    hidden: tuple[Stroke, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossed:
    """What a plane cuts through: the outlines of every copy in it, by the copy's id."""

    cut: SectionCut
    lines: tuple[tuple[str, tuple[Stroke, ...]], ...]
