"""Dowels, loose tenons, splines and screws at a meeting: sizes by proportion, and how sound."""

from dataclasses import replace

from ground.vectors import along, dot, sub
from models.parts.joints import dowel as dowels
from models.parts.joints.dowel import DowelSize, dowelled
from models.parts.joints.loose_tenon import (
    END_ROOM,
    SIDE_CLEARANCE,
    TenonSize,
    TenonWay,
    loose_tenons,
)
from models.parts.joints.pocket_screw import (
    CLEARANCE_HOLE,
    LEAST_POCKET,
    PLAY,
    POCKET,
    PocketScrew,
    PocketSide,
    pocket_screw,
    pocket_screwed,
    screw_length,
)
from models.parts.joints.rows import Row, counted
from models.parts.joints.screw import (
    NUMBER_6,
    NUMBER_8,
    PLUG_DIAMETER,
    ScrewWay,
    WoodScrew,
    screwed,
)
from models.parts.joints.spline import CLEARANCE as SLOT_CLEARANCE
from models.parts.joints.spline import END_CLEARANCE as SLOT_END
from models.parts.joints.spline import SlotLine, SplineSize, splined_butt
from models.setting_out.meeting import Held, Meeting
from models.setting_out.weak import (
    BEHIND_DOWEL,
    BEHIND_MORTISE,
    BETWEEN,
    DIAMETERS_TO_EDGE,
    Room,
    behind,
    beside,
    from_end,
    housing,
    in_row,
)
from specs.joints import (
    DowelJoint,
    Helper,
    LooseTenonJoint,
    PocketScrewJoint,
    ScrewJoint,
    SplineJoint,
)

MARGIN = 40.0
"""The first dowel, screw or tenon stands this far from the end of the joint (mm; check values 7.3:
50 at most)."""
MOST_APART = 150.0
"""Dowels, screws and tenons are no further apart than this (mm; check values 7.3: 150 to 200)."""
LEFT_BEHIND = 6.0
"""Least wood between the bottom of a hole in a panel's face and the far face (mm). Common
practice, no source."""

TENONS = ((16.0, 5.0, 30.0), (24.0, 6.0, 40.0), (32.0, 8.0, 40.0), (999.0, 10.0, 50.0))
"""Stock up to (mm): tenon thickness and length, about a third of the stock (check values 7.3)."""
TENON_WIDTH = 20.0
DOWELS = ((24.0, 10.0, 40.0), (16.0, 8.0, 30.0), (0.0, 6.0, 30.0))
"""From this stock on (mm): a dowel's diameter and length. Common practice, no source."""
IN_FACE = 12.0
"""A dowel goes this deep into a panel's face (mm). Common practice, no source."""
SPLINE = (8.0, 4.0)
"""How deep a spline goes, and how thick it is: 4 in stock of 15 and more, else 3 (mm). Common
practice, no source."""
THIN_STOCK = 15.0
SCREWS = (40.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0)
"""Lengths that wood screws for joints are sold in (mm; from memory)."""
GRIP = 6.0
"""A screw goes this many shanks into an end. Common practice, no source."""
LEAST_PLUG = 2.0
"""A plug thinner than this comes loose when it is flushed (mm). Common practice, no source."""


def row(meeting: Meeting, count: int | None, *, margin: float = MARGIN) -> Row:
    """Places along the meeting: as many as asked for, or as the rule wants."""
    start = along(meeting.start, meeting.way, meeting.shift)
    return counted(start, meeting.way, meeting.length, count=count, margin=margin, most=MOST_APART)


def _crowding(meeting: Meeting, at: Row, what: str, size: float) -> tuple[Room, ...]:
    """How close a row of things ``size`` wide stands, to one another and to the joint's ends."""
    first = dot(sub(at.start, meeting.start), meeting.way)
    last = first + at.pitch * (at.count - 1)
    ends = from_end(what, min(first, meeting.length - last), size)
    return (ends,) if at.count == 1 else (in_row(what, at.pitch, size), ends)


def dowelled_at(meeting: Meeting, joint: DowelJoint) -> Held:
    """Dowels from the end into the face."""
    diameter = joint.diameter or next(
        size for least, size, _ in DOWELS if meeting.end_thickness >= least
    )
    room = meeting.face_thickness - _left_behind(meeting.face_thickness) - dowels.END_CLEARANCE
    in_face = joint.depth or min(IN_FACE, room)
    length = joint.length or next((long for _, size, long in DOWELS if size <= diameter), 30.0)
    at = row(meeting, joint.count, margin=min(MARGIN, max(diameter, meeting.length / 4)))
    size = DowelSize(
        diameter=diameter,
        length=length,
        in_first=length - in_face,
        clearance=joint.clearance or 0.0,
    )
    hole = diameter + size.clearance
    rooms = (
        beside("a dowel", meeting.end_thickness, hole),
        behind(
            "a dowel's hole", meeting.face_thickness, in_face + dowels.END_CLEARANCE, BEHIND_DOWEL
        ),
        _grip("a dowel goes into the face", in_face, diameter / 2),
        _grip("a dowel goes into the end", length - in_face, diameter),
        *_crowding(meeting, at, "dowels", hole),
    )
    halves = dowelled(at, meeting.into_end, size, closes="", made_by=meeting.made_by)
    return Held(halves=(halves,), rooms=rooms).and_(helped(meeting, joint.with_, at, hole))


