"""The picture of a set-up as the book prints it: cut close around blade, fence and wood."""

from collections.abc import Iterable, Iterator

from exporters.book.sketch import INK, SOFT, Note, Size, Sketch, svg
from exporters.book.sketch import Shape as Drawn
from exporters.book.tables import size
from ground.quantities import Units, angle_text
from models.parts.views import Point
from planning.machines import Tool
from planning.saw.records import SetUp
from planning.saw.sections import Picture, Role, Shape

ROOM = (64.0, 32.0)
"""How large a picture is (mm)."""
AROUND = 70.0
"""How much is shown to either side of the blade (mm of wood)."""
BESIDE = 6.0
"""How much more of the table is shown beside what lies on it (mm)."""
RAIL = 12.0
"""How far from the picture's edge a rail is named (mm of wood)."""
SHOWN = 0.05
"""A smaller angle is not printed (degrees)."""
CUTTING = frozenset({Role.BLADE, Role.CUTTER})
GUIDING = frozenset({Role.FENCE, Role.STOP})
FILLS = {
    Role.TABLE: "#dcdad6",
    Role.FENCE: "#b9b2a8",
    Role.STOP: "#b9b2a8",
    Role.WEDGE: "#f2e3b3",
    Role.WORKPIECE: "#e8cfa4",
    Role.OFFCUT: "#fbf5ea",
    Role.BLADE: "#4a5056",
    Role.CUTTER: "#4a5056",
}


def picture(found: Picture, one: SetUp, units: Units) -> str:
    """Draw one set-up with the sizes that are set."""
    low, high = window(found)
    shapes = [
        Drawn(points=points, fill=FILLS[shape.role])
        for shape in found.shapes
        if len(points := clipped(shape.points, low, high)) > 2  # noqa: PLR2004 - an outline
    ]
    return svg(
        Sketch(
            shapes=tuple(shapes),
            sizes=tuple(sizes(found, one, units)),
            notes=tuple(notes(found, one)),
            margins=(3.0, 8.0, 3.0, 6.0),
        ),
        ROOM,
    )


def window(found: Picture) -> tuple[float, float]:
    """What is shown from left to right: around the blade, the fence with it where it is near."""
    blades = points_of(found, CUTTING) or [(0.0, 0.0)]
    near = min(u for u, _ in blades) - AROUND, max(u for u, _ in blades) + AROUND
    solid = points_of(found, frozenset(Role) - {Role.TABLE})
    low = max(near[0], min(u for u, _ in solid) - BESIDE)
    high = min(near[1], max(u for u, _ in solid) + BESIDE)
    guides = points_of(found, GUIDING)
    if guides:
        low, high = min(low, *(u for u, _ in guides)), max(high, *(u for u, _ in guides))
    return low, high


def points_of(found: Picture, roles: frozenset[Role]) -> list[Point]:
    """Every corner of the shapes of some roles."""
    return [point for shape in found.shapes if shape.role in roles for point in shape.points]


def clipped(points: Iterable[Point], low: float, high: float) -> tuple[Point, ...]:
    """An outline cut off at the left and the right of the window."""
    outline = list(points)
    for side, edge in ((-1.0, low), (1.0, high)):
        kept: list[Point] = []
        for place, (u, v) in enumerate(outline):
            un, vn = outline[(place + 1) % len(outline)]
            inside, after = (u - edge) * side <= 0, (un - edge) * side <= 0
            if inside:
                kept.append((u, v))
            if inside != after:
                kept.append((edge, v + (vn - v) * (edge - u) / (un - u)))
        outline = kept
    return tuple(outline)


def sizes(found: Picture, one: SetUp, units: Units) -> Iterator[Size]:
    """The distance from fence or stop to the blade, the depth of a cut that does not go through."""
    guide = first(found, GUIDING)
    blade = first(found, CUTTING)
    if blade is None:
        return
    if guide is not None and one.distance and one.machine is not Tool.TRACK_SAW:
        (left, foot), (right, _) = blade.points[:2]
        edges = [u for u, _ in guide.points]
        face = max(edges) if max(edges) <= min(left, right) else min(edges)
        near = min((left, right), key=lambda u: abs(abs(u - face) - (one.distance or 0.0)))
        start, end = sorted((face, near))
        yield Size(start=(start, foot), end=(end, foot), text=size(one.distance, units), off=-4.6)


def notes(found: Picture, one: SetUp) -> Iterator[Note]:
    """The blade's tilt beside its top; what the blocks are."""
    blade = first(found, CUTTING)
    railed = one.machine is Tool.TRACK_SAW
    if blade is not None and one.tilt is not None and one.tilt >= SHOWN:
        top = max(blade.points, key=lambda point: point[1])
        shift = (0.0, 5.0 if railed else 1.4)
        yield Note(at=top, text=f"{angle_text(one.tilt)}°", shift=shift, colour=INK)
    guide = first(found, GUIDING)
    if guide is not None:
        low, high = window(found)
        middle = sum(u for u, _ in guide.points) / len(guide.points)
        over = max(v for _, v in guide.points)
        if railed:  # the rail runs on to the edge of the picture, away from the blade
            blades = points_of(found, CUTTING)
            near = sum(u for u, _ in blades) / max(len(blades), 1)
            middle = low + RAIL if middle < near else high - RAIL
        word = "rail" if railed else guide.role.value
        yield Note(at=(middle, over), text=word, shift=(0.0, 1.4), colour=SOFT)


def first(found: Picture, roles: frozenset[Role]) -> Shape | None:
    """The first shape of some roles."""
    return next((shape for shape in found.shapes if shape.role in roles), None)
