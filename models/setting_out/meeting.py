"""Where the end of one panel meets the face of another, and what is asked to hold it there."""

from dataclasses import dataclass, replace

from ground.vectors import Vec, along
from models.parts.joints.dowel import DowelSize, dowelled
from models.parts.joints.kit import Halves
from models.parts.joints.loose_tenon import TenonSize, TenonWay, loose_tenons
from models.parts.joints.pocket_screw import PocketSide, pocket_screwed
from models.parts.joints.rows import Row, spread
from models.parts.joints.screw import NUMBER_8, ScrewWay, WoodScrew, screwed
from models.setting_out.bench import Bench
from models.setting_out.notes import not_made
from specs.joints import (
    DowelJoint,
    Joint,
    LooseTenonJoint,
    PocketScrewJoint,
    ScrewJoint,
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """A butt: the end of ``end`` stands against the face of ``face`` (keys of drafts).

    ``start`` is the beginning of the joint's middle line in piece axes, ``way`` its direction,
    ``length`` how long it is. ``into_end`` points from the joint's plane into the end.
    ``end_thickness`` and ``face_thickness`` are what there is to bore in. ``hidden`` is the
    outward normal of the end part's face that may carry pockets.
    """

    name: str
    end: str
    face: str
    start: Vec
    way: Vec
    length: float
    into_end: Vec
    end_thickness: float
    face_thickness: float
    hidden: Vec
    made_by: str
    for_what: str


def hold(bench: Bench, meeting: Meeting, joint: Joint | None, *, closes: Vec | str) -> None:
    """Make ``joint`` at ``meeting``; what cannot be made yet is named in a finding."""
    match joint:
        case DowelJoint():
            _dowels(bench, meeting, joint, closes=closes)
        case LooseTenonJoint():
            _tenons(bench, meeting, joint, closes=closes)
        case ScrewJoint():
            _screws(bench, meeting, joint, closes=closes)
        case PocketScrewJoint():
            _pockets(bench, meeting, _row(meeting, joint.count), closes=closes)
        case None:
            _record(bench, meeting, Halves(kind="butt", first=(), second=(), closes=closes))
        case _:
            bench.find(not_made(f"{joint.kind} joint", meeting.for_what, meeting.end, meeting.face))
            _record(bench, meeting, Halves(kind="butt", first=(), second=(), closes=closes))


def _row(meeting: Meeting, count: int | None, *, margin: float = MARGIN) -> Row:
    row = spread(meeting.start, meeting.way, meeting.length, margin=margin, most=MOST_APART)
    if count is None or count == row.count:
        return row
    room = meeting.length - 2 * margin
    if count == 1 or room <= 0:
        middle = along(meeting.start, meeting.way, meeting.length / 2)
        return Row(start=middle, way=meeting.way, count=1, pitch=0.0)
    return Row(start=row.start, way=row.way, count=count, pitch=room / (count - 1))


def _dowels(bench: Bench, meeting: Meeting, joint: DowelJoint, *, closes: Vec | str) -> None:
    diameter = joint.diameter or next(
        size for least, size, _ in DOWELS if meeting.end_thickness >= least
    )
    in_face = joint.depth or min(12.0, meeting.face_thickness - LEFT_BEHIND - 1.0)
    length = joint.length or next((long for _, size, long in DOWELS if size <= diameter), 30.0)
    margin = min(MARGIN, meeting.length / 4)
    row = _row(meeting, joint.count, margin=margin)
    size = DowelSize(diameter=diameter, length=length, in_first=length - in_face)
    halves = dowelled(row, meeting.into_end, size, closes=closes, made_by=meeting.made_by)
    _record(bench, meeting, halves)
    if joint.with_ is not None and row.count > 1:
        _pockets(bench, meeting, row.between(), closes=closes)


def _tenons(bench: Bench, meeting: Meeting, joint: LooseTenonJoint, *, closes: Vec | str) -> None:
    thickness, length = next(
        (thick, long) for most, thick, long in TENONS if meeting.end_thickness <= most
    )
    in_face = joint.depth or min(length / 2, meeting.face_thickness - LEFT_BEHIND)
    row = _row(meeting, joint.count)
    size = TenonSize(
        thickness=joint.thickness or thickness,
        width=joint.width or TENON_WIDTH,
        depths=(length - in_face, in_face),
    )
    way = TenonWay(into_first=meeting.into_end, slot=meeting.way)
    halves = loose_tenons(row.places(), way, size, made_by=meeting.made_by)
    _record(bench, meeting, replace(halves, closes=closes))
    if joint.with_ is not None and row.count > 1:
        _pockets(bench, meeting, row.between(), closes=closes)


def _screws(bench: Bench, meeting: Meeting, joint: ScrewJoint, *, closes: Vec | str) -> None:
    screw = WoodScrew(
        shank=joint.diameter or NUMBER_8.shank,
        root=(joint.diameter or NUMBER_8.shank) * NUMBER_8.root / NUMBER_8.shank,
        length=joint.length or NUMBER_8.length,
    )
    halves = screwed(
        _row(meeting, joint.count),
        ScrewWay(into_end=meeting.into_end, face=meeting.face_thickness),
        screw,
        plugs=joint.plugs,
        for_what=meeting.for_what,
        made_by=meeting.made_by,
    )
    bench.join(f"{meeting.name}/screw", meeting.face, meeting.end, replace(halves, closes=closes))


def _pockets(bench: Bench, meeting: Meeting, row: Row, *, closes: Vec | str) -> None:
    side = PocketSide(face=meeting.hidden, into=meeting.into_end, thickness=meeting.end_thickness)
    halves = pocket_screwed(
        row,
        side,
        other=meeting.face_thickness,
        for_what=meeting.for_what,
        made_by=meeting.made_by,
    )
    bench.join(
        f"{meeting.name}/pocket-screw", meeting.end, meeting.face, replace(halves, closes=closes)
    )


def _record(bench: Bench, meeting: Meeting, halves: Halves) -> None:
    bench.join(f"{meeting.name}/{halves.kind.replace(' ', '-')}", meeting.end, meeting.face, halves)
