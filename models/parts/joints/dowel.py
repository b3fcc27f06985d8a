"""Dowels square to a joint, in holes bored in both parts."""

from dataclasses import dataclass

from ground.vectors import Frame, Vec, X, Z, along, cross, neg, norm, unit
from models.parts.blank import Blank, Section
from models.parts.features import Hole, HoleKind, Seat
from models.parts.joints.kit import Halves, Loose
from models.parts.joints.rows import Row

END_CLEARANCE = 1.0
"""Each hole is this much deeper than the dowel goes in (mm): room for glue. Common practice, no
source."""


NEARLY_PARALLEL = 0.4
"""Below this sine two directions are too close to span a frame well."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DowelSize:
    """A dowel's ``diameter`` and ``length``, and how much of it goes ``in_first`` (mm).

    ``clearance`` is what its holes are wider: none, unless somebody wants it.
    """

    diameter: float
    length: float
    in_first: float
    clearance: float = 0.0


def dowelled(
    row: Row, into_first: Vec, size: DowelSize, *, closes: Vec | str, made_by: str
) -> Halves:
    """Bore both parts along ``row``, which lies in the joint's plane (piece axes)."""
    depths = (size.in_first, size.length - size.in_first)
    first, second = (
        Hole(
            kind=HoleKind.DOWEL,
            seat=Seat(row.start, row.way, into),
            diameter=size.diameter + size.clearance,
            depth=depth + END_CLEARANCE,
            made_by=made_by,
            count=row.count,
            pitch=row.pitch,
        )
        for into, depth in zip((into_first, neg(into_first)), depths, strict=True)
    )
    return Halves(
        kind="dowel",
        first=(first,),
        second=(second,),
        closes=closes,
        loose=tuple(
            rod(
                f"dowel {size.diameter:g} x {size.length:g}",
                along(place, into_first, size.in_first),
                neg(into_first),
                (size.diameter, size.length),
            )
            for place in row.places()
        ),
    )


def rod(
    name: str, end: Vec, way: Vec, size: tuple[float, float], *, material: str | None = None
) -> Loose:
    """A round piece of ``size`` (diameter, length) from ``end`` along ``way``."""
    diameter, length = size
    upright = norm(cross(way, Z)) < NEARLY_PARALLEL
    y = unit(cross(way, X if upright else Z))
    corner = along(along(end, y, -diameter / 2), cross(way, y), -diameter / 2)
    return Loose(
        name=name,
        blank=Blank(length=length, width=diameter, thickness=diameter, section=Section.ROUND),
        frame=Frame(way, y, corner),
        material=material,
    )
