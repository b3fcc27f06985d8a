"""Tenons, sockets, notches: convex bites, their walls sawn to lines or against a stop.

A blade goes in from a face that the bite is open to, as deep as the wall. Where it would run on
into wood that stays, the wall is sawn as far as it goes and chopped.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from operator import itemgetter

from ground.vectors import Plane, X, dot, neg
from models.parts.blank import FACES
from models.parts.features import Waste, WasteKind
from planning.machines import Limit, Tool
from planning.saw.care import for_tool
from planning.saw.job import Job
from planning.saw.lie import Lie
from planning.saw.limits import limits
from planning.saw.merging import merged
from planning.saw.records import Expect, SetUp
from planning.saw.settings import Keeps, Setting, setting
from planning.saw.ways import measured
from planning.saw.workpiece import Face, Workpiece

STEEP = 50.0
"""A wall that lies flatter than this on a face (degrees off square) is set from another."""

SQUARE_ENOUGH = 0.5
"""The cosine of 60 degrees: faces nearer to parallel than that are not measured from another."""

SAME_AREA = 1.001
"""A cut whose section is larger than its wall by more than this share runs into wood that stays."""

SLIGHT = 1e-3
"""A bite that goes through leaves less than this (mm)."""

BY_MACHINE = frozenset({WasteKind.TENON, WasteKind.HAUNCH})
"""Straight shoulders and cheeks; the rest is sawn to lines and chopped."""

SHOULDER, CHEEK = "shoulder", "cheek"

TRIAL = (
    "on scrap: set the height of the cut and the stop, then try the joint",
    "on scrap: saw one to the lines and try the mating part in it",
)
"""The first cut: by machine, by hand."""

SIDES = frozenset({"wall-a", "wall-b"})

MANY = {
    WasteKind.NOTCH: "notches",
    WasteKind.TENON: "tenons",
    WasteKind.SOCKET: "dovetail sockets",
    WasteKind.FINGER: "box-joint sockets",
    WasteKind.HAUNCH: "haunches",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """One wall of a bite: ``plane`` looks at the waste, ``face`` is what of it the bite leaves.

    ``mouths`` are the faces of the piece that the wall runs out on, ``neighbours`` first: a blade
    can rise out of them.
    """

    waste: Waste
    name: str
    plane: Plane
    face: Face
    mouths: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawn:
    """One way to make a wall: the faces by name, how it lies, the settings, how high it cuts.

    ``clean``: a blade that runs right through cuts the wall and nothing else.
    """

    names: tuple[str, str, str | None]
    lie: Lie
    made: Setting
    high: float
    clean: bool


def bites(job: Job) -> list[SetUp]:
    """Every bite of a part: what is set alike together."""
    piece = job.finished
    found = (
        set_up
        for feature in job.part.features
        if isinstance(feature, Waste)
        for wall in walls(feature, piece)
        if (set_up := sawn(job, wall, piece)) is not None
    )
    # what is sawn comes before what is chopped between the saw cuts
    return sorted(merged(found), key=lambda one: ": chop" in one.does)


def walls(waste: Waste, piece: Workpiece) -> Iterator[Wall]:
    """The walls that a bite leaves in ``piece``."""
    bite = piece
    for place, (name, plane) in enumerate(waste.planes):
        bite = bite.cut(name or f"air {place}", plane)
        if bite.gone:
            return
    for name, plane in waste.planes:
        if name and name in bite.by_name:
            beside = (*bite.neighbours(name), *(face.name for face in bite.faces))
            yield Wall(
                waste=waste,
                name=name,
                # what is kept lies beyond the bite's wall: the cut's normal points at the waste
                plane=plane.flipped(),
                face=bite.by_name[name],
                mouths=tuple(face for face in dict.fromkeys(beside) if face in piece.by_name),
            )


def sawn(job: Job, wall: Wall, piece: Workpiece) -> SetUp | None:
    """The set-up of one wall; None where no face gives its settings."""
    tool, way = chosen(job, wall, piece)
    if way is None:
        return None
    table, reference, stop = way.names
    made = way.made
    by_hand = tool is Tool.HAND_SAW
    if by_hand:
        # a line is marked and the chisel takes nothing beyond it
        made = setting(wall.plane, way.lie, 0.0)
    through = way.high > piece.size(way.lie.up) - SLIGHT
    return SetUp(
        part=job.part.label,
        order=0,
        machine=tool,
        does=f"{MANY[wall.waste.kind]}: {spoken(wall, way)}",
        table_face=job.spoken(table),
        reference_edge=job.spoken(reference),
        stop=None if stop is None else job.spoken(stop),
        mitre=made.mitre,
        mitre_to=made.mitre_to,
        tilt=made.tilt,
        tilt_to=made.tilt_to,
        measured=made.measured,
        distance=made.distance,
        keeps=made.keeps,
        kerf=0.0 if by_hand else job.kerf,
        depth=None if through else way.high,
        makes_face=f"{wall.waste.id}.{wall.name}",
        expect=measures(job, wall, way),
        note=note(wall, tool),
        first_cut=TRIAL[by_hand],
        cautions=for_tool(tool, piece.size(way.lie.along)),
    )


def chosen(job: Job, wall: Wall, piece: Workpiece) -> tuple[Tool, Sawn | None]:
    """The machine for a wall with how it is set: a machine's within its limits, else by hand."""
    for tool, way in offers(job, wall, piece):
        if beyond(job, tool, wall, way, piece) == ():
            return tool, way
    return Tool.HAND_SAW, best_way(job, wall, piece)


