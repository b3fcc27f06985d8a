"""The picture of what is sawn, chopped or planed by hand: the marked face up, every line on it."""

from collections.abc import Iterator

from ground.vectors import Plane, along, dot, neg, scale
from planning.saw.job import STOCK, Job
from planning.saw.lie import Lie, wedged
from planning.saw.records import Alike, SetUp
from planning.saw.sections import (
    BLADE_OVER,
    DEEP,
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
from planning.saw.settings import FROM_EDGE, Keeps, Setting, cut_of
from planning.saw.workpiece import Workpiece

HAND_KERF = 0.8
"""A hand saw's cut as it is drawn (mm)."""

EDGE_ON = 1e-9
"""A cut whose normal shows less than this is seen flat."""


def lie_of(job: Job, one: SetUp | Alike) -> Lie:
    """How the piece lies by the names of a cut; of a set-up on its wedge, where it has one."""
    lie = job.lie(one.table_face or "", one.reference_edge or "", one.stop)
    wedge = one.wedge if isinstance(one, SetUp) else None
    if one.cutter is None and wedge is not None and wedge.restores is None:
        table = wedged(lie, wedge.rise, wedge.length)
        return Lie(table=table, reference=lie.reference, stop=lie.stop)
    return lie


def sawn(one: SetUp | Alike, lie: Lie) -> Plane:
    """The plane that the numbers of a cut give."""
    return cut_of(
        Setting(
            mitre=one.mitre or 0.0,
            mitre_to=one.mitre_to,
            tilt=one.tilt or 0.0,
            tilt_to=one.tilt_to,
            distance=one.distance or 0.0,
            keeps=one.keeps or Keeps.NEAR,
        ),
        lie,
        one.kerf or 0.0,
    )


def of_lines(job: Job, one: SetUp, piece: Workpiece) -> Picture:
    """Every line of a set-up by hand that is marked on its first face."""
    lie = lie_of(job, one)
    if one.measured == FROM_EDGE:
        middle = dot(piece.middle, lie.along) - dot(lie.corner, lie.along)
        origin, right = along(lie.corner, lie.along, middle), lie.across
    else:
        origin = along(lie.corner, lie.across, piece.size(lie.across) / 2)
        right = scale(lie.along, lie.inward)
    view = View(origin=origin, right=right, up=neg(lie.up))
    marked = [cut for cut in one.cuts if cut.table_face == one.table_face]
    foot = min((v for _, v in section(piece, view)), default=0.0)
    lines, centre = together([found for cut in marked for found in line(job, cut, view, foot)])
    plane = job.planes.get((one.makes_face or "").removeprefix(STOCK))
    if foot < -DEEP:
        # the rest of a tall piece, and the vice that holds it, lie below the picture
        piece = piece.cut("below", Plane(lie.up, dot(lie.up, origin) + DEEP))
        table: tuple[Shape, ...] = ()
    else:
        bench = box(centre - WINDOW, foot - TABLE_THICK, centre + WINDOW, foot)
        table = (Shape(role=Role.TABLE, points=bench),)
    kept = piece if plane is None else piece.cut("cut", plane)
    shapes = [*table, *solid(Role.WORKPIECE, kept, view, centre)]
    if plane is not None:
        shapes += solid(Role.OFFCUT, piece.cut("cut", plane.flipped()), view, centre)
    return Picture(
        part=one.part,
        order=one.order,
        shapes=(*shapes, *lines),
        labels=words(one, centre),
    )


def together(lines: list[Shape]) -> tuple[list[Shape], float]:
    """The lines that one picture holds together with the first, and its middle."""
    if not lines:
        return [], 0.0
    first = lines[0].points[0][0]
    near = [shape for shape in lines if abs(shape.points[0][0] - first) < 2 * WINDOW]
    places = [shape.points[0][0] for shape in near]
    centre = (min(places) + max(places)) / 2
    if max(places) - min(places) > 2 * WINDOW:
        centre = first
    return [shape for shape in near if abs(shape.points[0][0] - centre) <= WINDOW], centre


def line(job: Job, cut: SetUp | Alike, view: View, foot: float) -> Iterator[Shape]:
    """One line as deep as it is cut, its saw cut on the waste's side; none that is seen flat."""
    plane = sawn(cut, lie_of(job, cut))
    across = dot(plane.normal, view.right)
    if abs(across) < EDGE_ON:
        return
    level = plane.offset - dot(plane.normal, view.origin)
    fall = dot(plane.normal, view.up)
    waste = HAND_KERF if across > 0 else -HAND_KERF
    low = foot if cut.depth is None else -cut.depth
    ends = [((level - v * fall) / across, v) for v in (BLADE_OVER / 2, low)]
    (u1, v1), (u2, v2) = ends
    yield Shape(role=Role.BLADE, points=((u1, v1), (u1 + waste, v1), (u2 + waste, v2), (u2, v2)))
