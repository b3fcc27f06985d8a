"""What holds doors shut and opens them: latches, catches, stops, pulls; what contradicts what."""

from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import X, Y, Z
from models.parts.assembly import HardwareLine
from models.setting_out.bench import Bench
from models.setting_out.door_numbers import DoorNumbers
from models.setting_out.draft import Box
from models.setting_out.notes import not_made
from models.setting_out.numbers import Leaf
from models.setting_out.pulls import PullPlace, pull_holes, pull_line, pull_screws
from models.setting_out.stock import Board, Stock, board
from specs.doors import DoorStop, PanelDoors, SlabDoors, StopKind
from specs.drawers import BarPull, Pull
from specs.hardware import Closing, Hinge, PushLatch
from specs.spec import Spec

PULL_IN: Final = 40.0
"""A pull's middle from the door's free edge (mm). Common practice, no source."""
STOP: Final = (18.0, 18.0)
"""A stop's depth and height (mm). Common practice, no source."""
STOP_BLOCK: Final = 60.0
"""Length of a stop block (mm). Common practice, no source."""
STOP_FROM_END: Final = 10.0
"""A stop strip ends this far from the panels beside it (mm). Common practice, no source."""


def lay_pull(bench: Bench, doors: SlabDoors | PanelDoors, numbers: DoorNumbers, door: str) -> None:
    """Bore a door for its pull: near the free edge, at mid height, a bar upright."""
    pull: Pull | None = doors.pull
    if pull is None:
        return
    free = numbers.box.hi[0] if numbers.left else numbers.box.lo[0]
    x = free - numbers.away[0] * PULL_IN
    place = PullPlace(
        middle=(x, numbers.box.lo[1], numbers.box.centre[2]),
        way=Z if isinstance(pull, BarPull) else X,
        into=Y,
        room=numbers.box.size[2],
    )
    thick = numbers.box.size[1]
    holes = pull_holes(pull_screws(pull, place), place, depth=thick, made_by="doors.pull")
    bench.cut(door, holes)
    bench.hardware.append(pull_line(pull, thick, numbers.id))


def door_fittings(
    bench: Bench, spec: Spec, leaf: Leaf, doors: SlabDoors | PanelDoors, hinge: Hinge
) -> None:
    """List latch and catch, lay the stop, and say what contradicts what."""
    subject = f"doors of opening {leaf.id}"
    count = len(doors.hung_on)
    where = "under the panel above, behind the door's free corner"
    for name in (doors.latch, doors.catch):
        if name is None:
            continue
        fitting = spec.hardware[name]
        sinks = f"; it sinks {fitting.sinks:g} mm" if isinstance(fitting, PushLatch) else ""
        bench.hardware.append(
            HardwareLine(
                name=str(fitting.kind), quantity=count, for_what=subject, note=where + sinks
            )
        )
        bench.find(not_made(f"holes of a {fitting.kind}", subject))
    if doors.stop is not None:
        _lay_stop(bench, spec, leaf, doors.stop)
    for finding in _contradictions(spec, subject, doors, hinge):
        bench.find(finding)


def _lay_stop(bench: Bench, spec: Spec, leaf: Leaf, stop: DoorStop) -> None:
    """Glue a block or a strip under the panel above, against the doors' inside."""
    subject = f"doors of opening {leaf.id}"
    if stop.material is None:
        bench.find(not_made("door stop without a material of its own", subject))
        return
    lo, hi = leaf.box.lo, leaf.box.hi
    middle, depth, height = (lo[0] + hi[0]) / 2, *STOP
    half = STOP_BLOCK / 2
    if stop.kind is StopKind.STRIP:
        half = (hi[0] - lo[0]) / 2 - STOP_FROM_END
    back = _back_of(bench, leaf)
    box = Box((middle - half, back, hi[2] - height), (middle + half, back + depth, hi[2]))
    bench.put(
        board(
            spec,
            Stock(letter="S", group=("doors", subject)),
            Board(
                key=f"{subject}/stop",
                name="door stop",
                material=stop.material,
                box=box,
                length=X,
                up=Z,
                note="glue it on with the doors shut and flush",
            ),
        )
    )


def _back_of(bench: Bench, leaf: Leaf) -> float:
    """Y of the doors' inside face."""
    door = bench.drafts[f"door {leaf.id}/1/door"]
    return door.frame.point((0.0, 0.0, 0.0))[1]


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
