"""Ends let into the face that they meet: dadoes, tongues and tenons; how far, and how sound."""

from dataclasses import replace
from typing import assert_never

from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec, along, neg
from models.parts.features import Feature, Seat, Trim
from models.parts.joints.housing import CLEARANCE as DADO_CLEARANCE
from models.parts.joints.housing import housed
from models.parts.joints.mortise_tenon import (
    CHEEK_CLEARANCE,
    END_ROOM,
    Tenon,
    TenonPlace,
    mortise_and_tenon,
)
from models.parts.joints.tongue import CLEARANCE as GROOVE_CLEARANCE
from models.parts.joints.tongue import END_CLEARANCE as GROOVE_END
from models.parts.joints.tongue import EndLine, Tongue, cheek, corners, tongued
from models.setting_out.fastenings import LEFT_BEHIND, helped
from models.setting_out.meeting import Held, Meeting
from models.setting_out.weak import BEHIND_MORTISE, Room, behind, beside, housing
from specs.joints import (
    DadoJoint,
    MortiseAndTenonJoint,
    OpenSide,
    StoppedDadoJoint,
    TongueAndGrooveJoint,
)

THIRD = 1 / 3
"""A dado is a third of its panel deep, a tongue or tenon a third of its stock thick (check values
7.3)."""
DADO_STOP = 10.0
"""A stopped dado ends this far behind the edge that shows (mm). Common practice, no source."""
SHOULDER = 5.0
"""A tenon's edge stands this far in from its rail's (mm; check values 7.3: 3 at least)."""
WIDEST = 5.0
"""A tenon is no wider than this many thicknesses (common practice, no source)."""


def dado_depth(asked: float | None, face: float) -> float:
    """How deep a dado goes into a panel ``face`` thick."""
    return face * THIRD if asked is None else asked


def tongue_of(joint: TongueAndGrooveJoint, end: float, face: float) -> Tongue:
    """The tongue on stock ``end`` thick for a groove in ``face``."""
    return Tongue(
        thickness=joint.thickness or round(end * THIRD, 1),
        length=joint.depth or round(face * THIRD, 1),
        clearance=GROOVE_CLEARANCE if joint.clearance is None else joint.clearance,
    )


def tenon_of(joint: MortiseAndTenonJoint, size: tuple[float, float], face: float) -> Tenon:
    """The tenon on an end of ``size`` (thickness, length), for a mortise in ``face``."""
    thick, long = size
    thickness = joint.thickness or float(round(thick * THIRD))
    return Tenon(
        thickness=thickness,
        width=joint.width or min(long - 2 * SHOULDER, WIDEST * thickness),
        depth=face - LEFT_BEHIND if joint.length is None else joint.length + END_ROOM,
        clearance=CHEEK_CLEARANCE if joint.clearance is None else joint.clearance / 2,
    )


def housed_at(meeting: Meeting, joint: DadoJoint | StoppedDadoJoint) -> Held:
    """The whole end in a dado; where that stops, the end's corners are notched."""
    depth = dado_depth(joint.depth, meeting.face_thickness)
    kept = meeting
    if isinstance(joint, StoppedDadoJoint):
        kept = _stopped(meeting, joint)
    line = kept.line
    halves = housed(
        Seat(along(line.start, line.way, line.lead), line.way, neg(line.into_end)),
        length=line.let_in,
        thickness=line.thickness,
        depth=depth,
        closes="",
        made_by=meeting.made_by,
        clearance=DADO_CLEARANCE if joint.clearance is None else joint.clearance,
    )
    halves = replace(
        halves, first=(*_shy(meeting, depth), *corners(line, depth, made_by=meeting.made_by))
    )
    rooms = (housing("a dado", meeting.face_thickness, depth), _length(line.let_in))
    floor = meeting.deeper(depth)
    return Held(halves=(halves,), rooms=rooms).and_(helped(floor, joint.with_, None, 0.0))


