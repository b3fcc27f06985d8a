"""Pocket screws from an apron's inner face into a leg: by themselves, or to help what is glued."""

from dataclasses import replace

from ground.tolerances import ANGLE_EPS
from ground.vectors import ORIGIN, along, dot, neg, scale, sub, unit
from models.parts.joints.pocket_screw import POCKET
from models.parts.joints.rows import Row
from models.setting_out.apron_joints import CLOSES, MADE_BY, Plan, glued_row, tenon_width
from models.setting_out.aprons import Apron
from models.setting_out.bench import Bench
from models.setting_out.fastenings import pocket_hole, pockets
from models.setting_out.legs import Leg
from models.setting_out.meeting import Closing, Held, Meeting, put
from models.setting_out.tenons import RailEnd, Slots
from models.setting_out.weak import BETWEEN, Room
from specs.base import Aprons
from specs.joints import DowelJoint, LooseTenonJoint, PocketScrewJoint

POCKET_MARGIN = 16.0
"""mm from an apron's edge to the middle of a pocket (common practice, no source)."""
POCKETS_APART = 50.0
"""mm of an apron's height to each pocket screw (common practice, no source)."""


def screw_aprons(
    bench: Bench, aprons: tuple[Apron, ...], plan: Plan | None, spec: Aprons, *, hard: bool
) -> None:
    """Screw every apron to its legs where the spec asks for it; ``hard`` is the aprons' wood."""
    joint = spec.joint
    for apron in aprons:
        for leg in apron.legs:
            meeting = replace(_meeting(apron, leg), hard=hard)
            match joint:
                case PocketScrewJoint():
                    held = _screwed(meeting, joint)
                case LooseTenonJoint() | DowelJoint() if plan is not None and joint.with_:
                    held = _helped(meeting, joint, plan.slots[apron.axis], apron.end(leg))
                case _:
                    return
            home = neg(apron.face_of(leg).normal)
            closing = Closing(way=home)
            if apron.axis == 0:
                closing = Closing(way=CLOSES, each={apron.key: ORIGIN, leg.key: home})
            put(bench, meeting, held, closing)


def _meeting(apron: Apron, leg: Leg) -> Meeting:
    """Where an apron's end stands against a leg, from its lower edge up the joint's face."""
    end = apron.end(leg)
    face, inward = apron.inner.normal, neg(end.face.normal)
    return Meeting(
        name=f"{apron.key}/{leg.corner.name}",
        end=apron.key,
        face=leg.key,
        start=end.centre(end.low),
        way=end.slot,
        length=(end.high - end.low) / end.slot[2],
        # The screws lie in planes square to the apron's face, whatever the slant of its shoulder.
        into_end=unit(sub(inward, scale(face, dot(inward, face)))),
        end_thickness=apron.thickness,
        face_thickness=_behind(end),
        hidden=face,
        made_by=MADE_BY,
        for_what="aprons to legs",
    )


def _behind(end: RailEnd) -> float:
    """How deep the leg is behind the middle of the joint's face (mm)."""
    middle, into = end.centre((end.high + end.low) / 2), end.face.normal
    return min(
        -plane.height(middle) / dot(plane.normal, into)
        for plane in end.leg
        if dot(plane.normal, into) > ANGLE_EPS
    )


def _screwed(meeting: Meeting, joint: PocketScrewJoint) -> Held:
    """Two screws at least, into the unbored leg."""
    count = joint.count or max(2, int(meeting.length * meeting.way[2] / POCKETS_APART))
    middle, room = meeting.length / 2, meeting.length - 2 * POCKET_MARGIN
    pitch = room / (count - 1) if count > 1 else 0.0
    start = along(meeting.start, meeting.way, middle - pitch * (count - 1) / 2)
    at = Row(start=start, way=meeting.way, count=count, pitch=pitch)
    return pockets(meeting, at, length=joint.length, hole=pocket_hole(joint))


def _helped(
    meeting: Meeting, joint: LooseTenonJoint | DowelJoint, slots: Slots, end: RailEnd
) -> Held:
    """Screws between what is glued; over and under a single tenon or dowel."""
    glued = glued_row(joint, slots, end)
    size = slots.thickness
    if isinstance(joint, LooseTenonJoint):
        size = tenon_width(slots, glued.count)
    if glued.count > 1:
        at, apart = glued.between(), glued.pitch / 2
    else:
        low = dot(sub(glued.start, meeting.start), meeting.way)
        under, over = (low - size / 2) / 2, (meeting.length + low + size / 2) / 2
        start = along(meeting.start, meeting.way, under)
        at = Row(start=start, way=meeting.way, count=2, pitch=over - under)
        apart = min(low - under, over - low)
    room = Room(
        code="joint.crowded",
        what="wood between a screw and what it stands beside",
        left=apart - (size + POCKET) / 2,
        least=BETWEEN,
        mend="leave the screws out, or make the tenons or dowels fewer or narrower",
    )
    held = pockets(meeting, at)
    return replace(held, rooms=(*held.rooms, room))
