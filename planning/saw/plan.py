"""Every set-up of every part, in the order in which a part is worked.

The blank is milled; what is edged before it is cut is edged; what stands on squared faces is cut
while they are square; then the planar cuts; then what stands on the faces that these leave; last
what is trimmed once it is glued up, and the arrises.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from ground.order import natural
from models.parts.assembly import Assembly
from models.parts.blank import FACES
from planning.saw.bites import bites
from planning.saw.cuts import planar
from planning.saw.edgings import edged_first
from planning.saw.job import Job
from planning.saw.merging import merged
from planning.saw.milling import milled, trimmed
from planning.saw.mouths import Cutter, cutters, entered
from planning.saw.passes import cutter_set_up
from planning.saw.records import SetUp
from planning.saw.rounding import eased
from specs.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class SawPlan:
    """The set-ups of a piece, part by part in natural order of their labels."""

    set_ups: tuple[SetUp, ...]

    def of(self, label: str) -> tuple[SetUp, ...]:
        """The set-ups of one part in order."""
        return tuple(found for found in self.set_ups if found.part == label)


def saw_plan(assembly: Assembly, shop: Shop) -> SawPlan:
    """Plan every part of ``assembly`` that is made."""
    found: list[SetUp] = []
    for part in sorted(assembly.parts, key=lambda part: natural(part.label)):
        if not part.made:
            continue
        job = Job.of(part, shop)
        found += part_set_ups(job, edged_first(assembly, part))
    return SawPlan(set_ups=tuple(found))


def part_set_ups(job: Job, edgings: tuple[str, ...] = ()) -> tuple[SetUp, ...]:
    """Every set-up of one part, numbered from 1; ``edgings`` go on before it is cut."""
    return numbered(steps(job, edgings))


def steps(job: Job, edgings: tuple[str, ...]) -> Iterator[SetUp]:
    """The set-ups in order."""
    late = bool(job.unready)
    yield milled(job, edgings)
    if not late:
        yield from trimmed(job)
    if job.squared:
        square, slanted = by_face(job)
        yield from merged(cutter_set_up(job, feature, job.blank) for feature in square)
        yield from planar(job)
        yield from merged(cutter_set_up(job, feature, job.finished) for feature in slanted)
        yield from bites(job)
        yield from eased(job)
    if late:
        yield from trimmed(job)


def by_face(job: Job) -> tuple[list[Cutter], list[Cutter]]:
    """What is cut while the blank is square, and what stands on faces that come later."""
    square: list[Cutter] = []
    slanted: list[Cutter] = []
    early: set[str] = set(FACES)
    for feature in cutters(job.part):
        enters, _ = entered(job, feature)
        first = enters in early
        (square if first else slanted).append(feature)
        if first:
            early.add(f"{feature.id}.floor")
    return square, slanted


def numbered(found: Iterable[SetUp]) -> tuple[SetUp, ...]:
    """The set-ups with their order from 1."""
    return tuple(replace(one, order=place) for place, one in enumerate(found, 1))
