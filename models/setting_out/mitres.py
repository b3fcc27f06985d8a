"""Mitred corners of the case: splines, loose tenons, dowels or screws square to the mitre."""

import math
from dataclasses import replace

from ground.vectors import Vec, Y, along, neg
from models.parts.joints.dowel import END_CLEARANCE as DOWEL_END
from models.parts.joints.dowel import DowelSize, dowelled
from models.parts.joints.kit import Halves
from models.parts.joints.loose_tenon import (
    END_ROOM,
    SIDE_CLEARANCE,
    TenonSize,
    TenonWay,
    loose_tenons,
)
from models.parts.joints.mitre import (
    LEAST_DEPTH,
    SPLINES,
    WALL_AT_TOE,
    MitreLine,
    SplineSeat,
    plain,
    seat_in,
    splined,
)
from models.parts.joints.rows import Row, spread
from models.parts.joints.spline import CLEARANCE, END_CLEARANCE
from models.setting_out.bench import Bench
from models.setting_out.corners import (
    FRONT_STOP,
    GROUP,
    SHORT_OF_GROOVE,
    CornerPlace,
    corner_point,
)
from models.setting_out.fastenings import (
    MARGIN,
    MOST_APART,
    TENON_WIDTH,
    beside_helper,
    free_places,
    row,
    screws,
    usual_screw,
    wood_screw,
)
from models.setting_out.meeting import Held, Meeting
from models.setting_out.numbers import CaseNumbers
from models.setting_out.weak import CHECK_7_3, Room, findings, from_end, in_row
from specs.joints import (
    DowelJoint,
    Helper,
    Joint,
    LooseTenonJoint,
    ScrewJoint,
    SplineJoint,
)

TENON = 5.0
"""Thickness of a loose tenon in a mitre (mm): wood is thin there. Common practice, no source."""
DOWEL = 6.0
"""Diameter of a dowel in a mitre (mm). Common practice, no source."""
DEPTH = 10.0
"""Tenons and dowels go this deep into either half where there is room (mm). Common practice, no
source."""
SCREW_SHARE = 0.65
"""Screws through a mitre stand this share of the panel in from the outside: further out a plug
would come through, further in the thread is too near the inner face. Common practice, no source."""
SLANT = 45.0
"""Between a mitre and a screw along the side (degrees)."""


def join_mitre(bench: Bench, case: CaseNumbers, joint: Joint | None, place: CornerPlace) -> None:
    """Cut and hold one mitred corner; all four close together."""
    line = _line(case, place)
    bare = plain(line, made_by=f"case.joints.{place.which}")
    held = _held(case, joint, place, line)
    keys = (place.panel, place.side)
    for finding in findings(held.rooms, place.name, keys):
        bench.find(finding)
    if any(room.impossible for room in held.rooms):
        held = Held()
    made = (bare, *held.halves, *held.swapped)
    bench.join(
        f"{place.name}/mitre",
        place.panel,
        place.side,
        Halves(
            kind=" with ".join(("mitre", *(half.kind for half in made[1:2]))),
            first=tuple(f for half in made for f in half.first),
            second=tuple(f for half in made for f in half.second),
            closes=GROUP,
            each=(place.down, place.inward),
            loose=tuple(piece for half in made for piece in half.loose),
            hardware=tuple(bought for half in made for bought in half.hardware),
        ),
    )


def _line(case: CaseNumbers, place: CornerPlace) -> MitreLine:
    x, z = corner_point(case, place)
    t, half = case.panel, math.sqrt(0.5)
    return MitreLine(
        heel=(x - place.hand * t, 0.0, z - place.upper * t),
        way=Y,
        toe=(place.hand * half, 0.0, place.upper * half),
        into_first=(-place.hand * half, 0.0, place.upper * half),
        thickness=t,
    )


def _held(case: CaseNumbers, joint: Joint | None, place: CornerPlace, line: MitreLine) -> Held:
    """Work out what holds the mitre.

    Raises:
        ValueError: the joint has no place in a mitre, which the spec refuses: a fault of ours.
    """
    match joint:
        case None:
            return Held()
        case SplineJoint():
            return _splined(case, joint, place, line)
        case LooseTenonJoint():
            return _tenoned(case, joint, place, line)
        case DowelJoint():
            return _dowelled(case, joint, place, line)
        case ScrewJoint():
            meeting = _meeting(case, place)
            at = row(meeting, joint.count)
            screw = wood_screw(joint, meeting.end_thickness, meeting.face_thickness)
            return screws(meeting, screw, at, plugs=joint.plugs, slant=SLANT)
        case _:
            reason = f"no {joint.kind} holds a mitre"
            raise ValueError(reason)


def _splined(case: CaseNumbers, joint: SplineJoint, place: CornerPlace, line: MitreLine) -> Held:
    t = case.panel
    thickness = joint.thickness or next(thin for least, thin in SPLINES if t >= least)
    depth = 8.0 if joint.width is None else joint.width / 2
    seat = seat_in(
        t,
        thickness,
        depth + END_CLEARANCE,
        asked=joint.width is not None,
        clearance=CLEARANCE if joint.clearance is None else joint.clearance,
    )
    span = (place.span[0] + FRONT_STOP, case.groove_front - SHORT_OF_GROOVE)
    halves = splined(
        line, seat, span=span, material=case.lumber, made_by=f"case.joints.{place.which}"
    )
    slots = replace(halves, kind="spline", first=halves.first[1:], second=halves.second[1:])
    return Held(
        halves=(slots,), rooms=_rooms("a spline's slot", seat, t, END_CLEARANCE, LEAST_DEPTH)
    )


