"""What goes into the finished case: fittings, drawers, shelves, doors, and the fronts last."""

from collections.abc import Iterable, Mapping

import numpy as np

from ground.vectors import Vec, Y, Z, neg
from models.parts.directions import Parts
from models.parts.part import PartKind, Stage
from planning.steps.closing_steps import Order, home
from planning.steps.contact import touched
from planning.steps.parting import OPEN, Bench, in_the_way, passes
from planning.steps.records import Move, Step
from planning.steps.standing import standing_case
from planning.steps.sweeping import obstacles
from planning.steps.units import HINGES
from planning.steps.wording import called, counted

PILOTS = "Pilot holes from the drilling list; measure the fittings in hand first."
HANG = "Set the gaps with spacers, then drive the last screws."
TILT = "Tilt each shelf in from the front, above its pins, and let it down."
FRONTS = (
    "Fit each front to its opening with equal gaps; hold it with the screws in the slots, open the "
    "drawer, then drive the fixed ones."
)


def fit(order: Order, group: str | None, where: str, *, but: Parts = frozenset()) -> None:
    """Bought fittings that are not on yet, screwed to what they touch; ``but`` is not there yet."""
    piece = order.piece
    found = piece.bought(group)
    bare = (c for c in piece.copies.values() if c.id not in found)
    near = [c.id for c in bare if group in (None, c.group[0])]
    near = [c for c in near if (piece.copies[c].mover is None) == (group is None)]
    later = with_doors(order)
    waits = (copy for copy in found if copy not in order.there and copy not in later)
    hits = {copy: touched(order.bodies, copy, near) for copy in waits}
    hits = {copy: hit for copy, hit in hits.items() if hit is None or hit[0] not in but}
    copies = tuple(hits)
    if not copies:
        return
    what = called(piece.assembly, copies)
    carried = frozenset(hit[0] for hit in hits.values() if hit)
    bench = group is not None and not carried & order.placed
    waiting = piece.ordered(carried - order.there)
    order.add(
        Step(
            order=order.number(),
            title=f"{what[:1].upper()}{what[1:]} on",
            does=f"Screw {counted(piece.assembly, copies)} to {where}.",
            moves=(
                *(Move(copy=c, way=None) for c in waiting),
                *(Move(copy=c, way=hit[1] if hit else None) for c, hit in hits.items()),
            ),
            standing=piece.ordered(carried & order.there)
            if bench
            else standing_case(order, frozenset((*copies, *waiting))),
            note=PILOTS,
        )
    )
    if not bench:
        order.placed |= set(copies)


def with_edgings(order: Order, copies: Iterable[str]) -> tuple[str, ...]:
    """Copies and the edgings that are on them already."""
    mine = frozenset(copies)
    edgings = order.piece.edgings(Stage.NOW)
    carried = (e for e in edgings if e in order.carriers and order.carriers[e][0] in mine)
    return order.piece.ordered({*mine, *carried})


def put_in(
    order: Order,
    title: str,
    does: str,
    ways: Mapping[str, Vec | None],
    *,
    note: str = "",
    tilted: bool = False,
) -> None:
    """One step that brings whole things into the case, checked by sweeping.

    What is ``tilted`` in has no straight way but its last: only that is checked.
    """
    piece = order.piece
    copies = frozenset(ways)
    standing = frozenset(standing_case(order, copies))
    joints = [j for j in piece.assembly.joints if set(j.parts) & copies and set(j.parts) & standing]
    bench = Bench.of(joints, order.bodies, piece.volumes)
    wood = frozenset(c for c in standing if piece.part(c).kind is not PartKind.HARDWARE)

    def clear(copy: str, way: Vec) -> bool:
        # fittings are made to go into one another, and are known by the boxes around them only
        past = wood if piece.part(copy).kind is PartKind.HARDWARE else standing
        if tilted:
            return not in_the_way(frozenset({copy}), way, past, bench, OPEN)
        return passes(frozenset({copy}), way, past, bench)

    swept = all(clear(copy, way) for copy, way in ways.items() if way is not None)
    order.add(
        Step(
            order=order.number(),
            title=title,
            does=does,
            moves=tuple(
                Move(copy=copy, way=way, enters=Y if tilted and way == neg(Z) else None)
                for copy, way in ways.items()
            ),
            standing=piece.ordered(standing),
            note=note,
            swept=swept,
            joints=tuple(joint.id for joint in joints),
        )
    )
    order.placed |= set(copies)


