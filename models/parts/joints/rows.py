"""Rows of places along a joint: dowels, screws, loose tenons."""

import math
from dataclasses import dataclass

from ground.vectors import Vec, along
from models.parts.features import Hole, HoleKind, Seat


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """``count`` places, ``pitch`` apart (mm), from ``start`` along the unit vector ``way``."""

    start: Vec
    way: Vec
    count: int
    pitch: float

    def places(self) -> tuple[Vec, ...]:
        """Every place of the row."""
        return tuple(along(self.start, self.way, self.pitch * i) for i in range(self.count))

    def between(self) -> "Row":
        """The row of the places half-way between these.

        Raises:
            ValueError: a row of one has no place between.
        """
        if self.count == 1:
            reason = "a row of one place has nothing between"
            raise ValueError(reason)
        return Row(
            start=along(self.start, self.way, self.pitch / 2),
            way=self.way,
            count=self.count - 1,
            pitch=self.pitch,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """What a row of holes is bored with: ``into`` the wood, ``diameter`` and ``depth`` (mm).

    ``lead`` is how far the cutter also clears behind a slanting surface.
    """

    into: Vec
    diameter: float
    depth: float
    lead: float = 0.0


def bored(kind: HoleKind, row: Row, drill: Drill, *, made_by: str) -> Hole:
    """The holes of a row, mouths at its places."""
    return Hole(
        kind=kind,
        seat=Seat(row.start, row.way, drill.into),
        diameter=drill.diameter,
        depth=drill.depth,
        made_by=made_by,
        count=row.count,
        pitch=row.pitch,
        lead=drill.lead,
    )


def spread(start: Vec, way: Vec, length: float, *, margin: float, most: float) -> Row:
    """Places along ``length`` (mm): ``margin`` in from both ends, no more than ``most`` apart.

    Where two do not fit inside the margins, one in the middle.
    """
    room = length - 2 * margin
    if room < margin:
        return Row(start=along(start, way, length / 2), way=way, count=1, pitch=0.0)
    steps = max(1, math.ceil(room / most - 1e-9))
    return Row(start=along(start, way, margin), way=way, count=steps + 1, pitch=room / steps)


def counted(
    start: Vec, way: Vec, length: float, *, count: int | None, margin: float, most: float
) -> Row:
    """The same with ``count`` places, spread over the same room; None: as many as the rule wants.

    Where that room is too short for two, the margins shrink to a quarter of the length.
    """
    usual = spread(start, way, length, margin=margin, most=most)
    if count is None or count == usual.count:
        return usual
    if count == 1:
        return Row(start=along(start, way, length / 2), way=way, count=1, pitch=0.0)
    kept = min(margin, length / 4)
    pitch = (length - 2 * kept) / (count - 1)
    return Row(start=along(start, way, kept), way=way, count=count, pitch=pitch)
