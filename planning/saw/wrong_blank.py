"""What comes of a blank that was milled or sawn to another size, trimmed or eased too much."""

from dataclasses import dataclass

from ground.vectors import Plane, Vec, sub
from models.parts.blank import FACES
from planning.saw.heard import SAME, Said, WhatIfError
from planning.saw.job import Job
from planning.saw.records import SetUp
from planning.saw.room import room
from planning.saw.workpiece import block

SIDES = ("length", "width", "thickness")


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankOutcome:
    """What a blank lacks or has too much of, by its sides (mm).

    ``short`` is what the finished part lacks, ``over`` what is still to come off. ``moved`` is how
    far the finished part has to shift to lie inside a blank that came out small; None where it does
    not fit or need not.
    """

    step: SetUp
    short: Vec
    over: Vec
    moved: Vec | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOutcome:
    """A part trimmed, or an arris eased: ``what`` came out ``over`` its size (less than 0: under).

    ``again``: the same cut once more mends it.
    """

    step: SetUp
    what: str
    over: float
    again: bool


def wrong_blank(job: Job, step: SetUp, said: Said) -> BlankOutcome:
    """Say what a blank of another size means for the part.

    Raises:
        WhatIfError: no size was said, or it is rod or bought so.
    """
    told = (said.long, said.width, said.thick)
    if all(value is None for value in told):
        message = (
            f"step {step.order} of {job.part.label} makes the blank; say '204 long', '57.2 wide' or"
            " '19 thick'"
        )
        raise WhatIfError(message)
    got = [size if value is None else value for size, value in zip(job.milled, told, strict=True)]
    size: Vec = (got[0], got[1], got[2])
    far = {"right": size[0], "back": size[1], "top": size[2]}
    planes = {name: Plane(normal, far.get(name, 0.0)) for name, normal in FACES.items()}
    moved = room(block(planes, size), job.finished) if job.squared else None
    spans = [job.finished.span(axis) for axis in (FACES["right"], FACES["back"], FACES["top"])]
    needs: Vec = (spans[0][1] - spans[0][0], spans[1][1] - spans[1][0], spans[2][1] - spans[2][0])
    if not job.squared:
        needs = job.part.blank.size
    over = sub(size, job.milled)
    return BlankOutcome(
        step=step,
        short=positive(sub(needs, size)),
        over=positive(over),
        moved=moved if min(over) <= -SAME else None,
    )


def positive(found: Vec) -> Vec:
    """The numbers that a rule shows, and 0 for the others."""
    x, y, z = (value if value >= SAME else 0.0 for value in found)
    return (x, y, z)


def wrong_trim(job: Job, step: SetUp, said: Said) -> SizeOutcome:
    """Say what a trim or a round-over of another size means.

    Raises:
        WhatIfError: no size was said.
    """
    (check, *_) = step.expect
    if step.distance is None or step.makes_face is None or step.does == "chamfer":
        asked = said.radius if said.radius is not None else said.width
        if asked is None:
            message = f"step {step.order} of {job.part.label} eases edges; say 'radius 4'"
            raise WhatIfError(message)
        # the more is taken off, the less is left to put back
        return SizeOutcome(
            step=step, what=check.what, over=asked - check.value, again=asked < check.value
        )
    sizes = (said.distance, said.stop, said.long, said.width, said.thick)
    told = next((value for value in sizes if value is not None), None)
    if told is None:
        message = f"step {step.order} of {job.part.label} trims it; say 'stop at 412' or '57 wide'"
        raise WhatIfError(message)
    over = told - step.distance
    return SizeOutcome(step=step, what=check.what, over=over, again=over > 0)
