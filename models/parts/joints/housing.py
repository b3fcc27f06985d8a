"""A dado across one part that houses the end of another, with a little room across."""

from ground.vectors import Vec
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.kit import Halves

CLEARANCE = 0.1
"""The dado is this much wider than what it houses (mm). Common practice, no source."""


def housed(  # noqa: PLR0913 - a dado has that many sizes
    seat: Seat,
    *,
    length: float,
    thickness: float,
    depth: float,
    closes: Vec | str,
    made_by: str,
    clearance: float = CLEARANCE,
) -> Halves:
    """Cut the dado in the second part; the first, which is housed, is only longer.

    ``seat`` is where the dado starts on the second part's face: the middle of its width.
    """
    dado = Channel(
        kind=ChannelKind.DADO,
        seat=seat,
        length=length,
        width=thickness + clearance,
        depth=depth,
        made_by=made_by,
    )
    return Halves(kind="dado", first=(), second=(dado,), closes=closes)
