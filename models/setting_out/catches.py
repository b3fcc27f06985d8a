"""Push latches and catches: a block behind each door's free corner, or a ball in its edge."""

from dataclasses import dataclass, replace
from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Vec, X, Y, Z, along, neg
from models.parts.assembly import HardwareLine
from models.parts.features import Hole
from models.parts.joints.applied_front import LENGTHS
from models.parts.joints.catch import (
    BALL_PLATE,
    PLATE,
    Strike,
    ball_plate_holes,
    body_hole,
    strike_holes,
)
from models.parts.joints.kit import Halves
from models.parts.joints.rows import Row
from models.parts.joints.screw import NUMBER_8, ScrewWay, screwed
from models.setting_out.bearing import Bearing, apart, bearing, block_lumber
from models.setting_out.bench import Bench
from models.setting_out.door_numbers import DoorNumbers
from models.setting_out.draft import Box
from models.setting_out.drilling import meeting
from models.setting_out.fittings import Bought, bore, edging_of, lay_block, lay_rod
from models.setting_out.numbers import Leaf
from models.setting_out.openings import box_of
from models.setting_out.stock import Board, Stock, board
from specs.hardware import BallCatch, MagneticCatch, PushLatch
from specs.spec import Spec

Catch = PushLatch | MagneticCatch | BallCatch

BLOCK: Final = 44.0
"""Width of a latch's block (mm): a screw either side of the body. Common practice, no source."""
LEAST_BLOCK: Final = 30.0
"""Its least height and depth (mm). Common practice, no source."""
BEHIND_BODY: Final = 10.0
"""Wood behind a body's hole (mm). Common practice, no source."""
SCREWS: Final = 28.0
"""Between the two screws of a block (mm). Common practice, no source."""
LEFT_IN_PANEL: Final = 4.0
"""Least panel left over the point of a block's screw (mm). Common practice, no source."""
LEAST_BITE: Final = 6.0
"""A block's screw goes this far into the panel at least (mm); else the block is only glued. Common
practice, no source."""
FROM_FREE_EDGE: Final = 30.0
"""A latch's middle from the door's free edge (mm). Common practice, no source."""
STEP: Final = 8.0
"""Where it meets something a latch moves along the door in steps of this (mm)."""
FROM_HINGE_EDGE: Final = 40.0
"""And comes no nearer than this to the door's hinges (mm). Common practice, no source."""
ROOM: Final = 1.0
"""Between a latch and the pushed-in door, and between blocks (mm). Common practice, no source."""
FROM_EDGING: Final = 4.0
"""A plate keeps this far inside a door's edging (mm). Common practice, no source."""
BALL_WALL: Final = 3.0
"""Least wood beside a ball catch's body in a door's edge (mm). Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where one latch goes: its ``block``, the middle of the block's ``front``, its ``bearing``."""

    block: Box
    front: Vec
    bearing: Bearing


def lay_catch(
    bench: Bench, spec: Spec, leaf: Leaf, fitting: Catch, door: tuple[DoorNumbers, str]
) -> None:
    """Fit one latch or catch to one door; ``door`` is its numbers and the part at its free edge."""
    match fitting:
        case BallCatch():
            _lay_ball(bench, leaf, fitting, door)
        case PushLatch() | MagneticCatch():
            _lay_behind(bench, spec, leaf, fitting, door)


def _lay_behind(
    bench: Bench,
    spec: Spec,
    leaf: Leaf,
    fitting: PushLatch | MagneticCatch,
    door: tuple[DoorNumbers, str],
) -> None:
    """Bore a block for the body, screw it under the panel, and let the plate into the door."""
    numbers, free = door
    made_by = "doors.latch" if isinstance(fitting, PushLatch) else "doors.catch"
    back = numbers.box.hi[1]
    start = back + (fitting.sinks + ROOM if isinstance(fitting, PushLatch) else 0.0)
    place = _place(bench, leaf, fitting, (numbers, free), start)
    if place is None:
        bench.find(_no_room(numbers, str(fitting.kind)))
        return
    what = str(fitting.kind)
    key = f"{numbers.id}/{what}"
    block = board(
        spec,
        Stock(letter="S", group=("doors", numbers.id)),
        Board(
            key=f"{key} block",
            name=f"{what} block",
            material=block_lumber(bench, spec, leaf),
            box=place.block,
            length=X,
            up=Z,
            note="set it with the door shut and flush",
        ),
    )
    bench.put(block)
    body = body_hole(place.front, X, Y, (fitting.diameter, fitting.depth), made_by)
    bench.cut(block.key, (body,))
    _screw_block(bench, block.key, place, f"{numbers.id}, {what}", made_by)
    bought = Bought(key=key, name=what, group=("doors", numbers.id))
    reach = start - back + fitting.depth - ROOM
    tip = (place.front[0], back, place.front[2])
    lay_rod(bench, bought, tip, Y, (fitting.diameter, reach))
    strike = Strike(at=tip, across=X, into=neg(Y), door=numbers.box.size[1])
    for hole in strike_holes(strike, made_by=made_by):
        bore(bench, free, hole)
    plate = Bought(key=f"{key} plate", name="strike plate", group=bought.group, mover=numbers.id)
    lay_rod(bench, plate, tip, neg(Y), PLATE)
    bench.hardware.append(
        HardwareLine(
            name="strike plate",
            quantity=1,
            size=f"{PLATE[0]:g} x {PLATE[1]:g} mm",
            for_what=numbers.id,
            note="with its screw; comes with most latches and magnets",
        )
    )


