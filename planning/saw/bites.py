"""Tenons, sockets, notches: convex bites, sawn wall by wall to lines or against a stop."""

from operator import itemgetter

from ground.vectors import Plane, dot, norm
from models.parts.blank import FACES
from models.parts.features import Waste, WasteKind
from planning.machines import Tool
from planning.saw.job import Job
from planning.saw.lie import Lie
from planning.saw.records import Expect, SetUp
from planning.saw.settings import Setting, setting
from planning.saw.workpiece import Face, Workpiece

STEEP = 50.0
"""A wall that lies flatter than this on a face (degrees off square) is set from another."""

SQUARE_ENOUGH = 0.5
"""The cosine of 60 degrees: faces nearer to parallel than that are not measured from another."""

BY_MACHINE = frozenset({WasteKind.TENON, WasteKind.HAUNCH})
"""Straight shoulders and cheeks; the rest is sawn to lines and chopped."""


def walls(job: Job, waste: Waste, piece: Workpiece) -> tuple[SetUp, ...]:
    """One set-up for each wall that a bite leaves in ``piece``."""
    bite = piece
    for place, (name, plane) in enumerate(waste.planes):
        bite = bite.cut(name or f"air {place}", plane)
        if bite.gone:
            return ()
    found = []
    for name, plane in waste.planes:
        if not name or name not in bite.by_name:
            continue
        made = wall(job, waste, (name, plane.flipped()), bite, piece)
        if made is not None:
            found.append(made)
    return tuple(found)


def wall(
    job: Job, waste: Waste, named: tuple[str, Plane], bite: Workpiece, piece: Workpiece
) -> SetUp | None:
    """The set-up of one wall; None where no face gives its settings."""
    name, plane = named
    # what is kept lies beyond the bite's wall: the cut's normal points at the waste
    face = f"{waste.id}.{name}"
    best = best_lie(job, plane, piece)
    if best is None:
        return None
    (table, reference, stop), lie, made = best
    reach = max(dot(lie.up, corner) for corner in bite.by_name[name].corners)
    high = reach - dot(lie.up, lie.corner)
    return SetUp(
        part=job.part.label,
        order=0,
        machine=tool_for(job, waste, made),
        does=f"{waste.kind}: {name}",
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
        kerf=job.kerf,
        depth=high,
        makes_face=face,
        expect=measures(job, bite.by_name[name], made, table),
        note=waste.note,
        first_cut="on scrap: set the height of the cut and the stop, then try the joint",
    )


def best_lie(
    job: Job, plane: Plane, piece: Workpiece
) -> tuple[tuple[str, str, str | None], Lie, Setting] | None:
    """The squarest way to set a wall from the blank's faces, the broad ones first."""
    found = []
    there = [name for name in FACES if name in piece.by_name] or list(FACES)
    ends = (None, *there, *(face.name for face in piece.faces if face.name not in FACES))
    for place, table in enumerate(there):
        for reference in there:
            if abs(dot(FACES[table], FACES[reference])) > SQUARE_ENOUGH:
                continue
            for at_end, stop in enumerate(ends):
                named = (table, reference, stop)
                made = usable(job, plane, named)
                if made is not None:
                    rank = (round(made.tilt, 6), made.mitre > 0, place, made.distance, at_end)
                    found.append((rank, named, made))
    if not found:
        return None
    _, named, made = min(found, key=itemgetter(0))
    return named, job.lie(*named), made


def usable(job: Job, plane: Plane, named: tuple[str, str, str | None]) -> Setting | None:
    """The settings from three faces, where they make sense."""
    lie = job.lie(*named)
    if lie.stop is not None and abs(dot(lie.stop.normal, lie.along)) < SQUARE_ENOUGH:
        return None
    try:
        made = setting(plane, lie, job.kerf)
    except ZeroDivisionError:
        return None
    if made.rips != (lie.stop is None) or made.tilt > STEEP or made.distance < 0:
        return None
    return made


def tool_for(job: Job, waste: Waste, made: Setting) -> Tool:
    """Shoulders at the gauge, cheeks on the band saw, all else by hand."""
    if waste.kind not in BY_MACHINE:
        return Tool.HAND_SAW
    if not made.from_edge and job.machines.table_saw.owned:
        return Tool.GAUGE
    return Tool.BAND_SAW if job.machines.band_saw.owned else Tool.HAND_SAW


def measures(job: Job, face: Face, made: Setting, table: str) -> tuple[Expect, ...]:
    """How far the wall stands off, and how long it is."""
    longest = max(
        norm((one[0] - other[0], one[1] - other[1], one[2] - other[2]))
        for one in face.corners
        for other in face.corners
    )
    at = job.spoken(table)
    return (
        Expect(what=f"to the near side of the kerf, {made.measured}", at=at, value=made.distance),
        Expect(what="corner to corner of the wall", at=at, value=longest),
    )
