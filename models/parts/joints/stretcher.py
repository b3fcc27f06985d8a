"""A stretcher let into two aprons from above, in dadoes whose floors are plumb.

The faces of aprons that lean draw apart downward, so a stretcher cut to their slope could not be
dropped in: it would be too long for the gap above. With plumb floors its ends are square.
"""

from dataclasses import dataclass

from ground.vectors import Vec, Z, along, neg
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.kit import Halves

SIDE_CLEARANCE = 0.05
"""mm on each face of the stretcher (common practice, no source)."""
END_CLEARANCE = 0.1
"""mm between the stretcher's end and the dado's floor (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dado:
    """A dado in an apron: ``mouth`` is the middle of it on the inner top arris, piece axes.

    ``out`` is level, through the apron; ``depth`` is along it at the top (mm).
    """

    mouth: Vec
    out: Vec
    thickness: float
    length: float
    depth: float
    stopped: bool

    @property
    def end(self) -> Vec:
        """Where the stretcher's end is, in the middle of its thickness at the top."""
        return along(self.mouth, self.out, self.depth - END_CLEARANCE)


def let_in(dado: Dado, *, made_by: str) -> Halves:
    """Cut the dado in the apron (first); the stretcher (second) is only long enough to reach it."""
    channel = Channel(
        kind=ChannelKind.DADO,
        seat=Seat(dado.mouth, neg(Z), dado.out),
        length=dado.length,
        width=dado.thickness + 2 * SIDE_CLEARANCE,
        depth=dado.depth,
        made_by=made_by,
    )
    kind = "stopped dado" if dado.stopped else "dado"
    return Halves(kind=kind, first=(channel,), second=(), closes=neg(Z))