def tenoned_at(meeting: Meeting, joint: LooseTenonJoint) -> Held:
    """Loose tenons along the joint."""
    usual, length = next(
        (thick, long) for most, thick, long in TENONS if meeting.end_thickness <= most
    )
    in_face = joint.depth or min(
        length / 2,
        meeting.face_thickness - max(BEHIND_MORTISE, _left_behind(meeting.face_thickness)),
    )
    at = row(meeting, joint.count)
    size = TenonSize(
        thickness=joint.thickness or usual,
        width=joint.width or TENON_WIDTH,
        depths=(joint.depth or length - in_face, in_face),
        clearance=SIDE_CLEARANCE if joint.clearance is None else joint.clearance / 2,
    )
    rooms = (
        beside("a mortise", meeting.end_thickness, size.thickness),
        behind("a mortise", meeting.face_thickness, in_face, BEHIND_MORTISE),
        _grip("a tenon goes into the face", in_face - END_ROOM, size.thickness),
        _wide(size.width, size.thickness),
        *_crowding(meeting, at, "mortises", size.width),
    )
    way = TenonWay(into_first=meeting.into_end, slot=meeting.way)
    halves = loose_tenons(at.places(), way, size, made_by=meeting.made_by)
    held = Held(halves=(halves,), rooms=rooms)
    return held.and_(helped(meeting, joint.with_, at, size.width))


def splined_at(meeting: Meeting, joint: SplineJoint, material: str | None) -> Held:
    """A spline in the middle of the end, in a slot across the face; it stops short of both ends."""
    depth, thick = SPLINE
    thickness = joint.thickness or (thick if meeting.end_thickness >= THIN_STOCK else thick - 1.0)
    in_end = depth + SLOT_END if joint.width is None else joint.width / 2 + SLOT_END
    in_face = min(in_end, meeting.face_thickness / 2) if joint.width is None else in_end
    size = SplineSize(
        thickness=thickness,
        depths=(in_end, in_face),
        clearance=SLOT_CLEARANCE if joint.clearance is None else joint.clearance,
    )
    line = meeting.line
    slot = SlotLine(
        start=along(line.start, line.way, line.lead),
        way=line.way,
        length=line.let_in,
        into_first=meeting.into_end,
    )
    rooms = (
        beside("a spline's slot", line.thickness, thickness + size.clearance),
        housing("a spline's slot", meeting.face_thickness, in_face),
        _grip("a spline's length", slot.length, 2 * in_end),
    )
    halves = splined_butt(slot, size, closes="", material=material, made_by=meeting.made_by)
    return Held(halves=(halves,), rooms=rooms)


def screwed_at(meeting: Meeting, joint: ScrewJoint) -> Held:
    """Screws through the face into the end, heads plugged or flush."""
    return screws(
        meeting,
        wood_screw(joint, meeting.end_thickness, meeting.face_thickness),
        row(meeting, joint.count),
        plugs=joint.plugs,
    )


def wood_screw(joint: ScrewJoint, end: float, face: float) -> WoodScrew:
    """The screw that is asked for, else what suits a ``face`` and an ``end`` that thick (mm)."""
    usual = usual_screw(end, face)
    shank = joint.diameter or usual.shank
    return WoodScrew(
        shank=shank,
        root=shank * usual.root / usual.shank,
        length=joint.length or usual.length,
        play=usual.play if joint.clearance is None else joint.clearance,
    )


def usual_screw(end: float, face: float) -> WoodScrew:
    """A No. 8, or a No. 6 where a No. 8 would stand too near the faces of the end.

    It is as long as it usually is, or long enough to go six shanks into the end.
    """
    screw = NUMBER_8 if end / 2 >= DIAMETERS_TO_EDGE * NUMBER_8.shank else NUMBER_6
    wanted = max(screw.length, face + GRIP * screw.shank)
    return replace(screw, length=next((it for it in SCREWS if it >= wanted), screw.length))


def screws(
    meeting: Meeting, screw: WoodScrew, at: Row, *, plugs: str | None, slant: float = 0.0
) -> Held:
    """``screw`` along a row; ``slant`` is how far the joint is from square to them (degrees)."""
    face = meeting.face_thickness
    way = ScrewWay(into_end=meeting.into_end, face=face, hard=meeting.hard, slant=slant)
    head = max(PLUG_DIAMETER, screw.head) if plugs else screw.head
    rooms = (
        _head(screw, way, plugs),
        _grip("a screw goes into the end", screw.length - face, GRIP * screw.shank),
        Room(
            code="joint.thin_wall",
            what="from a screw's middle to the face of the end",
            left=meeting.end_thickness / 2,
            least=DIAMETERS_TO_EDGE * screw.shank,
            mend="use thinner screws",
        ),
        *_crowding(meeting, at, "screw heads", head),
    )
    halves = screwed(
        at,
        way,
        screw,
        plugs=plugs,
        for_what=meeting.for_what,
        made_by=meeting.made_by,
    )
    return Held(swapped=(halves,), rooms=rooms)


