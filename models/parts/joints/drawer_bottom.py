"""The bottom of a drawer in grooves of its four sides."""

from dataclasses import dataclass

from ground.vectors import Vec, neg
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.box_corner import BoxCorner, Span
from models.parts.joints.kit import Halves

PLAY = 0.2
"""The groove is this much wider than the bottom is thick, above it (mm). Common practice, no
source."""
SHORT = 1.0
"""The bottom ends this far short of the groove's floor (mm; check values 7.3: 0.5 to 1 for ply)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BottomGroove:
    """A groove whose lower wall is ``up`` from the box's edge, for a bottom so ``thick`` (mm)."""

    up: float
    thick: float
    depth: float

    @property
    def width(self) -> float:
        """The bottom and the play above it."""
        return self.thick + PLAY

    @property
    def span(self) -> Span:
        """From its lower to its upper wall."""
        return (self.up, self.up + self.width)

    @property
    def reach(self) -> float:
        """How far the bottom goes into it."""
        return self.depth - SHORT


def grooved_end(corner: BoxCorner, groove: BottomGroove, *, start: float, length: float) -> Halves:
    """Groove a box's front or back (the first part) from ``start`` on u; the bottom moves in."""
    seat = Seat(
        corner.point(start, corner.end, groove.up + groove.width / 2),
        corner.across,
        neg(corner.deep),
    )
    return _grooved(corner, groove, seat, length, closes=neg(corner.deep))


def grooved_side(corner: BoxCorner, groove: BottomGroove, *, start: float, length: float) -> Halves:
    """Groove a box's side (the first part) from ``start`` on v; the bottom moves in."""
    seat = Seat(
        corner.point(corner.side, start, groove.up + groove.width / 2),
        corner.deep,
        neg(corner.across),
    )
    return _grooved(corner, groove, seat, length, closes=neg(corner.across))


def swapped(halves: Halves) -> Halves:
    """The same joint with its parts the other way round: the grooved part moves onto the bottom."""
    way = halves.closes
    return Halves(
        kind=halves.kind,
        first=halves.second,
        second=halves.first,
        closes=way if isinstance(way, str) else neg(way),
    )


def _grooved(
    corner: BoxCorner, groove: BottomGroove, seat: Seat, length: float, *, closes: Vec
) -> Halves:
    channel = Channel(
        kind=ChannelKind.GROOVE,
        seat=seat,
        length=length,
        width=groove.width,
        depth=groove.depth,
        made_by=corner.made_by,
    )
    return Halves(kind="groove", first=(channel,), second=(), closes=closes)
