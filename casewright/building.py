"""Build the package: solids in processes of their own, everything else written meanwhile."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from casewright import kernel
from casewright.assembling import step_plan
from casewright.checking import Checked, check
from casewright.cut_plans import cut_plan
from casewright.part_files import write_part
from casewright.piece_page import no_page, write_page
from casewright.progress import Progress
from casewright.selection import (
    ASSEMBLY_DRAWING,
    EXPLODED_DRAWING,
    OPENINGS_DRAWING,
    PAGE,
    PLAN_BOOK,
    every_path,
    selected,
)
from casewright.set_ups import planned
from casewright.shop_drawings import (
    drawing_ended,
    drawings_of,
    shown_on,
    submit_part_drawings,
    submit_sheet,
    wants_drawings,
    written,
)
from casewright.version import version
from casewright.workers import Ended, Failure, Job, Started, StartError, Workers
from casewright.works import Works
from ground.findings import Finding, Severity
from ground.tolerances import CLASH_VOLUME
from models.parts.assembly import Assembly
from models.parts.part import Part, PartKind

if TYPE_CHECKING:
    from models.solids.records import Clash, Made

PROCESSES = 2
"""Kernel processes; a third core is kept busy by the writers."""

STANDS_ON = ("glide", "leveller")
"""Fittings that count in the piece's outside size, by the first word of their names."""

WANTED_LIBRARIES = (
    "on Linux it wants libGL and libXrender (Debian: libgl1 libxrender1; Fedora: mesa-libGL"
    " libXrender)"
)

STEP, BOUNDS, WHOLE, CLASHES = "piece.step", "bounds", "whole", "clashes"
SCENES = ("scenes", "more scenes")
ROD = "the setting-out rod"
PICTURE = "picture"
"""Keys of the jobs that are about the whole piece."""


