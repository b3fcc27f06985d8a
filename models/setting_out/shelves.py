"""Shelves: loose on pins in rows of holes, or fixed in dados; clear of doors and of the back."""

from dataclasses import dataclass
from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec, X, Y, Z, dot, neg, sub
from models.parts.assembly import HardwareLine
from models.parts.features import Channel, ChannelKind, Feature, Seat
from models.parts.joints.dowel import rod
from models.parts.joints.housing import housed
from models.parts.part import PartKind, Stage
from models.setting_out.bench import Bench
from models.setting_out.door_numbers import door_thickness, hinges_at, sinks_in
from models.setting_out.draft import Box, Draft
from models.setting_out.edging import Strip, edge
from models.setting_out.numbers import Leaf
from models.setting_out.pin_rows import about, clear_grid, hole_depth, levels, pin_holes, runs
from models.setting_out.stock import Board, Stock, board, thickness
from models.setting_out.trouble import trouble
from specs.edging import SolidEdging, TapeEdging
from specs.hardware import FittingKind, ShelfPins
from specs.shelves import Shelves, Support
from specs.spec import Spec

SIDE_PLAY: Final = 1.0
"""A loose shelf is this much short of the panel at each end (mm). Common practice, no source."""
BEHIND_DOOR: Final = 2.0
"""Room between a shelf and a door that is pushed in as far as it goes (mm): design rule."""
BEFORE_BACK: Final = 2.0
"""Room between a loose shelf and the back panel (mm). Common practice, no source."""
REAR_ROW: Final = 32.0
"""The rear row stands at least this far before the shelf's rear edge (mm). Common practice, no
source."""
PIN_OUT: Final = 8.0
"""How far a pin stands out under its shelf (mm). From memory."""
FROM_HINGE: Final = 40.0
"""A shelf keeps this far above or below a hinge (mm). From memory: the arm of a cup hinge."""
LEAST_BETWEEN: Final = 40.0
"""Shelves closer than this to one another, the floor or the ceiling hold nothing (mm). Common
practice, no source."""
DADO_SHARE: Final = 1 / 3
"""A dado is a third of its panel deep (check values 7.3)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfRoom:
    """Where the shelves of an opening lie in Y, edging included, and how thick they are (mm)."""

    front: float
    rear: float
    thick: float


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
            _in_dados(bench, spec, leaf, shelves, room)
    _too_near_the_door(bench, spec, leaf, room)


def shelf_room(spec: Spec, leaf: Leaf, shelves: Shelves) -> ShelfRoom:
    """Work out a shelf's depth.

    Worked: doors 20 thick that sink 3, back panel at 412: from 20 + 3 + 2 = 25 to 410, 385 deep.

    Raises:
        SettingOutError: nothing is left of it.
    """
    doors = leaf.spec.doors
    front = 0.0 if shelves.set_back is None else shelves.set_back
    if doors is not None and shelves.set_back is None:
        front = door_thickness(spec, doors) + sinks_in(spec, leaf) + BEHIND_DOOR
    loose = shelves.support is Support.SHELF_PINS
    rear = leaf.box.hi[1] - (BEFORE_BACK if loose else 0.0)
    edges = sum(edging.thickness for edging in _edgings(shelves).values())
    if rear - front - edges < LEAST_BETWEEN:
        message = (
            f"a shelf from {front:.1f} mm behind the front plane to the back panel at "
            f"{leaf.box.hi[1]:.1f} mm is {rear - front:.1f} mm deep; set it back less"
        )
        raise trouble((*leaf.path, "shelves", "set_back"), message)
    return ShelfRoom(
        front=front,
        rear=rear,
        thick=thickness(spec, shelves.material, shelves.thickness),
    )


def even_places(count: int, height: float, thick: float) -> tuple[float, ...]:
    """Undersides of ``count`` shelves that divide ``height`` evenly, from the floor up (mm).

    Worked: one shelf 18.6 thick in 412.8: (412.8 - 18.6) / 2 = 197.1.
    """
    clear = (height - count * thick) / (count + 1)
    return tuple(clear * (i + 1) + thick * i for i in range(count))


def asked_places(leaf: Leaf, shelves: Shelves, thick: float) -> tuple[float, ...]:
    """Undersides above the opening's floor, as written or even (mm).

    Raises:
        SettingOutError: a shelf does not fit, or two are too close.
    """
    height = leaf.box.size[2]
    if shelves.places is None:
        places = even_places(shelves.count or 1, height, thick)
        path = (*leaf.path, "shelves", "count")
    else:
        places = shelves.places
        path = (*leaf.path, "shelves", "places")
    edges = [0.0, *(bit for at in places for bit in (at, at + thick)), height]
    least = min(edges[i + 1] - edges[i] for i in range(0, len(edges), 2))
    if least < LEAST_BETWEEN:
        message = (
            f"leaves {least:.1f} mm above or below a shelf in an opening {height:.1f} mm high; "
            f"leave {LEAST_BETWEEN:.0f} mm at least"
        )
        raise trouble(path, message)
    return places


def _on_pins(bench: Bench, spec: Spec, leaf: Leaf, shelves: Shelves, room: ShelfRoom) -> None:
    """Loose shelves: holes first, then each shelf on the holes that it gets."""
    named = None if shelves.pins is None else spec.hardware[shelves.pins]
    pins = named if isinstance(named, ShelfPins) else ShelfPins(kind=FittingKind.SHELF_PINS)
    ys = rows_at(spec, leaf, pins, room)
    places = asked_places(leaf, shelves, room.thick)
    wanted = tuple(leaf.box.lo[2] + at - pins.diameter / 2 for at in places)
    on_grid = shelves.places is None
    grid = clear_grid(bench, leaf, pins, ys, levels(leaf, pins) if on_grid else _own(wanted, pins))
    chosen = wanted
    if on_grid:
        good = tuple(z for z in grid.zs if not _at_hinge(spec, leaf, z, room.thick))
        chosen = _nearest(good, wanted)
    if any(all(abs(z - free) > LENGTH_EPS for free in grid.zs) for z in chosen):
        _no_place(bench, leaf, chosen)
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
        shelf = _shelf(bench, spec, leaf, (number, box), shelves)
        _pins(bench, leaf, shelf, pins, (z, grid.ys))


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


def _nearest(free: tuple[float, ...], wanted: tuple[float, ...]) -> tuple[float, ...]:
    """For each wanted height the nearest free one that no shelf has yet; itself where none is."""
    taken: list[float] = []
    for z in wanted:
        left = [hole for hole in free if hole not in taken]
        taken.append(min(left, key=lambda hole: (abs(hole - z), hole)) if left else z)
    return tuple(sorted(taken))


def _at_hinge(spec: Spec, leaf: Leaf, z: float, thick: float) -> bool:
    return any(z - FROM_HINGE < hinge < z + thick + FROM_HINGE for hinge in hinges_at(spec, leaf))


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
            bench.put(
                Draft(
                    key=f"{shelf.key}/pin {number}",
                    letter="H",
                    name=piece.name,
                    group=shelf.group,
                    kind=PartKind.HARDWARE,
                    material=None,
                    blank=piece.blank,
                    frame=piece.frame,
                    made=False,
                )
            )
    bench.hardware.append(
        HardwareLine(
            name="shelf pin",
            quantity=number,
            size=f"{pins.diameter:g} mm",
            for_what=f"shelves of opening {leaf.id}",
        )
    )


def _in_dados(bench: Bench, spec: Spec, leaf: Leaf, shelves: Shelves, room: ShelfRoom) -> None:
    """Fixed shelves, housed in both panels; they begin no further forward than the panels do."""
    ends = ((leaf.left, leaf.box.lo[0], neg(X)), (leaf.right, leaf.box.hi[0], X))
    depths = tuple(
        shelves.dado_depth or bench.drafts[panel].blank.thickness * DADO_SHARE
        for panel, _, _ in ends
    )
    edging = _edgings(shelves)
    before = edging["front"].thickness if "front" in edging else 0.0
    start = max(room.front + before, *(_front_of(bench, panel) for panel, _, _ in ends))
    for number, at in enumerate(asked_places(leaf, shelves, room.thick), 1):
        low = leaf.box.lo[2] + at
        box = Box(
            (leaf.box.lo[0] - depths[0], start - before, low),
            (leaf.box.hi[0] + depths[1], room.rear, low + room.thick),
        )
        shelf = _shelf(bench, spec, leaf, (number, box), shelves)
        for (panel, face, into), depth in zip(ends, depths, strict=True):
            seat = Seat((face, start, low + room.thick / 2), Y, into)
            halves = housed(
                seat,
                length=room.rear - start,
                thickness=room.thick,
                depth=depth,
                closes=neg(into),
                made_by="shelves.dado_depth",
            )
            _opposed(bench, panel, (halves.second[0], face, depth), shelf.key)
            side = "left" if panel == leaf.left else "right"
            bench.join(f"{shelf.key}/dado {side}", shelf.key, panel, halves)


def _opposed(bench: Bench, panel: str, dado: tuple[Feature, float, float], subject: str) -> None:
    """Dados from both sides of one panel take no more than half of it together."""
    fresh, face, depth = dado
    draft = bench.drafts[panel]
    if not isinstance(fresh, Channel):
        return
    here = fresh.moved(draft.frame.inverse()).seat
    for there in draft.features:
        if not isinstance(there, Channel) or there.kind is not ChannelKind.DADO:
            continue
        opposite = dot(there.seat.into, here.into) < 0.0
        apart = abs(dot(sub(there.seat.origin, here.origin), here.across))
        both = depth + there.depth
        if (
            opposite
            and apart < (fresh.width + there.width) / 2
            and (both > draft.blank.thickness / 2 + LENGTH_EPS)
        ):
            bench.find(
                Finding(
                    code="joint.opposed_dados",
                    severity=Severity.WARNING,
                    subject=subject,
                    message=f"dados from both sides take {both:.1f} mm of a panel "
                    f"{draft.blank.thickness:.1f} mm thick; together at most half of it: move one, "
                    "or cut both less deep",
                    copies=(panel,),
                    at=(face, fresh.seat.origin[1], fresh.seat.origin[2]),
                    value=both,
                    limit=draft.blank.thickness / 2,
                    unit="mm",
                    source="common practice, no source (check values 7.3)",
                )
            )


def _front_of(bench: Bench, panel: str) -> float:
    """Y where a panel itself begins, behind its edging."""
    draft = bench.drafts[panel]
    corners = (draft.frame.point((0.0, 0.0, 0.0)), draft.frame.point(draft.blank.size))
    return min(corner[1] for corner in corners)


def _edgings(shelves: Shelves) -> dict[str, SolidEdging | TapeEdging]:
    if shelves.edging is None:
        return {}
    both = {"front": shelves.edging.front, "back": shelves.edging.back}
    return {name: edging for name, edging in both.items() if edging is not None}


def _shelf(bench: Bench, spec: Spec, leaf: Leaf, which: tuple[int, Box], shelves: Shelves) -> Draft:
    """One shelf that fills a box with its edging on; edging is as long as what shows of it."""
    number, box = which
    name = f"shelf {leaf.id}/{number}"
    edging = _edgings(shelves)
    near = edging["front"].thickness if "front" in edging else 0.0
    far = edging["back"].thickness if "back" in edging else 0.0
    (x0, y0, z0), (x1, y1, z1) = box.lo, box.hi
    shelf = bench.put(
        board(
            spec,
            Stock(letter="S", group=("shelves", name), stage=Stage.AFTER_GLUE_UP),
            Board(
                key=name,
                name="shelf",
                material=shelves.material,
                box=Box((x0, y0 + near, z0), (x1, y1 - far, z1)),
                length=X,
                up=Z,
                show="top",
            ),
        )
    )
    left, right = max(x0, leaf.box.lo[0]), min(x1, leaf.box.hi[0])
    rims: dict[str, tuple[float, float, Vec]] = {
        "front": (y0, y0 + near, neg(Y)),
        "back": (y1 - far, y1, Y),
    }
    for side, edge_of_side in edging.items():
        low, high, outward = rims[side]
        strip = Box((left, low, z0), (right, high, z1))
        edge(bench, shelf, edge_of_side, Strip(box=strip, length=X, outward=outward))
    return shelf


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
