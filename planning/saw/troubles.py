"""Cuts beyond what the machines reach: which machine, which limit, and what does it instead."""

from collections.abc import Iterable, Iterator

from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC, Finding, Severity
from ground.order import natural
from models.parts.assembly import Assembly
from planning.machines import Limit, Tool
from planning.saw.cuts import planar
from planning.saw.job import Job
from planning.saw.records import SetUp
from planning.saw.ways import LAST, Way, ways
from specs.shop import Shop

SECOND_BEST = LAST | {Tool.BAND_SAW}
"""What does a cut when no better machine reaches it."""


def out_of_reach(assembly: Assembly, shop: Shop) -> tuple[Finding, ...]:
    """Every cut of the piece that no better machine reaches.

    A part whose every cut is in reach on its squared blank needs no plan to know that.
    """
    found: list[Finding] = []
    for part in sorted(assembly.parts, key=lambda part: natural(part.label)):
        job = Job(part=part, machines=shop.machines, kerf=shop.kerf)
        if not part.made or not job.squared or job.thin:
            continue
        if all(in_reach(job, cut) for cut in job.cuts):
            continue
        copies = tuple(copy.id for copy in assembly.copies_of(part.label))
        found += troubles(job, planar(job), copies)
    return tuple(found)


def in_reach(job: Job, cut: str) -> bool:
    """Tell whether a good machine can make a cut on the squared blank."""
    return any(not way.limits and way.tool not in SECOND_BEST for way in ways(job, job.blank, cut))


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
    own = job.machines.model_fields_set
    return Finding(
        code="saw.reach",
        severity=Severity.NOTE if made.machine is Tool.BAND_SAW else Severity.WARNING,
        subject=f"{job.part.label} {job.part.name}",
        copies=copies,
        message=f"{made.makes_face}: {limit.spoken()}; {instead}",
        value=limit.asked,
        limit=limit.limit,
        unit=limit.unit,
        source=FROM_THE_SPEC if own else COMMON_PRACTICE,
    )
