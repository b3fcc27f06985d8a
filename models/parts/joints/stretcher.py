"""A stretcher let into two aprons from above or below, in dadoes whose floors are plumb.

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
DOWN: Vec = (0.0, 0.0, -1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dado:
    """A dado in an apron: ``mouth`` is the middle of it on the inner top arris, piece axes.

    ``out`` is level, through the apron; ``depth`` is along it at the top (mm). The dado begins
    ``start`` under the arris and is ``length`` long. ``closes`` is the stretcher's way home: down
    from above, or up from below.
    """

    mouth: Vec
    out: Vec
    thickness: float
    length: float
    depth: float
    stopped: bool
    start: float = 0.0
    clearance: float = SIDE_CLEARANCE
    closes: Vec = DOWN

    @property
    def end(self) -> Vec:
        """Where the stretcher's end is, in the middle of its thickness at the top."""
        return along(self.mouth, self.out, self.depth - END_CLEARANCE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A corner of the stretcher's end, cut away where the dado stops short of its edge.

    From ``top`` to ``bottom`` (heights, mm); ``back`` is how far it is cut back from the end.
    """

    top: float
    bottom: float
    back: float


def let_in(dado: Dado, *, made_by: str, notch: Notch | None = None) -> Halves:
    """Cut the dado in the apron (first); the stretcher (second) is only long enough to reach it."""
    channel = Channel(
        kind=ChannelKind.DADO,
        seat=Seat(along(dado.mouth, neg(Z), dado.start), neg(Z), dado.out),
        length=dado.length,
        width=dado.thickness + 2 * dado.clearance,
        depth=dado.depth,
        made_by=made_by,
    )
    cut_back = () if notch is None else (_notched(dado, notch, made_by),)
    kind = "stopped dado" if dado.stopped else "dado"
    return Halves(kind=kind, first=(channel,), second=cut_back, closes=dado.closes)


def _notched(dado: Dado, notch: Notch, made_by: str) -> Channel:
    x, y, _ = dado.end
    return Channel(
        kind=ChannelKind.NOTCH,
        seat=Seat((x, y, notch.top), neg(Z), neg(dado.out)),
        length=notch.top - notch.bottom,
        width=dado.thickness,
        depth=notch.back,
        made_by=made_by,
    )
