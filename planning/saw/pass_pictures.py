"""The picture of what a cutter or a bit does."""

import math
from collections.abc import Iterator

from ground.vectors import Plane, Vec, add, along, cross, dot, neg, scale, sub, unit
from planning.machines import Tool
from planning.saw.job import STOCK, Job
from planning.saw.lie import Lie
from planning.saw.records import Pass, SetUp
from planning.saw.sections import (
    BLADE_OVER,
    DEEP,
    FENCE_HIGH,
    FENCE_THICK,
    SHOWN,
    TABLE_THICK,
    WINDOW,
    Picture,
    Role,
    Shape,
    View,
    box,
    section,
    solid,
    windowed,
    words,
)
from planning.saw.settings import FROM_EDGE
from planning.saw.workpiece import Workpiece

ALONG_RUN = 0.7
"""A run that lies nearer to the picture's plane than this is seen from the side."""

BELOW = frozenset({Tool.DADO, Tool.ROUTER_TABLE})
"""Their cutters come up through the table."""


def of_cutter(job: Job, one: SetUp, done: Pass, piece: Workpiece) -> Picture:
    """What a cutter or a bit does, seen along its run; from the side where a wedge levels it."""
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
    start = add(
        add(lie.corner, scale(forward, done.at[0])),
        add(scale(lie.across, done.at[1]), scale(lie.up, done.at[2])),
    )
    middle = along(start, run, (done.length or 0.0) / 2)
    right = unit(cross(lie.up, run))
    if one.wedge is not None:
        right = downhill(job.plane(one.wedge.under), lie)
    elif done.lean >= SHOWN:
        lean = math.radians(done.lean_to)
        right = unit(add(scale(lie.across, math.cos(lean)), scale(forward, math.sin(lean))))
    # what comes from above is seen with the face entered up, what stands in a table with it down
    view = View(origin=middle, right=right, up=lie.up if one.machine in BELOW else neg(lie.up))
    foot = min((v for _, v in section(piece, view)), default=0.0)
    tall = foot < -DEEP
    if tall:
        # the rest of a tall piece, and the bench it stands on, lie below the picture
        piece = piece.cut("below", Plane(lie.up, dot(lie.up, view.origin) + DEEP))
    table_top = box(-WINDOW, foot - TABLE_THICK, WINDOW, foot)
    shapes = [
        *(() if tall else (Shape(role=Role.TABLE, points=table_top),)),
        *solid(Role.WORKPIECE, piece, view, 0.0),
        *(() if one.wedge is None else under(piece, view, foot)),
        *fence_beside(one, lie, view, piece),
        cutter_shape(done, foot, lie, (view, run)),
    ]
    return Picture(part=one.part, order=one.order, shapes=tuple(shapes), labels=words(one, 0.0))


def downhill(plane: Plane, lie: Lie) -> Vec:
    """The way on the face entered in which the opposite face falls off the most."""
    return unit(sub(plane.normal, scale(lie.up, dot(plane.normal, lie.up))))


def under(piece: Workpiece, view: View, foot: float) -> Iterator[Shape]:
    """The wedge that levels a piece: what its lower side leaves free above the table."""
    outline = windowed(section(piece, view), 0.0)
    if len(outline) < 3:  # noqa: PLR2004 - an outline has three corners at least
        return
    middle = sum(v for _, v in outline) / len(outline)
    ends = (min, max)
    low = [end((p for p in outline if p[1] < middle), default=(0.0, foot)) for end in ends]
    (u1, v1), (u2, v2) = low
    yield Shape(role=Role.WEDGE, points=((u1, foot), (u2, foot), (u2, v2), (u1, v1)))


def fence_beside(one: SetUp, lie: Lie, view: View, piece: Workpiece) -> Iterator[Shape]:
    """The fence of a dado stack or a router table, where the cut runs along it."""
    if one.machine not in BELOW or one.measured != FROM_EDGE:
        return
    edge = dot(sub(lie.corner, view.origin), view.right)
    outward = -1.0 if dot(sub(piece.middle, lie.corner), view.right) > 0 else 1.0
    low, high = sorted((edge, edge + outward * FENCE_THICK))
    yield Shape(role=Role.FENCE, points=box(low, 0.0, high, FENCE_HIGH))


def cutter_shape(done: Pass, foot: float, lie: Lie, seen: tuple[View, Vec]) -> Shape:
    """The cutter's section: as wide as it cuts in this view, as deep as it goes."""
    view, run = seen
    size = done.width if done.width is not None else (done.diameter or 0.0)
    if abs(dot(run, view.right)) > ALONG_RUN and done.length is not None:
        size = done.length
    lean, heading = math.radians(done.lean), math.radians(done.lean_to)
    flat = add(
        scale(lie.across, math.cos(heading)), scale(lie.along, lie.inward * math.sin(heading))
    )
    inward = 1.0 if dot(view.up, lie.up) > 0 else -1.0
    # right through ends where the wood does
    deep = done.depth if done.depth is not None else abs(foot) / max(math.cos(lean), 0.1)
    slip = deep * math.sin(lean) * dot(flat, view.right)
    low = inward * deep * math.cos(lean)
    over = BLADE_OVER if inward < 0 else 0.0
    back = -over * math.tan(lean) * dot(flat, view.right)
    half = size / 2 / max(math.cos(lean), 0.1) if done.diameter is not None else size / 2
    return Shape(
        role=Role.CUTTER,
        points=(
            (-half + back, over),
            (half + back, over),
            (half + slip, low),
            (-half + slip, low),
        ),
    )
