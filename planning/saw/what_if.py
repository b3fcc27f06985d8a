"""What a wrong setting or a wrong measure has made of a part, and the cut that saves it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from ground.errors import WorkError
from ground.vectors import Plane, Vec, add, cross, dot, meet, norm, scale
from planning.saw.fence import Slip, fence_cut, slips
from planning.saw.heard import Said
from planning.saw.job import STOCK, Job
from planning.saw.lie import Lie
from planning.saw.pictures import lie_of
from planning.saw.records import Expect, SetUp
from planning.saw.settings import HALF_SQUARE, Setting, cut_of, setting
from planning.saw.workpiece import Workpiece

SAME = 0.05
"""Less than a rule shows (mm)."""

TINY = 1e-9

DEEPEST, DEEPEST_SHARE = 3.0, 0.05
"""How much smaller a part may come out before it is made anew: mm, or a share of its size that way.
Common practice, no source."""


class WhatIfError(WorkError):
    """The question cannot be answered for this step; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescue:
    """The cut that saves the part, by its settings.

    ``moved``: the whole part shifts so far inside its blank (mm); ``deeper``: the face comes to lie
    so much deeper (mm), and the part is no longer ``whole``.
    """

    setting: Setting
    deeper: float
    moved: Vec | None
    whole: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What the part is now: lines that changed, wood missing, what is spoilt, what saves it."""

    step: SetUp
    got: Plane
    changed: tuple[Slip, ...]
    missing: float
    left_on: float
    spoils: tuple[str, ...]
    rescue: Rescue | None


def what_if(job: Job, steps: Sequence[SetUp], order: int, said: Said) -> Outcome:
    """Say what ``said`` at one step makes of the part.

    Raises:
        WhatIfError: the step is no planar cut, or what was measured cannot be found on it.
    """
    step, before = at_step(job, steps, order)
    wanted = job.planes[step.makes_face or ""]
    lie = lie_of(job, step)
    got = really_cut(job, step, before, lie, said)
    missing = max(0.0, *(got.height(corner) for corner in job.finished.corners))
    wrong = before.cut("cut", got)
    left_on = max(0.0, *(wanted.height(corner) for corner in wrong.corners))
    return Outcome(
        step=step,
        got=got,
        changed=tuple(s for s in slips(before, wanted, got) if abs(s.out) >= SAME),
        missing=missing if missing >= SAME else 0.0,
        left_on=left_on if left_on >= SAME else 0.0,
        spoils=spoils(job, steps, step) if missing >= SAME or left_on >= SAME else (),
        rescue=rescue(job, step, before, (wanted, got)),
    )


def at_step(job: Job, steps: Sequence[SetUp], order: int) -> tuple[SetUp, Workpiece]:
    """The step and the workpiece before it.

    Raises:
        WhatIfError: there is none, or it is no planar cut.
    """
    piece = job.blank
    for step in steps:
        cut = step.makes_face
        if step.order == order:
            if cut not in job.cuts:
                cuts = ", ".join(str(one.order) for one in steps if one.makes_face in job.cuts)
                message = f"step {order} of {job.part.label} is no saw cut; its saw cuts: {cuts}"
                raise WhatIfError(message)
            return step, piece
        if cut in job.cuts:
            piece = piece.cut(cut, job.planes[cut])
    message = f"{job.part.label} has no step {order}; it has 1 to {len(steps)}"
    raise WhatIfError(message)


def really_cut(job: Job, step: SetUp, before: Workpiece, lie: Lie, said: Said) -> Plane:
    """The plane that was really sawn.

    Raises:
        WhatIfError: what was measured is not found, or no cut measures so.
    """
    wanted = job.planes[step.makes_face or ""]
    made = setting(wanted, lie, job.kerf)
    if said.no_help:
        flat = job.lie(step.table_face or "", step.reference_edge or "", step.stop)
        naive = setting(fence_cut(wanted, flat), flat, job.kerf)
        made, lie = naive, flat
    if said.mitre is not None and made.mitre > HALF_SQUARE and said.mitre <= HALF_SQUARE:
        message = f"this cut runs along the edge at {made.mitre:.1f} degrees; write that mitre"
        raise WhatIfError(message)
    made = replace(
        made,
        tilt=made.tilt if said.tilt is None else said.tilt,
        mitre=made.mitre if said.mitre is None else said.mitre,
        distance=made.distance if said.distance is None else said.distance,
    )
    if said.tilt and made.tilt_to is None:
        message = "the blade stands upright here; a tilt needs the side it leant to"
        raise WhatIfError(message)
    got = cut_of(made, lie, job.kerf)
    return measured_cut(job, step, before, lie, (got, said)) if said.measured else got


def measured_cut(
    job: Job, step: SetUp, before: Workpiece, lie: Lie, told: tuple[Plane, Said]
) -> Plane:
    """The cut that measures as said, the other end as it should be; its tilt as it was set.

    Raises:
        WhatIfError: the place is not on this cut, or no cut measures so.
    """
    start, said = told
    goals: dict[frozenset[str], float] = {}
    for value, words in said.measured:
        found = place(job, step, words)
        goals[edge_of(found)] = value
    for check in step.expect:
        if len(goals) > 1 or check.what != "edge":
            break
        if (step.makes_face or "") not in edge_of(check):
            goals.setdefault(edge_of(check), check.value)
    return solved(before, start, lie.up, list(goals.items()))


def edge_of(check: Expect) -> frozenset[str]:
    """The two faces that a check lies between, by the blank's own names."""
    return frozenset(name.removeprefix(STOCK) for name in check.at.split(" / "))


