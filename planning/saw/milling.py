"""The first and the last of a part: the squared blank, and what is trimmed once it is glued."""

from collections.abc import Iterator

from models.parts.blank import Section
from models.parts.part import PartKind, Stage
from planning.machines import BY_HAND, SAWN, Limit, Tool, over
from planning.saw.care import MANUAL, for_tool
from planning.saw.job import Job
from planning.saw.limits import limits
from planning.saw.records import Expect, SetUp
from planning.saw.settings import Setting, setting
from planning.saw.ways import measured
from planning.saw.words import fence_side, offcut_side

SIDES = ("length", "width", "thickness")

BOARD, SHEET = "mill the board square", "saw to size from the sheet"
ROD, TENON_STOCK = "cut the rod to length", "mill tenon stock, round its edges"
TAPE = "cut the tape to length"

ROUND_SIDES = {
    Section.SQUARED: SIDES,
    Section.ROUND: ("length", "diameter"),
    Section.ROUND_EDGED: SIDES,
}

ACROSS = 1.0
"""Two diagonals of a squared part may differ by this (mm). Common practice, no source."""


def beyond_of_blank(job: Job) -> tuple[Limit, ...]:
    """The limits of the machine that squares it that the blank goes over."""
    size = job.part.blank
    if job.part.kind is PartKind.LUMBER and job.squared:
        widest = job.machines.planer.widest
        return (
            *over(Tool.PLANER.value, "takes boards as wide as", size.width / size.staves, widest),
        )
    if job.sheet and sheet_saw(job) is Tool.HAND_SAW:
        saw, longest = job.machines.table_saw, max(size.length, size.width)
        return (
            *over(Tool.TABLE_SAW.value, "a sheet part is fed up to", longest, saw.largest),
            *over(Tool.TRACK_SAW.value, "the rails reach", longest, job.machines.track_saw.longest),
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
    tool, does = made_from(job)
    sides = SIDES if job.squared else ROUND_SIDES[job.part.blank.section]
    return SetUp(
        part=job.part.label,
        order=0,
        machine=tool,
        does=does,
        expect=tuple(
            Expect(what=name, at="stock", value=value)
            for name, value in zip(sides, job.milled, strict=False)
        ),
        note=milling_note(job, edgings, does),
        first_cut="" if tool in BY_HAND else "on scrap: fence and stop, a square on both faces",
        cautions=short(job, tool),
    )


def made_from(job: Job) -> tuple[Tool, str]:
    """What makes the blank, and what of."""
    if job.part.blank.section is Section.ROUND:
        return Tool.HAND_SAW, ROD
    if job.part.blank.section is Section.ROUND_EDGED:
        return Tool.PLANER, TENON_STOCK
    if job.thin:
        return Tool.BENCH, TAPE
    return (sheet_saw(job), SHEET) if job.sheet else (Tool.PLANER, BOARD)


def milling_note(job: Job, edgings: tuple[str, ...], does: str) -> str:
    """What to leave on and what to check."""
    blank = job.part.blank
    square = f"Both diagonals within {ACROSS:.0f} mm."
    glued = [
        f"{count} {name}, sawn over size," for count, name in
        ((blank.layers, "layers"), (blank.staves, "staves")) if count > 1
    ]  # fmt: skip
    first = f"Glue up {' and '.join(glued)} first. " if glued else ""
    if edgings:
        return (
            f"{first}Saw it over size, glue the edging on {' and '.join(edgings)}, flush it, then"
            f" part it square to size: no bevel before that. {square}"
        )
    if does == SHEET:
        return first + square
    if does == BOARD and job.part.kind is PartKind.LUMBER:
        left = job.left_rough
        return (
            f"{first}Rough it out {left.length:.0f} mm over in length, {left.width:.0f} mm in"
            f" width, {left.thickness:.0f} mm in thickness. Face, edge, thickness, width, then"
            " both ends square; let it rest before the last pass."
        )
    return (
        first
        + {
            BOARD: "Face, edge, thickness, width, then both ends square.",
            ROD: "One end square, a stop for the other; break both arrises.",
            TENON_STOCK: "Plane a long strip to thickness, round both edges, part it last.",
            TAPE: "Longer than its edge by a little at both ends; it is flushed on the panel.",
        }[does]
    )


def short(job: Job, tool: Tool) -> tuple[str, ...]:
    """With what care; a board too short for the planer is milled as part of a longer stick."""
    least = job.machines.planer.shortest
    long = job.part.blank.length
    if tool is not Tool.PLANER:
        return (MANUAL,) if tool in SAWN else ()
    if long >= least:
        return for_tool(tool, long)
    stick = (
        f"{long:.0f} mm is too short to go through the planer alone (from {least:.0f} mm): mill"
        " several as one stick and part them last."
    )
    return (stick, *for_tool(tool, long))


def trimmed(job: Job) -> Iterator[SetUp]:
    """What was left over, trimmed: flush, or to fit."""
    cuts = (
        ("right", ("bottom", "front", "left"), "length"),
        ("back", ("bottom", "front", None), "width"),
        ("top", ("front", "bottom", None), "thickness"),
    )
    for (face, named, what), left in zip(cuts, job.part.over, strict=True):
        if left > 0:
            made = setting(job.planes[face], job.lie(*named), job.kerf)
            yield trim(job, face, named, made, (what, left))


def trim(
    job: Job,
    face: str,
    named: tuple[str, str, str | None],
    made: Setting,
    left: tuple[str, float],
) -> SetUp:
    """One side trimmed to its final size."""
    table, reference, stop = named
    what, more = left
    tool = trimmer(job, face, named, made)
    fence = fence_side(tool, made, job.machines)
    return SetUp(
        part=job.part.label,
        order=0,
        machine=tool,
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
        note=f"{more:.1f} mm is left on until now; {reason(job)}",
        fence=fence,
        offcut=offcut_side(tool, made, 1.0, fence),
        first_cut="" if tool in BY_HAND else f"on scrap: {what} {made.distance:.1f} mm, square",
        cautions=for_tool(tool, job.part.blank.length),
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


def trimmer(job: Job, face: str, named: tuple[str, str, str | None], made: Setting) -> Tool:
    """What trims it: a saw that reaches, for a panel's width or any length; else a plane."""
    if job.part.kind is PartKind.EDGING or (face != "right" and not job.sheet):
        return Tool.HAND_PLANE
    cut = measured(job.blank, job.blank.by_name[face], job.lie(*named), made, sheet=job.sheet)
    saws = (Tool.GAUGE, Tool.TRACK_SAW) if face == "right" else (Tool.TABLE_SAW, Tool.TRACK_SAW)
    for tool in saws:
        asked = limits(tool, job.machines, cut)
        if asked == ():
            return tool
    return Tool.HAND_SAW if face == "right" else Tool.HAND_PLANE
