"""The shapes that a picture of a set-up is made of, and the section of the wood in it."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from ground.vectors import Vec, add, cross, dot, scale, sub
from planning.saw.records import SetUp
from planning.saw.workpiece import Workpiece

Point = tuple[float, float]

WINDOW = 130.0
"""Half of what is shown of a long piece at its cut (mm)."""

FENCE_THICK, FENCE_HIGH, TABLE_THICK, BLADE_OVER = 18.0, 60.0, 8.0, 8.0
"""How large fence and table are drawn, and how far the blade stands above the wood (mm)."""


DEEP = 110.0
"""How much of a tall piece is shown under the face that is worked on (mm)."""

SHOWN = 0.05
"""A smaller angle is not printed (degrees)."""


class Role(StrEnum):
    """What a shape of a picture is."""

    TABLE = "table"
    FENCE = "fence"
    STOP = "stop"
    WEDGE = "wedge"
    WORKPIECE = "workpiece"
    OFFCUT = "offcut"
    BLADE = "blade"
    CUTTER = "cutter"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A closed outline."""

    role: Role
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Words at a place."""

    text: str
    at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One set-up to look at."""

    part: str
    order: int
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """The plane of a picture: its origin on the table at the fence or stop, its right, its up."""

    origin: Vec
    right: Vec
    up: Vec

    def flat(self, place: Vec) -> Point:
        """A place in the picture."""
        off = sub(place, self.origin)
        return (dot(off, self.right), dot(off, self.up))


def words(one: SetUp, centre: float) -> tuple[Label, ...]:
    """The numbers beside the picture."""
    told = [f"{one.order}. {one.machine.value}: {one.does}"]
    if one.distance is not None:
        told.append(f"{one.distance:.1f} {one.measured}")
    if one.tilt is not None and one.tilt >= SHOWN:
        told.append(
            f"tilt {one.tilt:.1f} degrees {one.tilt_to.value if one.tilt_to else ''}".strip()
        )
    if one.mitre is not None and one.mitre_to is not None:
        told.append(f"mitre {one.mitre:.1f} degrees to the {one.mitre_to.value}")
    if one.wedge is not None:
        told.append(f"wedge {one.wedge.rise:.1f} in {one.wedge.length:.1f}")
    top = FENCE_HIGH + 60.0
    return tuple(
        Label(text=text, at=(centre - WINDOW, top - 12.0 * place))
        for place, text in enumerate(told)
    )


def solid(role: Role, piece: Workpiece, view: View, centre: float) -> Iterator[Shape]:
    """The section of a piece, as much of it as the window shows."""
    outline = windowed(section(piece, view), centre)
    if len(outline) >= 3:  # noqa: PLR2004 - an outline has three corners at least
        yield Shape(role=role, points=tuple(outline))


def section(piece: Workpiece, view: View) -> list[Point]:
    """The outline where the picture's plane cuts a piece, counter-clockwise."""
    normal = cross(view.right, view.up)
    level = dot(normal, view.origin)
    found: list[Point] = []
    for one, other in piece.edges.values():
        here, there = dot(normal, one) - level, dot(normal, other) - level
        if abs(here) < 1e-9:  # noqa: PLR2004 - the end lies in the picture
            found.append(view.flat(one))
        if abs(there) < 1e-9:  # noqa: PLR2004
            found.append(view.flat(other))
        if here * there < 0:
            found.append(view.flat(add(one, scale(sub(other, one), here / (here - there)))))
    return hull(found)


def hull(points: list[Point]) -> list[Point]:
    """The corners of a convex outline in order."""
    kept = sorted({(round(u, 6), round(v, 6)) for u, v in points})
    if len(kept) < 3:  # noqa: PLR2004
        return kept
    middle = (sum(u for u, _ in kept) / len(kept), sum(v for _, v in kept) / len(kept))
    return sorted(kept, key=lambda p: math.atan2(p[1] - middle[1], p[0] - middle[0]))


def windowed(outline: list[Point], centre: float) -> list[Point]:
    """An outline cut off at both sides of the window."""
    for side in (-1.0, 1.0):
        edge = centre + side * WINDOW
        found: list[Point] = []
        for place, (u, v) in enumerate(outline):
            un, vn = outline[(place + 1) % len(outline)]
            inside, after = (u - edge) * side <= 0, (un - edge) * side <= 0
            if inside:
                found.append((u, v))
            if inside != after:
                found.append((edge, v + (vn - v) * (edge - u) / (un - u)))
        outline = found
    return outline


def box(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    """A rectangle."""
    return ((left, low), (right, low), (right, high), (left, high))
