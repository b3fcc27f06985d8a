"""Rails of the case: boards on edge behind the front plane, which the opening below loses."""

from dataclasses import replace

from ground.vectors import X, Y, Z, neg
from models.setting_out.bench import Bench
from models.setting_out.case import panel_draft
from models.setting_out.draft import Box
from models.setting_out.holding import hold, reach
from models.setting_out.meeting import Closing, Meeting
from models.setting_out.numbers import CaseNumbers
from models.setting_out.softwood import is_hard
from models.setting_out.trouble import trouble
from specs.case import CornerKind, Rail
from specs.joints import DowelJoint, JointKind
from specs.joints import Joint as JointAsked
from specs.spec import Spec

KEY = "case/rail under top"
DOWEL = 6.0
"""Diameter of the dowels in a rail's ends: a third of its usual 18 (mm; common practice)."""
FROM_EDGE = 1.5
"""Least wood between a dowel hole and the panel's front edge, under the edging (mm). Common
practice, no source."""


def lay_rails(bench: Bench, spec: Spec, case: CaseNumbers) -> Box:
    """Lay out the rail under the top; the room that is left below it.

    Raises:
        SettingOutError: the rail takes up the whole opening.
    """
    rail = spec.case.rails.under_top
    room = case.clear
    if rail is None:
        return room
    floor = room.hi[2] - rail.height
    if floor <= room.lo[2]:
        raise trouble(
            ("case", "rails", "under_top", "height"),
            f"takes all of the {room.size[2]:.1f} mm between bottom and top; make it lower",
        )
    joint = rail.joint or DowelJoint(kind=JointKind.DOWEL, count=2, diameter=DOWEL)
    deep = _deep(case, rail, joint)
    box = Box((room.lo[0] - deep, 0.0, floor), (room.hi[0] + deep, rail.thickness, room.hi[2]))
    draft = panel_draft(spec, rail.material, KEY, box, (X, neg(Y)))
    draft.name = "rail"
    draft.note = "glue its upper edge to the top"
    bench.put(draft)
    for hand, side in ((-1, "case/side left"), (1, "case/side right")):
        meeting = _end(spec, case, rail, side, hand)
        let_in = deep > 0.0
        hold(
            bench,
            _let_in(spec, case, rail, meeting) if let_in else meeting,
            joint,
            Closing(way=X if hand < 0 else neg(X)),
            material=case.lumber,
        )
    return replace_top(room, floor)


def _deep(case: CaseNumbers, rail: Rail, joint: JointAsked) -> float:
    """How far the rail's ends go into the sides (mm)."""
    return reach(joint, (rail.thickness - case.front, rail.height), case.panel)


def replace_top(box: Box, top: float) -> Box:
    """``box`` with its upper end at ``top``."""
    return replace(box, hi=(box.hi[0], box.hi[1], top))


def _end(spec: Spec, case: CaseNumbers, rail: Rail, side: str, hand: int) -> Meeting:
    """One end of the rail against a side; two dowels unless the spec says otherwise."""
    x = case.clear.lo[0] if hand < 0 else case.clear.hi[0]
    # The panels begin behind their edging: bore where there is panel, not glue line.
    back = max(rail.thickness / 2, case.front + DOWEL / 2 + FROM_EDGE)
    return Meeting(
        name=f"{KEY} {'left' if hand < 0 else 'right'}",
        end=KEY,
        face=side,
        start=(x, back, case.clear.hi[2] - rail.height),
        way=Z,
        length=rail.height,
        into_end=X if hand < 0 else neg(X),
        end_thickness=rail.thickness,
        face_thickness=case.panel,
        hidden=Y,
        made_by="case.rails.under_top",
        for_what="rail under the top",
        hard=is_hard(spec, rail.material),
    )


def _let_in(spec: Spec, case: CaseNumbers, rail: Rail, meeting: Meeting) -> Meeting:
    """The same end let into the side: behind the side's edging, clear of a mitre at the top."""
    x, _, z = meeting.start
    mitred = spec.case.corners.top.kind is CornerKind.MITRE
    return replace(
        meeting,
        start=(x, rail.thickness / 2, z),
        shy=case.front,
        # At a mitre the side's end is thin: what is let in keeps 3 mm and its own depth away.
        tail=case.panel / 2 if mitred else 0.0,
    )
