"""The planar cuts of a part as set-ups: settings, what to measure, why and with what care."""

from planning.machines import Tool
from planning.saw.expects import expects
from planning.saw.fence import fence_cut, slips
from planning.saw.job import Job
from planning.saw.order import best_order
from planning.saw.records import SetUp
from planning.saw.ways import Way
from planning.saw.words import cautions, first_cut, offcut_side, show_side, why_wedge
from planning.saw.workpiece import Workpiece


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
    made = way.setting
    lie = job.lie(way.table, way.reference, way.stop)
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
        kerf=job.kerf,
        wedge=way.wedge,
        makes_face=way.cut,
        expect=expects(job, before, way.cut, way.table),
        note=why(job, way, before),
        show=show_side(way, job.part.show),
        offcut=offcut_side(way, lie.inward),
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
        lie = job.lie(way.table, way.reference, way.stop)
        plane = job.planes[way.cut]
        off = () if way.setting.rips else slips(before, plane, fence_cut(plane, lie))
        told.append(why_wedge(way, off))
    if way.tool is Tool.BAND_SAW:
        told.append("Saw a millimetre outside the line, then plane to it.")
    if job.thin:
        told.append("Cut with the panel that it is glued on.")
    return " ".join(word for word in told if word)