def hindered(job: Job) -> Iterator[tuple[str, Limit]]:
    """The shoulders and cheeks that a limit of their machine leaves to the hand, with it."""
    piece = job.finished
    for feature in job.part.features:
        if not isinstance(feature, Waste) or feature.kind not in BY_MACHINE:
            continue
        for wall in walls(feature, piece):
            for tool, way in offers(job, wall, piece):
                over = beyond(job, tool, wall, way, piece)
                if over:
                    yield f"{feature.id}.{wall.name}", over[0]


def offers(job: Job, wall: Wall, piece: Workpiece) -> Iterator[tuple[Tool, Sawn]]:
    """What machines could make a wall: shoulders at the gauge, cheeks at the band saw's fence."""
    if wall.waste.kind not in BY_MACHINE:
        return
    if wall.name == SHOULDER:
        found = best_way(job, wall, piece)
        if found is not None and found.clean and not found.made.from_edge:
            yield Tool.GAUGE, found
    else:
        found = best_cheek(job, wall, piece)
        if found is not None:
            yield Tool.BAND_SAW, found


def beyond(
    job: Job, tool: Tool, wall: Wall, way: Sawn, piece: Workpiece
) -> tuple[Limit, ...] | None:
    """The limits of a machine that a wall goes over; None where it never makes one."""
    cut = measured(piece, wall.face, way.lie, way.made, sheet=job.sheet)
    return limits(tool, job.machines, cut)


def best_way(job: Job, wall: Wall, piece: Workpiece) -> Sawn | None:
    """The cleanest and squarest way to mark and saw a wall, all from the same faces if it can."""
    found = []
    edges = (*job.part.banded, *FACES, *(face.name for face in piece.faces))
    there = tuple(name for name in dict.fromkeys(edges) if name in piece.by_name)
    for at_table, table in enumerate(wall.mouths or there):
        high, clean = rises(job, wall, table, piece)
        for at_edge, reference in enumerate(there):
            for at_end, stop in enumerate((None, *there)):
                made = usable(job, wall, (table, reference, stop))
                if made is None:
                    continue
                far = 0.0 if made.from_edge else round(made.distance, 3)
                turned = (round(made.tilt, 6), round(made.mitre % 90.0, 6) > 0)
                rank = (not clean, *turned, far, at_table, at_edge, at_end)
                found.append((rank, (table, reference, stop), made, high, clean))
    if not found:
        return None
    _, names, made, high, clean = min(found, key=itemgetter(0))
    return Sawn(names=names, lie=job.lie(*names), made=made, high=high, clean=clean)


