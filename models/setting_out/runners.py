"""What a runner asks of a drawer box: its width, length, height and place. Plain arithmetic.

Runner dimensions are those of ``specs.hardware`` (common practice, no source, makers differ), each
to be overridden by a data sheet.
"""

from dataclasses import dataclass
from typing import assert_never

from ground.findings import Finding, Severity
from models.parts.assembly import Sum
from models.setting_out.draft import Box
from specs.hardware import Opens, Runner, SideMountSlide, UndermountRunner, WoodenRunner

RECESS_WITHIN = 0.5
"""A drawer bottom lies within this of the runner's recess (mm; bench rule of an undermount
runner)."""
THICKEST_SIDE = 19.0
"""No undermount runner takes thicker sides (mm; check values 7.2)."""
BEHIND_WOODEN = 10.0
"""Room behind a box on wooden runners whose length is not written (mm). Common practice, no
source."""
WOODEN_TRAVEL = 2 / 3
"""How much of its length a box on wooden runners comes out. Common practice, no source."""
SOURCE = "the runner's usual dimensions: common practice, no source; its data sheet goes before"


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerRoom:
    """Where a drawer box may be: ``left`` and ``right`` in X, behind ``front``, before ``rear``.

    ``front`` is the show front's box; ``side`` is the thickness of the box's sides (mm).
    """

    left: float
    right: float
    front: Box
    rear: float
    side: float

    @property
    def width(self) -> float:
        """The opening's clear width."""
        return self.right - self.left


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerNumbers:
    """What the runner makes of the room: the ``box`` outside, the runner's ``length`` and start.

    ``deduction`` is the opening less the inside (``fixes`` "inside") or the outside width.
    ``spare`` is left between the runner's end and the back panel; less than nothing: too long.
    """

    box: Box
    length: float
    start: float
    spare: float
    fixes: str
    deduction: float
    travel: float


