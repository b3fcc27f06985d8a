"""Specs and pieces that a check finds fault with, or just does not: one maker a fault."""

from dataclasses import replace
from typing import Any

from checks.placed import Piece, read
from ground.vectors import Frame, add
from models.parts.part import PartKind
from models.setting_out.piece import set_out
from specs.case import WallAnchor
from specs.loads import Loads
from specs.place import Held, Things, Way
from specs.spec import Spec
from tests.helpers.checked import case, made
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, changed, piece, spec


def example(name: str) -> Piece:
    """An example as it stands."""
    return read(piece(name), spec(name))


def loaded(asked: Spec, **forces: float) -> Spec:
    return asked.model_copy(update={"loads": Loads(**forces)})


def in_air(asked: Spec, dry: float, damp: float) -> Spec:
    shop = asked.shop.model_copy(update={"humidity": (dry, damp)})
    return asked.model_copy(update={"shop": shop})


def holding(**held: Any) -> Spec:
    keys = ("height", "width", "depth", "count", "mass", "opening")
    whole: dict[str, Any] = {**dict.fromkeys(keys), "what": Things.BOOKS, **held}
    shelves = made("shelves: {count: 1, material: panel, support: dado}")
    return loaded(shelves, shelf=200).model_copy(update={"holds": (Held.model_construct(**whole),)})


def going(**way: Any) -> Spec:
    sizes = {key: None for key in Way.model_fields if key != "base_off"}
    whole: dict[str, Any] = {**sizes, "base_off": False, **way}
    return spec(DEMO).model_copy(update={"way": Way.model_construct(**whole)})


def pushed(name: str, part: str, by: tuple[float, float, float]) -> Piece:
    """An example with the first copy of a part moved."""
    whole = piece(name)
    label = next(one.label for one in whole.parts if one.name.startswith(part) and one.made)
    first = whole.copies_of(label)[0].id
    copies = tuple(
        replace(
            one, placement=Frame(one.placement.x, one.placement.y, add(one.placement.origin, by))
        )
        if one.id == first
        else one
        for one in whole.copies
    )
    return read(replace(whole, copies=copies), spec(name))


def thin_tenon(thickness: float) -> Spec:
    """Loose tenons of that thickness under a heavy piece on high legs."""
    joint = f"{{kind: loose tenon, thickness: {thickness:.1f}}}"
    return loaded(on_legs(leg=50, height=350, apron=90, joint=joint), top=2000)


def narrower(by: float) -> Piece:
    """The demo with its middle opening narrower than its fronts were made for."""
    whole = piece(DEMO)
    openings = tuple(
        replace(one, width=one.width - by) if one.id == "2" else one for one in whole.openings
    )
    return read(replace(whole, openings=openings), spec(DEMO))


def solid_bottom(asked: Spec) -> Piece:
    whole = set_out(asked)
    parts = tuple(
        replace(part, kind=PartKind.LUMBER, material="oak") if part.name == "bottom" else part
        for part in whole.parts
    )
    return read(replace(whole, parts=parts), asked)


def without_base() -> Piece:
    whole = piece(DEMO)
    copies = tuple(copy for copy in whole.copies if copy.group[0] != "base")
    return read(replace(whole, copies=copies), spec(DEMO))


def cup(depth: float) -> Spec:
    return changed(DEMO, ("closing: free}", f"closing: free, cup_depth: {depth:g}}}"))


def opens(degrees: float, *, pulled: bool = False) -> Spec:
    runner = "        runner: runner\n"
    pull = (runner, runner + "        pull: {kind: bar, holes: 440}\n")
    turn = ("opens_to: 110", f"opens_to: {degrees:g}")
    return changed(DEMO, pull, turn) if pulled else changed(DEMO, turn)


def door_gap(gap: float) -> Spec:
    doors = "count: 2, material: front-panel, gap: "
    return changed(DEMO, (f"{doors}2,", f"{doors}{gap:g},"))


RAIL = "rails: {under_top: {material: ash, height: 60, thickness: 18}}"


def chest(gap: float, *, rail: bool) -> Spec:
    return changed(CHEST, *([] if rail else [(RAIL, "rails: {}")]), ("gap: 3,", f"gap: {gap:g},"))


def shelf(force: float, *, panel: float = 18, pins: bool = True) -> Spec:
    support = "shelf pins" if pins else "dado"
    inside = f"shelves: {{count: 1, material: panel, support: {support}}}"
    return case(inside, panel=panel, loads=Loads(shelf=force, top=50))


