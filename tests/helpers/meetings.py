"""An end of one board against the face of another, with any joint of the spec between them.

The end's board lies along X from the plane ``x = face``; the face's board stands along Z behind
that plane. Both are ``length`` wide, along Y.
"""

from dataclasses import dataclass, replace

from ground.findings import Severity
from ground.vectors import X, Y, Z, neg
from models.parts.joints.kit import Halves
from models.setting_out.holding import reach, worked
from models.setting_out.meeting import Held, Meeting
from models.setting_out.weak import findings
from specs.joints import Joint
from tests.helpers.joints import Board, Joined, board, goes_together, joined

LONG = 90.0
"""How far the end's board goes, and the face's on either side (mm): longer than any screw."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """Thickness of the end and of the face, length of the joint, what is kept clear (mm)."""

    end: float = 18.0
    face: float = 18.0
    length: float = 120.0
    lead: float = 0.0
    tail: float = 0.0
    shy: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tried:
    """A joint worked out at a meeting, with the two boards to be cut for it."""

    meeting: Meeting
    held: Held
    end: Board
    face: Board

    @property
    def halves(self) -> tuple[Halves, ...]:
        """All that is made, the end's half first, the face coming home along X."""
        turned = (replace(h, first=h.second, second=h.first) for h in self.held.swapped)
        return tuple(replace(h, closes=X, each=()) for h in (*self.held.halves, *turned))

    @property
    def refused(self) -> bool:
        """Whether it cannot be made."""
        return any(room.impossible for room in self.held.rooms)

    def made(self) -> Joined:
        """Both boards cut and made solid."""
        return joined(self.end, self.face, *self.halves)


def tried(joint: Joint, sizes: Sizes | None = None) -> Tried:
    """Work out ``joint`` at a meeting of ``sizes``."""
    at = sizes or Sizes()
    deep = reach(joint, (at.end - at.shy, at.length), at.face)
    meeting = Meeting(
        name="corner",
        end="end",
        face="face",
        start=(at.face, 0.0, at.end / 2),
        way=Y,
        length=at.length,
        into_end=X,
        end_thickness=at.end,
        face_thickness=at.face,
        hidden=neg(Z),
        made_by="test",
        for_what="corner",
        lead=at.lead,
        tail=at.tail,
        shy=at.shy,
    )
    end = board((at.face - deep, 0, 0), (at.face + LONG, at.length, at.end), length=X, up=Z)
    face = board((0, 0, -LONG), (at.face, at.length, at.end + LONG), length=Z, up=X)
    return Tried(meeting=meeting, held=worked(meeting, joint, "oak"), end=end, face=face)


def sound_or_refused(joint: Joint, sizes: Sizes) -> None:
    """Assert that a joint goes together, or is an error with the number that is wrong."""
    it = tried(joint, sizes)
    found = findings(it.held.rooms, "corner", ())
    errors = [finding for finding in found if finding.severity is Severity.ERROR]
    assert bool(errors) == it.refused
    for finding in errors:
        assert finding.value is not None
        assert finding.limit is not None
        assert finding.value < finding.limit
    if not it.refused:
        goes_together(it.made())