def _place(
    bench: Bench,
    leaf: Leaf,
    fitting: PushLatch | MagneticCatch,
    door: tuple[DoorNumbers, str],
    start: float,
) -> _Place | None:
    """The first place along the door, from its free edge on, where nothing is in the way."""
    numbers, free = door
    deep = max(LEAST_BLOCK, fitting.depth + BEHIND_BODY)
    edge = max((strip.blank.thickness for strip in edging_of(bench, free)), default=0.0)
    under = bearing(bench, leaf, (start, start + deep))
    gap = abs((numbers.box.hi if under.into == Z else numbers.box.lo)[2] - under.z)
    middle = max(LEAST_BLOCK / 2, gap + edge + FROM_EDGING + PLATE[0] / 2)
    low, high = under.span(max(2 * middle, fitting.diameter + 2 * BALL_WALL))
    edge_x = numbers.box.hi[0] if numbers.left else numbers.box.lo[0]
    width = box_of(bench, free).size[0] if free.endswith("stile") else numbers.box.size[0]
    first = min(FROM_FREE_EDGE, width / 2)
    last = numbers.box.size[0] - FROM_HINGE_EDGE
    steps = max(1, int((last - first) // STEP) + 1)
    for step in range(steps):
        x = edge_x - numbers.away[0] * (first + step * STEP)
        block = Box((x - BLOCK / 2, start, low), (x + BLOCK / 2, start + deep, high))
        place = _Place(block=block, front=(x, start, (low + high) / 2), bearing=under)
        if _clear(bench, leaf, place):
            return place
    return None


def _clear(bench: Bench, leaf: Leaf, place: _Place) -> bool:
    """Tell whether a block stands inside its opening, clear of other blocks and of bored holes."""
    block = place.block
    if block.lo[0] < leaf.box.lo[0] or block.hi[0] > leaf.box.hi[0]:
        return False
    others = (box_of(bench, key) for key in bench.drafts if key.startswith(f"door {leaf.id}/"))
    blocks = (box for box in others if not apart(block, box, 0.0))
    stop = f"doors of opening {leaf.id}/stop"
    if stop in bench.drafts and not apart(block, box_of(bench, stop), ROOM):
        return False
    halves = _screws(place, "", "")
    host = bench.drafts[place.bearing.panel]
    pilots = [] if halves is None else [f for f in halves.second if isinstance(f, Hole)]
    return next(blocks, None) is None and all(meeting(host, hole) is None for hole in pilots)


def _screws(place: _Place, for_what: str, made_by: str) -> Halves | None:
    """Two screws through the block into the panel; None where the panel is too thin for any."""
    tall = place.block.size[2]
    most = tall + place.bearing.thick - LEFT_IN_PANEL
    fit = [length for length in LENGTHS if tall + LEAST_BITE <= length <= most]
    if not fit:
        return None
    middle = place.block.centre
    start = (middle[0] - SCREWS / 2, middle[1], place.bearing.z)
    return screwed(
        Row(start=start, way=X, count=2, pitch=SCREWS),
        ScrewWay(into_end=place.bearing.into, face=tall),
        replace(NUMBER_8, length=fit[-1]),
        plugs=None,
        for_what=for_what,
        made_by=made_by,
    )


def _screw_block(bench: Bench, block: str, place: _Place, for_what: str, made_by: str) -> None:
    """Fix a block: screwed, or only glued where the panel is too thin."""
    halves = _screws(place, for_what, made_by)
    if halves is None:
        halves = Halves(kind="butt", first=(), second=(), closes=neg(place.bearing.into))
    bench.join(f"{block}/{halves.kind}", block, place.bearing.panel, halves)


def _lay_ball(bench: Bench, leaf: Leaf, fitting: BallCatch, door: tuple[DoorNumbers, str]) -> None:
    """Bore the door's upper edge for the body, and the panel over it for the plate's screws."""
    numbers, free = door
    thick, gap = numbers.box.size[1], leaf.box.hi[2] - numbers.box.hi[2]
    wall = fitting.diameter / 2 + BALL_WALL
    front = max((box_of(bench, leaf.above).lo[1] + BALL_PLATE[1] / 2, wall))
    y = min(max(thick / 2, front), max(thick - wall, thick / 2))
    free_x = numbers.box.hi[0] if numbers.left else numbers.box.lo[0]
    width = box_of(bench, free).size[0] if free.endswith("stile") else numbers.box.size[0]
    x = free_x - numbers.away[0] * min(FROM_FREE_EDGE, width / 2)
    top = (x, numbers.box.lo[1] + y, numbers.box.hi[2])
    size = (fitting.diameter, fitting.depth)
    bore(bench, free, body_hole(top, X, neg(Z), size, "doors.catch"))
    panel = (x, top[1], leaf.box.hi[2])
    bore(bench, leaf.above, ball_plate_holes(panel, X, Z, made_by="doors.catch"))
    key, group = f"{numbers.id}/{fitting.kind}", ("doors", numbers.id)
    body = Bought(key=key, name=str(fitting.kind), group=group, mover=numbers.id)
    lay_rod(bench, body, along(top, Z, -fitting.depth), Z, size)
    long, wide, high = BALL_PLATE
    high = min(high, gap / 2)
    plate = Box(
        (x - long / 2, top[1] - wide / 2, panel[2] - high),
        (x + long / 2, top[1] + wide / 2, panel[2]),
    )
    lay_block(bench, Bought(key=f"{key} plate", name="ball catch plate", group=group), plate)


def _no_room(numbers: DoorNumbers, what: str) -> Finding:
    return Finding(
        code="fitting.no_room_for_catch",
        severity=Severity.ERROR,
        subject=numbers.id,
        message=f"no place behind the door takes the block of a {what}, {BLOCK:.0f} mm wide, clear "
        "of stop and hinges; make the door wider, or leave out the stop",
        value=numbers.box.size[0],
        limit=BLOCK + FROM_HINGE_EDGE,
        unit="mm",
        source=COMMON_PRACTICE,
    )
