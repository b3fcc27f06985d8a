"""The first and the last of a part: the squared blank, and what is trimmed once it is glued."""

from collections.abc import Iterator

from models.parts.part import PartKind, Stage
from planning.machines import Limit, Tool, at_most
from planning.saw.care import MANUAL
from planning.saw.job import Job
from planning.saw.records import Expect, SetUp
from planning.saw.settings import Setting, setting

SIDES = ("length", "width", "thickness")

ACROSS = 1.0
"""Two diagonals of a squared part may differ by this (mm). Common practice, no source."""


def asked_of_blank(job: Job) -> tuple[Limit, ...]:
    """What the blank asks of the machine that squares it; nothing where it is bought so."""
    size = job.part.blank
    if job.part.kind is PartKind.LUMBER and job.squared:
        widest = job.machines.planer.widest
        return (
            at_most(Tool.PLANER.value, "takes boards as wide as", size.width / size.staves, widest),
        )
    if job.sheet and sheet_saw(job) is Tool.HAND_SAW:
        saw, longest = job.machines.table_saw, max(size.length, size.width)
        return (
            at_most(Tool.TABLE_SAW.value, "a sheet part is fed up to", longest, saw.largest),
            at_most(
                Tool.TRACK_SAW.value, "the rails reach", longest, job.machines.track_saw.longest
            ),
        )
    return ()


def sheet_saw(job: Job) -> Tool:
    """What saws a part out of the sheet: what is too large to feed lies still under a rail."""
    longest = max(job.part.blank.length, job.part.blank.width)
    saw, rail = job.machines.table_saw, job.machines.track_saw
    if saw.owned and longest <= saw.largest:
        return Tool.TABLE_SAW
    if rail.owned and longest <= rail.longest and job.part.blank.thickness <= rail.height:
        return Tool.TRACK_SAW
    return Tool.HAND_SAW


def milled(job: Job, edgings: tuple[str, ...]) -> SetUp:
    """The squared blank, with what is trimmed off later still on."""
    sheet = job.sheet
    size = job.milled
    return SetUp(
        part=job.part.label,
        order=0,
        machine=sheet_saw(job) if sheet else Tool.PLANER,
        does="saw to size from the sheet" if sheet else "mill the board square",
        expect=tuple(
            Expect(what=name, at="stock", value=value)
            for name, value in zip(SIDES, size, strict=True)
        ),
        note=milling_note(job, edgings),
        cautions=short(job),
    )


def milling_note(job: Job, edgings: tuple[str, ...]) -> str:
    """What to leave on and what to check."""
    if edgings:
        faces = " and ".join(edgings)
        return (
            f"Saw it over size, glue the edging on {faces}, flush it, then part it square to size:"
            f" no bevel before that. Both diagonals within {ACROSS:.0f}."
        )
    if job.sheet:
        return f"Both diagonals within {ACROSS:.0f}."
    return "Face, edge, thickness, width, then both ends square; rest it before the last pass."


def short(job: Job) -> tuple[str, ...]:
    """A board too short for the planer is milled as part of a longer stick."""
    least = job.machines.planer.shortest
    long = job.part.blank.length
    if job.sheet or long >= least:
        return () if job.sheet else (MANUAL,)
    stick = (
        f"{long:.0f} is too short to go through the planer alone (from {least:.0f}): mill several"
        " as one stick and part them last."
    )
    return (stick, MANUAL)


def trimmed(job: Job) -> Iterator[SetUp]:
    """What was left over, trimmed: flush, or to fit."""
    cuts = (
        ("right", ("bottom", "front", "left"), "length"),
        ("back", ("bottom", "front", None), "width"),
        ("top", ("front", "bottom", None), "thickness"),
    )
    for (face, named, what), over in zip(cuts, job.part.over, strict=True):
        if over > 0:
            made = setting(job.planes[face], job.lie(*named), job.kerf)
            yield trim(job, face, named, made, (what, over))


def trim(
    job: Job,
    face: str,
    named: tuple[str, str, str | None],
    made: Setting,
    left: tuple[str, float],
) -> SetUp:
    """One side trimmed to its final size."""
    table, reference, stop = named
    what, over = left
    return SetUp(
        part=job.part.label,
        order=0,
        machine=trimmer(job, what),
        does=f"trim to {what}",
        table_face=job.spoken(table),
        reference_edge=job.spoken(reference),
        stop=None if stop is None else job.spoken(stop),
        mitre=made.mitre,
        mitre_to=made.mitre_to,
        tilt=made.tilt,
        tilt_to=made.tilt_to,
        measured=made.measured,
        distance=made.distance,
        keeps=made.keeps,
        kerf=job.kerf,
        makes_face=face,
        expect=(
            Expect(what=f"{what} at one end", at=face, value=made.distance),
            Expect(what=f"{what} at the other end", at=face, value=made.distance),
        ),
        note=f"{over:.1f} is left on until now; {reason(job)}",
        cautions=(MANUAL,),
    )


def reason(job: Job) -> str:
    """Why it is trimmed only now."""
    if job.part.kind is PartKind.EDGING:
        return "half on each side of its panel: flush both."
    return {
        Stage.TO_FIT: "fit it to the place it goes.",
        Stage.AFTER_GLUE_UP: "measure the glued piece first.",
        Stage.FROM_HARDWARE: "measure the hardware first.",
        Stage.NOW: "trim it once it is glued.",
    }[job.part.stage]


def trimmer(job: Job, what: str) -> Tool:
    """What trims it."""
    if job.part.kind is PartKind.EDGING:
        return Tool.HAND_PLANE
    if what == "length":
        held = job.part.blank.length >= job.machines.table_saw.shortest_held
        return Tool.GAUGE if held and job.machines.table_saw.owned else Tool.HAND_SAW
    if job.sheet and job.machines.table_saw.owned:
        return Tool.TABLE_SAW
    return Tool.HAND_PLANE
