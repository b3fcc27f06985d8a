"""What a groove, a mortise or a hole has become that was set wrong, and what mends it."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import product

from ground.vectors import Vec, add, dot, scale
from models.parts.part import Part
from planning.saw.boxes import Change, boxes
from planning.saw.heard import SAME, Said, WhatIfError
from planning.saw.job import Job
from planning.saw.lie import Lie
from planning.saw.mouths import Cutter, cutters, entered, mouth
from planning.saw.passes import cutter_pass, deep
from planning.saw.records import Pass, SetUp
from planning.saw.settings import FROM_EDGE

THIN = 3.0
"""Less wood than this under a floor breaks out or shows through (mm). Common practice, no
source."""


class Mend(StrEnum):
    """What is done about it."""

    NOTHING = "nothing"
    CUT_AGAIN = "cut again"
    SLIP = "a slip on the floor"
    FILL = "fill and cut anew"
    REMAKE = "make anew"


@dataclass(frozen=True, slots=True, kw_only=True)
class PassOutcome:
    """What a cutter has made of it (mm); nothing where a number is 0.

    ``farther`` from the reference edge and from the stop (less than 0: nearer), ``deeper`` and
    ``wider`` (less than 0: not enough). ``left`` is the wood under its floor, ``out`` the face that
    it comes out of. ``meets`` names what it runs into now, ``later`` the steps that start from it,
    ``fits`` the joint or fitting whose other half feels it.
    """

    step: SetUp
    farther: tuple[float, float]
    deeper: float
    wider: float
    depth: float
    width: float
    left: float | None
    out: str | None
    meets: tuple[str, ...]
    later: tuple[str, ...]
    fits: str
    mend: Mend

    @property
    def thin(self) -> bool:
        """Tell whether too little wood is left under it."""
        return self.left is not None and self.out is None and self.left < THIN


def wrong_pass(job: Job, steps: Sequence[SetUp], step: SetUp, said: Said) -> PassOutcome:
    """Say what ``said`` at a cutter's step makes of the part.

    Raises:
        WhatIfError: nothing that was said can be set there.
    """
    feature, done = feature_of(job, step)
    edge, stop = moved(step, done, said)
    room, beyond = to_the_other_side(job, feature)
    planned = done.depth if done.depth is not None else room
    reached = room if said.through else (planned if said.depth is None else said.depth)
    size = done.width if done.width is not None else (done.diameter or 0.0)
    wider = 0.0 if said.width is None else said.width - size
    deeper = reached - planned if done.depth is not None else min(0.0, reached - planned)
    if not any((edge, stop, deeper, wider)) and not heeded(said):
        message = (
            f"step {step.order} of {job.part.label} is a cutter's; say 'fence at', 'stop at',"
            " '12 deep', 'through' or '9 wide'"
        )
        raise WhatIfError(message)
    out = beyond if done.depth is not None and reached >= room - SAME else None
    change = Change(shift=shift(job, step, (edge, stop)), deeper=deeper, wider=wider)
    return PassOutcome(
        step=step,
        farther=(edge, stop),
        deeper=deeper,
        wider=wider,
        depth=reached,
        width=size + wider,
        left=None if done.depth is None else max(0.0, room - reached),
        out=out,
        meets=tuple(newly_met(job, feature, planned, change)),
        later=tuple(later(steps, step, feature)),
        fits=feature.made_by,
        mend=mend(job.part, out, (edge, stop), (deeper, wider)),
    )


def heeded(said: Said) -> bool:
    """Tell whether something was said that can be set at a cutter."""
    return said.through or any(
        value is not None for value in (said.distance, said.stop, said.depth, said.width)
    )


def feature_of(job: Job, step: SetUp) -> tuple[Cutter, Pass]:
    """The feature that a step makes first, with its pass.

    Raises:
        WhatIfError: the part has it no more.
    """
    for feature in cutters(job.part):
        if str(feature.kind) != step.does:
            continue
        for piece in (job.blank, job.finished):
            done = cutter_pass(job, feature, mouth(job, feature, piece))
            if done == step.cutter:
                return feature, done
    message = f"step {step.order} of {job.part.label} makes nothing that the part still has"
    raise WhatIfError(message)


def moved(step: SetUp, done: Pass, said: Said) -> tuple[float, float]:
    """How much farther from the reference edge and from the stop the cut lies than planned."""
    along_stop = done.at[0]
    if step.distance is None:
        edge = 0.0 if said.distance is None else said.distance - done.at[1]
        return edge, 0.0 if said.stop is None else said.stop - along_stop
    if step.measured == FROM_EDGE:
        edge = 0.0 if said.distance is None else said.distance - step.distance
        return edge, 0.0 if said.stop is None else said.stop - along_stop
    asked = said.stop if said.stop is not None else said.distance
    return 0.0, 0.0 if asked is None else asked - step.distance


def shift(job: Job, step: SetUp, farther: tuple[float, float]) -> Vec:
    """How far the cut has moved, in part axes."""
    edge, stop = farther
    name = (step.table_face or "").removeprefix("stock.")
    lie = Lie(
        table=job.planes[name] if name in job.planes else job.floors[name],
        reference=job.plane(step.reference_edge or ""),
        stop=None if step.stop is None else job.plane(step.stop),
    )
    return add(scale(lie.across, edge), scale(lie.along, stop * lie.inward))


def to_the_other_side(job: Job, feature: Cutter) -> tuple[float, str]:
    """How far it is from the mouth to the other side of the wood (mm), and which face is there."""
    seat = feature.seat
    ways = [
        (-face.plane.height(seat.origin) / rate, face.name)
        for face in job.finished.faces
        if (rate := dot(face.plane.normal, seat.into)) > SAME * 1e-3
    ]
    return min(ways)


def newly_met(job: Job, feature: Cutter, planned: float, change: Change) -> list[str]:
    """What a cut runs into now and would not have as planned."""
    right, wrong = (list(boxes(feature, planned, one)) for one in (Change(), change))
    found = []
    for other in cutters(job.part):
        if other.id == feature.id or entered(job, other)[0] == f"{feature.id}.floor":
            continue  # what starts on its floor goes along with it
        own = deep(job, other)
        there = list(
            boxes(other, own if own is not None else to_the_other_side(job, other)[0], Change())
        )
        before, after = (
            any(a.meets(b) for a, b in product(those, there)) for those in (right, wrong)
        )
        if after and not before:
            found.append(other.id)
    return found


def later(steps: Sequence[SetUp], step: SetUp, feature: Cutter) -> list[str]:
    """The steps that start on its floor."""
    floor = f"{feature.id}.floor"
    return [
        f"step {other.order}, {other.does}"
        for other in steps
        if other.order > step.order and any(cut.table_face == floor for cut in other.cuts)
    ]


def mend(
    part: Part, out: str | None, farther: tuple[float, float], sizes: tuple[float, float]
) -> Mend:
    """What is done about it."""
    deeper, wider = sizes
    if out is not None and out in {part.show, *part.banded}:
        return Mend.REMAKE
    if any(abs(away) >= SAME for away in farther) or wider >= SAME or out is not None:
        return Mend.FILL
    if deeper >= SAME:
        return Mend.SLIP
    return Mend.CUT_AGAIN if min(deeper, wider) <= -SAME else Mend.NOTHING