def best_cheek(job: Job, wall: Wall, piece: Workpiece) -> Sawn | None:
    """A cheek along a fence, the piece lying down, its waste falling away from the fence."""
    ends = [plane.normal for name, plane in wall.waste.planes if name == SHOULDER]
    found = []
    for table in wall.mouths:
        if any(abs(dot(piece.by_name[table].plane.normal, end)) > SQUARE_ENOUGH for end in ends):
            continue
        for reference in piece.neighbours(table):
            names = (table, reference, None)
            made = usable(job, wall, names)
            if made is not None and made.rips:
                rank = (made.keeps is not Keeps.NEAR, round(made.tilt, 6), made.distance)
                found.append((rank, names, made))
    if not found:
        return None
    _, names, made = min(found, key=itemgetter(0))
    high, clean = rises(job, wall, names[0], piece)
    return Sawn(names=names, lie=job.lie(*names), made=made, high=high, clean=clean)


def usable(job: Job, wall: Wall, names: tuple[str, str, str | None]) -> Setting | None:
    """The settings from three faces, where they make sense."""
    table, reference, stop = names
    if stop in {table, reference} or table == reference:
        return None
    down, aside = job.planes[table].normal, job.planes[reference].normal
    if abs(dot(down, aside)) > SQUARE_ENOUGH:
        return None
    if abs(dot(aside, X)) > SQUARE_ENOUGH > abs(dot(down, X)):
        return None  # an end is too short to lie along a fence
    lie = job.lie(*names)
    if lie.stop is not None and abs(dot(lie.stop.normal, lie.along)) < SQUARE_ENOUGH:
        return None
    try:
        made = setting(wall.plane, lie, job.kerf)
    except ZeroDivisionError:
        return None
    if made.rips != (lie.stop is None) or made.tilt > STEEP or made.distance < 0:
        return None
    return made


def rises(job: Job, wall: Wall, table: str, piece: Workpiece) -> tuple[float, bool]:
    """How high above a table face a wall reaches (mm), and whether a blade there cuts only it."""
    down = job.planes[table]
    high = max(-down.height(corner) for corner in wall.face.corners)
    under = Plane(neg(down.normal), high - down.offset)
    return high, section(piece, wall.plane, under) <= wall.face.area * SAME_AREA


def section(piece: Workpiece, plane: Plane, under: Plane) -> float:
    """How much wood a blade along ``plane`` goes through up to its top (mm2)."""
    low = piece.cut("above", under).cut("cut", plane)
    face = low.by_name.get("cut")
    return 0.0 if face is None else face.area


def spoken(wall: Wall, way: Sawn) -> str:
    """What is done to one wall."""
    if wall.waste.kind in BY_MACHINE:
        return f"saw the {wall.name}s"
    if wall.name in SIDES:
        return "saw the sides" if way.clean else "saw and chop the sides"
    across = abs(dot(wall.plane.normal, X)) > SQUARE_ENOUGH
    what = "to the baseline" if across else f"the {'floor' if wall.name == 'floor' else 'end'}"
    return f"{'saw' if way.clean else 'chop'} {what}"


def note(wall: Wall, tool: Tool) -> str:
    """What a drawing calls it, and how far a cheek is sawn."""
    if wall.waste.kind not in BY_MACHINE:
        return f"{wall.waste.note.capitalize()}." if wall.waste.note else ""
    if wall.name != CHEEK or tool is Tool.HAND_SAW:
        return ""
    (end,) = (plane.normal for name, plane in wall.waste.planes if name == SHOULDER)
    reached = [dot(end, corner) for corner in wall.face.corners]
    far = max(reached) - min(reached)
    return f"Saw in from the end only as far as the shoulder: {far:.1f} mm, against a stop."


def measures(job: Job, wall: Wall, way: Sawn) -> tuple[Expect, ...]:
    """How far the wall stands off, and how long it is."""
    table, reference, stop = way.names
    line = setting(wall.plane, way.lie, 0.0)
    start = reference if line.from_edge or stop is None else stop
    longest = max(face_span(wall.face))
    return (
        Expect(
            what=f"the line from {job.spoken(start)}, {line.measured}",
            at=job.spoken(table),
            value=line.distance,
        ),
        Expect(what="corner to corner of the wall", at=job.spoken(table), value=longest),
    )


def face_span(face: Face) -> Iterator[float]:
    """How far each two corners of a face are apart (mm)."""
    for one in face.corners:
        for other in face.corners:
            yield sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5