def _head(screw: WoodScrew, way: ScrewWay, plugs: str | None) -> Room:
    """The room for a plug over a screw's head, or the wood under a head that lies flush."""
    if plugs:
        return Room(
            code="joint.thin_plug",
            what="depth of a plug over a screw's head",
            left=way.sunk,
            least=LEAST_PLUG,
            mend="leave out the plugs",
        )
    return Room(
        code="joint.thin_under_head",
        what="wood under a screw's head",
        left=way.face - screw.head / 2,
        least=1.0,
        mend="use thinner screws",
    )


def pocketed_at(meeting: Meeting, joint: PocketScrewJoint) -> Held:
    """Pocket screws from the end's hidden face into the face."""
    at = row(meeting, joint.count)
    return pockets(meeting, at, length=joint.length, hole=pocket_hole(joint))


def pocket_hole(joint: PocketScrewJoint) -> float:
    """The diameter of a pocket screw's clearance hole (mm)."""
    return CLEARANCE_HOLE if joint.clearance is None else CLEARANCE_HOLE - PLAY + joint.clearance


def helped(meeting: Meeting, helper: Helper | None, beside_row: Row | None, size: float) -> Held:
    """Screws that pull a joint together until its glue holds, in the places that glue leaves free.

    They stand half-way between what is in ``beside_row``, each ``size`` wide; on either side of a
    single one; along the whole of a housing, where there is no such row.
    """
    if helper is None:
        return Held()
    at = free_places(meeting, beside_row)
    head = POCKET
    if helper is Helper.POCKET_SCREW:
        held = pockets(meeting, at)
    else:
        screw = usual_screw(meeting.end_thickness, meeting.face_thickness)
        head, held = screw.head, screws(meeting, screw, at, plugs=None)
    if beside_row is None:
        return held
    return replace(held, rooms=(*held.rooms, beside_helper(at, beside_row, size + head)))


def free_places(meeting: Meeting, beside_row: Row | None) -> Row:
    """Where screws stand beside ``beside_row``; see ``helped``."""
    taken = row(meeting, None) if beside_row is None else beside_row
    if taken.count > 1:
        return taken.between()
    if beside_row is None:
        return taken
    start = along(meeting.start, meeting.way, meeting.length / 4 + meeting.shift)
    return Row(start=start, way=meeting.way, count=2, pitch=meeting.length / 2)


def beside_helper(at: Row, taken: Row, both: float) -> Room:
    """The wood between a screw and what stands beside it; ``both`` is what the two are wide."""
    apart = abs(dot(sub(at.start, taken.start), taken.way))
    return Room(
        code="joint.crowded",
        what="wood between a screw and what it stands beside",
        left=apart - both / 2,
        least=BETWEEN,
        mend="leave the screws out, or make the others fewer or smaller",
    )


def pockets(
    meeting: Meeting, at: Row, *, length: float | None = None, hole: float = CLEARANCE_HOLE
) -> Held:
    """Pocket screws along a row, from the end's hidden face."""
    side = PocketSide(
        face=meeting.hidden,
        into=meeting.into_end,
        thickness=meeting.end_thickness + 2 * meeting.under,
    )
    usual = pocket_screw(
        side,
        other=meeting.face_thickness,
        length=length or screw_length(meeting.end_thickness + meeting.under),
    )
    screw = PocketScrew(length=usual.length, bite=usual.bite, hole=hole)
    rooms = (
        Room(
            code="joint.pocket_seat",
            what="depth of a pocket under the face",
            left=side.to_face - screw.shoulder,
            least=LEAST_POCKET,
            mend="use shorter pocket screws",
        ),
        _grip("a pocket screw goes into the other part", screw.bite, 6.0),
        *_crowding(meeting, at, "pockets", POCKET),
    )
    halves = pocket_screwed(at, side, screw, for_what=meeting.for_what, made_by=meeting.made_by)
    return Held(halves=(halves,), rooms=rooms)


def _left_behind(face: float) -> float:
    """The wood that a hole leaves in a ``face`` that thick: a third where that is little (mm)."""
    return min(LEFT_BEHIND, face / 3)


def _grip(what: str, left: float, least: float) -> Room:
    return Room(
        code="joint.short_grip",
        what=what,
        left=left,
        least=least,
        mend="make it longer, or what it passes thinner",
    )


def _wide(width: float, thickness: float) -> Room:
    """A round-ended mortise is wider than its cutter."""
    return Room(
        code="joint.narrow_tenon",
        what="a tenon is wider than it is thick by",
        left=width - thickness,
        least=thickness,
        mend="make it wider",
    )
