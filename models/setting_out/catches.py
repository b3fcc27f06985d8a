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


@dataclass(frozen=True, slots=True)
class CatchAt:
    """A door, the part at its free edge, and the stop strip behind it (None: there is none)."""

    numbers: DoorNumbers
    free: str
    strip: str | None

    def x(self, bench: Bench, aside: float = 0.0) -> float:
        """Where a latch goes: near the free edge, or in the middle of a stile; ``aside`` on."""
        numbers = self.numbers
        edge = numbers.box.hi[0] if numbers.left else numbers.box.lo[0]
        stile = self.free.endswith("stile")
        width = box_of(bench, self.free).size[0] if stile else numbers.box.size[0]
        return edge - numbers.away[0] * (min(FROM_FREE_EDGE, width / 2) + aside)


def lay_catch(bench: Bench, spec: Spec, leaf: Leaf, fitting: Catch, at: CatchAt) -> None:
    """Fit one latch or catch to one door."""
    match fitting:
        case BallCatch():
            _lay_ball(bench, leaf, fitting, at)
        case MagneticCatch() if at.strip is not None:
            host = box_of(bench, at.strip)
            front = (at.x(bench), host.lo[1], host.centre[2])
            _let_in(bench, fitting, at, (at.strip, front))
        case PushLatch() | MagneticCatch():
            _lay_behind(bench, spec, leaf, fitting, at)


def strip_size(
    bench: Bench, spec: Spec, leaf: Leaf, door: tuple[DoorNumbers, str], under: Bearing
) -> tuple[float, float]:
    """Depth and height that a stop strip must have for the magnets let into it (mm); 0: any."""
    doors = leaf.spec.doors
    fitting = None if doors is None or doors.catch is None else spec.hardware[doors.catch]
    if not isinstance(fitting, MagneticCatch):
        return (0.0, 0.0)
    return (fitting.depth + BEHIND_BODY / 2, 2 * _middle(bench, door, under))


def _middle(bench: Bench, door: tuple[DoorNumbers, str], under: Bearing) -> float:
    """From the panel to a latch's middle: its plate clear of the gap and of the door's edging."""
    numbers, free = door
    edge = max((strip.blank.thickness for strip in edging_of(bench, free)), default=0.0)
    gap = abs((numbers.box.hi if under.into == Z else numbers.box.lo)[2] - under.z)
    return gap + edge + FROM_EDGING + PLATE[0] / 2


def _lay_behind(
    bench: Bench, spec: Spec, leaf: Leaf, fitting: PushLatch | MagneticCatch, at: CatchAt
) -> None:
    """Screw a block under the panel for the fitting's body."""
    back, what = at.numbers.box.hi[1], str(fitting.kind)
    start = back + (fitting.sinks + ROOM if isinstance(fitting, PushLatch) else 0.0)
    place = _place(bench, leaf, fitting, at, start)
    if place is None:
        bench.find(_no_room(at.numbers, what))
        return
    block = board(
        spec,
        Stock(letter="S", group=("doors", at.numbers.id)),
        Board(
            key=f"{at.numbers.id}/{what} block",
            name=f"{what} block",
            material=block_lumber(bench, spec, leaf),
            box=place.block,
            length=X,
            up=Z,
            note="set it with the door shut and flush",
        ),
    )
    bench.put(block)
    _let_in(bench, fitting, at, (block.key, place.front))
    _screw_block(bench, block.key, place, f"{at.numbers.id}, {what}", _made_by(fitting))


def _made_by(fitting: Catch) -> str:
    return "doors.latch" if isinstance(fitting, PushLatch) else "doors.catch"


def _let_in(
    bench: Bench, fitting: PushLatch | MagneticCatch, at: CatchAt, host: tuple[str, Vec]
) -> None:
    """Bore ``host`` (its key, the mouth) for the body, and let the plate into the door."""
    key, front = host
    made_by, numbers = _made_by(fitting), at.numbers
    size = (fitting.diameter, fitting.depth)
    bench.cut(key, (body_hole(front, X, Y, size, made_by),))
    back = numbers.box.hi[1]
    what = f"{numbers.id}/{fitting.kind}"
    group = ("doors", numbers.id)
    tip = (front[0], back, front[2])
    reach = front[1] - back + fitting.depth - ROOM
    body = Bought(key=what, name=str(fitting.kind), group=group)
    lay_rod(bench, body, tip, Y, (fitting.diameter, reach))
    strike = Strike(at=tip, across=X, into=neg(Y), door=numbers.box.size[1])
    for hole in strike_holes(strike, made_by=made_by):
        bore(bench, at.free, hole)
    plate = Bought(key=f"{what} plate", name="strike plate", group=group, mover=numbers.id)
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
    bench: Bench, leaf: Leaf, fitting: PushLatch | MagneticCatch, at: CatchAt, start: float
) -> _Place | None:
    """The first place along the door, from its free edge on, where nothing is in the way."""
    deep = max(LEAST_BLOCK, fitting.depth + BEHIND_BODY)
    under = bearing(bench, leaf, (start, start + deep))
    middle = max(LEAST_BLOCK / 2, _middle(bench, (at.numbers, at.free), under))
    low, high = under.span(max(2 * middle, fitting.diameter + 2 * BALL_WALL))
    last = at.numbers.box.size[0] - FROM_HINGE_EDGE - FROM_FREE_EDGE
    for step in range(max(1, int(last // STEP) + 1)):
        x = at.x(bench, step * STEP)
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


def _lay_ball(bench: Bench, leaf: Leaf, fitting: BallCatch, at: CatchAt) -> None:
    """Bore the door's upper edge for the body, and the panel over it for the plate's screws."""
    numbers, free = at.numbers, at.free
    thick, gap = numbers.box.size[1], leaf.box.hi[2] - numbers.box.hi[2]
    wall = fitting.diameter / 2 + BALL_WALL
    front = max((box_of(bench, leaf.above).lo[1] + BALL_PLATE[1] / 2, wall))
    y = min(max(thick / 2, front), max(thick - wall, thick / 2))
    x = at.x(bench)
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
