"""Any joint of the spec at a meeting of an end and a face: made, weighed and put on the bench."""

from typing import assert_never

from models.setting_out.bench import Bench
from models.setting_out.fastenings import (
    dowelled_at,
    pocketed_at,
    screwed_at,
    splined_at,
    tenoned_at,
)
from models.setting_out.let_in import (
    dado_depth,
    housed_at,
    tenon_of,
    tenoned_into,
    tongue_of,
    tongued_at,
)
from models.setting_out.meeting import Closing, Held, Meeting, put
from models.setting_out.staggering import as_sound, meets, shifts
from specs.joints import (
    DadoJoint,
    DowelJoint,
    Joint,
    LooseTenonJoint,
    MortiseAndTenonJoint,
    PocketScrewJoint,
    ScrewJoint,
    SplineJoint,
    StoppedDadoJoint,
    TongueAndGrooveJoint,
)


def hold(
    bench: Bench,
    meeting: Meeting,
    joint: Joint | None,
    closing: Closing,
    *,
    material: str | None = None,
) -> None:
    """Make ``joint`` at ``meeting``; a spline is cut from ``material``.

    Where its holes would meet others in the face, they are moved along the joint if that helps.
    """
    held = worked(meeting, joint, material)
    face = bench.drafts[meeting.face]
    if meets(face, held):
        moved = (worked(other, joint, material) for other in shifts(meeting))
        good = (it for it in moved if as_sound(it, held) and not meets(face, it))
        held = next(good, held)
    put(bench, meeting, held, closing)


def worked(meeting: Meeting, joint: Joint | None, material: str | None = None) -> Held:
    """Work out ``joint`` at ``meeting``; None asks for nothing but glue."""
    match joint:
        case DowelJoint():
            return dowelled_at(meeting, joint)
        case LooseTenonJoint():
            return tenoned_at(meeting, joint)
        case SplineJoint():
            return splined_at(meeting, joint, material)
        case ScrewJoint():
            return screwed_at(meeting, joint)
        case PocketScrewJoint():
            return pocketed_at(meeting, joint)
        case _:
            return _let_in(meeting, joint)


def _let_in(
    meeting: Meeting,
    joint: DadoJoint | StoppedDadoJoint | TongueAndGrooveJoint | MortiseAndTenonJoint | None,
) -> Held:
    match joint:
        case DadoJoint() | StoppedDadoJoint():
            return housed_at(meeting, joint)
        case TongueAndGrooveJoint():
            return tongued_at(meeting, joint)
        case MortiseAndTenonJoint():
            return tenoned_into(meeting, joint)
        case None:
            return Held()
    assert_never(joint)


def reach(joint: Joint | None, end: tuple[float, float], face: float) -> float:
    """How far an end goes into the face that it meets (mm): its part is longer by this.

    ``end`` is the thickness that can go in and the length of the joint, ``face`` what it goes into.
    """
    match joint:
        case DadoJoint() | StoppedDadoJoint():
            return dado_depth(joint.depth, face)
        case TongueAndGrooveJoint():
            return tongue_of(joint, end[0], face).length
        case MortiseAndTenonJoint():
            return tenon_of(joint, end, face).length
        case _:
            return 0.0
