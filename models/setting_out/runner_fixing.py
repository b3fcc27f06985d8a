"""Runners in their places: screw holes in the panels, their own solids, lines to buy."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import assert_never

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Vec, X, Y, Z, along, neg
from models.parts.assembly import HardwareLine
from models.parts.features import Hole, HoleKind, Seat
from models.parts.joints.rows import Row, spread
from models.parts.joints.screw import ScrewWay, WoodScrew, screwed
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, Draft
from models.setting_out.drawer_box import BoxNumbers
from models.setting_out.drilling import meeting, placed
from models.setting_out.fittings import Bought, lay_block, lay_rod
from models.setting_out.numbers import Leaf
from models.setting_out.runners import RunnerNumbers
from models.setting_out.stock import Board, Stock, board
from specs.hardware import Runner, SideMountSlide, UndermountRunner, WoodenRunner
from specs.spec import Spec

SCREW = WoodScrew(shank=0.138 * 25.4, root=0.094 * 25.4, length=16.0)
"""No. 6, 16 long: shank .138 in, root .094 in (check values section 10)."""
IN_PANEL = 12.0
"""Depth of a runner's pilot hole in a panel (mm). Common practice, no source."""
LEFT_BEHIND = 3.0
"""Least panel left behind a pilot hole (mm). Common practice, no source."""
FIRST_HOLE = 37.0
"""First screw behind the back of the front (mm): system drilling's front row (check values 7.1)."""
PITCH = 32.0
LAST_HOLE = 45.0
"""The last screw stands at least this far before the runner's end (mm). From memory."""
UNDER_BOX = 7.0
"""An undermount runner's screws are this far under the box's sides (mm). From memory; measure the
runner in hand."""
TWO_SCREWS = 500.0
"""Longer runners get a third screw (mm). Common practice, no source."""
ROD = 8.0
"""A synchronising rod's diameter (mm). From memory."""
ROD_FROM_END = 50.0
"""From the runner's rear end to the rod (mm). From memory."""
AIR = 0.5
"""Between a runner's own solid and what moves over it (mm)."""
STRIP_SCREWS = (40.0, 200.0)
"""Screws of a wooden runner: from its end, and the most between two (mm). Common practice, no
source."""
STRIP_STEPS = (0.0, 8.0, -8.0, 16.0, -16.0, 24.0, -24.0)
"""Strip screws that would meet other holes of the panel move by one of these (mm)."""
STRIP_LENGTHS = (30.0, 35.0, 40.0, 45.0, 50.0, 60.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hand:
    """One side of the opening: the ``panel``'s key, the X of its face, the way into the panel."""

    panel: str
    face: float
    into: Vec
    name: str


def fix_runner(
    bench: Bench,
    spec: Spec,
    leaf: Leaf,
    runner: Runner,
    box: BoxNumbers,
    numbers: RunnerNumbers,
) -> None:
    """Bore the panels for a drawer's runners and lay them in."""
    for hand in _hands(leaf):
        match runner:
            case UndermountRunner():
                line = box.outside.lo[2] - UNDER_BOX
                _screw_holes(bench, hand, box.id, numbers, line)
                _lay(bench, box.id, hand, runner.kind, _undermount(hand, runner, box, numbers))
            case SideMountSlide():
                line = box.outside.centre[2]
                _screw_holes(bench, hand, box.id, numbers, line)
                _box_holes(bench, hand, box, numbers)
                _lay(bench, box.id, hand, runner.kind, _slide(hand, runner, box, numbers))
            case WoodenRunner():
                _strips(bench, spec, hand, runner, box)
            case _:
                assert_never(runner)
    if isinstance(runner, UndermountRunner) and runner.sync_rod:
        _sync_rod(bench, leaf, runner, box, numbers)
    bench.hardware.extend(_lines(runner, leaf, box, numbers))


def screw_places(numbers: RunnerNumbers) -> tuple[float, ...]:
    """Y of a runner's screws, on the 32 mm grid from its first hole on.

    Worked: a runner of 350 behind a front that ends at 20, its start at 23: first at 20 + 37 = 57,
    last at most 23 + 350 - 45 = 328, so 57 + 8 x 32 = 313.
    """
    first = numbers.box.lo[1] + FIRST_HOLE
    steps = int((numbers.start + numbers.length - LAST_HOLE - first) // PITCH)
    if steps < 1:
        return (first,)
    last = first + steps * PITCH
    if numbers.length <= TWO_SCREWS:
        return (first, last)
    return (first, first + steps // 2 * PITCH, last)


def _hands(leaf: Leaf) -> tuple[_Hand, _Hand]:
    lo, hi = leaf.box.lo, leaf.box.hi
    return (
        _Hand(panel=leaf.left, face=lo[0], into=neg(X), name="left"),
        _Hand(panel=leaf.right, face=hi[0], into=X, name="right"),
    )


def _screw_holes(
    bench: Bench, hand: _Hand, drawer: str, numbers: RunnerNumbers, line: float
) -> None:
    panel = bench.drafts[hand.panel]
    depth = min(IN_PANEL, panel.blank.thickness - LEFT_BEHIND)
    last = numbers.start + numbers.length - PITCH / 2

    def tries(y: float) -> Iterator[Hole]:
        # A runner has a hole at every step of its grid: a screw that would meet another moves on.
        for step in (0, 1, -1, 2, -2, 3):
            at = y + step * PITCH
            if numbers.start < at < last or step == 0:
                yield Hole(
                    kind=HoleKind.PILOT,
                    seat=Seat((hand.face, at, line), Y, hand.into),
                    diameter=SCREW.pilot(hard=True),
                    depth=depth,
                    made_by="drawers.runner",
                )

    for y in screw_places(numbers):
        hole = placed(panel, tries(y), bench.find, f"{drawer}, runner {hand.name}")
        bench.cut(hand.panel, (hole,))


def _box_holes(bench: Bench, hand: _Hand, box: BoxNumbers, numbers: RunnerNumbers) -> None:
    """Pilot holes in the outer face of a drawer side for the slide's moving member."""
    x = box.outside.lo[0] if hand.name == "left" else box.outside.hi[0]
    depth = min(IN_PANEL, box.stock - LEFT_BEHIND)
    holes = tuple(
        Hole(
            kind=HoleKind.PILOT,
            seat=Seat((x, y, box.outside.centre[2]), Y, neg(hand.into)),
            diameter=SCREW.pilot(hard=True),
            depth=depth,
            made_by="drawers.runner",
        )
        for y in screw_places(numbers)
    )
    bench.cut(f"{box.id}/side {hand.name}", holes)


def _undermount(
    hand: _Hand, runner: UndermountRunner, box: BoxNumbers, numbers: RunnerNumbers
) -> Box:
    """A plain bar under the box, from the panel to the end of the notch in the back."""
    low = box.outside.lo[2]
    inner = abs(hand.face - (box.outside.lo[0] if hand.name == "left" else box.outside.hi[0]))
    reach = inner + runner.notch_width - 2 * AIR
    far = along((hand.face, 0.0, 0.0), neg(hand.into), reach)[0]
    return Box(
        (min(hand.face, far), numbers.start, low - max(runner.below - AIR, 2 * AIR)),
        (max(hand.face, far), numbers.start + numbers.length, low - AIR),
    )


def _sync_rod(
    bench: Bench, leaf: Leaf, runner: UndermountRunner, box: BoxNumbers, numbers: RunnerNumbers
) -> None:
    """The rod that makes both runners run together: from one to the other, under the box."""
    left, right = (_undermount(hand, runner, box, numbers) for hand in _hands(leaf))
    start = (left.hi[0], left.hi[1] - ROD_FROM_END, left.centre[2])
    diameter = min(ROD, left.size[2] / 2)
    it = Bought(key=f"{box.id}/rod", name="synchronising rod", group=("drawers", box.id))
    lay_rod(bench, it, start, X, (diameter, right.lo[0] - left.hi[0]))


def _slide(hand: _Hand, runner: SideMountSlide, box: BoxNumbers, numbers: RunnerNumbers) -> Box:
    """A plain bar between the panel and the drawer's side."""
    far = along((hand.face, 0.0, 0.0), neg(hand.into), runner.thickness)[0]
    middle, half = box.outside.centre[2], min(runner.height, box.height) / 2
    return Box(
        (min(hand.face, far), numbers.start, middle - half),
        (max(hand.face, far), numbers.start + numbers.length, middle + half),
    )


def _lay(bench: Bench, drawer: str, hand: _Hand, name: str, box: Box) -> None:
    it = Bought(key=f"{drawer}/runner {hand.name}", name=name, group=("drawers", drawer))
    lay_block(bench, it, box)


def _strips(bench: Bench, spec: Spec, hand: _Hand, runner: WoodenRunner, box: BoxNumbers) -> None:
    """A strip under the box, and one over it so that the open drawer does not tip."""
    lo, hi = box.outside.lo, box.outside.hi
    places = {"runner": (lo[2] - runner.thickness, lo[2])}
    if runner.kicker:
        low = hi[2] + runner.above
        places["kicker"] = (low, low + runner.thickness)
    far = along((hand.face, 0.0, 0.0), neg(hand.into), runner.width)[0]
    stock = Stock(letter="D", group=("drawers", box.id))
    for name, (low, high) in places.items():
        strip = board(
            spec,
            stock,
            Board(
                key=f"{box.id}/{name} {hand.name}",
                name=f"drawer {name}",
                material=runner.material,
                box=Box((min(hand.face, far), lo[1], low), (max(hand.face, far), hi[1], high)),
                length=Y,
                up=Z,
            ),
        )
        bench.put(strip)
        _screw_strip(bench, hand, strip, runner.width, (low + high) / 2)


def _screw_strip(bench: Bench, hand: _Hand, strip: Draft, width: float, height: float) -> None:
    panel = bench.drafts[hand.panel]
    room = width + panel.blank.thickness - LEFT_BEHIND
    length = max((long for long in STRIP_LENGTHS if long <= room), default=STRIP_LENGTHS[0])
    screw = WoodScrew(shank=SCREW.shank, root=SCREW.root, length=length)
    made = [
        screwed(
            row,
            ScrewWay(into_end=hand.into, face=width),
            screw,
            plugs=None,
            for_what=strip.key,
            made_by="drawers.runner",
        )
        for row in _strip_rows(hand.face, strip, height)
    ]
    clear = [
        halves
        for halves in made
        if all(meeting(panel, hole) is None for hole in halves.second if isinstance(hole, Hole))
    ]
    if not clear:
        bench.find(_strip_meets(strip.key, hand.panel))
    halves = (clear or made)[0]
    bench.join(f"{strip.key}/screw", strip.key, hand.panel, halves)


def _strip_rows(face: float, strip: Draft, height: float) -> Iterator[Row]:
    """Where a strip's screws may be: as the rule says, or a little further on or back."""
    start = strip.frame.origin[1]
    usual = spread(
        (face, start, height),
        Y,
        strip.blank.length,
        margin=STRIP_SCREWS[0],
        most=STRIP_SCREWS[1],
    )
    for step in STRIP_STEPS:
        yield replace(usual, start=along(usual.start, Y, step))


def _strip_meets(strip: str, panel: str) -> Finding:
    return Finding(
        code="drilling.holes_meet",
        severity=Severity.ERROR,
        subject=strip,
        message="the strip's screws meet other holes of the panel wherever they are moved by up to "
        f"{STRIP_STEPS[-2]:.0f} mm; bore what is on the other side less deep",
        copies=(panel,),
        source=COMMON_PRACTICE,
    )


def _lines(
    runner: Runner, leaf: Leaf, box: BoxNumbers, numbers: RunnerNumbers
) -> Iterator[HardwareLine]:
    drawer = box.id
    match runner:
        case UndermountRunner() | SideMountSlide():
            carries = "" if runner.capacity is None else f", carries {runner.capacity:g} kg"
            yield HardwareLine(
                name=f"{runner.kind}, pair",
                quantity=1,
                size=f"{runner.length:g} mm",
                for_what=drawer,
                note=f"opens by {runner.opens.value}{carries}; measure it before boxes are cut",
            )
            screws = 4 if runner.length <= TWO_SCREWS else 6
            if isinstance(runner, SideMountSlide):
                screws *= 2
            yield HardwareLine(
                name="wood screw",
                quantity=screws,
                size=f"{SCREW.shank:.1f} x {SCREW.length:g} mm",
                for_what=f"{drawer}, runners",
            )
        case WoodenRunner():
            return
        case _:
            assert_never(runner)
    if isinstance(runner, UndermountRunner):
        yield from _undermount_lines(runner, leaf, box, numbers)


def _undermount_lines(
    runner: UndermountRunner, leaf: Leaf, box: BoxNumbers, numbers: RunnerNumbers
) -> Iterator[HardwareLine]:
    """What comes with a pair of undermount runners: locking devices, and the rod where asked."""
    yield HardwareLine(
        name="locking device, left and right",
        quantity=1,
        for_what=box.id,
        note="with the runner",
    )
    if runner.sync_rod:
        left, right = (_undermount(hand, runner, box, numbers) for hand in _hands(leaf))
        yield HardwareLine(
            name="synchronising rod",
            quantity=1,
            size=f"{right.lo[0] - left.hi[0]:.1f} mm, for an opening of {leaf.box.size[0]:.1f} mm",
            for_what=box.id,
            note="cut to length as the runner's data sheet says",
        )