def place(job: Job, step: SetUp, words: str) -> Expect:
    """The check that ``words`` mean.

    Raises:
        WhatIfError: none is there.
    """
    asked = {word for word in words.replace("/", " ").replace("meets", " ").split() if word}
    lines = [check for check in step.expect if check.what == "edge"]
    for check in lines:
        names = edge_of(check) | set(check.at.split(" / "))
        if asked <= names:
            return check
    there = "; ".join(check.at for check in lines)
    message = f"{job.part.label} step {step.order} has no line at {words!r}; it has {there}"
    raise WhatIfError(message)


def solved(
    before: Workpiece, start: Plane, up: Vec, goals: list[tuple[frozenset[str], float]]
) -> Plane:
    """Turn and shift a cut until the lines measure as they should (Newton's way).

    Raises:
        WhatIfError: it cannot be done.
    """
    pivot = before.cut("cut", start).by_name["cut"].middle

    def off(turn: float, shift: float) -> list[float]:
        piece = before.cut("cut", turned(start, up, pivot, turn, shift))
        return [(piece.length(*edge) or 0.0) - value for edge, value in goals]

    turn, shift, step = 0.0, 0.0, 1e-6
    for _ in range(30):
        here = off(turn, shift)
        if max(map(abs, here)) < TINY * 100:
            break
        d_shift = [(b - a) / step for a, b in zip(here, off(turn, shift + step), strict=True)]
        if len(goals) == 1:
            shift -= here[0] / d_shift[0] if d_shift[0] else 0.0
            continue
        d_turn = [(b - a) / step for a, b in zip(here, off(turn + step, shift), strict=True)]
        whole = d_turn[0] * d_shift[1] - d_turn[1] * d_shift[0]
        if abs(whole) < TINY:
            break
        turn -= (here[0] * d_shift[1] - here[1] * d_shift[0]) / whole
        shift -= (d_turn[0] * here[1] - d_turn[1] * here[0]) / whole
    if max(map(abs, off(turn, shift))) > SAME:
        message = "no straight cut measures so; is the place right?"
        raise WhatIfError(message)
    return turned(start, up, pivot, turn, shift)


def turned(plane: Plane, up: Vec, pivot: Vec, turn: float, shift: float) -> Plane:
    """A plane turned about the upright through ``pivot`` (radians), then shifted (mm)."""
    n = plane.normal
    across = cross(up, n)
    rise = scale(up, dot(up, n) * (1 - math.cos(turn)))
    normal = add(add(scale(n, math.cos(turn)), scale(across, math.sin(turn))), rise)
    found = Plane.through(pivot, normal)
    return Plane(found.normal, found.offset + shift)


def spoils(job: Job, steps: Sequence[SetUp], step: SetUp) -> tuple[str, ...]:
    """What leans on the face, or is measured from it, or goes into it."""
    face = step.makes_face
    found = []
    for other in steps:
        if other.order <= step.order:
            continue
        uses = {other.table_face, other.reference_edge, other.stop}
        if face in uses:
            how = (
                "goes into it"
                if other.cutter is not None and other.table_face == face
                else "is measured from it"
            )
            found.append(f"step {other.order}, {other.does} ({other.makes_face}), {how}")
    joints = {f.made_by for f in job.part.features if f.id == face}
    found += [f"whatever fits there by {name}" for name in sorted(joints)]
    return tuple(found)


def rescue(job: Job, step: SetUp, before: Workpiece, planes: tuple[Plane, Plane]) -> Rescue | None:
    """The cut that saves the part: as planned, or with the whole part moved, or deeper."""
    wanted, got = planes
    lie = lie_of(job, step)
    finished = job.finished
    missing = max(got.height(corner) for corner in finished.corners)
    if missing < SAME:
        return Rescue(setting=setting(wanted, lie, job.kerf), deeper=0.0, moved=None, whole=True)
    remaining = before.cut("got", got)
    moved = room(remaining, finished)
    if moved is not None:
        offset = wanted.offset + dot(wanted.normal, moved)
        plane = Plane(wanted.normal, offset)
        return Rescue(setting=setting(plane, lie, job.kerf), deeper=0.0, moved=moved, whole=True)
    face = finished.by_name.get(step.makes_face or "")
    if face is None:
        return None
    # the deepest place where wood is missing below the face wanted, measured square to it
    spoilt = remaining.by_name.get("got")
    if spoilt is None:
        return None
    depth = max(-wanted.height(corner) for corner in spoilt.corners)
    plane = Plane(wanted.normal, wanted.offset - depth)
    most = max(DEEPEST_SHARE * job.blank.size(wanted.normal), DEEPEST)
    if depth > most or remaining.cut("again", plane).gone:
        return None
    return Rescue(setting=setting(plane, lie, job.kerf), deeper=depth, moved=None, whole=False)


def room(remaining: Workpiece, finished: Workpiece) -> Vec | None:
    """The least shift that brings the finished part wholly into what is left; None: none does."""
    slack = [
        (
            face.plane.normal,
            face.plane.offset - max(dot(face.plane.normal, c) for c in finished.corners),
        )
        for face in remaining.faces
    ]
    best: Vec | None = None
    for three in combinations(slack, 3):
        planes = [Plane(normal, offset) for normal, offset in three]
        try:
            shift = meet(*planes)
        except ZeroDivisionError:
            continue
        if all(dot(normal, shift) <= offset + SAME / 10 for normal, offset in slack):
            best = shift if best is None or norm(shift) < norm(best) else best
    return best
