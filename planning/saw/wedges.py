"""Wedges that bring back a direction that an earlier cut has taken away.

Two kinds: the offcut of an earlier cut, saved and put back on, which makes the blank's face whole
again; and a long thin wedge under the piece, which turns it until the feed lies in the cut.
"""

import math
from collections.abc import Iterator
from itertools import combinations, permutations

from ground.vectors import Vec, angle, cross, dot, norm, scale, sub, unit
from models.parts.blank import FACES
from planning.machines import Tool
from planning.saw.job import STOCK, Job
from planning.saw.lie import Lie, wedged
from planning.saw.limits import limits
from planning.saw.records import Wedge
from planning.saw.settings import setting
from planning.saw.ways import Way, leans, measured, tools, wrong_side
from planning.saw.workpiece import Face, Workpiece

STEEPEST_OFFCUT = 20.0
"""An offcut steeper than this (degrees) is no wedge to tape back on. Common practice, no source."""

STEEPEST_WEDGE = 15.0
"""A piece slides down a wedge steeper than this (degrees). Common practice, no source."""

SQUARE = 1e-6


def wedged_ways(job: Job, piece: Workpiece, cut: str, done: frozenset[str]) -> tuple[Way, ...]:
    """The ways that need a wedge: the blank's faces made whole, or a wedge of its own."""
    kept = piece.cut(cut, job.planes[cut])
    if cut not in kept.by_name:
        return ()
    made = kept.by_name[cut]
    return (*with_offcuts(job, piece, made, done), *on_a_wedge(job, piece, made))


def with_offcuts(job: Job, piece: Workpiece, made: Face, done: frozenset[str]) -> Iterator[Way]:
    """Ways on the squared blank, one offcut of an earlier cut put back."""
    for before in sorted(done):
        face = nearest_face(job, before)
        lost = angle(job.planes[face].normal, job.planes[before].normal)
        if lost > STEEPEST_OFFCUT or before not in piece.by_name:
            continue
        wedge = offcut_wedge(job, piece, before, face)
        whole = without(job, piece, before)
        for other in FACES:
            if other not in whole.by_name or abs(dot(FACES[face], FACES[other])) > SQUARE:
                continue
            yield from pair(job, whole, made, (face, other), wedge)
            yield from pair(job, whole, made, (other, face), wedge)


def pair(
    job: Job, whole: Workpiece, made: Face, names: tuple[str, str], wedge: Wedge
) -> Iterator[Way]:
    """The ways on one table face with one edge at the fence, the blank made whole by a wedge."""
    table, reference = names
    for stop in (None, *FACES):
        if stop is not None and (stop not in whole.by_name or stop in names):
            continue
        found = job.setting(made.name, table, reference, stop)
        if found is None or found.rips != (stop is None):
            continue
        lie = job.lie(table, reference, stop)
        cut = measured(whole, made, lie, found, sheet=job.sheet)
        for tool in tools(found, by_hand=False):
            asked = limits(tool, job.machines, cut)
            gauged = tool is Tool.GAUGE and wrong_side(job, leans(lie, found))
            if asked is not None and not gauged:
                yield Way(
                    cut=made.name,
                    tool=tool,
                    table=table,
                    reference=reference,
                    stop=stop,
                    setting=found,
                    leans=leans(lie, found),
                    wedge=wedge,
                    limits=asked,
                )


def nearest_face(job: Job, cut: str) -> str:
    """The blank's face that a cut took the place of."""
    normal = job.planes[cut].normal
    return max(FACES, key=lambda name: dot(FACES[name], normal))


def without(job: Job, piece: Workpiece, cut: str) -> Workpiece:
    """The workpiece as it would be had ``cut`` not been made."""
    whole = job.blank
    for face in piece.faces:
        if face.name not in FACES and face.name != cut:
            whole = whole.cut(face.name, face.plane)
    return whole


def offcut_wedge(job: Job, piece: Workpiece, cut: str, face: str) -> Wedge:
    """The saved offcut of ``cut`` as a wedge: how much it rises along the piece's longest side."""
    plane = job.planes[cut]
    normal = FACES[face]
    fall: Vec = sub(plane.normal, scale(normal, dot(plane.normal, normal)))
    steep = norm(fall) / dot(plane.normal, normal)
    length = piece.size(unit(fall)) if norm(fall) > SQUARE else job.part.blank.length
    thin = max(FACES, key=lambda name: -dot(FACES[name], fall))
    return Wedge(
        rise=steep * length,
        length=length,
        under=cut,
        thin_at=job.spoken(thin),
        made_from=f"the saved offcut of {cut}",
        restores=STOCK + face if job.spoken(face) != face else face,
    )


def on_a_wedge(job: Job, piece: Workpiece, made: Face) -> Iterator[Way]:
    """Rips along the fence on a wedge made for them, where table, edge and stop are all square."""
    squared = [name for name in FACES if name in piece.by_name and name not in job.unready]
    for names in permutations(squared, 3):
        if any(abs(dot(FACES[a], FACES[b])) > SQUARE for a, b in combinations(names, 2)):
            continue
        if frozenset(names[:2]) in piece.edges:
            yield from one_wedge(job, piece, made, names)


def one_wedge(job: Job, piece: Workpiece, made: Face, names: tuple[str, ...]) -> Iterator[Way]:
    """The rip on the wedge under one face, thin end at one stop."""
    table, reference, stop = names
    flat = job.lie(table, reference, stop)
    wedge = level_wedge(job, piece, made, flat, names)
    if wedge is None:
        return
    lie = Lie(
        table=wedged(flat, wedge.rise, wedge.length), reference=flat.reference, stop=flat.stop
    )
    try:
        found = setting(made.plane, lie, job.kerf)
    except ZeroDivisionError:  # the cut lies flat on the wedge
        return
    if not found.rips or found.distance < 0:
        return
    cut = measured(piece, made, lie, found, sheet=job.sheet)
    for tool in (Tool.TABLE_SAW, Tool.BAND_SAW):
        asked = limits(tool, job.machines, cut)
        if asked is not None:
            yield Way(
                cut=made.name,
                tool=tool,
                table=table,
                reference=reference,
                stop=stop,
                setting=found,
                leans=leans(lie, found),
                wedge=wedge,
                limits=asked,
            )


def level_wedge(
    job: Job, piece: Workpiece, made: Face, flat: Lie, names: tuple[str, ...]
) -> Wedge | None:
    """The wedge on which the feed, along the reference face, lies in the cut; None: none does."""
    table, _, stop = names
    feed = cross(flat.reference.normal, made.plane.normal)
    if norm(feed) < SQUARE:
        return None
    feed = unit(feed)
    forward = scale(flat.along, flat.inward)
    feed = feed if dot(feed, forward) > 0 else scale(feed, -1.0)
    steep = dot(feed, flat.table.normal) / max(dot(feed, forward), SQUARE)
    if not SQUARE < steep <= math.tan(math.radians(STEEPEST_WEDGE)):
        return None
    length = piece.size(flat.along)
    return Wedge(
        rise=steep * length,
        length=length,
        under=job.spoken(table),
        thin_at=job.spoken(stop),
        made_from=wedge_stock(job, steep),
    )


def wedge_stock(job: Job, steep: float) -> str:
    """What a wedge of its own is cut from: an offcut of the same fall where there is one."""
    for trim in job.trims:
        face = nearest_face(job, trim.id)
        off = math.tan(math.radians(angle(FACES[face], trim.plane.normal)))
        if abs(off - steep) < SQUARE:
            return f"the saved offcut of {trim.id}"
    return "a straight stick as long as the piece"