def _tenoned(
    case: CaseNumbers, joint: LooseTenonJoint, place: CornerPlace, line: MitreLine
) -> Held:
    seat = seat_in(
        case.panel,
        joint.thickness or TENON,
        joint.depth or DEPTH,
        asked=joint.depth is not None,
        clearance=0.0,
    )
    size = TenonSize(
        thickness=seat.thickness,
        width=joint.width or TENON_WIDTH,
        depths=(seat.depth, seat.depth),
        clearance=SIDE_CLEARANCE if joint.clearance is None else joint.clearance / 2,
    )
    at = _row(case, place, _middle(line, seat), joint.count)
    halves = loose_tenons(
        at.places(),
        TenonWay(into_first=line.into_first, slot=line.way),
        size,
        made_by=f"case.joints.{place.which}",
    )
    rooms = (
        *_rooms("a mortise", seat, case.panel, END_ROOM, seat.thickness),
        *_crowding(at, "mortises", size.width, place.span[0]),
    )
    held = Held(halves=(halves,), rooms=rooms)
    return held.and_(_helper(case, joint.with_, place, at, size.width))


def _dowelled(case: CaseNumbers, joint: DowelJoint, place: CornerPlace, line: MitreLine) -> Held:
    deep = DEPTH if joint.length is None else joint.length / 2 + DOWEL_END
    clearance = joint.clearance or 0.0
    seat = seat_in(
        case.panel,
        joint.diameter or DOWEL,
        deep if joint.depth is None else joint.depth + DOWEL_END,
        asked=joint.depth is not None or joint.length is not None,
        clearance=clearance,
    )
    inside = seat.depth - DOWEL_END
    length = 2 * inside if joint.length is None else joint.length
    size = DowelSize(
        diameter=seat.thickness, length=length, in_first=length - inside, clearance=clearance
    )
    at = _row(case, place, _middle(line, seat), joint.count)
    halves = dowelled(at, line.into_first, size, closes="", made_by=f"case.joints.{place.which}")
    rooms = (
        *_rooms("a dowel's hole", seat, case.panel, DOWEL_END, seat.thickness),
        *_crowding(at, "dowels", seat.thickness, place.span[0]),
    )
    held = Held(halves=(halves,), rooms=rooms)
    return held.and_(_helper(case, joint.with_, place, at, seat.thickness))


def _rooms(
    what: str, seat: SplineSeat, panel: float, room: float, least: float
) -> tuple[Room, ...]:
    """How deep a slot in the mitre is but for its end ``room``, and the wood left at the toe."""
    return (
        Room(
            code="joint.short_grip",
            what=f"how far what goes into {what} in the mitre reaches",
            left=seat.depth - room,
            least=least,
            mend="use a thinner one, or thicker panels",
        ),
        Room(
            code="joint.thin_toe",
            what=f"wood between {what} and the outer face, at the toe of the mitre",
            left=seat.toe(panel),
            least=WALL_AT_TOE,
            mend="make it narrower or thinner",
            source=CHECK_7_3,
        ),
    )


def _crowding(at: Row, what: str, size: float, front: float) -> tuple[Room, ...]:
    ends = from_end(what, at.start[1] - front, size)
    return (ends,) if at.count == 1 else (ends, in_row(what, at.pitch, size))


def _middle(line: MitreLine, seat: SplineSeat) -> Vec:
    return along(line.heel, line.toe, seat.up)


def _row(case: CaseNumbers, place: CornerPlace, at: Vec, count: int | None) -> Row:
    """Places along the mitre between the front edge and the back's groove."""
    start = (at[0], place.span[0], at[2])
    length = case.groove_front - SHORT_OF_GROOVE - place.span[0]
    if count is None:
        return spread(start, Y, length, margin=MARGIN, most=MOST_APART)
    return row(_along(start, length), count)


def _along(start: Vec, length: float) -> Meeting:
    """A bare line to spread things on."""
    return Meeting(
        name="",
        end="",
        face="",
        start=start,
        way=Y,
        length=length,
        into_end=neg(Y),
        end_thickness=0.0,
        face_thickness=0.0,
        hidden=neg(Y),
        made_by="",
        for_what="",
    )


def _meeting(case: CaseNumbers, place: CornerPlace) -> Meeting:
    """Screws go through the panel near its toe, along the side, nearer to its inner face."""
    x, z = corner_point(case, place)
    t = case.panel
    face = SCREW_SHARE * t
    return Meeting(
        name=place.name,
        end=place.side,
        face=place.panel,
        start=(x - place.hand * face, place.span[0], z - place.upper * face),
        way=Y,
        length=case.groove_front - SHORT_OF_GROOVE - place.span[0],
        into_end=place.down,
        end_thickness=2 * (t - face),
        face_thickness=face,
        hidden=place.inward,
        made_by=f"case.joints.{place.which}",
        for_what=f"case {place.which}",
    )


def _helper(
    case: CaseNumbers, helper: Helper | None, place: CornerPlace, taken: Row, size: float
) -> Held:
    """Screws in the places that glue leaves free; pockets would come out at the mitre's heel."""
    if helper is None:
        return Held()
    meeting = _meeting(case, place)
    beside = replace(taken, start=along(meeting.start, Y, taken.start[1] - meeting.start[1]))
    at = free_places(meeting, beside)
    screw = usual_screw(meeting.end_thickness, meeting.face_thickness)
    held = screws(meeting, screw, at, plugs=None, slant=SLANT)
    return replace(held, rooms=(*held.rooms, beside_helper(at, beside, size + screw.head)))
