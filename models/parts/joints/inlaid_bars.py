"""Bars of a contrasting wood let in across a rabbeted box corner, flush on its outside."""

from dataclasses import dataclass, replace

from ground.vectors import Frame, cross, dot
from models.parts.blank import Blank
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.box_corner import BoxCorner
from models.parts.joints.kit import Halves, Loose


@dataclass(frozen=True, slots=True, kw_only=True)
class Bars:
    """Bars ``width`` tall and let in ``depth`` (mm), at ``heights`` of their middles.

    Heights count from the box's lower edge.
    """

    width: float
    depth: float
    heights: tuple[float, ...]
    name: str = "bar"


def barred(halves: Halves, corner: BoxCorner, rabbet: float, bars: Bars) -> Halves:
    """Slot both parts of a rabbeted corner for bars as long as the end is thick.

    The slots go through the lap that the ``rabbet`` (its depth, mm) leaves of the side, and on into
    the end where they are deeper than that.
    """
    lap = corner.side - rabbet
    in_side, in_end = min(bars.depth, lap), bars.depth - lap

    def slot(u: float, w: float, depth: float) -> Channel:
        return Channel(
            kind=ChannelKind.SLOT,
            seat=Seat(corner.point(u, 0.0, w), corner.deep, corner.across),
            length=corner.end,
            width=bars.width,
            depth=depth,
            made_by=corner.made_by,
        )

    first = tuple(slot(lap, w, in_end) for w in bars.heights if in_end > 0.0)
    return replace(
        halves,
        kind="rabbet with bars",
        first=(*halves.first, *first),
        second=(*halves.second, *(slot(0.0, w, in_side) for w in bars.heights)),
        loose=(*halves.loose, *(_bar(corner, bars, w) for w in bars.heights)),
    )


def _bar(corner: BoxCorner, bars: Bars, height: float) -> Loose:
    """A bar with its grain along the box's side, flush with the side and with the end."""
    length, inward = corner.deep, corner.across
    width = cross(inward, length)
    step = -bars.width / 2 * dot(width, corner.up)
    start = corner.point(0.0, 0.0, height + step)
    return Loose(
        name=bars.name,
        blank=Blank(length=corner.end, width=bars.width, thickness=bars.depth),
        frame=Frame(length, width, start),
    )
