"""Every way to make one planar cut in a workpiece as it now is, with the limits of each."""

from collections.abc import Iterator
from dataclasses import dataclass

from ground.vectors import Vec, cross, dot, norm, scale, sub
from models.parts.blank import FACES
from planning.machines import Limit, Tool
from planning.saw.job import STOCK, Job
from planning.saw.lie import Lie
from planning.saw.limits import Cut, limits
from planning.saw.records import Wedge
from planning.saw.settings import Hand, Keeps, Lean, Setting, trace
from planning.saw.workpiece import Face, Workpiece

FIRM = 0.4
"""A fence guides along at least this share of the piece's length. Common practice, no source."""

LEAST_EDGE = 30.0
"""And along no less than this (mm). Common practice, no source."""

TIPPY = 4.0
"""A piece taller than this many times its base tips over. Common practice, no source."""

STEEP = 80.0
"""A cut that lies this flat on the table (degrees off square) cannot be sawn on it."""

OVERHANG = 1e-6
"""A reference face that leans out over the table touches the fence with its upper edge instead."""

RIPS = (Tool.TABLE_SAW, Tool.SLED, Tool.TRACK_SAW, Tool.BAND_SAW)
TAPERS = (Tool.SLED, Tool.TRACK_SAW, Tool.BAND_SAW)
CROSSCUTS = (Tool.GAUGE, Tool.MITRE_SAW, Tool.TRACK_SAW, Tool.BAND_SAW)

HELD = frozenset({Tool.SLED, Tool.GAUGE, Tool.MITRE_SAW})
"""They hold what is kept: a stop on the offcut's side would trap it."""

LAST = frozenset({Tool.HAND_PLANE, Tool.HAND_SAW})
"""Always possible, never preferred."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to make one cut; ``limits`` are those that it goes over.

    ``leans`` is the side that the blade leans to, seen by one who stands at the reference edge;
    None where it stands upright.
    """

    cut: str
    tool: Tool
    table: str
    reference: str
    stop: str | None
    setting: Setting
    leans: Hand | None = None
    wedge: Wedge | None = None
    limits: tuple[Limit, ...] = ()

    @property
    def registered(self) -> tuple[str, ...]:
        """The faces that it is registered by."""
        return tuple(name for name in (self.table, self.reference, self.stop) if name is not None)

    @property
    def turns(self) -> tuple[object, ...]:
        """What has to be set anew on the machine; the fence or stop only is moved."""
        made = self.setting
        return (self.tool, round(made.mitre, 6), made.mitre_to, round(made.tilt, 6), self.leans)


def ways(job: Job, piece: Workpiece, cut: str, *, by_hand: bool = False) -> tuple[Way, ...]:
    """Every way without a wedge: on machines, those beyond a limit too, or by hand along a line."""
    return tuple(each_way(job, piece, cut, by_hand=by_hand))


def each_way(
    job: Job, piece: Workpiece, cut: str, *, by_hand: bool = False, within: bool = False
) -> Iterator[Way]:
    """One way after the other, for those who are content with the first that will do.

    Only those that keep every limit where ``within``.
    """
    if piece.misses(job.planes[cut]):
        return
    kept = piece.cut(cut, job.planes[cut])
    if cut not in kept.by_name:
        return
    made = kept.by_name[cut]
    for table in piece.faces:
        if table.name not in kept.by_name or table.name in job.unready:
            continue
        if not by_hand and (job.thin or not stands(piece, table)):
            continue
        for reference in piece.neighbours(table.name):
            if reference not in job.unready:
                names = (table.name, reference)
                yield from on_edge(job, piece, made, names, by_hand=by_hand, within=within)


def on_edge(
    job: Job,
    piece: Workpiece,
    made: Face,
    names: tuple[str, str],
    *,
    by_hand: bool,
    within: bool,
) -> Iterator[Way]:
    """The ways with one edge at the fence, or with everything marked from it ``by_hand``."""
    table, reference = names
    lie = job.lie(table, reference, None)
    plain = job.setting(made.name, table, reference, None)
    if plain is None or plain.tilt > STEEP:
        return
    if not by_hand and not guides(piece, lie, table, reference):
        return
    if plain.rips:
        offered = tools(plain, by_hand=by_hand)
        yield from tried(job, piece, made, (table, reference, None), offered, within=within)
        return
    for stop in (name for name in piece.ends(table, reference) if name not in job.unready):
        found = job.setting(made.name, table, reference, stop)
        if found is not None:
            offered = tools(found, by_hand=by_hand)
            yield from tried(job, piece, made, (table, reference, stop), offered, within=within)


