"""A picture a set-up: the workpiece in section on the table, against fence and blade.

Seen from the front of the saw: ``u`` to the right, ``v`` up from the table, mm at full size. The
fence stands on the side where the blade can lean as it must; for a crosscut the stop or the long
way is where the maker has it.
"""

import math
from collections.abc import Iterable, Iterator

from ground.vectors import Plane, along, dot, scale, sub, unit
from planning.machines import BY_HAND, Tool
from planning.saw.hand_pictures import EDGE_ON, lie_of, of_lines, sawn
from planning.saw.job import STOCK, Job
from planning.saw.lie import Lie
from planning.saw.pass_pictures import of_cutter
from planning.saw.records import SetUp, Wedge
from planning.saw.sections import (
    BLADE_OVER,
    FENCE_HIGH,
    FENCE_THICK,
    TABLE_THICK,
    WINDOW,
    Picture,
    Role,
    Shape,
    View,
    box,
    section,
    solid,
    words,
)
from planning.saw.settings import FROM_EDGE, Hand, Keeps, Lean
from planning.saw.workpiece import Workpiece


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
            drawn = of_lines if one.machine in BY_HAND else of_cut
            found.append(drawn(job, one, piece))
        if one.makes_face in job.cuts:
            piece = piece.cut(one.makes_face, job.planes[one.makes_face])
    return tuple(found)


def of_cut(job: Job, one: SetUp, piece: Workpiece) -> Picture:
    """A planar cut."""
    lie = lie_of(job, one)
    rips = one.measured == FROM_EDGE
    name = (one.makes_face or "").removeprefix(STOCK)
    plane = job.planes.get(name)
    view = view_of(one, lie, piece, plane or sawn(one, lie))
    # a joint's wall takes no half of the piece away: its blade alone is shown
    centre = cut_place(view, plane or sawn(one, lie))
    kept = piece if plane is None else piece.cut("cut", plane)
    gone = (
        () if plane is None else solid(Role.OFFCUT, piece.cut("cut", plane.flipped()), view, centre)
    )
    shapes = [
        Shape(role=Role.TABLE, points=box(centre - WINDOW, -TABLE_THICK, centre + WINDOW, 0.0)),
        *solid(Role.WORKPIECE, kept, view, centre),
        *gone,
        *wedge_shape(one.wedge, piece, view),
        *guide(one, lie, rips=rips),
        blade(one, piece, lie, centre),
    ]
    if one.machine is Tool.TRACK_SAW:
        shapes = under_rail(shapes, piece.size(lie.up), centre, kept_side(one, lie))
    return Picture(part=one.part, order=one.order, shapes=tuple(shapes), labels=words(one, centre))


def view_of(one: SetUp, lie: Lie, piece: Workpiece, plane: Plane) -> View:
    """Where the section is taken: across a rip, at the stop of a taper, along a mitred blade."""
    if one.measured == FROM_EDGE:
        return View(
            origin=along(lie.corner, lie.along, place_along(one, lie, piece)),
            right=scale(lie.across, onward(one, lie)),
            up=lie.up,
        )
    # the fence of a mitre saw is on the far side
    side = -1.0 if one.machine is Tool.MITRE_SAW else 1.0
    origin = along(lie.corner, lie.across, piece.size(lie.across) / 2)
    if one.mitre_to is None:
        return View(origin=origin, right=scale(lie.along, side), up=lie.up)
    level = unit(sub(plane.normal, scale(lie.up, dot(plane.normal, lie.up))))
    turned = side if dot(level, lie.along) > 0 else -side
    cut = piece.cut("cut", plane).by_name.get("cut")
    middle = origin if cut is None else cut.middle
    foot = along(middle, lie.up, -dot(sub(middle, lie.corner), lie.up))
    return View(origin=foot, right=scale(level, turned), up=lie.up)


def place_along(one: SetUp, lie: Lie, piece: Workpiece) -> float:
    """How far along the fence a section is taken: where a taper is measured, beyond a slanted end.

    Half-way along where nothing is measured from an end.
    """
    end = piece.by_name.get((one.stop or "").removeprefix(STOCK))
    if end is None:
        return dot(sub(piece.middle, lie.corner), lie.along)
    reached = [dot(sub(corner, lie.corner), lie.along) * lie.inward for corner in end.corners]
    return lie.inward * max(0.0, *reached)


def onward(one: SetUp, lie: Lie) -> float:
    """The way in the picture from the fence or the stop to the cut: 1 right, -1 left."""
    if one.measured == FROM_EDGE:
        return 1.0 if one.fence is Hand.LEFT else -1.0
    return -lie.inward if one.machine is Tool.MITRE_SAW else lie.inward


def kept_side(one: SetUp, lie: Lie) -> float:
    """On which side of the blade the piece stays, in the picture: -1 left, 1 right."""
    away = onward(one, lie)
    return -away if one.keeps is Keeps.NEAR else away


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


def cut_place(view: View, plane: Plane) -> float:
    """Where the face that a cut leaves meets the table, in the picture."""
    across = dot(plane.normal, view.right)
    if abs(across) < EDGE_ON:
        return 0.0
    return (plane.offset - dot(plane.normal, view.origin)) / across


def blade(one: SetUp, piece: Workpiece, lie: Lie, centre: float) -> Shape:
    """The blade's section, leaning as it is set, no higher than it cuts; its kerf is waste."""
    lean = math.radians(one.tilt or 0.0)
    kerf = (one.kerf or 0.0) / max(math.cos(lean), 0.1)
    away = onward(one, lie)
    beyond = away if one.keeps is not Keeps.FAR else -away
    high = piece.size(lie.up) + BLADE_OVER if one.depth is None else one.depth
    over = high * math.tan(lean) * (-away if one.tilt_to is Lean.TOWARD else away)
    far = centre + beyond * kerf
    return Shape(
        role=Role.BLADE,
        points=((centre, 0.0), (far, 0.0), (far + over, high), (centre + over, high)),
    )


def guide(one: SetUp, lie: Lie, *, rips: bool) -> Iterator[Shape]:
    """The fence beside a rip, the stop block at the end of a crosscut."""
    side = -FENCE_THICK * onward(one, lie)
    low, high = sorted((0.0, side))
    if rips:
        yield Shape(role=Role.FENCE, points=box(low, 0.0, high, FENCE_HIGH))
    elif one.stop is not None and one.mitre_to is None and (one.distance or 0.0) < WINDOW:
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
