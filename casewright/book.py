"""The plan book of a build: its pictures asked for, its pages put together last."""

from dataclasses import replace
from typing import TYPE_CHECKING

from casewright.assembling import step_plan
from casewright.piece_files import write
from casewright.selection import PLAN_BOOK
from casewright.set_ups import planned
from casewright.sums import worked
from drawings.book.eyes import FRONT, Shown, arrows, corners, scene, spread
from drawings.book.tags import tags
from ground.vectors import ORIGIN
from models.parts.assembly import Assembly
from models.parts.part import PartKind
from models.parts.scenes import Drawn, Scene
from models.parts.views import Point

if TYPE_CHECKING:
    from casewright.works import Works
    from exporters.book.pages import Sheet
    from planning.steps.records import Step

COVER = "cover"
STEP_ROOM, COVER_ROOM = (84.0, 64.0), (170.0, 130.0)
"""How large the pictures are on the page (mm)."""


def scenes(works: "Works") -> tuple[Scene, ...]:
    """Every picture that the book wants."""
    small = (PartKind.LOOSE, PartKind.HARDWARE)
    kinds = {part.label: part.kind for part in works.assembly.parts}
    whole = tuple(c.id for c in works.assembly.copies if kinds[c.label] not in small)
    cover = Scene(name=COVER, standing=whole, right=FRONT[0], up=FRONT[1])
    return (
        cover,
        *(scene(shown(step, works.assembly), works.assembly) for step in step_plan(works)),
    )


def shown(step: "Step", assembly: Assembly) -> Shown:
    """What a step shows: parts that stand and wait are not marked."""
    joints = {joint.id: joint for joint in assembly.joints}
    waiting = tuple(move.copy for move in step.moves if move.way is None)
    return Shown(
        name=f"step-{step.order}",
        standing=(*step.standing, *waiting),
        moves=tuple(
            (move.copy, move.enters or move.way) for move in step.moves if move.way is not None
        ),
        from_below=step.turned,
        joined=tuple(dict.fromkeys(part for one in step.joints for part in joints[one].parts)),
    )


def write_book(works: "Works") -> None:
    """Write the book, when all that stands in it is known."""
    if PLAN_BOOK in works.wanted:
        write(works, PLAN_BOOK, book)


def book(works: "Works") -> bytes:
    """The whole book.

    Raises:
        BuildError: the pages cannot be set.
    """
    from checks.finish import finish
    from checks.placed import read
    from exporters.book.pages import Pages
    from exporters.plan_book import plan_book
    from planning.jigs.plan import jigs

    spec, assembly = works.checked.spec, works.assembly
    set_ups = planned(works).set_ups
    return plan_book(
        Pages(
            spec=spec,
            assembly=assembly,
            findings=works.findings,
            steps=step_plan(works),
            mass=whole_mass(works),
            box=works.bounds,
            sums=tuple(
                (f"{found.subject}, {found.what}", worked(found, spec.units))
                for found in assembly.sums
            ),
            finish=finish(read(made_of(works), spec)),
            cuts=works.cuts,
            set_ups=set_ups,
            jigs=jigs(spec, assembly, set_ups, step_plan(works)),
            pictures=pictures(works),
            sheets=sheets(works),
        )
    )


def made_of(works: "Works") -> Assembly:
    """The piece without what could not be made: of that no surface is known."""
    gone = {part.label for part in works.assembly.parts} - set(works.made)
    return replace(
        works.assembly,
        parts=tuple(part for part in works.assembly.parts if part.label not in gone),
        copies=tuple(copy for copy in works.assembly.copies if copy.label not in gone),
    )


def whole_mass(works: "Works") -> float:
    """What all parts weigh of which a mass is known (kg)."""
    from exporters.masses import mass

    assembly, materials = works.assembly, works.checked.spec.materials
    return sum(
        found * len(assembly.copies_of(part.label))
        for part in assembly.parts
        if part.label in works.made
        and (found := mass(part, works.made[part.label].measured.volume, materials))
    )


def pictures(works: "Works") -> dict[str, str]:
    """The scenes as they were drawn, with arrows for what moves."""
    from exporters.scene_svg import Marks, scene_svg

    found = {}
    if COVER in works.scenes:
        cover = works.scenes[COVER]
        found[COVER] = scene_svg(cover, COVER_ROOM, tint=coloured(works, cover))
    for step in step_plan(works):
        view = shown(step, works.assembly)
        drawn = works.scenes.get(view.name)
        if drawn is not None:
            marks = Marks(
                arrows=pointing(works, view, drawn.scene),
                tags=tags(view, drawn.scene, works.assembly),
            )
            found[view.name] = scene_svg(drawn, STEP_ROOM, marks)
    return found


def pointing(works: "Works", view: Shown, found: Scene) -> tuple[tuple[Point, Point], ...]:
    """The arrows of one step's picture."""
    away = dict(found.away)
    boxes = {
        name: corners(works.assembly, name, away.get(name, ORIGIN)) for name in led(works, view)
    }
    size = spread(works.assembly, (*found.standing, *found.moving))
    return arrows(view, found, boxes, size)


def led(works: "Works", view: Shown) -> tuple[str, ...]:
    """What an arrow is drawn for: loose pieces only where nothing else moves."""
    kinds = {part.label: part.kind for part in works.assembly.parts}
    labels = {copy.id: copy.label for copy in works.assembly.copies}
    moving = tuple(name for name, _ in view.moves)
    parts = tuple(name for name in moving if kinds[labels[name]] is not PartKind.LOOSE)
    return parts or moving


def coloured(works: "Works", drawn: Drawn) -> str:
    """The colours under a picture of what stands."""
    from exporters.scene_svg import extent
    from exporters.tint import Tinted, Window, tint

    copies = {copy.id: copy for copy in works.assembly.copies}
    low, high = extent(drawn)
    return tint(
        (
            Tinted(
                mesh=works.made[copies[name].label].mesh,
                placement=copies[name].placement,
                colour=works.looks[copies[name].label].colour,
            )
            for name in drawn.scene.standing
            if copies[name].label in works.made
        ),
        Window(low=low, high=high, right=drawn.scene.right, up=drawn.scene.up),
    )


def sheets(works: "Works") -> tuple["Sheet", ...]:
    """The drawings of the whole piece, then of every part made."""
    from casewright.shop_drawings import drawings_of, sheet_of, titled
    from drawings.paper import SIZES
    from exporters.book.pages import Sheet
    from exporters.sheet_svg import sheet_svg

    drawn = [
        (titled(path), "", works.sheets[path])
        for path in drawings_of(works.assembly)
        if path in works.sheets
    ]
    drawn += [
        (f"{part.label} {part.name}", part.label, sheet_of(works, part, works.made[part.label]))
        for part in works.assembly.parts
        if part.made and part.label in works.made
    ]
    return tuple(
        Sheet(title=title, label=label, picture=sheet_svg(one), size=SIZES[one.paper])
        for title, label, one in drawn
    )
