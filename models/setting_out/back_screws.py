"""Screws that hold a back put on last: through it, square to it, into the panels before it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Vec, X, Y, Z, add, along, neg, scale
from models.parts.assembly import HardwareLine
from models.parts.features import (
    Channel,
    Countersink,
    Feature,
    Hole,
    HoleKind,
    Mortise,
    Seat,
)
from models.parts.joints.rows import spread
from models.parts.joints.screw import HEAD_ANGLE, WoodScrew
from models.setting_out.back import SHORT_OF_FLOOR
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, Draft
from models.setting_out.drilling import meeting
from models.setting_out.numbers import CaseNumbers
from specs.case import BackFixing, Enters, GroovedBack, RabbetedBack
from specs.spec import Spec

SCREW: Final = WoodScrew(shank=0.138 * 25.4, root=0.094 * 25.4, length=25.0)
"""No. 6, 25 long: shank .138 in, root .094 in (check values section 10)."""
FROM_END: Final = 40.0
"""From an edge's end to the first screw (mm). Common practice, no source."""
APART: Final = 150.0
"""Screws stand no further apart than this (mm). Common practice, no source."""
STEP: Final = 8.0
"""Where it meets something a screw moves along its edge in steps of this (mm)."""
STEPS: Final = 6
ROOM: Final = 2.0
"""Wood between a screw and what is cut beside it (mm). Common practice, no source."""
UNDER_HEAD: Final = 1.0
"""Least wood under a sunk head (mm); in a thinner back the heads lie on top. Common practice, no
source."""
MADE_BY: Final = "case.back"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """An edge of the back: the ``panel`` before it, and a line of screws' places from ``start``.

    The places lie on the panel's face towards the back; ``length`` is the line's.
    """

    panel: str
    start: Vec
    way: Vec
    length: float


def screw_back(bench: Bench, spec: Spec, case: CaseNumbers) -> None:
    """Screw a back that is put on last to the panels before it, clear of all that is in them."""
    placed = [_lay(bench, case, edge) for edge in _edges(spec, case)]
    if not placed:
        return
    below = isinstance(spec.case.back, GroovedBack)
    bench.hardware.append(
        HardwareLine(
            name="wood screw",
            quantity=sum(placed),
            size=f"{SCREW.shank:.1f} x {SCREW.length:g} mm",
            for_what="back into the bottom's edge" if below else "back into its rabbets",
        )
    )


def _edges(spec: Spec, case: CaseNumbers) -> tuple[_Edge, ...]:
    """The edges that are screwed: all four of a back in rabbets, the lower one of a sliding one."""
    back, clear = spec.case.back, case.clear
    width, height = clear.size[0], clear.size[2]
    match back:
        case RabbetedBack() if back.held is BackFixing.SCREW:
            lap = ((back.depth or case.panel / 2) - SHORT_OF_FLOOR) / 2
            y = case.groove_front
        case GroovedBack() if back.enters is Enters.FROM_BELOW:
            at = (clear.lo[0], case.bottom_rear, clear.lo[2] - case.panel / 2)
            return (_Edge(panel="case/bottom", start=at, way=X, length=width),)
        case _:
            return ()
    lo, hi = clear.lo, clear.hi
    return (
        _Edge(panel="case/top", start=(lo[0], y, hi[2] + lap), way=X, length=width),
        _Edge(panel="case/bottom", start=(lo[0], y, lo[2] - lap), way=X, length=width),
        _Edge(panel="case/side left", start=(lo[0] - lap, y, lo[2]), way=Z, length=height),
        _Edge(panel="case/side right", start=(hi[0] + lap, y, lo[2]), way=Z, length=height),
    )


def _lay(bench: Bench, case: CaseNumbers, edge: _Edge) -> int:
    """Bore for the screws of one edge; how many found a place."""
    row = spread(edge.start, edge.way, edge.length, margin=FROM_END, most=APART)
    panel, found = bench.drafts[edge.panel], 0
    for place in row.places():
        at = next((it for it in _tries(place, edge.way) if _free(case, panel, it)), None)
        if at is not None:
            found += 1
            bench.cut(edge.panel, (_pilot(case, at),))
            bench.cut("case/back", _through(case, at))
    if found < row.count:
        bench.find(_no_place(edge.panel, found, row.count))
    return found