def on_legs(
    inside: str = "open: true",
    *,
    length: float = 800,
    leg: float = 45,
    height: float = 200,
    apron: float = 70,
    joint: str = "{kind: loose tenon}",
    species: str = "white oak",
) -> Spec:
    base = (
        f"{{kind: straight legs, height: {height}, set_in: {{front: 10, back: 10, sides: 10}},"
        f" legs: {{material: oak, top: [{leg}, {leg}]}},"
        f" aprons: {{material: oak, height: {apron}, thickness: 22, set_back: 4,"
        f" joint: {joint}}}, fixing: {{kind: figure-eight fastener, count: 6}}}}"
    )
    size = f"{{length: {length}, height: 500, depth: 400}}"
    return made(inside, base=base, size=size, species=species)


def level(force: float, panel: float = 18) -> Spec:
    inside = (
        "{split: level, dividers: {material: panel, joint: dowel},"
        " into: [{size: 1 share, open: true}, {size: 1 share, open: true}]}"
    )
    return case(inside, panel=panel, loads=Loads(shelf=force, top=50))


def divided(thickness: float, force: float = 40_000) -> Spec:
    inside = (
        f"{{split: upright, dividers: {{material: oak, thickness: {thickness:g}, joint: dowel}},"
        " into: [{size: 1 share, open: true}, {size: 1 share, open: true}]}"
    )
    return loaded(made(inside, size="{length: 1400, height: 500, depth: 330}"), top=force)


def solid_divider(what: str) -> Spec:
    inside = (
        f"{{split: upright, dividers: {{material: {what}, joint: {{kind: dado, depth: 6}}}},"
        " into: [{size: 1 share, open: true}, {size: 1 share, open: true}]}"
    )
    return made(inside, size="{length: 700, height: 400, depth: 330}")


def drawers(species: str, gap: float = 2.00333, cut: str = "flat") -> Spec:
    inside = (
        "drawers: {heights: [1 share, 1 share],"
        f" front: {{material: oak, thickness: 20, gap: {gap}, cut: {cut}}},"
        " box: {material: panel, corner: butt},"
        " bottom: {material: thin, layers: 1, groove_depth: 6, up: 13}, runner: slide}"
    )
    return made(inside, size="{length: 500, height: 455.17, depth: 400}", species=species)


def framed(groove: float, dry: float, damp: float) -> Spec:
    """A framed door with a flat-sawn panel."""
    doors = (
        "doors: {kind: frame and panel, gap: 3, hinge: hinge, stop: block, pull: knob,"
        f" frame: {{material: oak, thickness: 20, stiles: 50, rails: 50, groove_depth: {groove:g},"
        " joint: {kind: loose tenon}}, panel: {material: oak, thickness: 10, cut: flat}}"
    )
    return in_air(made(doors, size="{length: 450, height: 500, depth: 330}"), dry, damp)


def door(height: float, panel: float = 25, hinges: int = 0) -> Spec:
    count = f", count: {hinges}" if hinges else ""
    size = f"{{length: 450, height: {height}, depth: 330}}"
    inside = "doors: {count: 1, material: panel, gap: 2, hinge: hinge, stop: block, pull: knob}"
    return made(inside, size=size, panel=panel, hinge=count)


def wide_door(density: float) -> Spec:
    inside = (
        "doors: {count: 1, material: oak, thickness: 40, gap: 2, hinge: hinge, stop: block,"
        " pull: knob}"
    )
    asked = made(inside, size="{length: 900, height: 300, depth: 330}", hinge=", count: 2")
    panel = asked.materials["panel"].model_copy(update={"density": density})
    return asked.model_copy(update={"materials": {**asked.materials, "panel": panel}})


def blockboard() -> Spec:
    """The bedside cabinet of a sheet of which no stiffness is known."""
    return changed(
        BEDSIDE,
        (
            "core: veneer plywood, face: black cherry, thickness: 3/4",
            "core: blockboard, density: 500, thickness: 3/4",
        ),
    )


def set_back(front: float) -> Spec:
    base = (
        f"{{kind: plinth, height: 60, set_in: {{front: {front:g}, back: 10, sides: 10}},"
        " material: panel, fixing: {kind: screw block, count: 4}}"
    )
    return made("open: true", base=base, size="{length: 800, height: 500, depth: 450}")


def travel(mm: float, density: float | None = None) -> Spec:
    """The chest with runners of that travel; all its materials of one density."""
    asked = changed(CHEST, ("opens: pull}", f"opens: pull, travel: {mm:g}}}"))
    if density is None:
        return asked
    heavy = {
        key: one.model_copy(update={"density": density}) for key, one in asked.materials.items()
    }
    return asked.model_copy(update={"materials": heavy})


def tall(depth: float, height: float) -> Spec:
    return made("open: true", size=f"{{length: 800, height: {height:g}, depth: {depth:g}}}")


def anchored(asked: Spec, count: int = 2) -> Spec:
    case_ = asked.case.model_copy(update={"anchor": WallAnchor(count=count)})
    return asked.model_copy(update={"case": case_})