def leans(lie: Lie, found: Setting) -> Hand | None:
    """The side that the blade leans to, seen by one who stands at the reference edge."""
    if found.tilt_to is None:
        return None
    if found.from_edge:
        # the fence is put on that side of the blade that lets it lean as it must
        return Hand.LEFT if found.tilt_to is Lean.AWAY else Hand.RIGHT
    away = found.tilt_to is Lean.AWAY
    return Hand.RIGHT if away == (lie.inward > 0) else Hand.LEFT


def wrong_side(job: Job, side: Hand | None) -> bool:
    """Tell whether the table saw's blade cannot lean to ``side``: then the piece is turned."""
    return side is not None and side.value != job.machines.table_saw.tilts.value


def tools(found: Setting, *, by_hand: bool) -> tuple[Tool, ...]:
    """What could make a cut so set."""
    if by_hand:
        return (Tool.HAND_PLANE if found.from_edge else Tool.HAND_SAW,)
    if found.distance < 0:
        return ()
    if found.rips:
        offered: tuple[Tool, ...] = RIPS
    else:
        offered = TAPERS if found.from_edge else CROSSCUTS
    if found.keeps is Keeps.FAR:
        return tuple(tool for tool in offered if tool not in HELD)
    return offered


def tried(
    job: Job,
    piece: Workpiece,
    made: Face,
    names: tuple[str, str, str | None],
    offered: tuple[Tool, ...],
    *,
    within: bool,
) -> Iterator[Way]:
    """One way a tool, with the limits that it goes over; ``within``: only those that keep all."""
    table, reference, stop = names
    found = job.setting(made.name, table, reference, stop)
    if found is None or not offered:
        return
    lie = job.lie(table, reference, stop)
    cut = measured(piece, made, lie, found, sheet=job.sheet)
    side = leans(lie, found)
    for tool in offered:
        asked = limits(tool, job.machines, cut)
        if asked is None or (tool is Tool.GAUGE and wrong_side(job, side)):
            continue
        if asked and within:
            continue
        yield Way(
            cut=made.name,
            tool=tool,
            table=table,
            reference=reference,
            stop=stop,
            setting=found,
            leans=side,
            limits=asked,
        )


def measured(piece: Workpiece, made: Face, lie: Lie, found: Setting, *, sheet: bool) -> Cut:
    """What the limits of machines are about."""
    level = dot(lie.up, lie.corner)
    run = trace(made.plane, lie)
    square = cross(run, lie.up)
    spread = [dot(run, corner) for corner in made.corners]
    return Cut(
        setting=found,
        high=max(dot(lie.up, corner) for corner in made.corners) - level,
        long=piece.size(lie.along),
        wide=piece.size(lie.across),
        run=max(spread) - min(spread),
        beside=piece.size(square),
        sheet=sheet,
    )


def stands(piece: Workpiece, table: Face) -> bool:
    """Tell whether the piece lies steady on a face."""
    if table.name not in piece.steady:
        piece.steady[table.name] = steady(piece, table)
    return piece.steady[table.name]


def steady(piece: Workpiece, table: Face) -> bool:
    """Look whether the piece lies steady on a face: over its base, and not tall for it."""
    up = scale(table.plane.normal, -1.0)
    for one, other in zip(table.corners, (*table.corners[1:], table.corners[0]), strict=True):
        edge = sub(other, one)
        # counter-clockwise from outside: the inside is to the left of every edge
        if dot(cross(table.plane.normal, edge), sub(piece.middle, one)) < 0:
            return False
    return piece.size(up) <= TIPPY * narrowest(table)


def narrowest(face: Face) -> float:
    """The least width of a face (mm)."""
    least = float("inf")
    for one, other in zip(face.corners, (*face.corners[1:], face.corners[0]), strict=True):
        edge = sub(other, one)
        length = norm(edge)
        if length == 0.0:
            continue
        across: Vec = scale(cross(face.plane.normal, edge), 1 / length)
        least = min(least, max(dot(across, sub(corner, one)) for corner in face.corners))
    return least


def guides(piece: Workpiece, lie: Lie, table: str, reference: str) -> bool:
    """Tell whether an edge is long enough for a fence, and the face does not overhang."""
    if dot(lie.reference.normal, lie.up) < -OVERHANG:
        return False
    length = piece.length(table, reference) or 0.0
    return length >= max(LEAST_EDGE, FIRM * piece.size(lie.along))


def square_face(name: str) -> bool:
    """Tell whether a face is one of the squared blank's."""
    return name.removeprefix(STOCK) in FACES
