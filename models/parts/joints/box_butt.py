"""A plain box corner: the end stands between the sides, screwed through them."""

from models.parts.joints.box_corner import BoxCorner, CornerFit
from models.parts.joints.kit import Halves
from models.parts.joints.rows import counted
from models.parts.joints.screw import ScrewWay, WoodScrew, screwed

FROM_EDGE = 15.0
"""First screw from the box's edge (mm). Common practice, no source."""
MOST_APART = 80.0
"""Screws of a drawer's corner stand no further apart (mm). Common practice, no source."""


def butt_fit(*, side: float, end: float, groove: float) -> CornerFit:
    """Say what a butt means for the box's parts: the sides run over the ends (mm)."""
    return CornerFit(
        side_in=0.0, end_in=side, side_groove=end - groove, end_groove=side, notch=side
    )


def butt_screwed(
    corner: BoxCorner, screw: WoodScrew, *, above: float, for_what: str, count: int | None = None
) -> Halves:
    """Bore the side and the end (the first part) for screws between ``above`` and the upper edge.

    ``above`` is the upper wall of the bottom's groove (mm), ``count`` the screws where asked.
    """
    row = counted(
        corner.point(corner.side, corner.end / 2, above),
        corner.up,
        corner.height - above,
        count=count,
        margin=FROM_EDGE,
        most=MOST_APART,
    )
    halves = screwed(
        row,
        ScrewWay(into_end=corner.across, face=corner.side),
        screw,
        plugs=None,
        for_what=for_what,
        made_by=corner.made_by,
    )
    return Halves(
        kind="butt with screws",
        first=halves.second,
        second=halves.first,
        closes=corner.across,
        hardware=halves.hardware,
    )
