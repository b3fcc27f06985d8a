"""From where each step of assembly is looked at, how far apart it is shown, where its arrows go."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ground.vectors import ORIGIN, Vec, add, cross, dot, scale
from models.parts.assembly import Assembly, Copy
from models.parts.part import PartKind
from models.parts.scenes import Scene
from models.parts.views import Point

TURNED, RAISED, LOW = 33.0, 26.0, -24.0
"""The eye's turn from straight ahead and its height (degrees): no edges fall on one another."""
BEHIND = 0.75
"""What moves and lies beyond this share of the depth is looked at from behind."""
OFF = 0.02
"""Arrows end this share of the picture's size before what they point at."""
LONG = 0.13
"""How long an arrow is, as a share of the picture's size."""
APART, NEAR = 0.17, 0.09
"""How far what moves is shown from its place, as a share of the picture's size: parts, fittings."""
SMALL = (PartKind.LOOSE, PartKind.HARDWARE)


def paper(turn: float, height: float) -> tuple[Vec, Vec]:
    """The paper's ``right`` and ``up`` for an eye turned to the right and raised (degrees)."""
    a, e = math.radians(turn), math.radians(height)
    right = (math.cos(a), math.sin(a), 0.0)
    towards = (math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e))
    return right, cross(towards, right)


FRONT = paper(TURNED, RAISED)
BACK = paper(180.0 - TURNED, RAISED)
UNDER = paper(TURNED, LOW)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What a step shows: copies that stand, copies that move and their ways.

    ``joined`` are the copies that something is brought to.
    """

    name: str
    standing: tuple[str, ...]
    moves: tuple[tuple[str, Vec | None], ...]
    from_below: bool = False
    joined: tuple[str, ...] = ()


def scene(shown: Shown, assembly: Assembly) -> Scene:
    """The picture of one step: loose pieces and fittings are left out of what stands.

    What moves is shown on its way, before it is home.
    """
    kinds = {part.label: part.kind for part in assembly.parts}
    copies = {copy.id: copy for copy in assembly.copies}
    moving = tuple(name for name, _ in shown.moves)
    standing = tuple(n for n in shown.standing if kinds[copies[n].label] not in SMALL)
    right, up = eye(shown, copies, standing)
    small = all(kinds[copies[name].label] in SMALL for name in moving)
    far = spread(assembly, (*standing, *moving)) * (NEAR if small else APART)
    # loose pieces lie between the halves that they go into
    loose = {name for name in moving if kinds[copies[name].label] is PartKind.LOOSE}
    share = dict.fromkeys(loose, 1.0 if small else 0.5)
    return Scene(
        name=shown.name,
        standing=standing,
        moving=moving,
        right=right,
        up=up,
        away=tuple(
            (name, scale(way, -far * share.get(name, 1.0)))
            for name, way in shown.moves
            if way is not None
        ),
    )


def eye(shown: Shown, copies: Mapping[str, Copy], standing: Sequence[str]) -> tuple[Vec, Vec]:
    """From the front and above; from below or behind where what moves is seen only there."""
    if shown.from_below:
        return UNDER
    ys = [copies[name].placement.origin[1] for name in standing]
    moved = [copies[name].placement.origin[1] for name, way in shown.moves if way is not None]
    if ys and moved and min(moved) > min(ys) + BEHIND * (max(ys) - min(ys)) and len(ys) > 1:
        return BACK
    return FRONT


def corners(assembly: Assembly, copy: str, away: Vec = ORIGIN) -> tuple[Vec, ...]:
    """The corners of a copy's blank where it is shown."""
    standing = next(one for one in assembly.copies if one.id == copy)
    length, width, thickness = assembly.part(standing.label).blank.size
    return tuple(
        add(standing.placement.point((x, y, z)), away)
        for x in (0.0, length)
        for y in (0.0, width)
        for z in (0.0, thickness)
    )


def spread(assembly: Assembly, names: Iterable[str]) -> float:
    """How large some copies are together: the longest side of their box (mm)."""
    points = [point for name in names for point in corners(assembly, name)]
    sides = (
        max(point[axis] for point in points) - min(point[axis] for point in points)
        for axis in range(3 if points else 0)
    )
    return max(sides, default=0.0)


def flat(point: Vec, right: Vec, up: Vec) -> Point:
    """Where a point of the piece is seen."""
    return (dot(point, right), dot(point, up))


def arrows(
    shown: Shown, found: Scene, boxes: Mapping[str, Sequence[Vec]], size: float
) -> tuple[tuple[Point, Point], ...]:
    """One arrow a group of copies that move alike and lie together: from tail to head, on paper."""
    groups: dict[Vec, list[str]] = {}
    for name, way in shown.moves:
        if way is not None and name in boxes:
            rounded = (round(way[0], 2), round(way[1], 2), round(way[2], 2))
            groups.setdefault(rounded, []).append(name)
    return tuple(
        arrow(way, [boxes[name] for name in names], found, size) for way, names in groups.items()
    )


def arrow(
    way: Vec, bodies: Iterable[Sequence[Vec]], found: Scene, size: float
) -> tuple[Point, Point]:
    """An arrow along ``way`` that ends at the trailing side of what moves."""
    points = [point for body in bodies for point in body]
    middle = scale(
        (sum(p[0] for p in points), sum(p[1] for p in points), sum(p[2] for p in points)),
        1.0 / len(points),
    )
    behind = min(dot(point, way) for point in points) - dot(middle, way)
    head = add(middle, scale(way, behind - OFF * size))
    tail = add(head, scale(way, -LONG * size))
    return flat(tail, found.right, found.up), flat(head, found.right, found.up)
