"""A stack of inset drawers: fronts that share an opening, a box behind each, runners, pulls."""

from dataclasses import dataclass

from ground.errors import Path
from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import X, Y, Z, neg
from models.parts.assembly import Motion
from models.parts.joints.applied_front import FrontScrews, FrontWay, applied, screw_for
from models.parts.joints.drawer_bottom import BottomGroove
from models.parts.part import Stage
from models.setting_out.bench import Bench
from models.setting_out.box_corners import CornerRoom, box_joint
from models.setting_out.draft import Box
from models.setting_out.drawer_box import BoxNumbers, fit_to_runner, lay_box
from models.setting_out.fittings import Bought
from models.setting_out.numbers import Leaf
from models.setting_out.openings import shared
from models.setting_out.pulls import PullPlace, lay_pulls, pull_holes, pull_line, pull_screws
from models.setting_out.runner_fixing import fix_runner
from models.setting_out.runners import (
    DrawerRoom,
    RunnerNumbers,
    drawer_sums,
    runner_findings,
    runner_numbers,
)
from models.setting_out.stock import FITTED, Board, Stock, is_lumber, lay_slab, thickness
from models.setting_out.trouble import trouble
from specs.drawers import Drawers, FrontGrain, Pull
from specs.hardware import Opens, Runner, SideMountSlide, UndermountRunner, WoodenRunner
from specs.spec import Spec