def runner_numbers(runner: Runner, room: DrawerRoom) -> RunnerNumbers:
    """Size and place the box on its runner.

    Worked: opening 520, front 115.657 high and 20 thick, runner 350, sides 15, back panel at 412:
    inside 520 - 42 = 478, outside 508, from Y 20 to 370, 115.657 - 14 - 7 = 94.657 high; spare
    412 - 20 - 3 - 350 = 39.
    """
    asks = _asks(runner, room)
    back = room.front.hi[1]
    start = back + asks.setback
    both_sides = 2 * room.side if asks.fixes == "inside" else 0.0
    outside = room.width - asks.deduction + both_sides
    middle = (room.left + room.right) / 2
    return RunnerNumbers(
        box=Box(
            (middle - outside / 2, back, room.front.lo[2] + asks.below),
            (middle + outside / 2, back + asks.length, room.front.hi[2] - asks.above),
        ),
        length=asks.length,
        start=start,
        spare=room.rear - start - asks.length,
        fixes=asks.fixes,
        deduction=asks.deduction,
        travel=asks.travel,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asks:
    """What every kind of runner asks for (mm)."""

    fixes: str
    deduction: float
    length: float
    setback: float
    below: float
    above: float
    travel: float


def _asks(runner: Runner, room: DrawerRoom) -> _Asks:
    match runner:
        case UndermountRunner() | SideMountSlide():
            if isinstance(runner, UndermountRunner):
                fixes, deduction = "inside", runner.deduction_for(room.side)
            else:
                fixes, deduction = "outside", runner.deduction
            return _Asks(
                fixes=fixes,
                deduction=deduction,
                length=runner.length,
                setback=runner.setback,
                below=runner.below,
                above=runner.above,
                travel=runner.opens_by,
            )
        case WoodenRunner():
            length = runner.length or room.rear - room.front.hi[1] - BEHIND_WOODEN
            return _Asks(
                fixes="outside",
                deduction=runner.play,
                length=length,
                setback=0.0,
                below=runner.thickness,
                above=runner.above + (runner.thickness if runner.kicker else 0.0),
                travel=runner.travel or length * WOODEN_TRAVEL,
            )
    assert_never(runner)


def drawer_sums(
    drawer: str, room: DrawerRoom, numbers: RunnerNumbers, set_back: float
) -> tuple[Sum, ...]:
    """The sums that a maker checks on paper: one of depths, and one of widths in two steps."""
    front = room.front.hi[1] - room.front.lo[1]
    inside = numbers.box.size[0] - 2 * room.side
    sides = (("side", room.side), ("side", room.side))
    depth = (
        *((("fronts set back", set_back),) if set_back else ()),
        ("front", front),
        ("front to runner", numbers.start - room.front.hi[1]),
        ("runner", numbers.length),
        ("spare", numbers.spare),
    )
    first = (("opening", room.width), ("runner's deduction", -numbers.deduction))
    if numbers.fixes == "inside":
        widths = (
            Sum(subject=drawer, what="inside width", terms=first),
            Sum(subject=drawer, what="outside width", terms=(("inside", inside), *sides)),
        )
    else:
        less = tuple((name, -value) for name, value in sides)
        widths = (
            Sum(subject=drawer, what="outside width", terms=first),
            Sum(
                subject=drawer,
                what="inside width",
                terms=(("outside", numbers.box.size[0]), *less),
            ),
        )
    return (Sum(subject=drawer, what="front plane to back panel", terms=depth), *widths)


def runner_findings(
    drawer: str, runner: Runner, room: DrawerRoom, numbers: RunnerNumbers, up: float
) -> list[Finding]:
    """What contradicts the runner, each with its number; ``up`` is where the bottom lies."""
    found: list[Finding] = []
    if numbers.spare < 0.0:
        deep = room.rear - numbers.start
        found.append(
            _against(
                "fit.runner_depth",
                Severity.ERROR,
                drawer,
                f"a runner of {numbers.length:.1f} mm is {-numbers.spare:.1f} mm too long for the "
                f"depth behind its front; take one of at most {deep:.1f} mm, or a deeper case",
                (numbers.length, deep),
            )
        )
    if isinstance(runner, UndermountRunner):
        found += _undermount(drawer, runner, room, up)
    if not isinstance(runner, WoodenRunner) and runner.opens is Opens.PUSH:
        room_to_sink = numbers.spare
        if 0.0 <= room_to_sink < runner.sinks:
            found.append(
                _against(
                    "fit.push_room",
                    Severity.WARNING,
                    drawer,
                    f"a push sends the drawer in by {runner.sinks:.1f} mm and there are "
                    f"{room_to_sink:.1f} mm behind it; take a shorter runner",
                    (room_to_sink, runner.sinks),
                )
            )
    return found


def _undermount(
    drawer: str, runner: UndermountRunner, room: DrawerRoom, up: float
) -> list[Finding]:
    found: list[Finding] = []
    if abs(up - runner.recess) > RECESS_WITHIN + 1e-9:
        found.append(
            _against(
                "fit.bottom_recess",
                Severity.ERROR,
                drawer,
                f"the bottom lies {up:.1f} mm up and the runner wants {runner.recess:.1f} mm, "
                f"within {RECESS_WITHIN:.1f}; write up: {runner.recess:.1f} mm",
                (up, runner.recess),
            )
        )
    if room.side > THICKEST_SIDE and runner.deduction is None:
        found.append(
            _against(
                "fit.runner_side",
                Severity.ERROR,
                drawer,
                f"sides of {room.side:.1f} mm are too thick for an undermount runner; take at "
                f"most {THICKEST_SIDE:.0f} mm, or write the runner's own deduction",
                (room.side, THICKEST_SIDE),
            )
        )
    return found


def _against(
    code: str, severity: Severity, drawer: str, message: str, numbers: tuple[float, float]
) -> Finding:
    return Finding(
        code=code,
        severity=severity,
        subject=drawer,
        message=message,
        value=numbers[0],
        limit=numbers[1],
        unit="mm",
        source=SOURCE,
    )
