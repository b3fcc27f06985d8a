"""What holds doors shut and opens them: latches, catches, stops, pulls; what contradicts what."""

from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import X, Y, Z
from models.parts.assembly import HardwareLine
from models.parts.joints.kit import Halves
from models.setting_out.bearing import bearing, block_lumber
from models.setting_out.bench import Bench
from models.setting_out.catches import CatchAt, lay_catch, strip_size
from models.setting_out.door_numbers import DoorNumbers, DoorParts
from models.setting_out.draft import Box
from models.setting_out.fittings import Bought
from models.setting_out.numbers import Leaf
from models.setting_out.pulls import PullPlace, lay_pulls, pull_holes, pull_line, pull_screws
from models.setting_out.stock import Board, Stock, board
from specs.doors import DoorStop, PanelDoors, SlabDoors, StopKind
from specs.drawers import BarPull, Pull
from specs.hardware import BallCatch, Closing, Hinge, MagneticCatch, PushLatch
from specs.spec import Spec

PULL_IN: Final = 40.0
"""A pull's middle from the door's free edge (mm). Common practice, no source."""
STOP: Final = (18.0, 18.0)
"""A stop's depth and height (mm). Common practice, no source."""
STOP_BLOCK: Final = 60.0
"""Length of a stop block (mm). Common practice, no source."""
STOP_FROM_END: Final = 10.0
"""A stop strip ends this far from the panels beside it (mm). Common practice, no source."""


def lay_pull(
    bench: Bench, doors: SlabDoors | PanelDoors, numbers: DoorNumbers, parts: DoorParts
) -> None:
    """Fit a door's pull: near the free edge (mid stile), at mid height, a bar upright."""
    pull: Pull | None = doors.pull
    if pull is None:
        return
    free = numbers.box.hi[0] if numbers.left else numbers.box.lo[0]
    inset = doors.frame.stiles / 2 if isinstance(doors, PanelDoors) else PULL_IN
    x = free - numbers.away[0] * min(inset, numbers.box.size[0] / 2)
    place = PullPlace(
        middle=(x, numbers.box.lo[1], numbers.box.centre[2]),
        way=Z if isinstance(pull, BarPull) else X,
        into=Y,
        room=numbers.box.size[2],
    )
    thick = numbers.box.size[1]
    holes = pull_holes(pull_screws(pull, place), place, depth=thick, made_by="doors.pull")
    bench.cut(parts.free, holes)
    line = pull_line(pull, thick, numbers.id)
    bench.hardware.append(line)
    group = ("doors", numbers.id)
    it = Bought(key=f"{numbers.id}/pull", name=line.name, group=group, mover=numbers.id)
    lay_pulls(bench, pull, place, it)


def door_fittings(
    bench: Bench,
    spec: Spec,
    leaf: Leaf,
    hung: tuple[tuple[DoorNumbers, DoorParts], ...],
    hinge: Hinge,
) -> None:
    """Lay stop, latches and catches of one opening, and say what contradicts what."""
    doors = leaf.spec.doors
    if doors is None:
        return
    subject = f"doors of opening {leaf.id}"
    strip = None
    if doors.stop is not None:
        strip = _lay_stop(bench, spec, leaf, doors.stop, hung[0])
    for name in (doors.latch, doors.catch):
        fitting = None if name is None else spec.hardware[name]
        if not isinstance(fitting, PushLatch | MagneticCatch | BallCatch):
            continue
        sinks = f"; it sinks {fitting.sinks:g} mm" if isinstance(fitting, PushLatch) else ""
        bench.hardware.append(
            HardwareLine(
                name=str(fitting.kind),
                quantity=len(hung),
                size=f"{fitting.diameter:g} x {fitting.depth:g} mm",
                for_what=subject,
                note="behind the door's free corner" + sinks,
            )
        )
        for numbers, parts in hung:
            lay_catch(bench, spec, leaf, fitting, CatchAt(numbers, parts.free, strip))
    for finding in _contradictions(spec, subject, doors, hinge):
        bench.find(finding)


def _lay_stop(
    bench: Bench, spec: Spec, leaf: Leaf, stop: DoorStop, door: tuple[DoorNumbers, DoorParts]
) -> str | None:
    """Glue a block or a strip to the panel above (or below), against the doors' inside.

    A strip is as large as the magnets want that are let into it; its key is given back.
    """
    numbers, parts = door
    back = numbers.box.hi[1]
    subject = f"doors of opening {leaf.id}"
    lo, hi = leaf.box.lo, leaf.box.hi
    middle, depth, height = (lo[0] + hi[0]) / 2, *STOP
    half, strip = STOP_BLOCK / 2, stop.kind is StopKind.STRIP
    under = bearing(bench, leaf, (back, back + depth))
    if strip:
        half = (hi[0] - lo[0]) / 2 - STOP_FROM_END
        size = strip_size(bench, spec, leaf, (numbers, parts.free), under)
        depth, height = max(depth, size[0]), max(height, size[1])
    low, high = under.span(height)
    laid = board(
        spec,
        Stock(letter="S", group=("doors", subject)),
        Board(
            key=f"{subject}/stop",
            name="door stop",
            material=stop.material or block_lumber(bench, spec, leaf),
            box=Box((middle - half, back, low), (middle + half, back + depth, high)),
            length=X,
            up=Z,
            note="glue it on with the doors shut and flush",
        ),
    )
    bench.put(laid)
    glued = Halves(kind="butt", first=(), second=(), closes=under.into)
    bench.join(f"{subject}/stop", under.panel, laid.key, glued)
    return laid.key if strip else None


def _contradictions(
    spec: Spec, subject: str, doors: SlabDoors | PanelDoors, hinge: Hinge
) -> list[Finding]:
    latch = None if doors.latch is None else spec.hardware[doors.latch]
    push = isinstance(latch, PushLatch)
    found: list[Finding] = []
    if push and hinge.closing is not Closing.FREE:
        found.append(
            _against(
                "fitting.latch_fights_hinge",
                f"a push latch has to throw the door open and a {hinge.closing.value} hinge holds "
                "it shut; write closing: free",
                subject,
            )
        )
    if push and doors.pull is not None:
        found.append(
            _against(
                "fitting.pull_on_push_latch",
                "a pull on a door that a push opens: pulled, its latch is forced; leave one out",
                subject,
            )
        )
    if push and doors.stop is not None:
        found.append(
            _against(
                "fitting.stop_blocks_latch",
                "a stop keeps the door from going in, which a push latch wants; leave out the stop",
                subject,
            )
        )
    if doors.latch is None and doors.catch is None and doors.stop is None:
        found.append(
            _against(
                "fitting.door_swings_in",
                "nothing stops or holds an inset door: no latch, no catch, no stop; write one",
                subject,
            )
        )
    return found


def _against(code: str, message: str, subject: str) -> Finding:
    return Finding(
        code=code,
        severity=Severity.WARNING,
        subject=subject,
        message=message,
        source=COMMON_PRACTICE,
    )