LEAST_OVER_BOTTOM = 20.0
"""A box reaches this far above its bottom at least, or it holds nothing (mm). Common practice, no
source."""
LEAST_INSIDE = 60.0
"""A box narrower or shorter than this inside holds nothing (mm). Common practice, no source."""
FLOOR_OF_GROOVE = 3.0
"""Least wood behind the bottom's groove (mm). Common practice, no source."""
SCREW_FROM_BOTTOM = 10.0
"""A front's screws stay this far above the bottom (mm). Common practice, no source."""
SCREW_FROM_EDGE = 12.0
"""And this far below the box's upper edge (mm). Common practice, no source."""
SCREWS_IN = 0.2
"""The fixed screws stand this part of the width in from both sides. Common practice, no source."""
SCREWS_TALL = 30.0
"""Slotted screws stand over one another where there is so much height (mm). Common practice, no
source."""
SCREW_FROM_PULL = 15.0
"""A front's screws stay this far from a pull's (mm): room for both heads. Common practice, no
source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerNumbers:
    """One drawer worked out: its ``front`` (finished, piece axes), its room, its runner and box."""

    id: str
    front: Box
    room: DrawerRoom
    runner: RunnerNumbers
    box: BoxNumbers


def lay_drawers(bench: Bench, spec: Spec, leaf: Leaf) -> None:
    """Lay out the drawers of one opening, from the top down.

    Raises:
        SettingOutError: the numbers leave no front or no box.
    """
    drawers = leaf.spec.drawers
    if drawers is None:
        return
    runner = spec.hardware[drawers.runner]
    if not isinstance(runner, UndermountRunner | SideMountSlide | WoodenRunner):
        message = f"'{drawers.runner}' is a {runner.kind}; name a runner or a slide"
        raise trouble((*leaf.path, "drawers", "runner"), message)
    for numbers in stack(spec, leaf, drawers, runner):
        _lay_drawer(bench, spec, leaf, drawers, numbers, runner)


def front_spans(
    drawers: Drawers, low: float, high: float
) -> tuple[tuple[float, float], ...] | None:
    """Z of every front's lower and upper edge, from the top down; None: nothing is left.

    Worked: 412.8 high, gaps of 2, shares 1, 1 and 1.5: 412.8 - 4 x 2 = 404.8 over 3.5 shares is
    115.657, 115.657 and 173.486.
    """
    count = len(drawers.heights)
    heights = shared(drawers.heights, high - low - (count + 1) * drawers.front.gap)
    if heights is None:
        return None
    spans: list[tuple[float, float]] = []
    top = high - drawers.front.gap
    for height in heights:
        spans.append((top - height, top))
        top -= height + drawers.front.gap
    return tuple(spans)


def stack(spec: Spec, leaf: Leaf, drawers: Drawers, runner: Runner) -> tuple[DrawerNumbers, ...]:
    """Work out every drawer of an opening.

    Raises:
        SettingOutError: the numbers leave no front or no box.
    """
    path: Path = (*leaf.path, "drawers")
    lo, hi = leaf.box.lo, leaf.box.hi
    spans = front_spans(drawers, lo[2], hi[2])
    if spans is None or hi[0] - lo[0] <= 2 * drawers.front.gap:
        gaps = (len(drawers.heights) + 1) * drawers.front.gap
        message = (
            f"the fixed heights and {gaps:.1f} mm of gaps leave nothing of an opening "
            f"{hi[2] - lo[2]:.1f} mm high; write lower fronts or fewer"
        )
        raise trouble((*path, "heights"), message)
    thick = thickness(spec, drawers.front.material, drawers.front.thickness)
    stock = thickness(spec, drawers.box.material, drawers.box.thickness)
    gap, start = drawers.front.gap, drawers.set_back
    made: list[DrawerNumbers] = []
    for number, (low, high) in enumerate(spans):
        front = Box((lo[0] + gap, start, low), (hi[0] - gap, start + thick, high))
        room = DrawerRoom(left=lo[0], right=hi[0], front=front, rear=hi[1], side=stock)
        name = f"drawer {leaf.id}/{number + 1}" if leaf.id else f"drawer {number + 1}"
        made.append(_drawer(spec, drawers, runner, (name, number, path), room))
    return tuple(made)


def _drawer(
    spec: Spec, drawers: Drawers, runner: Runner, which: tuple[str, int, Path], room: DrawerRoom
) -> DrawerNumbers:
    name, number, path = which
    numbers = runner_numbers(runner, room)
    groove = BottomGroove(
        up=drawers.bottom.up,
        thick=thickness(spec, drawers.bottom.material, None) * drawers.bottom.layers,
        depth=drawers.bottom.groove_depth,
    )
    _possible(numbers, room, groove, path, number)
    joint = box_joint(
        drawers.box.corner,
        CornerRoom(
            height=numbers.box.size[2],
            stock=room.side,
            groove=groove,
            subject=name,
            path=(*path, "box", "corner"),
        ),
    )
    box = BoxNumbers(id=name, outside=numbers.box, stock=room.side, groove=groove, joint=joint)
    return DrawerNumbers(id=name, front=room.front, room=room, runner=numbers, box=box)


def _possible(
    numbers: RunnerNumbers, room: DrawerRoom, groove: BottomGroove, path: Path, number: int
) -> None:
    """Refuse a box that holds nothing.

    Raises:
        SettingOutError: too low, too narrow or too short, or its groove goes through.
    """
    width, length, height = numbers.box.size
    least = groove.span[1] + LEAST_OVER_BOTTOM
    if height < least:
        message = (
            f"a front {room.front.size[2]:.1f} mm high leaves a box {height:.1f} mm high, and the "
            f"bottom and what is to lie on it want {least:.1f} mm; make it "
            f"{room.front.size[2] + least - height:.1f} mm at least"
        )
        raise trouble((*path, "heights", number), message)
    inside = min(width, length) - 2 * room.side
    if inside < LEAST_INSIDE:
        message = (
            f"leaves a box {inside:.1f} mm long or wide inside; make the opening larger: "
            f"{LEAST_INSIDE:.0f} mm inside is the least"
        )
        raise trouble((*path, "runner"), message)
    if not SHORT_GROOVE < groove.depth <= room.side - FLOOR_OF_GROOVE:
        message = (
            f"{groove.depth:.1f} mm is no groove for stock {room.side:.1f} mm thick; write more "
            f"than {SHORT_GROOVE:.0f} and at most {room.side - FLOOR_OF_GROOVE:.1f} mm"
        )
        raise trouble((*path, "bottom", "groove_depth"), message)


SHORT_GROOVE = 2.0
"""A shallower groove holds no bottom, which ends 1 short of its floor (mm). Common practice, no
source."""


def _lay_drawer(
    bench: Bench,
    spec: Spec,
    leaf: Leaf,
    drawers: Drawers,
    numbers: DrawerNumbers,
    runner: Runner,
) -> None:
    group = ("drawers", numbers.id)
    stock = Stock(letter="D", group=group, mover=numbers.id, stage=Stage.FROM_HARDWARE)
    lay_box(bench, spec, drawers, numbers.box, stock)
    fit_to_runner(bench, runner, numbers.box)
    _lay_front(bench, spec, drawers, numbers)
    bench.moves(
        numbers.id,
        Motion.SLIDES,
        neg(Y),
        (numbers.front.centre[0], numbers.front.lo[1], numbers.front.centre[2]),
        numbers.runner.travel,
    )
    fix_runner(bench, spec, leaf, runner, numbers.box, numbers.runner)
    bench.sums.extend(drawer_sums(numbers.id, numbers.room, numbers.runner, drawers.set_back))
    for finding in (
        *runner_findings(numbers.id, runner, numbers.room, numbers.runner, drawers.bottom.up),
        *numbers.box.joint.findings,
        *_opening_findings(drawers, numbers, runner),
    ):
        bench.find(finding)


def _lay_front(bench: Bench, spec: Spec, drawers: Drawers, numbers: DrawerNumbers) -> None:
    front, lumber = drawers.front, is_lumber(spec, drawers.front.material)
    level = front.grain is FrontGrain.LEVEL
    stage = Stage.TO_FIT if lumber else Stage.AFTER_GLUE_UP
    slab = lay_slab(
        bench,
        spec,
        Stock(letter="F", group=("drawers", numbers.id), mover=numbers.id, stage=stage),
        Board(
            key=f"{numbers.id}/front",
            name="drawer front",
            material=front.material,
            box=numbers.front,
            length=X if level else Z,
            up=neg(Y),
            show="top",
            over=(FITTED, FITTED, 0.0) if lumber else (0.0, 0.0, 0.0),
            note="plane it to its opening: the gap all round is in the drawing" if lumber else "",
        ),
        front.edging,
    )
    place = PullPlace(
        middle=(numbers.front.centre[0], numbers.front.lo[1], numbers.front.centre[2]),
        way=X,
        into=Y,
        room=numbers.front.size[0],
    )
    screws = () if drawers.pull is None else pull_screws(drawers.pull, place)
    _screw_front(bench, numbers, screws, slab.key)
    if drawers.pull is not None:
        _fit_pull(bench, drawers.pull, numbers, place, slab.key)


def _fit_pull(
    bench: Bench, pull: Pull, numbers: DrawerNumbers, place: PullPlace, front: str
) -> None:
    """Bore show front and box front for the pull's screws, and lay the pull on."""
    screws, made_by = pull_screws(pull, place), "drawers.pull"
    thick = numbers.front.size[1]
    behind = tuple((x, numbers.box.outside.lo[1], z) for x, _, z in screws)
    bench.cut(front, pull_holes(screws, place, depth=thick, made_by=made_by))
    holes = pull_holes(behind, place, depth=numbers.box.stock, made_by=made_by)
    bench.cut(f"{numbers.id}/box front", holes)
    line = pull_line(pull, thick + numbers.box.stock, f"{numbers.id}")
    bench.hardware.append(line)
    group = ("drawers", numbers.id)
    it = Bought(key=f"{numbers.id}/pull", name=line.name, group=group, mover=numbers.id)
    lay_pulls(bench, pull, place, it)


