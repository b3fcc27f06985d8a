"""A box corner held by pocket screws: pockets in the end's outer face, hidden by a show front."""

from dataclasses import replace

from ground.vectors import neg
from models.parts.joints.box_butt import FROM_EDGE, MOST_APART
from models.parts.joints.box_corner import BoxCorner
from models.parts.joints.kit import Halves
from models.parts.joints.pocket_screw import PocketSide, pocket_screw, pocket_screwed
from models.parts.joints.rows import counted


def pocket_seat(*, side: float, end: float) -> float:
    """How deep the pockets lie under the end's face where the heads sit (mm, along a screw)."""
    place = PocketSide(face=(0.0, -1.0, 0.0), into=(1.0, 0.0, 0.0), thickness=end)
    return place.to_face - pocket_screw(place, other=side).shoulder


def box_pocketed(corner: BoxCorner, *, above: float, count: int | None, for_what: str) -> Halves:
    """Bore the end (the first part) from its outer face; the screws run on into the side unbored.

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
    bored = PocketSide(face=neg(corner.deep), into=corner.across, thickness=corner.end)
    screw = pocket_screw(bored, other=corner.side)
    halves = pocket_screwed(row, bored, screw, for_what=for_what, made_by=corner.made_by)
    # The side comes home against the end, as at every corner of a box.
    return replace(halves, closes=corner.across)
