"""A picture a set-up: the workpiece in section on the table, against fence and blade.

Seen from the front of the saw: ``u`` to the right, ``v`` up from the table, mm at full size. For a
cut along the fence the fence stands on the right; for a crosscut the stop or the long way is where
the maker has it.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from ground.vectors import Plane, Vec, add, along, cross, dot, neg, scale, sub, unit
from planning.machines import Tool
from planning.saw.job import STOCK, Job
from planning.saw.lie import Lie, wedged
from planning.saw.records import Pass, SetUp, Wedge
from planning.saw.settings import FROM_EDGE, Keeps, Lean
from planning.saw.workpiece import Workpiece

Point = tuple[float, float]

WINDOW = 130.0
"""Half of what is shown of a long piece at its cut (mm)."""

FENCE_THICK, FENCE_HIGH, TABLE_THICK, BLADE_OVER = 18.0, 60.0, 8.0, 8.0
"""How large fence and table are drawn, and how far the blade stands above the wood (mm)."""


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


def pictures(job: Job, set_ups: Iterable[SetUp]) -> tuple[Picture, ...]:
    """A picture of every set-up of one part that cuts anything."""
    piece = job.blank if job.squared else None
    found: list[Picture] = []
    for one in set_ups:
        if piece is None:
            break
        if one.cutter is not None:
            found.append(of_cutter(job, one, one.cutter, piece))
        elif one.table_face is not None and one.distance is not None:
            found.append(of_cut(job, one, piece))
        if one.makes_face in job.cuts:
            piece = piece.cut(one.makes_face, job.planes[one.makes_face])
    return tuple(found)


def lie_of(job: Job, one: SetUp) -> Lie:
    """How the piece lies by the names of a set-up."""
    lie = job.lie(one.table_face or "", one.reference_edge or "", one.stop)
    wedge = one.wedge
    if one.cutter is None and wedge is not None and wedge.restores is None:
        table = wedged(lie, wedge.rise, wedge.length)
        return Lie(table=table, reference=lie.reference, stop=lie.stop)
    return lie


def of_cut(job: Job, one: SetUp, piece: Workpiece) -> Picture:
    """A planar cut."""
    lie = lie_of(job, one)
    rips = one.measured == FROM_EDGE
    plane = job.planes.get((one.makes_face or "").removeprefix(STOCK))
    view = View(
        origin=lie.corner if rips else along(lie.corner, lie.across, piece.size(lie.across) / 2),
        right=neg(lie.across) if rips else lie.along,
        up=lie.up,
    )
    if rips:
        middle = dot(sub(piece.middle, lie.corner), lie.along)
        view = View(origin=along(lie.corner, lie.along, middle), right=view.right, up=view.up)
    kept = piece if plane is None else piece.cut("cut", plane)
    gone = piece if plane is None else piece.cut("cut", plane.flipped())
    centre = cut_place(one, view, plane)
    shapes = [
        Shape(role=Role.TABLE, points=box(centre - WINDOW, -TABLE_THICK, centre + WINDOW, 0.0)),
        *solid(Role.WORKPIECE, kept, view, centre),
        *(solid(Role.OFFCUT, gone, view, centre) if plane is not None else ()),
        *wedge_shape(one.wedge, piece, view),
        *guide(one, lie, rips=rips),
        blade(one, piece, lie, centre),
    ]
    if one.machine is Tool.TRACK_SAW:
        shapes = under_rail(shapes, piece.size(lie.up), centre, kept_side(one, lie))
    return Picture(part=one.part, order=one.order, shapes=tuple(shapes), labels=words(one, centre))


def kept_side(one: SetUp, lie: Lie) -> float:
    """On which side of the blade the piece stays, in the picture: -1 left, 1 right."""
    onward = -1.0 if one.measured == FROM_EDGE else lie.inward
    return -onward if one.keeps is Keeps.NEAR else onward


def under_rail(shapes: list[Shape], thick: float, centre: float, side: float) -> list[Shape]:
    """The same with the face that settings are read on up, under the rail of a track saw."""
    turned = [
        Shape(role=shape.role, points=tuple((u, thick - v) for u, v in shape.points))
        for shape in shapes
        if shape.role in {Role.WORKPIECE, Role.OFFCUT, Role.BLADE}
    ]
    low, high = sorted((centre, centre + side * WINDOW))
    table = box(centre - WINDOW, -TABLE_THICK, centre + WINDOW, 0.0)
    return [
        Shape(role=Role.TABLE, points=table),
        *turned,
        Shape(role=Role.FENCE, points=box(low, thick, high, thick + TABLE_THICK)),
    ]


def cut_place(one: SetUp, view: View, plane: Plane | None) -> float:
    """Where the near side of the kerf meets the table, in the picture."""
    if plane is None:
        return -(one.distance or 0.0) if one.measured == FROM_EDGE else (one.distance or 0.0)
    across = dot(plane.normal, view.right)
    if abs(across) < 1e-9:  # noqa: PLR2004 - seen edge-on
        return 0.0
    return (plane.offset - dot(plane.normal, view.origin)) / across


def blade(one: SetUp, piece: Workpiece, lie: Lie, centre: float) -> Shape:
    """The blade's section, leaning as it is set; its kerf on the waste's side."""
    lean = math.radians(one.tilt or 0.0)
    kerf = (one.kerf or 0.0) / max(math.cos(lean), 0.1)
    rips = one.measured == FROM_EDGE
    # the way in the picture from what is measured from to the cut
    onward = -1.0 if rips else lie.inward
    beyond = onward if one.keeps is not Keeps.FAR else -onward
    high = (one.depth if one.depth is not None else piece.size(lie.up)) + BLADE_OVER
    over = high * math.tan(lean) * (-onward if one.tilt_to is Lean.TOWARD else onward)
    far = centre + beyond * kerf
    return Shape(
        role=Role.BLADE,
        points=((centre, 0.0), (far, 0.0), (far + over, high), (centre + over, high)),
    )


def guide(one: SetUp, lie: Lie, *, rips: bool) -> Iterator[Shape]:
    """The fence beside a rip, the stop block at the end of a crosscut."""
    if rips:
        yield Shape(role=Role.FENCE, points=box(0.0, 0.0, FENCE_THICK, FENCE_HIGH))
    elif one.stop is not None and (one.distance or 0.0) < WINDOW:
        side = -FENCE_THICK * lie.inward
        low, high = sorted((0.0, side))
        yield Shape(role=Role.STOP, points=box(low, 0.0, high, FENCE_HIGH / 2))


def wedge_shape(wedge: Wedge | None, piece: Workpiece, view: View) -> Iterator[Shape]:
    """The wedge between table and wood: what the section leaves free above the table."""
    if wedge is None:
        return
    outline = section(piece, view)
    low = sorted(outline, key=lambda point: point[1])[:2]
    if len(low) == 2 and max(point[1] for point in low) > 0.05:  # noqa: PLR2004
        (u1, v1), (u2, v2) = sorted(low)
        yield Shape(role=Role.WEDGE, points=((u1, 0.0), (u2, 0.0), (u2, v2), (u1, v1)))


def of_cutter(job: Job, one: SetUp, done: Pass, piece: Workpiece) -> Picture:
    """What a cutter or a bit does, seen along its run."""
    name = done.enters.removeprefix(STOCK)
    table = job.planes[name] if name in job.planes else job.floors[name]
    lie = Lie(
        table=table,
        reference=job.plane(one.reference_edge or ""),
        stop=None if one.stop is None else job.plane(one.stop),
    )
    forward = scale(lie.along, lie.inward)
    turn = math.radians(done.run)
    run = unit(add(scale(lie.across, math.cos(turn)), scale(forward, math.sin(turn))))
    right = unit(cross(lie.up, run))
    start = add(
        add(lie.corner, scale(forward, done.at[0])),
        add(scale(lie.across, done.at[1]), scale(lie.up, done.at[2])),
    )
    middle = along(start, run, (done.length or 0.0) / 2)
    # the face entered is up, as the one who holds the cutter sees it
    view = View(origin=middle, right=right, up=neg(lie.up))
    size = done.width if done.width is not None else (done.diameter or 0.0)
    deep = done.depth if done.depth is not None else piece.size(lie.up)
    lean = math.radians(done.lean)
    slip = deep * math.sin(lean) * math.cos(math.radians(done.lean_to - done.run - 90.0))
    low = -deep * math.cos(lean)
    cutter = Shape(
        role=Role.CUTTER,
        points=(
            (-size / 2, BLADE_OVER),
            (size / 2, BLADE_OVER),
            (size / 2 + slip, low),
            (-size / 2 + slip, low),
        ),
    )
    shapes = (*solid(Role.WORKPIECE, piece, view, 0.0), cutter)
    return Picture(part=one.part, order=one.order, shapes=shapes, labels=words(one, 0.0))


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
