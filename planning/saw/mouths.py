"""Where cutters and bits go in: the face they enter and the faces they are measured from."""

from collections.abc import Iterable
from dataclasses import dataclass

from ground.vectors import Plane, X, dot
from models.parts.blank import FACES
from models.parts.features import Channel, Countersink, Hole, Mortise, Seat
from models.parts.part import Part
from planning.saw.job import Job
from planning.saw.lie import Lie
from planning.saw.workpiece import Workpiece

Cutter = Channel | Mortise | Hole | Countersink

ON_FACE = 1e-4
"""A mouth closer to a face than this lies on it (mm)."""

FACING = 1e-7
"""A face that looks this little against the cutter is not entered."""

LEANINGS = (0.3, 0.8, 0.999)
"""How far two faces may be from a right angle to be measured from one another; squarest first."""


@dataclass(frozen=True, kw_only=True)
class Mouth:
    """Where a cutter goes in, by the names of the faces, and how it lies for that."""

    enters: str
    reference: str
    stop: str
    lie: Lie


def cutters(part: Part) -> Iterable[Cutter]:
    """Wide before narrow where one starts on another's floor; else as the part lists them."""
    found = [f for f in part.features if isinstance(f, Channel | Mortise | Hole | Countersink)]
    first = {"counterbore": 0, "round recess": 0, "pocket hole": 0}
    return sorted(found, key=lambda feature: first.get(str(feature.kind), 1))


def entered(job: Job, feature: Cutter) -> tuple[str, Plane]:
    """The face that a cutter goes in by: the squarest that its mouth lies on, else the nearest."""
    seat = feature.seat
    own = f"{feature.id}.floor"
    faces = {**job.planes, **job.floors}
    facing = {
        name: dot(plane.normal, seat.into)
        for name, plane in faces.items()
        if name != own and abs(plane.height(seat.origin)) < ON_FACE
    }
    best = min(facing, key=lambda name: facing[name], default=None)
    if best is None or facing[best] > -FACING:
        best = min(FACES, key=lambda name: dot(FACES[name], seat.into))
    return best, faces[best]


def mouth(job: Job, feature: Cutter, piece: Workpiece) -> Mouth:
    """Where a cutter goes in and what it is measured from, on ``piece`` as it then is."""
    enters, plane = entered(job, feature)
    reference = best_reference(job, plane, piece)
    lie = Lie(table=plane, reference=job.planes[reference])
    stop = best_stop(job, lie, (enters, reference), piece, feature.seat)
    return Mouth(
        enters=enters,
        reference=reference,
        stop=stop,
        lie=Lie(table=plane, reference=job.planes[reference], stop=job.planes[stop]),
    )


def candidates(job: Job, piece: Workpiece) -> tuple[str, ...]:
    """The faces to measure from, the maker's first choice first.

    A banded edge comes first: it stands at the front of the case, on a left and on a right part.
    Faces that are not there any more, or not yet, come last.
    """
    choice = dict.fromkeys((*job.part.banded, "front", "back", "bottom", "top", "left", "right"))
    names = dict.fromkeys((*choice, *(face.name for face in piece.faces)))
    there = [name for name in names if name in piece.by_name and name not in job.unready]
    return (*there, *(name for name in names if name not in there))


def best_reference(job: Job, plane: Plane, piece: Workpiece) -> str:
    """The first face along the part that meets ``plane`` near a right angle."""
    names = candidates(job, piece)
    leaning = {name: abs(dot(job.planes[name].normal, plane.normal)) for name in names}
    long = [name for name in names if abs(dot(job.planes[name].normal, X)) < LEANINGS[0]]
    for limit in LEANINGS:
        for name in (*long, *names):
            if leaning[name] < limit:
                return name
    return names[0]


def best_stop(job: Job, lie: Lie, taken: tuple[str, str], piece: Workpiece, seat: Seat) -> str:
    """The end that lengths are measured from: of those square to the edge, the nearest."""
    crossing = {
        name: abs(dot(job.planes[name].normal, lie.along))
        for name in candidates(job, piece)
        if name not in taken
    }
    squarest = max(crossing.values())
    good = [name for name, square in crossing.items() if square > 0.9 * squarest]
    there = [name for name in good if name in piece.by_name and name not in job.unready]
    return min(there or good, key=lambda name: round(abs(job.planes[name].height(seat.origin)), 3))
