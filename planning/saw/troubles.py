"""Cuts beyond what the machines reach: which machine, which limit, and what does it instead."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC, Finding, Severity
from ground.order import natural
from models.parts.assembly import Assembly
from models.parts.features import Countersink, Hole, Trim, Waste
from models.parts.part import Part
from planning.machines import Limit, Tool
from planning.saw.job import Job
from planning.saw.milling import beyond_of_blank
from planning.saw.mouths import cutters, entered
from planning.saw.records import SetUp
from planning.saw.tools import hindered, plainly_in_reach
from planning.saw.ways import LAST, Way, each_way, ways
from specs.shop import Shop

SECOND_BEST = LAST | {Tool.BAND_SAW}
"""What does a cut when no better machine reaches it."""

BY_DRILL = "drill it with a hand drill in a guide, a stop on the bit"

BY_CHISEL = "mark it with knife and gauge, saw or bore out the waste and pare it to the lines"


def out_of_reach(assembly: Assembly, shop: Shop) -> tuple[Finding, ...]:
    """All of the piece that no better machine reaches.

    A part whose every cut is in reach on its squared blank needs no plan to know that.
    """
    found: list[Finding] = []
    for part in sorted(assembly.parts, key=lambda part: natural(part.label)):
        if part.made:
            copies = tuple(copy.id for copy in assembly.copies_of(part.label))
            found += of_part(part, shop, copies)
    return tuple(found)


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def of_part(part: Part, shop: Shop, copies: tuple[str, ...]) -> tuple[Finding, ...]:
    """All of one part that no better machine reaches."""
    job = Job.of(part, shop)
    found = [*too_large(job, copies)]
    if job.squared:
        if not job.thin and any(isinstance(feature, Trim) for feature in part.features):
            found += cuts_beyond(job, copies)
        found += left_to_hand(job, copies)
    return tuple(found)


def cuts_beyond(job: Job, copies: tuple[str, ...]) -> Iterator[Finding]:
    """The findings of a part's planar cuts."""
    if not all(in_reach(job, cut) for cut in job.cuts):
        # planning is slow to load, and a piece whose cuts are all in reach does without
        from planning.saw.cuts import planar

        yield from troubles(job, planar(job), copies)


def in_reach(job: Job, cut: str) -> bool:
    """Tell whether a good machine can make a cut on the squared blank."""
    found = each_way(job, job.blank, cut, within=True)
    return any(way.tool not in SECOND_BEST for way in found)


def too_large(job: Job, copies: tuple[str, ...]) -> Iterator[Finding]:
    """A finding where the blank itself is beyond the machine that squares it."""
    limit = next(iter(beyond_of_blank(job)), None)
    if limit is None:
        return
    instead = (
        "saw it by hand along a straight edge, or have it cut to size where the sheet is bought"
        if job.sheet
        else "glue it up of narrower staves, or flatten it by hand across the grain"
    )
    yield hand_work(job, limit, copies, Told(code="mill.reach", what="the blank", instead=instead))


def left_to_hand(job: Job, copies: tuple[str, ...]) -> Iterator[Finding]:
    """A finding for each limit of a machine that leaves grooves, holes or joints to the hand."""
    together: dict[tuple[str, str, bool], list[tuple[str, Limit]]] = {}
    for feature in cutters(job.part):
        if plainly_in_reach(job, feature):
            continue
        limit = hindered(job, feature, entered(job, feature))
        if limit is not None:
            drilled = isinstance(feature, Hole | Countersink)
            together.setdefault((limit.machine, limit.what, drilled), []).append(
                (feature.id, limit)
            )
    if any(isinstance(feature, Waste) for feature in job.part.features):
        from planning.saw.bites import hindered as joints_by_hand

        for name, limit in joints_by_hand(job):
            together.setdefault((limit.machine, limit.what, False), []).append((name, limit))
    for (_, _, drilled), those in together.items():
        worst = max((limit for _, limit in those), key=excess)
        what = ", ".join(name for name, _ in those)
        instead = BY_DRILL if drilled else BY_CHISEL
        severity = Severity.NOTE if drilled else Severity.WARNING
        told = Told(code="cutter.reach", what=what, instead=instead, severity=severity)
        yield hand_work(job, worst, copies, told)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is said of a limit: of ``what``, and what does it instead."""

    code: str
    what: str
    instead: str
    severity: Severity = Severity.WARNING


def hand_work(job: Job, limit: Limit, copies: tuple[str, ...], told: Told) -> Finding:
    """Say that something is beyond a machine."""
    return Finding(
        code=told.code,
        severity=told.severity,
        subject=f"{job.part.label} {job.part.name}",
        copies=copies,
        message=f"{told.what}: {limit.spoken()}; {told.instead}",
        value=limit.asked,
        limit=limit.limit,
        unit=limit.unit,
        source=source(job),
    )


def source(job: Job) -> str:
    """Where the limits come from."""
    return FROM_THE_SPEC if job.machines.model_fields_set else COMMON_PRACTICE


def troubles(job: Job, set_ups: Iterable[SetUp], copies: tuple[str, ...]) -> Iterator[Finding]:
    """A finding for each planar cut that only a second-best tool can make."""
    piece = job.blank if job.squared else None
    for made in set_ups:
        cut = made.makes_face
        if piece is None or cut not in job.cuts:
            continue
        if made.machine in SECOND_BEST and not job.thin:
            limit = nearest_limit(ways(job, piece, cut))
            if limit is not None:
                yield beyond(job, made, limit, copies)
        piece = piece.cut(cut, job.planes[cut])


def nearest_limit(found: Iterable[Way]) -> Limit | None:
    """The limit that hinders the machine which comes closest."""
    hindered = [way for way in found if way.limits and way.tool not in SECOND_BEST]
    hindered = hindered or [way for way in found if way.limits]
    if not hindered:
        return None
    best = min(hindered, key=lambda way: (len(way.limits), excess(way.limits[0]), way.tool.value))
    return best.limits[0]


def excess(limit: Limit) -> float:
    """How far over a limit a cut is, as a share of it."""
    return abs(limit.asked - limit.limit) / max(limit.limit, 1.0)


def beyond(job: Job, made: SetUp, limit: Limit, copies: tuple[str, ...]) -> Finding:
    """Say it."""
    instead = {
        Tool.BAND_SAW: "band saw it a millimetre outside the line and plane it",
        Tool.HAND_PLANE: "mark it on both faces and plane it to the lines by hand",
        Tool.HAND_SAW: "mark it all round, saw it by hand and pare it to the lines",
    }[made.machine]
    return Finding(
        code="saw.reach",
        severity=Severity.NOTE if made.machine is Tool.BAND_SAW else Severity.WARNING,
        subject=f"{job.part.label} {job.part.name}",
        copies=copies,
        message=f"{made.makes_face}: {limit.spoken()}; {instead}",
        value=limit.asked,
        limit=limit.limit,
        unit=limit.unit,
        source=source(job),
    )
