"""The planar cuts of a part as set-ups: settings, what to measure, why and with what care."""

from dataclasses import replace

from ground.vectors import Vec, dot
from models.parts.blank import FACES
from planning.machines import Tool
from planning.saw.care import cautions
from planning.saw.expects import expects
from planning.saw.fence import Slip, fence_cut, slips
from planning.saw.job import STOCK, Job
from planning.saw.order import best_order
from planning.saw.records import SetUp
from planning.saw.settings import setting
from planning.saw.ways import LAST, Way
from planning.saw.words import (
    both_ends,
    end_to_end,
    fence_side,
    first_cut,
    lean_side,
    offcut_side,
    show_side,
    why_wedge,
)
from planning.saw.workpiece import Workpiece

AN_END = 0.5
"""The cosine of 60 degrees: a face nearer to square to the feed than that ends a piece."""

NEARLY_PARALLEL = 0.9
"""The cosine of 26 degrees: a face against the squared one whose place it took, or its opposite."""


def planar(job: Job) -> tuple[SetUp, ...]:
    """Every planar cut of a part in the best order, numbered from nothing yet."""
    if not job.cuts:
        return ()
    found = best_order(job)
    return tuple(
        set_up(job, way, before) for way, before in zip(found.ways, found.before, strict=True)
    )


def set_up(job: Job, way: Way, before: Workpiece) -> SetUp:
    """One planar cut as the record keeps it."""
    lie = job.lie(way.table, way.reference, way.stop)
    by_hand = way.tool in LAST
    # a line is marked by hand and nothing is taken beyond it
    made = setting(job.planes[way.cut], lie, 0.0) if by_hand else way.setting
    fence = fence_side(way.tool, made, job.machines)
    return SetUp(
        part=job.part.label,
        order=0,
        machine=way.tool,
        does=does(way),
        table_face=job.spoken(way.table),
        reference_edge=job.spoken(way.reference),
        stop=None if way.stop is None else job.spoken(way.stop),
        mitre=made.mitre,
        mitre_to=made.mitre_to,
        tilt=made.tilt,
        tilt_to=made.tilt_to,
        measured=made.measured,
        distance=made.distance,
        keeps=made.keeps,
        kerf=0.0 if by_hand else job.kerf,
        wedge=way.wedge,
        makes_face=way.cut,
        expect=expects(job, before, way.cut, way.table),
        note=why(job, way, before),
        show=show_side(way, job.part.show),
        fence=fence,
        leans=lean_side(way, job.machines),
        offcut=offcut_side(way.tool, made, lie.inward, fence),
        first_cut=first_cut(way.tool, made),
        cautions=cautions(way, before.size(lie.along)),
    )


def does(way: Way) -> str:
    """The cut in the maker's words."""
    made = way.setting
    tilted = made.tilt_to is not None
    if made.from_edge:
        kind = "rip" if made.rips else "taper"
        return f"{kind} with the blade tilted" if tilted else kind
    if made.mitre_to is not None and tilted:
        return "compound cut"
    if made.mitre_to is not None:
        return "mitre"
    return "bevel across" if tilted else "crosscut"


def why(job: Job, way: Way, before: Workpiece) -> str:
    """Why it is set so, in a sentence or two."""
    told = []
    if way.setting.from_edge:
        off = without_help(job, way, before)
        told.append(why_wedge(way, off) or other_way_up(job, way, before))
    if way.tool is Tool.BAND_SAW:
        told.append("Saw a millimetre outside the line, then plane to it.")
    if way.tool is Tool.MITRE_SAW and way.setting.mitre_to is not None:
        told.append("Left and right of the mitre are seen from behind the fence.")
    if job.thin:
        told.append("Cut with the panel that it is glued on.")
    return " ".join(word for word in told if word)


def without_help(job: Job, way: Way, before: Workpiece) -> tuple[Slip, ...]:
    """What comes out along the fence without the sled or the wedge."""
    if way.setting.rips and way.wedge is None:
        return ()
    names = (way.table, way.reference)
    if way.wedge is not None and way.wedge.restores is not None:
        # without its offcut the piece lies on what the earlier cut has left
        whole = way.wedge.restores.removeprefix(STOCK)
        table, reference = (way.wedge.under if name == whole else name for name in names)
    else:
        table, reference = names
    plane = job.planes[way.cut]
    for stop in (way.stop, *before.ends(table, reference)):
        if stop is not None:
            lie = job.lie(table, reference, stop)
            return at_ends(job, slips(before, plane, fence_cut(plane, lie)), lie.along)
    return ()


def spoken(job: Job, off: tuple[Slip, ...]) -> tuple[Slip, ...]:
    """The same lines by the record's names of their faces."""
    return tuple(replace(s, face=job.spoken(s.face), end=job.spoken(s.end)) for s in off)


def at_ends(job: Job, off: tuple[Slip, ...], feed: Vec) -> tuple[Slip, ...]:
    """Those of the lines that run across the feed, the end that they lie at named last."""
    found = []
    for slip in off:
        names = sorted(
            (slip.face, slip.end), key=lambda name: abs(dot(job.planes[name].normal, feed))
        )
        if abs(dot(job.planes[names[1]].normal, feed)) > AN_END:
            found.append(replace(slip, face=names[0], end=names[1]))
    return spoken(job, tuple(found))


def other_way_up(job: Job, way: Way, before: Workpiece) -> str:
    """What comes out when what lies on a slanted face is laid on the squared one instead."""
    plane, table = job.planes[way.cut], job.planes[way.table]
    for name in FACES:
        if way.table in FACES or name not in before.by_name or name == way.reference:
            continue
        if abs(dot(FACES[name], table.normal)) < NEARLY_PARALLEL:
            continue
        for stop in before.ends(name, way.reference):
            found = job.setting(way.cut, name, way.reference, stop)
            if found is None or not found.from_edge or found.rips:
                continue
            lie = job.lie(name, way.reference, stop)
            off = at_ends(job, slips(before, plane, fence_cut(plane, lie)), lie.along)
            if both_ends(off):
                return f"Lay it on {way.table}, not on {name}: {end_to_end(off)}"
    return ""
