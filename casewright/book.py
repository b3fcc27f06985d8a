"""The plan book of a build: its pictures asked for, its pages put together last."""

from typing import TYPE_CHECKING

from casewright.assembling import step_plan
from casewright.piece_files import write
from casewright.selection import PLAN_BOOK
from casewright.set_ups import planned
from casewright.sums import worked
from drawings.book.eyes import FRONT, Shown, arrows, scene
from ground.vectors import Vec
from models.parts.part import PartKind
from models.parts.scenes import Drawn, Scene

if TYPE_CHECKING:
    from casewright.works import Works
    from planning.steps.records import Step

COVER = "cover"
STEP_ROOM, COVER_ROOM = (72.0, 58.0), (170.0, 130.0)
"""How large the pictures are on the page (mm)."""


def scenes(works: "Works") -> tuple[Scene, ...]:
    """Every picture that the book wants."""
    small = (PartKind.LOOSE, PartKind.HARDWARE)
    kinds = {part.label: part.kind for part in works.assembly.parts}
    whole = tuple(c.id for c in works.assembly.copies if kinds[c.label] not in small)
    cover = Scene(name=COVER, standing=whole, right=FRONT[0], up=FRONT[1])
    return (cover, *(scene(shown(step), works.assembly) for step in step_plan(works)))


def shown(step: "Step") -> Shown:
    """What a step shows: parts that stand and wait are not marked."""
    waiting = tuple(move.copy for move in step.moves if move.way is None)
    return Shown(
        name=f"step-{step.order}",
        standing=(*step.standing, *waiting),
        moves=tuple((move.copy, move.way) for move in step.moves if move.way is not None),
        from_below=step.turned,
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
    from exporters.book.content import Pages
    from exporters.masses import mass
    from exporters.plan_book import plan_book

    spec, assembly = works.checked.spec, works.assembly
    copies = {part.label: len(assembly.copies_of(part.label)) for part in assembly.parts}
    masses = [
        found * copies[part.label]
        for part in assembly.parts
        if part.label in works.made
        and (found := mass(part, works.made[part.label].measured.volume, spec.materials))
    ]
    return plan_book(
        Pages(
            spec=spec,
            assembly=assembly,
            findings=works.findings,
            steps=step_plan(works),
            mass=sum(masses),
            box=works.bounds,
            sums=tuple(
                (f"{found.subject}, {found.what}", worked(found, spec.units))
                for found in assembly.sums
            ),
            buying=works.cuts.purchases,
            layouts=layouts(works),
            set_ups=set_ups(works),
            pictures=pictures(works),
            sheets=sheets(works),
        )
    )


def pictures(works: "Works") -> dict[str, str]:
    """The scenes as they were drawn, with arrows for what moves."""
    from exporters.scene_svg import scene_svg

    found = {}
    if COVER in works.scenes:
        cover = works.scenes[COVER]
        found[COVER] = scene_svg(cover, COVER_ROOM, tint=coloured(works, cover))
    for step in step_plan(works):
        view = shown(step)
        drawn = works.scenes.get(view.name)
        if drawn is not None:
            corners = {name: box(works, name) for name in led(works, view)}
            marks = arrows(view, drawn.scene, corners, spread(works, drawn.scene))
            found[view.name] = scene_svg(drawn, STEP_ROOM, marks)
    return found


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


def box(works: "Works", copy: str) -> tuple[Vec, ...]:
    """The corners of a copy's blank in its place."""
    standing = next(one for one in works.assembly.copies if one.id == copy)
    length, width, thickness = works.assembly.part(standing.label).blank.size
    return tuple(
        standing.placement.point((x, y, z))
        for x in (0.0, length)
        for y in (0.0, width)
        for z in (0.0, thickness)
    )


def spread(works: "Works", found: Scene) -> float:
    """How large what a scene shows is: the longest side of its box (mm)."""
    points = [point for copy in (*found.standing, *found.moving) for point in box(works, copy)]
    sides = (
        max(point[axis] for point in points) - min(point[axis] for point in points)
        for axis in range(3 if points else 0)
    )
    return max(sides, default=0.0)


def sheets(works: "Works") -> tuple[tuple[str, str, tuple[float, float]], ...]:
    """The drawings of the whole piece, then of every part made: title, picture and paper."""
    from casewright.selection import PIECE_DRAWINGS
    from casewright.shop_drawings import sheet_of
    from drawings.paper import SIZES
    from exporters.sheet_svg import sheet_svg

    drawn = {
        path.removeprefix("drawings/").removesuffix(".dxf").capitalize(): works.sheets[path]
        for path in PIECE_DRAWINGS
        if path in works.sheets
    }
    for part in works.assembly.parts:
        if part.made and part.label in works.made:
            drawn[f"{part.label} {part.name}"] = sheet_of(works, part, works.made[part.label])
    return tuple((title, sheet_svg(one), SIZES[one.paper]) for title, one in drawn.items())


def layouts(works: "Works") -> tuple[tuple[str, str, str], ...]:
    """Every sheet and board as it is cut: its name, its material, its picture."""
    from exporters.stock_svg import stock_svg

    units = works.checked.spec.units
    return tuple(
        (piece.id, piece.material, stock_svg(piece, units).decode()) for piece in works.cuts.stock
    )


def set_ups(works: "Works") -> dict[str, tuple[tuple[str, ...], ...]]:
    """What is sawn of every part, in its order, as the book prints it."""
    from exporters.book.set_ups import row
    from planning.machines import SAWN

    units = works.checked.spec.units
    found: dict[str, list[tuple[str, ...]]] = {}
    for one in planned(works).set_ups:
        if one.machine not in SAWN:
            continue
        found.setdefault(one.part, []).append(row(one, units))
    return {label: tuple(rows) for label, rows in found.items()}