def _screw_front(
    bench: Bench,
    numbers: DrawerNumbers,
    pulls: tuple[tuple[float, float, float], ...],
    front: str,
) -> None:
    way = FrontWay(out=neg(Y), up=Z, box_front=numbers.box.stock, show_front=numbers.front.size[1])
    screw = screw_for(way)
    if screw is None:
        bench.find(
            Finding(
                code="fit.front_screws",
                severity=Severity.ERROR,
                subject=numbers.id,
                message=f"no screw holds in a front {way.show_front:.1f} mm thick through a box "
                f"front of {way.box_front:.1f} mm; make the front 10 mm thick at least",
                copies=(front,),
                value=way.show_front,
                unit="mm",
                source=COMMON_PRACTICE,
            )
        )
        return
    halves = applied(
        front_screws(numbers.box, pulls),
        way,
        screw,
        for_what=f"{numbers.id}, front",
        made_by="drawers.front",
    )
    bench.join(f"{numbers.id}/front", f"{numbers.id}/box front", front, halves)


def front_screws(box: BoxNumbers, pulls: tuple[tuple[float, float, float], ...]) -> FrontScrews:
    """Two fixed screws at mid height, so that a solid front moves both ways alike, two slotted.

    The slotted two stand over one another in the middle, or beside it where the box is low; all
    step aside from the pulls' screws.
    """
    left, right = box.inside
    low = box.outside.lo[2] + box.groove.span[1] + SCREW_FROM_BOTTOM
    high = box.outside.hi[2] - SCREW_FROM_EDGE
    y, width, middle = box.outside.lo[1], right - left, (low + high) / 2
    tall = high - low >= SCREWS_TALL

    def aside(part: float, z: float, step: float) -> tuple[float, float, float]:
        x = left + part * width
        for _ in range(len(pulls) + 2):
            if all(abs(x - px) + abs(z - pz) >= SCREW_FROM_PULL for px, _, pz in pulls):
                break
            x += step
        return (x, y, z)

    return FrontScrews(
        fixed=(
            aside(SCREWS_IN, middle, SCREW_FROM_PULL * 2),
            aside(1 - SCREWS_IN, middle, -SCREW_FROM_PULL * 2),
        ),
        slotted=(
            aside(0.5 if tall else 0.4, low if tall else middle, SCREW_FROM_PULL * 2),
            aside(0.5 if tall else 0.6, high if tall else middle, SCREW_FROM_PULL * 2),
        ),
    )


def _opening_findings(drawers: Drawers, numbers: DrawerNumbers, runner: Runner) -> list[Finding]:
    """A drawer wants one way to be opened, and only one."""
    push = runner.opens is Opens.PUSH
    if push and drawers.pull is not None:
        return [
            Finding(
                code="fitting.pull_on_push_runner",
                severity=Severity.WARNING,
                subject=numbers.id,
                message="a pull on a runner that a push opens: pulled, its latch is forced; leave "
                "out the pull or write opens: pull",
                source=COMMON_PRACTICE,
            )
        ]
    if not push and drawers.pull is None:
        return [
            Finding(
                code="fitting.nothing_to_pull",
                severity=Severity.NOTE,
                subject=numbers.id,
                message="nothing to open it by: no pull, and the runner does not open to a push",
                source=COMMON_PRACTICE,
            )
        ]
    return []
