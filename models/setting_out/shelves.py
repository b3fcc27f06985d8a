"""Shelves: loose on pins in rows of holes, or fixed in dados; clear of doors and of the back."""

from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import X, neg
from models.parts.assembly import HardwareLine
from models.parts.joints.dowel import rod
from models.setting_out.bench import Bench
from models.setting_out.door_numbers import door_thickness, hinges_at, pins_of, sinks_in
from models.setting_out.draft import Box, Draft
from models.setting_out.fittings import Bought, lay_fitting
from models.setting_out.numbers import Leaf
from models.setting_out.pin_rows import (
    about,
    clear_grid,
    hole_depth,
    levels,
    pin_holes,
    plate_holes,
    runs,
)
from models.setting_out.shelf_boards import (
    BEHIND_DOOR,
    ShelfRoom,
    asked_places,
    lay_shelf,
    shelf_room,
    shelves_at_hinges,
)
from models.setting_out.shelf_dados import in_dados
from models.setting_out.trouble import trouble
from specs.hardware import ShelfPins
from specs.shelves import Shelves, Support
from specs.spec import Spec

SIDE_PLAY: Final = 1.0
"""A loose shelf is this much short of the panel at each end (mm). Common practice, no source."""
REAR_ROW: Final = 32.0
"""The rear row stands at least this far before the shelf's rear edge (mm). Common practice, no
source."""
PIN_OUT: Final = 8.0
"""How far a pin stands out under its shelf (mm). From memory."""
FROM_HINGE: Final = 40.0
"""A shelf keeps this far above or below a hinge (mm). From memory: the arm of a cup hinge."""
BETWEEN: Final = 20.0
"""Shelves on pins stand this far apart at least (mm). Common practice, no source."""


def lay_shelves(bench: Bench, spec: Spec, leaf: Leaf) -> None:
    """Lay out the shelves of one opening, from the lowest up.

    Raises:
        SettingOutError: the numbers leave no room for them.
    """
    shelves = leaf.spec.shelves
    if shelves is None:
        return
    room = shelf_room(spec, leaf, shelves)
    match shelves.support:
        case Support.SHELF_PINS:
            _on_pins(bench, spec, leaf, shelves, room)
        case Support.DADO:
            in_dados(bench, spec, leaf, shelves, room)
    _too_near_the_door(bench, spec, leaf, room)


def _on_pins(bench: Bench, spec: Spec, leaf: Leaf, shelves: Shelves, room: ShelfRoom) -> None:
    """Loose shelves: holes first, then each shelf on the holes that it gets.

    Raises:
        SettingOutError: the rows have no place left for so many shelves.
    """
    pins = pins_of(spec, shelves)
    ys = rows_at(spec, leaf, pins, room)
    places = asked_places(leaf, shelves, room)
    wanted = tuple(leaf.box.lo[2] + at - pins.diameter / 2 for at in places)
    on_grid = shelves.places is None
    plate = next((at[2] for _, at in plate_holes(bench, leaf) if abs(at[1] - ys[0]) < 1.0), None)
    zs = levels(leaf, pins, plate) if on_grid else _own(wanted, pins)
    grid = clear_grid(bench, leaf, pins, (ys, zs), on_grid=on_grid)
    chosen = wanted
    if on_grid:
        good = tuple(z for z in grid.zs if not _at_hinge(spec, leaf, z, room))
        chosen = _nearest(good, wanted, room.whole)
        if len(chosen) < len(wanted):
            raise trouble((*leaf.path, "shelves", "count"), _too_many(leaf, chosen, wanted))
    if any(all(abs(z - free) > LENGTH_EPS for free in grid.zs) for z in chosen):
        _no_place(bench, leaf, chosen)
    shelves_at_hinges(bench, spec, leaf, chosen, room)
    kept = grid.zs if pins.holes is None else about(grid.zs, chosen, pins.holes)
    for run in runs(tuple({*kept, *chosen}), pins.pitch):
        for panel, hole in pin_holes(bench, leaf, pins, grid.ys, run):
            bench.cut(panel, (hole,))
    for number, z in enumerate(chosen, 1):
        low = z + pins.diameter / 2
        box = Box(
            (leaf.box.lo[0] + SIDE_PLAY, room.front, low),
            (leaf.box.hi[0] - SIDE_PLAY, room.rear, low + room.thick),
        )
        shelf = lay_shelf(bench, spec, leaf, (number, box), shelves)
        _pins(bench, leaf, shelf, pins, (z, grid.ys))


