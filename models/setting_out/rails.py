"""Rails of the case: boards on edge behind the front plane, which the opening below loses."""

from dataclasses import replace

from ground.vectors import X, Y, Z, neg
from models.setting_out.bench import Bench
from models.setting_out.case import panel_draft
from models.setting_out.draft import Box
from models.setting_out.meeting import Meeting, hold
from models.setting_out.numbers import CaseNumbers
from models.setting_out.trouble import trouble
from specs.case import Rail
from specs.joints import DowelJoint, JointKind
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
    box = Box((room.lo[0], 0.0, floor), (room.hi[0], rail.thickness, room.hi[2]))
    draft = panel_draft(spec, rail.material, KEY, box, (X, neg(Y)))
    draft.name = "rail"
    draft.note = "glue its upper edge to the top"
    bench.put(draft)
    for hand, side in ((-1, "case/side left"), (1, "case/side right")):
        _end(bench, case, rail, side, hand)
    return replace_top(room, floor)


def replace_top(box: Box, top: float) -> Box:
    """``box`` with its upper end at ``top``."""
    return replace(box, hi=(box.hi[0], box.hi[1], top))


def _end(bench: Bench, case: CaseNumbers, rail: Rail, side: str, hand: int) -> None:
    """One end of the rail; two dowels unless the spec says otherwise (common practice)."""
    x = case.clear.lo[0] if hand < 0 else case.clear.hi[0]
    into = X if hand < 0 else neg(X)
    joint = rail.joint or DowelJoint(kind=JointKind.DOWEL, count=2, diameter=DOWEL)
    # The panels begin behind their edging: bore where there is panel, not glue line.
    back = max(rail.thickness / 2, case.front + DOWEL / 2 + FROM_EDGE)
    hold(
        bench,
        Meeting(
            name=f"{KEY} {'left' if hand < 0 else 'right'}",
            end=KEY,
            face=side,
            start=(x, back, case.clear.hi[2] - rail.height),
            way=Z,
            length=rail.height,
            into_end=into,
            end_thickness=rail.thickness,
            face_thickness=case.panel,
            hidden=Y,
            made_by="case.rails.under_top",
            for_what="rail under the top",
        ),
        joint,
        closes="case",
    )
