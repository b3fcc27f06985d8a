"""A shelf worked out and laid: where it may be, its board, its edging."""

from dataclasses import dataclass
from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Vec, X, Y, Z, neg
from models.parts.part import Stage
from models.setting_out.bench import Bench
from models.setting_out.door_numbers import door_thickness, hinges_at, sinks_in
from models.setting_out.draft import Box, Draft
from models.setting_out.edging import Strip, edge, lip, lipped
from models.setting_out.numbers import Leaf
from models.setting_out.stock import Board, Stock, board, thickness
from models.setting_out.trouble import trouble
from specs.edging import SolidEdging, TapeEdging
from specs.shelves import Shelves, Support
from specs.spec import Spec

BEHIND_DOOR: Final = 2.0
"""Room between a shelf and a door that is pushed in as far as it goes (mm): design rule."""
BEFORE_BACK: Final = 2.0
"""Room between a loose shelf and the back panel (mm). Common practice, no source."""
HINGE_REACH: Final = 26.0
"""A hinge's plate reaches this far up and down (mm): half of 32, a screw's head and room. From
memory."""
LEAST_BETWEEN: Final = 40.0
"""Shelves closer than this to one another, the floor or the ceiling hold nothing (mm). Common
practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfRoom:
    """Where the shelves of an opening lie in Y, edging included, and how thick they are (mm).

    ``beyond`` is how far their lips go below and above them.
    """

    front: float
    rear: float
    thick: float
    beyond: tuple[float, float] = (0.0, 0.0)

    @property
    def whole(self) -> float:
        """How high a shelf is with its lips (mm)."""
        return self.beyond[0] + self.thick + self.beyond[1]


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
    edges = sum(edging.thickness for edging in edgings(shelves).values())
    if rear - front - edges < LEAST_BETWEEN:
        message = (
            f"a shelf from {front:.1f} mm behind the front plane to the back panel at "
            f"{leaf.box.hi[1]:.1f} mm is {rear - front:.1f} mm deep; set it back less"
        )
        raise trouble((*leaf.path, "shelves", "set_back"), message)
    thick = thickness(spec, shelves.material, shelves.thickness)
    path = (*leaf.path, "shelves", "edging")
    lips = [lip(it, thick, (*path, side)) for side, it in edgings(shelves).items()]
    below, above = (max([0.0, *(it[way] for it in lips)]) for way in (0, 1))
    return ShelfRoom(front=front, rear=rear, thick=thick, beyond=(below, above))


def even_places(count: int, height: float, thick: float) -> tuple[float, ...]:
    """Undersides of ``count`` shelves that divide ``height`` evenly, from the floor up (mm).

    Worked: one shelf 18.6 thick in 412.8: (412.8 - 18.6) / 2 = 197.1.
    """
    clear = (height - count * thick) / (count + 1)
    return tuple(clear * (i + 1) + thick * i for i in range(count))


def asked_places(leaf: Leaf, shelves: Shelves, room: ShelfRoom) -> tuple[float, ...]:
    """Undersides above the opening's floor, as written or even, lips counted (mm).

    Raises:
        SettingOutError: a shelf does not fit, or two are too close.
    """
    height = leaf.box.size[2]
    if shelves.places is None:
        even = even_places(shelves.count or 1, height, room.whole)
        places = tuple(at + room.beyond[0] for at in even)
        path = (*leaf.path, "shelves", "count")
    else:
        places = shelves.places
        path = (*leaf.path, "shelves", "places")
    lows = (at - room.beyond[0] for at in places)
    edges = [0.0, *(bit for low in lows for bit in (low, low + room.whole)), height]
    least = min(edges[i + 1] - edges[i] for i in range(0, len(edges), 2))
    if least < LEAST_BETWEEN:
        message = (
            f"leaves {least:.1f} mm above or below a shelf in an opening {height:.1f} mm high; "
            f"leave {LEAST_BETWEEN:.0f} mm at least"
        )
        raise trouble(path, message)
    return places


def edgings(shelves: Shelves) -> dict[str, SolidEdging | TapeEdging]:
    """What covers a shelf's edges, by side."""
    if shelves.edging is None:
        return {}
    both = {"front": shelves.edging.front, "back": shelves.edging.back}
    return {name: edging for name, edging in both.items() if edging is not None}


def lay_shelf(
    bench: Bench, spec: Spec, leaf: Leaf, which: tuple[int, Box], shelves: Shelves
) -> Draft:
    """One shelf that fills a box with its edging on; edging is as long as what shows of it."""
    number, box = which
    name = f"shelf {leaf.id}/{number}"
    edging = edgings(shelves)
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
        beyond = lip(edge_of_side, z1 - z0, (*leaf.path, "shelves", "edging", side))
        strip = lipped(Box((left, low, z0), (right, high, z1)), beyond)
        edge(bench, shelf, edge_of_side, Strip(box=strip, length=X, outward=outward))
    return shelf


def shelves_at_hinges(
    bench: Bench, spec: Spec, leaf: Leaf, lows: tuple[float, ...], shelf: ShelfRoom
) -> None:
    """Find shelves (undersides at ``lows``) whose ends or lips meet a hinge's arm."""
    for z in lows:
        for hinge in hinges_at(spec, leaf):
            room = max(hinge - z - shelf.thick - shelf.beyond[1], z - shelf.beyond[0] - hinge)
            if room < HINGE_REACH:
                bench.find(
                    Finding(
                        code="fit.shelf_meets_hinge",
                        severity=Severity.ERROR,
                        subject=f"shelves of opening {leaf.id}",
                        message=f"a shelf {z - leaf.box.lo[2]:.1f} mm above the opening's floor "
                        f"stands {max(room, 0.0):.1f} mm from the middle of a hinge; leave "
                        f"{HINGE_REACH:.0f} mm, or move the hinges",
                        copies=(leaf.left, leaf.right),
                        at=(leaf.box.lo[0], leaf.box.lo[1], z),
                        value=room,
                        limit=HINGE_REACH,
                        unit="mm",
                        source=COMMON_PRACTICE,
                    )
                )
