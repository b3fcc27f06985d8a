"""A lock rabbet: a tongue on the end, behind a lap that hides the side, in a dado of the side."""

from dataclasses import dataclass

from ground.vectors import neg
from models.parts.features import Channel, ChannelKind, Seat, Waste, WasteKind
from models.parts.joints.box_corner import BoxCorner, CornerFit
from models.parts.joints.kit import Halves


@dataclass(frozen=True, slots=True, kw_only=True)
class LockRabbet:
    """The end's thickness divided into ``lap``, ``stub`` (of the side) and ``tongue`` (mm).

    ``depth`` is how far the tongue goes into the side. ``clearance`` is the room across tongue
    and stub together.
    """

    lap: float
    stub: float
    tongue: float
    depth: float
    clearance: float = 0.1


def lock_rabbet(*, side: float, end: float) -> LockRabbet:
    """Divide the end's thickness in three, and let the tongue a third into the side.

    Common practice, no source: thirds; a dado of about a third (check values 7.3).
    """
    third = end / 3
    return LockRabbet(lap=third, stub=third, tongue=third, depth=side / 3)


def lock_rabbet_fit(joint: LockRabbet, *, side: float, end: float, groove: float) -> CornerFit:
    """Say what the joint means for the box's parts: the ends run over the sides (mm).

    The side's groove stops in its stub, the end's runs out of its tongue into the dado.
    """
    return CornerFit(
        side_in=joint.lap,
        end_in=0.0,
        side_groove=max(end - groove, joint.lap + 1.0),
        end_groove=max(side - groove, 1.0),
        notch=side - joint.depth,
    )


def lock_rabbeted(corner: BoxCorner, joint: LockRabbet) -> Halves:
    """Cut slot and tongue on the end (the first part) and the dado across the side."""
    half = joint.clearance / 2
    back_of_lap, front_of_tongue = joint.lap, joint.lap + joint.stub
    slot = Waste(
        kind=WasteKind.NOTCH,
        planes=corner.bite(
            u=(0.0, corner.side),
            v=(back_of_lap, front_of_tongue + half),
            w=(0.0, corner.height),
            names=("", "floor", "wall-a", "wall-b", "", ""),
        ),
        made_by=corner.made_by,
        note="slot for the side",
    )
    shortened = Waste(
        kind=WasteKind.NOTCH,
        planes=corner.bite(
            u=(0.0, corner.side - joint.depth),
            v=(back_of_lap, corner.end),
            w=(0.0, corner.height),
            names=("", "end-a", "wall-a", "", "", ""),
        ),
        made_by=corner.made_by,
        note="tongue cut to length",
    )
    width = corner.end - front_of_tongue + half
    dado = Channel(
        kind=ChannelKind.DADO,
        seat=Seat(
            corner.point(corner.side, front_of_tongue + width / 2, 0.0),
            corner.up,
            neg(corner.across),
        ),
        length=corner.height,
        width=width,
        depth=joint.depth,
        made_by=corner.made_by,
    )
    return Halves(kind="lock rabbet", first=(slot, shortened), second=(dado,), closes=corner.across)