def _tries(place: Vec, way: Vec) -> Iterator[Vec]:
    yield place
    for step in range(1, STEPS + 1):
        for sign in (1.0, -1.0):
            yield along(place, way, sign * step * STEP)


def _thickness(case: CaseNumbers) -> float:
    """The back's own: its groove less the room on either side (mm)."""
    return case.groove_rear - case.groove_front - 2 * (case.clear.hi[1] - case.groove_front)


def _pilot(case: CaseNumbers, at: Vec) -> Hole:
    passed = case.clear.hi[1] + _thickness(case) - at[1]
    return Hole(
        kind=HoleKind.PILOT,
        seat=Seat(at, X, neg(Y)),
        diameter=SCREW.pilot(hard=True),
        depth=SCREW.length - passed,
        made_by=MADE_BY,
    )


def _through(case: CaseNumbers, at: Vec) -> tuple[Feature, ...]:
    """The clearance hole from the back's rear face, and the bed of a head that is sunk."""
    thick = _thickness(case)
    seat = Seat((at[0], case.clear.hi[1] + thick, at[2]), X, neg(Y))
    hole = Hole(
        kind=HoleKind.CLEARANCE,
        seat=seat,
        diameter=SCREW.clearance,
        depth=thick,
        made_by=MADE_BY,
    )
    if thick - SCREW.head / 2 < UNDER_HEAD:
        return (hole,)
    sunk = Countersink(seat=seat, diameter=SCREW.head, angle=HEAD_ANGLE, made_by=MADE_BY)
    return (hole, sunk)


def _free(case: CaseNumbers, panel: Draft, at: Vec) -> bool:
    """Tell whether a screw at ``at`` meets nothing that is cut or bored into the panel."""
    pilot = _pilot(case, at)
    if meeting(panel, pilot) is not None:
        return False
    own = pilot.moved(panel.frame.inverse())
    half = own.diameter / 2 + ROOM
    mine = _spanned(own.seat, (0.0, 0.0), (-half, half), (0.0, own.depth or 0.0), beside=half)
    return not any(_meet(mine, box) for box in _cut_boxes(panel))


def _cut_boxes(panel: Draft) -> Iterator[Box]:
    """What channels and mortises take of a panel, as boxes in its own axes."""
    for feature in panel.features:
        match feature:
            case Channel() if feature.made_by != MADE_BY:
                half = feature.width / 2
                yield _spanned(
                    feature.seat, (0.0, feature.length), (-half, half), (0.0, feature.depth)
                )
            case Mortise():
                long, half = feature.length / 2, feature.width / 2
                yield _spanned(feature.seat, (-long, long), (-half, half), (0.0, feature.depth))
            case _:
                pass


Span = tuple[float, float]


def _spanned(seat: Seat, run: Span, aside: Span, deep: Span, *, beside: float = 0.0) -> Box:
    """The box between distances along, across and into a seat; ``beside`` more along it."""
    run = (run[0] - beside, run[1] + beside)
    corners = [
        add(
            add(seat.origin, scale(seat.along, a)),
            add(scale(seat.across, b), scale(seat.into, c)),
        )
        for a in run
        for b in aside
        for c in deep
    ]
    low, high = (tuple(pick(c[i] for c in corners) for i in range(3)) for pick in (min, max))
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _meet(one: Box, other: Box) -> bool:
    return all(one.lo[i] < other.hi[i] and other.lo[i] < one.hi[i] for i in range(3))


def _no_place(panel: str, found: int, wanted: int) -> Finding:
    return Finding(
        code="fit.back_screws",
        severity=Severity.WARNING,
        subject="case/back",
        message=f"{found} of {wanted} screws into {panel.removeprefix('case/')} find a place clear "
        "of what is let into it; glue that edge, or let other things leave it room",
        copies=(panel, "case/back"),
        value=float(found),
        limit=float(wanted),
        source=COMMON_PRACTICE,
    )