def tongued_at(meeting: Meeting, joint: TongueAndGrooveJoint) -> Held:
    """A tongue on the end in a groove across the face."""
    line = meeting.line
    tongue = tongue_of(joint, line.thickness, meeting.face_thickness)
    halves = tongued(line, tongue, closes="", made_by=meeting.made_by)
    halves = replace(halves, first=(*_shy(meeting, tongue.length), *halves.first))
    rooms = (
        Room(
            code="joint.thin_shoulder",
            what="shoulder beside a tongue",
            left=(line.thickness - tongue.thickness) / 2,
            least=line.thickness / 6,
            mend="make the tongue thinner",
        ),
        housing("a groove", meeting.face_thickness, tongue.length + GROOVE_END),
        _length(line.let_in),
    )
    floor = meeting.deeper(tongue.length)
    return Held(halves=(halves,), rooms=rooms).and_(helped(floor, joint.with_, None, 0.0))


def tenoned_into(meeting: Meeting, joint: MortiseAndTenonJoint) -> Held:
    """A tenon cut on the end, in a mortise of the face, under a haunch where one is asked for."""
    line = meeting.line
    tenon = tenon_of(joint, (line.thickness, line.length), meeting.face_thickness)
    middle = line.length / 2
    if joint.haunch:
        tenon, middle = _haunched(tenon, joint, line)
    place = TenonPlace(
        centre=along(line.start, line.way, middle),
        up=line.way,
        into_leg=neg(line.into_end),
        end="",
    )
    halves = mortise_and_tenon(place, tenon, made_by=meeting.made_by)
    # The blank ends where the tenon does, so nothing is to be sawn off.
    first: tuple[Feature, ...] = tuple(f for f in halves.first if not isinstance(f, Trim))
    if joint.haunch:
        above = replace(line, lead=0.0)
        first = (*first, *corners(above, tenon.length, made_by=meeting.made_by))
    rooms = (
        beside("a tenon", line.thickness, tenon.thickness),
        behind("a mortise", meeting.face_thickness, tenon.depth, BEHIND_MORTISE),
        Room(
            code="joint.thin_shoulder",
            what="shoulder at a tenon's edge",
            left=middle - tenon.width / 2,
            least=3.0,
            mend="make the tenon narrower",
        ),
        _length(tenon.length),
    )
    return Held(halves=(replace(halves, first=first),), rooms=rooms)


def _haunched(tenon: Tenon, joint: MortiseAndTenonJoint, line: EndLine) -> tuple[Tenon, float]:
    """The tenon under a haunch of a third of its rail (check values 7.3), and its middle (mm).

    The haunch goes on to the end of the line, or to where what is let in must stop before it.
    """
    top = line.length - line.tail
    high = top - line.length * THIRD
    width = min(high - SHOULDER, joint.width or high)
    worked = replace(
        tenon,
        width=width,
        haunch=top - high,
        haunch_depth=min(tenon.thickness, tenon.depth / 2) + END_ROOM,
    )
    return worked, high - width / 2


def _stopped(meeting: Meeting, joint: StoppedDadoJoint) -> Meeting:
    """Where a dado stops: at the end away from the side that it runs out at.

    One that nothing is said of runs out at the back; upright at the top, where its part drops in.
    """
    stop = DADO_STOP if joint.stop is None else joint.stop
    match joint.open:
        case OpenSide.FRONT | OpenSide.BOTTOM:
            # The line of a level joint begins at the front, of an upright one at the bottom.
            return replace(meeting, tail=max(meeting.tail, stop))
        case OpenSide.BACK | OpenSide.TOP | None:
            return replace(meeting, lead=max(meeting.lead, stop))
    assert_never(joint.open)


def _shy(meeting: Meeting, depth: float) -> tuple[Feature, ...]:
    """Cut back what has no wood to go into."""
    if meeting.shy <= LENGTH_EPS:
        return ()
    whole = replace(
        meeting.line,
        start=meeting.start,
        thickness=meeting.end_thickness,
    )
    away: Vec = neg(meeting.hidden)
    return (cheek(whole, away, (depth, meeting.shy), made_by=meeting.made_by),)


def _length(left: float) -> Room:
    return Room(
        code="joint.short_grip",
        what="length of what is let in",
        left=left,
        least=10.0,
        mend="stop it nearer the edge, or make the joint longer",
    )
