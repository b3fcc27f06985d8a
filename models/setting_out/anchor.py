"""Wall anchors: angle brackets under the top at the back, screwed to the top and into the wall."""

from collections.abc import Iterator
from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Vec, X, Y, Z, along
from models.parts.assembly import HardwareLine
from models.parts.features import Channel, ChannelKind, Hole, HoleKind, Seat
from models.parts.joints.screw import WoodScrew
from models.setting_out.bearing import apart
from models.setting_out.bench import Bench
from models.setting_out.draft import Box
from models.setting_out.drilling import meeting
from models.setting_out.fittings import Bought, lay_block
from models.setting_out.numbers import CaseNumbers
from models.setting_out.openings import box_of
from specs.spec import Spec

BRACKET: Final = (20.0, 25.0, 2.0)
"""An angle bracket's width, the length of either leg, and its thickness (mm). From memory."""
SCREW: Final = WoodScrew(shank=0.138 * 25.4, root=0.094 * 25.4, length=16.0)
"""No. 6, 16 long: shank .138 in, root .094 in (check values section 10)."""
SCREW_ALONG: Final = 17.0
"""From the bracket's corner to its screws (mm). From memory."""
LEFT_BEHIND: Final = 4.0
"""Least wood over the screw's point (mm). Common practice, no source."""
WALL_HOLE: Final = 6.0
"""Clearance hole through the back for a wall screw of 5 (mm). Common practice, no source."""
STEP: Final = 16.0
"""Where it meets something an anchor moves along the back in steps of this (mm)."""
STEPS: Final = 20
ROOM: Final = 1.0
"""Between a bracket and anything else (mm). Common practice, no source."""
MADE_BY: Final = "case.anchor"


def lay_anchors(bench: Bench, spec: Spec, case: CaseNumbers) -> None:
    """Spread the anchors along the top, each clear of what stands or hangs under it."""
    anchor = spec.case.anchor
    if anchor is None:
        return
    room = case.clear.size[0]
    for number in range(anchor.count):
        middle = case.clear.lo[0] + room * (number + 0.5) / anchor.count
        x = next((at for at in _tries(middle, case) if _free(bench, case, at)), None)
        if x is None:
            bench.find(_no_place(number + 1))
            continue
        _lay(bench, case, number + 1, x)
    bench.hardware.append(
        HardwareLine(
            name="wall anchor",
            quantity=anchor.count,
            size=f"angle bracket {BRACKET[0]:g} wide, legs {BRACKET[1]:g} mm",
            for_what="the piece to the wall",
            note="choose screws and plugs for the wall; into a stud or solid masonry",
        )
    )
    bench.hardware.append(
        HardwareLine(
            name="wood screw",
            quantity=anchor.count,
            size=f"{SCREW.shank:.1f} x {SCREW.length:g} mm",
            for_what="wall anchors",
        )
    )


def _tries(middle: float, case: CaseNumbers) -> Iterator[float]:
    half = BRACKET[0] / 2 + ROOM
    for step in range(STEPS):
        for way in (1, -1) if step else (1,):
            at = middle + way * step * STEP
            if case.clear.lo[0] + half <= at <= case.clear.hi[0] - half:
                yield at


def _box(case: CaseNumbers, x: float) -> Box:
    wide, leg, _ = BRACKET
    rear, top = case.clear.hi[1], case.clear.hi[2]
    return Box((x - wide / 2, rear - leg, top - leg), (x + wide / 2, rear, top))


def _free(bench: Bench, case: CaseNumbers, x: float) -> bool:
    box = _box(case, x)
    thick = BRACKET[2]
    legs = (
        Box((box.lo[0], box.lo[1], box.hi[2] - thick), box.hi),
        Box((box.lo[0], box.hi[1] - thick, box.lo[2]), box.hi),
    )
    around = ("case/top", "case/back")
    others = [box_of(bench, key) for key in bench.drafts if key not in around]
    clear = all(apart(one, other, ROOM) for one in legs for other in others)
    return clear and meeting(bench.drafts["case/top"], _up(bench, case, x)) is None


def _up(bench: Bench, case: CaseNumbers, x: float) -> Hole:
    """The pilot in the top's lower face."""
    at: Vec = (x, case.clear.hi[1] - SCREW_ALONG, case.clear.hi[2])
    thick = bench.drafts["case/top"].blank.thickness
    depth = min(SCREW.length - BRACKET[2], thick - LEFT_BEHIND)
    return Hole(
        kind=HoleKind.PILOT,
        seat=Seat(at, X, Z),
        diameter=SCREW.pilot(hard=True),
        depth=depth,
        made_by=MADE_BY,
    )


def _lay(bench: Bench, case: CaseNumbers, number: int, x: float) -> None:
    bench.cut("case/top", (_up(bench, case, x),))
    at = (x, case.clear.hi[1], case.clear.hi[2] - SCREW_ALONG)
    back = box_of(bench, "case/back")
    through = Hole(
        kind=HoleKind.CLEARANCE,
        seat=Seat(at, X, Y),
        diameter=WALL_HOLE,
        depth=back.size[1],
        made_by=MADE_BY,
    )
    bench.cut("case/back", (through,))
    wide, leg, thick = BRACKET
    box = _box(case, x)
    inside = Channel(
        kind=ChannelKind.RABBET,
        seat=Seat(along(box.lo, Y, (leg - thick) / 2), X, Z),
        length=wide,
        width=leg - thick,
        depth=leg - thick,
        made_by=MADE_BY,
    )
    it = Bought(key=f"case/wall anchor {number}", name="wall anchor", group=("case",))
    lay_block(bench, it, box, (inside,))


def _no_place(number: int) -> Finding:
    return Finding(
        code="fitting.no_room_for_anchor",
        severity=Severity.ERROR,
        subject="case.anchor",
        message=f"wall anchor {number} finds no free place under the top at the back; ask for "
        "fewer",
        copies=("case/top",),
        value=float(number),
        source=COMMON_PRACTICE,
    )