def sheet_jobs(assembly: Assembly) -> dict[str, Job]:
    """The sheets of the whole piece, and what the kernel draws for each."""
    drawn: dict[str, Job] = {
        ASSEMBLY_DRAWING: kernel.draw_piece,
        EXPLODED_DRAWING: kernel.draw_exploded,
        OPENINGS_DRAWING: kernel.draw_openings,
    }
    return {path: drawn.get(path, kernel.draw_groups) for path in drawings_of(assembly)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What a build has to say, and how many files it wrote."""

    findings: tuple[Finding, ...]
    files: int


def build(
    spec: Path, out: str, *, only: tuple[str, ...] = (), progress: Progress | None = None
) -> Result:
    """Build the package of the spec at ``spec`` into the folder ``out``.

    Raises:
        SpecError: the text cannot be used, or no piece can be set out from it.
        PackageError: the folder cannot be used, or ``only`` names nothing there is.
        StartError: the kernel cannot be loaded.
    """
    from exporters.package import target

    place = target(out, spec)
    checked = check(spec)
    try:
        with Workers(PROCESSES, prepare=kernel.prepare) as workers:
            return build_with(workers, checked, place, only, progress or Progress(None))
    except StartError as error:
        message = f"the CAD kernel cannot be loaded: {error}; {WANTED_LIBRARIES}"
        raise StartError(message) from error


def build_with(
    workers: Workers, checked: Checked, place: Path, only: tuple[str, ...], progress: Progress
) -> Result:
    """Build the package at ``place``: what can be worked out while the kernel loads comes first.

    Raises:
        PackageError: the folder cannot be used, or ``only`` names nothing there is.
        StartError: the kernel cannot be loaded.
    """
    from exporters.looks import looks
    from exporters.masses import surface
    from exporters.names import file_names
    from exporters.package import staged

    assembly = checked.assembly
    names = file_names([(part.label, part.name) for part in assembly.parts if part.made])
    cuts = cut_plan(checked, progress)
    stock = [piece.id for piece in cuts.stock]
    wanted = selected(only, every_path(names.values(), stock, drawings_of(assembly)))
    seen = {key: surface(material) for key, material in checked.spec.materials.items()}
    with staged(place) as stage:
        works = Works(
            checked=checked,
            stage=stage,
            wanted=writable(wanted),
            names=names,
            looks=looks(assembly, seen),
            cuts=cuts,
            known=(*checked.findings, *cuts.findings, *missing(wanted), *no_page(wanted)),
        )
        make_parts(works, workers, progress)
        finish_piece(works, workers, progress)
        return Result(findings=works.findings, files=write_record(works))


def writable(wanted: frozenset[str]) -> frozenset[str]:
    """What of ``wanted`` can be written on this machine."""
    from exporters.threemf import available

    if available():
        return wanted
    return frozenset(path for path in wanted if not path.endswith(".3mf"))


def missing(wanted: frozenset[str]) -> list[Finding]:
    """Say what of ``wanted`` this machine cannot write."""
    from exporters.threemf import why_not

    reason = why_not()
    if reason is None or not any(path.endswith(".3mf") for path in wanted):
        return []
    return [
        Finding(
            code="package.no_3mf",
            severity=Severity.NOTE,
            subject="3MF",
            message=f"no 3MF file is written: {reason}",
        )
    ]


def make_parts(works: Works, workers: Workers, progress: Progress) -> None:
    """Make every part and write its files as it comes; the longest work first."""
    parts = {part.label: part for part in works.assembly.parts}
    progress.expect(len(parts))
    for part in sorted(parts.values(), key=lambda part: -weight(part)):
        step = works.files_of(part).get("step")
        where = None if step is None else works.stage.place(step)
        colour = works.looks[part.label].colour
        workers.submit(part.label, kernel.make_part, part, colour, where)
    for event in workers.events():
        part = parts[event.key]
        match event:
            case Started():
                progress.in_hand(f"{part.label} {part.name}")
            case Ended(failure=Failure() as failure):
                progress.done()
                not_made(works, part, failure)
            case Ended(value=made):
                progress.done()
                works.made[part.label] = made
                write_part(works, part, made)


def weight(part: Part) -> int:
    """How much work a part is, roughly: its cuts, each hole of a row by itself."""
    return len(part.cuts())


def not_made(works: Works, part: Part, failure: Failure) -> None:
    """Keep that a part could not be made, with the cut where that is known."""
    step = works.files_of(part).get("step")
    if step is not None:
        works.stage.place(step).unlink(missing_ok=True)  # half written, perhaps
    cut = f" at {failure.cut}" if failure.cut else ""
    works.fail(
        f"{part.label} {part.name}",
        f"the solid cannot be made{cut}: {failure.reason}; its files are missing",
        code="make.solid",
        copies=tuple(copy.id for copy in works.assembly.copies_of(part.label)),
    )


def finish_piece(works: Works, workers: Workers, progress: Progress) -> None:
    """Write the files of the whole piece."""
    from casewright.book import write_book
    from casewright.full_size import write_templates
    from casewright.piece_files import write_piece_files

    if works.made:
        submit_piece(works, workers)
    progress.in_hand("the whole piece")
    write_piece_files(works)
    write_templates(works)
    for event in workers.events():
        if isinstance(event, Started):
            continue
        if event.key.startswith(written("")):
            drawing_ended(works, event.key, event.failure)
        elif event.failure is not None:
            piece_failed(works, event.key, event.failure)
            if event.key == WHOLE:
                submit_part_drawings(works, workers)
        else:
            take(works, workers, event.key, event.value)
    write_page(works)
    write_book(works)


def take(works: Works, workers: Workers, key: str, value: Any) -> None:
    """Keep what the kernel gives back of the whole piece."""
    from casewright.full_size import write_rod

    if key == BOUNDS:
        works.bounds = value
    elif key == ROD:
        write_rod(works, value)
    elif key == WHOLE:
        works.whole = value
        submit_part_drawings(works, workers)
    elif key in drawings_of(works.assembly):
        submit_sheet(works, workers, key, value)
    elif key == CLASHES:
        works.failed += clash_findings(works.assembly, value)
    elif key == PICTURE:
        works.picture = value
    elif key in SCENES:
        works.scenes |= {drawn.scene.name: drawn for drawn in value}


def submit_piece(works: Works, workers: Workers) -> None:
    """Hand over what only the kernel can do with the whole piece."""
    # the views of each part are many small records, slow to hand over and not needed there
    made = {label: replace(made, views=()) for label, made in works.made.items()}
    if wants_drawings(works):
        workers.submit(WHOLE, kernel.draw_whole, works.assembly, made)
    if STEP in works.wanted:
        breps = {label: part.brep for label, part in made.items()}
        colours = {label: look.colour for label, look in works.looks.items()}
        path = works.stage.place(STEP)
        workers.submit(STEP, kernel.write_piece, works.assembly, breps, colours, path)
    for name, draw in sheet_jobs(works.assembly).items():
        if {name, PLAN_BOOK} & works.wanted:
            shown = shown_on(works.assembly, name)
            workers.submit(name, draw, works.assembly, made, *((shown,) if shown else ()))
    submit_paper(works, workers, made)
    if PAGE in works.wanted:
        workers.submit(PICTURE, kernel.draw_page, works.assembly, made)
    workers.submit(CLASHES, kernel.find_clashes, works.assembly, made)
    standing = {
        part.label: made[part.label]
        for part in works.assembly.parts
        if part.label in made and stands(part)
    }
    if standing:
        workers.submit(BOUNDS, kernel.measure_piece, works.assembly, standing)


def submit_paper(works: Works, workers: Workers, made: Mapping[str, "Made"]) -> None:
    """Hand over the pictures of the book, half to either process, and the cuts of the rod."""
    from casewright.full_size import wants_rod
    from drawings.rod import cuts

    if wants_rod(works):
        workers.submit(ROD, kernel.cut_rod, works.assembly, made, cuts(works.assembly))
    if PLAN_BOOK not in works.wanted:
        return
    from casewright.book import scenes

    wanted = sorted(scenes(works), key=lambda one: -len(one.standing) - len(one.moving))
    for key, half in zip(SCENES, (wanted[::2], wanted[1::2]), strict=True):
        workers.submit(key, kernel.draw_scenes, works.assembly, made, tuple(half))


def stands(part: Part) -> bool:
    """Tell whether a part counts in the outside size: fittings do not, but what it stands on."""
    return part.kind is not PartKind.HARDWARE or part.name.split()[0] in STANDS_ON


def clash_findings(assembly: Assembly, clashes: Iterable["Clash"]) -> list[Finding]:
    """Say of every two copies that share more than noise that they do."""
    names = {copy.id: f"{copy.id} {assembly.part(copy.label).name}" for copy in assembly.copies}
    return [
        Finding(
            code="fit.clash",
            severity=Severity.ERROR,
            subject=f"{names[clash.first]} and {names[clash.second]}",
            message="share space in the closed piece: one of them has a cut too little",
            copies=(clash.first, clash.second),
            value=clash.volume,
            limit=CLASH_VOLUME,
            unit="mm3",
            source="the solids themselves",
        )
        for clash in clashes
        if clash.volume > CLASH_VOLUME
    ]


def piece_failed(works: Works, key: str, failure: Failure) -> None:
    """Keep that something about the whole piece could not be done."""
    if key == STEP:
        works.stage.place(STEP).unlink(missing_ok=True)
    what = {
        STEP: "piece.step",
        BOUNDS: "the outside size",
        WHOLE: "the picture of the whole",
        **{path: path for path in drawings_of(works.assembly)},
        CLASHES: "the search for clashes",
        PICTURE: "piece.html",
        ROD: ROD,
    }.get(key, "the pictures of the plan book")
    works.fail(works.assembly.name, f"{what} cannot be made: {failure.reason}", code="make.piece")


def write_record(works: Works) -> int:
    """Write build.json last, over all that there is; give the number of files."""
    from exporters.package import RECORD
    from exporters.record import Built, record

    listed = works.stage.files()
    built = Built(
        version=version(),
        spec=works.checked.spec,
        assembly=works.assembly,
        measured={label: made.measured for label, made in works.made.items()},
        files=works.files,
        bounds=works.bounds,
        findings=works.findings,
        listed=listed,
        set_ups=planned(works).set_ups,
        steps=step_plan(works),
        cuts=works.cuts,
    )
    works.stage.write(RECORD, record(built))
    return len(listed) + 1
