"""What a wrong setting or a wrong measure has made of a part, and the cut that saves it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ground.vectors import Plane, Vec, add, cross, dot, scale
from planning.saw.cuts import spoken
from planning.saw.fence import Slip, fence_cut, slips
from planning.saw.hand_pictures import lie_of
from planning.saw.heard import SAME, Said, WhatIfError
from planning.saw.job import STOCK, Job
from planning.saw.lie import Lie
from planning.saw.milling import BOARD, ROD, SHEET, TENON_STOCK
from planning.saw.records import Expect, SetUp
from planning.saw.room import room
from planning.saw.settings import HALF_SQUARE, Setting, cut_of, setting
from planning.saw.workpiece import Workpiece
from planning.saw.wrong_blank import BlankOutcome, SizeOutcome, wrong_blank, wrong_trim
from planning.saw.wrong_pass import PassOutcome, wrong_pass
from planning.saw.wrong_wall import WallOutcome, is_wall, wrong_wall

TINY = 1e-9

DEEPEST, DEEPEST_SHARE = 3.0, 0.05
"""How much smaller a part may come out before it is made anew: mm, or a share of its size that way.
Common practice, no source."""


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


Answer = Outcome | PassOutcome | WallOutcome | BlankOutcome | SizeOutcome
"""Closed: whoever tells an answer has an arm for each kind of step."""


def what_if(job: Job, steps: Sequence[SetUp], order: int, said: Said) -> Answer:
    """Say what ``said`` at one step makes of the part.

    Raises:
        WhatIfError: there is no such step, it cannot be set so, or what was measured cannot be
            found on it.
    """
    step = next((one for one in steps if one.order == order), None)
    if step is None:
        message = f"{job.part.label} has no step {order}; it has 1 to {len(steps)}"
        raise WhatIfError(message)
    if step.makes_face in job.cuts:
        return wrong_cut(job, steps, step, said)
    if step.cutter is not None:
        return wrong_pass(job, steps, step, said)
    if is_wall(job, step):
        return wrong_wall(job, step, said)
    if step.does in {BOARD, SHEET, ROD, TENON_STOCK}:
        return wrong_blank(job, step, said)
    return wrong_trim(job, step, said)


def wrong_cut(job: Job, steps: Sequence[SetUp], step: SetUp, said: Said) -> Outcome:
    """Say what ``said`` at a planar cut makes of the part.

    Raises:
        WhatIfError: it cannot be set so, or what was measured cannot be found on it.
    """
    before = before_step(job, steps, step)
    wanted = job.planes[step.makes_face or ""]
    lie = lie_of(job, step)
    got = really_cut(job, step, before, lie, said)
    missing = max(0.0, *(got.height(corner) for corner in job.finished.corners))
    wrong = before.cut("cut", got)
    left_on = max(0.0, *(wanted.height(corner) for corner in wrong.corners))
    return Outcome(
        step=step,
        got=got,
        changed=tuple(s for s in spoken(job, slips(before, wanted, got)) if abs(s.out) >= SAME),
        missing=missing if missing >= SAME else 0.0,
        left_on=left_on if left_on >= SAME else 0.0,
        spoils=spoils(job, steps, step) if missing >= SAME or left_on >= SAME else (),
        rescue=rescue(job, step, before, (wanted, got)),
    )


def before_step(job: Job, steps: Sequence[SetUp], step: SetUp) -> Workpiece:
    """The workpiece before a step."""
    piece = job.blank
    for other in steps:
        if other.order < step.order and other.makes_face in job.cuts:
            piece = piece.cut(other.makes_face, job.planes[other.makes_face])
    return piece


def really_cut(job: Job, step: SetUp, before: Workpiece, lie: Lie, said: Said) -> Plane:
    """The plane that was really sawn.

    Raises:
        WhatIfError: what was measured is not found, or no cut measures so.
    """
    wanted = job.planes[step.makes_face or ""]
    made = setting(wanted, lie, step.kerf or 0.0)
    asked = said.distance if said.distance is not None else said.stop
    if all(value is None for value in (asked, said.tilt, said.mitre)) and not (
        said.no_help or said.measured
    ):
        message = (
            f"step {step.order} of {job.part.label} is a cut right through; say the degrees, 'fence"
            " at', 'stop at' or what came out where"
        )
        raise WhatIfError(message)
    if said.no_help:
        flat = job.lie(step.table_face or "", step.reference_edge or "", step.stop)
        naive = setting(fence_cut(wanted, flat), flat, step.kerf or 0.0)
        made, lie = naive, flat
    if said.mitre is not None and made.mitre > HALF_SQUARE and said.mitre <= HALF_SQUARE:
        message = f"this cut runs along the edge at {made.mitre:.1f} degrees; write that mitre"
        raise WhatIfError(message)
    made = replace(
        made,
        tilt=made.tilt if said.tilt is None else said.tilt,
        mitre=made.mitre if said.mitre is None else said.mitre,
        distance=made.distance if asked is None else asked,
    )
    if said.tilt and made.tilt_to is None:
        message = "the blade stands upright here; a tilt needs the side it leant to"
        raise WhatIfError(message)
    got = cut_of(made, lie, step.kerf or 0.0)
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


LEG_ENDS = {"head": "left", "foot": "right"}
"""A leg lies with its head at its blank's left; one that ends square has no cut named so."""


def place(job: Job, step: SetUp, words: str) -> Expect:
    """The check that ``words`` mean.

    Raises:
        WhatIfError: none is there.
    """
    asked = {word for word in words.replace("/", " ").replace("meets", " ").split() if word}
    lines = [check for check in step.expect if check.what == "edge"]
    ends = LEG_ENDS if job.part.name.split()[0] == "leg" else {}
    for wanted in (asked, {ends.get(word, word) for word in asked}):
        for check in lines:
            if wanted <= edge_of(check) | set(check.at.split(" / ")):
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
        for cut in other.cuts:
            if face in {cut.table_face, cut.reference_edge, cut.stop}:
                into = cut.cutter is not None and cut.table_face == face
                how = "goes into it" if into else "is measured from it"
                found.append(f"step {other.order}, {other.does} ({cut.makes_face}), {how}")
    joints = {f.made_by for f in job.part.features if f.id == face}
    found += [f"whatever fits there by {name}" for name in sorted(joints)]
    return tuple(found)


def rescue(job: Job, step: SetUp, before: Workpiece, planes: tuple[Plane, Plane]) -> Rescue | None:
    """The cut that saves the part: as planned, or with the whole part moved, or deeper."""
    wanted, got = planes
    lie, kerf = lie_of(job, step), step.kerf or 0.0
    finished = job.finished
    missing = max(got.height(corner) for corner in finished.corners)
    if missing < SAME:
        return Rescue(setting=setting(wanted, lie, kerf), deeper=0.0, moved=None, whole=True)
    remaining = before.cut("got", got)
    moved = room(remaining, finished)
    if moved is not None:
        offset = wanted.offset + dot(wanted.normal, moved)
        plane = Plane(wanted.normal, offset)
        return Rescue(setting=setting(plane, lie, kerf), deeper=0.0, moved=moved, whole=True)
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
    return Rescue(setting=setting(plane, lie, kerf), deeper=depth, moved=None, whole=False)