def slide_in(order: Order, boxes: Iterable[Parts]) -> None:
    """Every drawer onto its runners."""
    piece = order.piece
    movers = {mover.id: mover for mover in piece.assembly.movers}
    names = [name for name, _ in piece.movers("drawers")]
    ways: dict[str, Vec | None] = {
        copy: neg(movers[name].axis)
        for name, box in zip(names, boxes, strict=True)
        for copy in piece.ordered(box & order.there)
        if copy not in order.carriers or order.carriers[copy][0] in box
    }
    if not ways:
        return
    one = len(names) == 1
    put_in(
        order,
        "Drawer in" if one else "Drawers in",
        f"Set {'the drawer' if one else f'the {len(names)} drawers'} on the runners and try the "
        "travel.",
        ways,
    )


def lay_shelves(order: Order) -> None:
    """Loose shelves on their pins."""
    piece = order.piece
    pins, shelves = piece.bought(None, pins=True), piece.shelves()
    if not shelves:
        return
    there = [c for c in piece.ordered(order.there) if c in piece.carcass()]
    lay = f"ay {counted(piece.assembly, shelves)} "
    put = f"Push {counted(piece.assembly, pins)} in and l{lay}on them." if pins else f"L{lay}in."
    what = called(piece.assembly, shelves)
    ways: dict[str, Vec | None] = {pin: pushed(order, pin, there) for pin in pins}
    put_in(
        order,
        f"{what[:1].upper()}{what[1:]} in",
        put,
        ways | dict.fromkeys(with_edgings(order, shelves), neg(Z)),
        note=TILT,
        tilted=True,
    )


def pushed(order: Order, pin: str, panels: Iterable[str]) -> Vec | None:
    """The way by which a pin goes into its panel: along itself."""
    hit = touched(order.bodies, pin, panels)
    if hit is None:
        return None
    axis = order.piece.copies[pin].placement.x
    towards = order.bodies[hit[0]].centre - order.bodies[pin].centre
    return axis if float(towards @ np.array(axis)) > 0 else neg(axis)


def door_ways(order: Order) -> dict[str, Vec]:
    """Every copy of every door and the way by which it comes to its hinges."""
    piece = order.piece
    own = {j.parts[-1]: home(j) for j in piece.assembly.joints if j.kind in HINGES}
    ways: dict[str, Vec] = {}
    for _, members in piece.movers("doors"):
        leading = next((own[copy] for copy in piece.ordered(members) if copy in own), Y)
        ways |= dict.fromkeys(piece.ordered(members), leading)
    return ways


def with_doors(order: Order) -> dict[str, Vec]:
    """Fittings of the case that a door brings along: on the case they would be in its way."""
    ways = door_ways(order)
    return {
        fitting: way
        for fitting in order.piece.bought(None)
        for way in dict.fromkeys(ways.values())
        if any(
            obstacles(order.bodies[copy], way, OPEN, (order.bodies[fitting],))
            for copy in ways
            if ways[copy] == way
        )
    }


def hang_doors(order: Order) -> None:
    """Doors on their hinges."""
    piece = order.piece
    doors = piece.movers("doors")
    hinged = [j for j in piece.assembly.joints if j.kind in HINGES]
    if not doors or not hinged:
        return
    leading = {joint.parts[-1] for joint in hinged}
    ways: dict[str, Vec | None] = {**door_ways(order), **with_doors(order)}
    kinds = ", ".join(dict.fromkeys(joint.kind for joint in hinged))
    put_in(
        order,
        "Door hung" if len(doors) == 1 else "Doors hung",
        f"Hang {counted(piece.assembly, [c for c in ways if c in leading])} ({kinds}).",
        ways,
        note=HANG,
    )


def fit_fronts(order: Order) -> None:
    """The show fronts of the drawers."""
    piece = order.piece
    fronts = piece.fronts()
    if not fronts:
        return
    own = {j.parts[-1]: home(j) for j in piece.assembly.joints if j.parts[-1] in fronts}
    one = len(fronts) == 1
    put_in(
        order,
        "Drawer front on" if one else "Drawer fronts on",
        f"Screw {counted(piece.assembly, fronts)} to the {'box' if one else 'boxes'}.",
        {copy: own.get(copy, Y) for copy in with_edgings(order, fronts)},
        note=FRONTS,
    )


def leftovers(order: Order) -> None:
    """Whatever no step has named yet."""
    piece = order.piece
    left = piece.ordered(frozenset(piece.copies) - order.there)
    if not left:
        return
    there = piece.ordered(order.there)
    hits = {copy: touched(order.bodies, copy, there) for copy in left}
    what = called(piece.assembly, left)
    order.add(
        Step(
            order=order.number(),
            title=f"{what[:1].upper()}{what[1:]} on",
            does=f"Fit {counted(piece.assembly, left)}.",
            moves=tuple(Move(copy=c, way=hit[1] if hit else None) for c, hit in hits.items()),
            standing=there,
        )
    )
