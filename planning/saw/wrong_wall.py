"""What a shoulder, a cheek or a socket's wall has become that was sawn or chopped off its line."""

from dataclasses import dataclass, replace

from models.parts.features import Waste
from planning.saw.bites import Wall, walls
from planning.saw.hand_pictures import lie_of
from planning.saw.heard import SAME, Said, WhatIfError
from planning.saw.job import Job
from planning.saw.records import SetUp
from planning.saw.settings import cut_of, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class WallOutcome:
    """What of a wall is not where it should be (mm); 0 where nothing is.

    ``missing`` is wood gone beyond its line, ``left_on`` wood that still stands on it, ``deeper``
    how much too high the blade stood (less than 0: too low). ``fits`` names the joint.
    """

    step: SetUp
    missing: float
    left_on: float
    deeper: float
    fits: str


def wrong_wall(job: Job, step: SetUp, said: Said) -> WallOutcome:
    """Say what ``said`` at one wall makes of the joint.

    Raises:
        WhatIfError: nothing that was said can be set there.
    """
    wall = wall_of(job, step)
    asked = said.distance if said.distance is not None else said.stop
    if asked is None and said.tilt is None and said.mitre is None and said.depth is None:
        message = (
            f"step {step.order} of {job.part.label} saws a joint's walls; say 'fence at', 'stop"
            " at', '7 deep' or the degrees"
        )
        raise WhatIfError(message)
    lie, kerf = lie_of(job, step), step.kerf or 0.0
    made = setting(wall.plane, lie, kerf)
    got = cut_of(
        replace(
            made,
            distance=made.distance if asked is None else asked,
            tilt=made.tilt if said.tilt is None else said.tilt,
            mitre=made.mitre if said.mitre is None else said.mitre,
        ),
        lie,
        kerf,
    )
    off = [got.height(corner) for corner in wall.face.corners]
    high = step.depth
    return WallOutcome(
        step=step,
        missing=max(0.0, *off) if max(off) >= SAME else 0.0,
        left_on=max(0.0, *(-value for value in off)) if min(off) <= -SAME else 0.0,
        deeper=0.0 if said.depth is None or high is None else said.depth - high,
        fits=wall.waste.made_by,
    )


def wall_of(job: Job, step: SetUp) -> Wall:
    """The wall that a step makes first.

    Raises:
        WhatIfError: the part has it no more.
    """
    for feature in job.part.features:
        if isinstance(feature, Waste):
            for wall in walls(feature, job.finished):
                if f"{feature.id}.{wall.name}" == step.makes_face:
                    return wall
    message = f"step {step.order} of {job.part.label} makes nothing that the part still has"
    raise WhatIfError(message)


def is_wall(job: Job, step: SetUp) -> bool:
    """Tell whether a step saws the walls of a joint."""
    stem = (step.makes_face or "").rpartition(".")[0]
    return any(isinstance(f, Waste) and f.id == stem for f in job.part.features)
