"""Screws through a panel whose heads would lie under another part that stands there already."""

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.tolerances import LENGTH_EPS
from models.parts.part import PartKind
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, room_of
from models.setting_out.meeting import Meeting
from specs.joints import Helper, Joint, ScrewJoint

WOOD = (PartKind.LUMBER, PartKind.SHEET)


def hidden_heads(bench: Bench, meeting: Meeting, joint: Joint) -> Finding | None:
    """Tell which part stands where the heads of a joint's screws would be; None where none does."""
    helper = getattr(joint, "with_", None)
    if not isinstance(joint, ScrewJoint) and helper is not Helper.SCREW:
        return None
    covered = next((key for key in bench.drafts if _covers(bench, meeting, key)), None)
    if covered is None:
        return None
    return Finding(
        code="fit.hidden_heads",
        severity=Severity.ERROR,
        subject=meeting.name,
        message=f"the heads of these screws would lie under {covered.split('/', maxsplit=1)[-1]}, "
        "which stands on the other face of the same panel; write pocket screws, dowels or tenons",
        copies=(meeting.end, meeting.face, covered),
        at=meeting.start,
        source=COMMON_PRACTICE,
    )


def _covers(bench: Bench, meeting: Meeting, key: str) -> bool:
    """Tell whether a part stands against the far face of the panel, behind the end."""
    draft = bench.drafts[key]
    if key in (meeting.end, meeting.face) or draft.kind not in WOOD:
        return False
    axis = next(i for i in range(3) if abs(meeting.into_end[i]) > LENGTH_EPS)
    face, end, it = (room_of(bench.drafts[name]) for name in (meeting.face, meeting.end, key))
    upward = meeting.into_end[axis] > 0.0
    far, beyond = (face.lo, it.lo) if upward else (face.hi, it.hi)
    near = it.hi if upward else it.lo
    sign = 1.0 if upward else -1.0
    reaches = sign * (near[axis] - far[axis]) >= -LENGTH_EPS
    stands_out = sign * (far[axis] - beyond[axis]) > LENGTH_EPS
    return reaches and stands_out and _over(end, it, axis)


def _over(one: Box, other: Box, axis: int) -> bool:
    """Tell whether two boxes lie over one another, seen along ``axis``."""
    return all(
        one.lo[i] < other.hi[i] - LENGTH_EPS and other.lo[i] < one.hi[i] - LENGTH_EPS
        for i in range(3)
        if i != axis
    )