def _too_many(leaf: Leaf, chosen: tuple[float, ...], wanted: tuple[float, ...]) -> str:
    return (
        f"{len(wanted)} shelves are asked for and the rows of pins, clear of hinges and other "
        f"holes, have places for {len(chosen)} in an opening {leaf.box.size[2]:.1f} mm high; write "
        "fewer, or their places"
    )


def rows_at(spec: Spec, leaf: Leaf, pins: ShelfPins, room: ShelfRoom) -> tuple[float, float]:
    """Y of the front and the rear row: the front one from the door's inside, or the front edge.

    Worked: doors 20 thick, shelf to 410: 20 + 37 = 57, and 57 + 10 x 32 = 377, no further than
    410 - 32 = 378.
    """
    doors = leaf.spec.doors
    start = room.front if doors is None else door_thickness(spec, doors)
    front = min(start + pins.row, room.front + (room.rear - room.front) / 3)
    steps = max(1, int((room.rear - REAR_ROW - front) // pins.pitch))
    return (front, min(front + steps * pins.pitch, room.rear - pins.diameter))


def _own(wanted: tuple[float, ...], pins: ShelfPins) -> tuple[float, ...]:
    """The heights of written places, and one step above and below each where no other is near."""
    near = [
        z + step * pins.pitch
        for z in wanted
        for step in (-1, 1)
        if all(abs(z + step * pins.pitch - other) >= pins.pitch for other in wanted if other != z)
    ]
    return tuple(sorted({*wanted, *near}))


def _nearest(free: tuple[float, ...], wanted: tuple[float, ...], thick: float) -> tuple[float, ...]:
    """For each wanted height the nearest free one that leaves room between shelves ``thick``.

    Fewer than wanted where there are no more.
    """
    taken: list[float] = []
    for z in wanted:
        left = [hole for hole in free if all(abs(hole - it) >= thick + BETWEEN for it in taken)]
        if left:
            taken.append(min(left, key=lambda hole: (abs(hole - z), hole)))
    return tuple(sorted(taken))


def _at_hinge(spec: Spec, leaf: Leaf, z: float, room: ShelfRoom) -> bool:
    low, high = z - room.beyond[0], z + room.thick + room.beyond[1]
    return any(low - FROM_HINGE < hinge < high + FROM_HINGE for hinge in hinges_at(spec, leaf))


def _no_place(bench: Bench, leaf: Leaf, chosen: tuple[float, ...]) -> None:
    bench.find(
        Finding(
            code="drilling.holes_meet",
            severity=Severity.ERROR,
            subject=f"shelves of opening {leaf.id}",
            message="pins' holes meet others inside the panel at a height that a shelf wants; "
            "write other places, or less deep holes",
            copies=(leaf.left, leaf.right),
            at=(leaf.box.lo[0], leaf.box.lo[1], chosen[0]),
            source=COMMON_PRACTICE,
        )
    )


def _pins(
    bench: Bench,
    leaf: Leaf,
    shelf: Draft,
    pins: ShelfPins,
    where: tuple[float, tuple[float, float]],
) -> None:
    """Four pins under one shelf."""
    z, ys = where
    hands = ((leaf.left, leaf.box.lo[0], neg(X)), (leaf.right, leaf.box.hi[0], X))
    number = 0
    for panel, face, into in hands:
        depth = hole_depth(bench, panel, pins)
        for y in ys:
            number += 1
            end = (face + into[0] * depth, y, z)
            piece = rod("shelf pin", end, neg(into), (pins.diameter, depth + PIN_OUT))
            it = Bought(key=f"{shelf.key}/pin {number}", name=piece.name, group=shelf.group)
            lay_fitting(bench, it, piece.blank, piece.frame)
    bench.hardware.append(
        HardwareLine(
            name="shelf pin",
            quantity=number,
            size=f"{pins.diameter:g} mm",
            for_what=f"shelves of opening {leaf.id}",
        )
    )


def _too_near_the_door(bench: Bench, spec: Spec, leaf: Leaf, room: ShelfRoom) -> None:
    doors = leaf.spec.doors
    if doors is None:
        return
    reach = door_thickness(spec, doors) + sinks_in(spec, leaf)
    if room.front < reach - LENGTH_EPS:
        bench.find(
            Finding(
                code="fit.shelf_meets_door",
                severity=Severity.ERROR,
                subject=f"shelves of opening {leaf.id}",
                message=f"a shelf {room.front:.1f} mm behind the front plane meets the door, which "
                f"goes in to {reach:.1f} mm; set it back {reach + BEHIND_DOOR:.1f} mm",
                value=room.front,
                limit=reach,
                unit="mm",
                source=COMMON_PRACTICE,
            )
        )
