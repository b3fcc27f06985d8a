"""A spline across a joint: a thin strip in a slot of both parts, its grain across the joint."""

from dataclasses import dataclass

from ground.vectors import Frame, Vec, along, neg
from models.parts.blank import Blank, Grain
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.kit import Halves, Loose

CLEARANCE = 0.1
"""Slot wider than the spline (mm). Common practice, no source."""
END_CLEARANCE = 0.5
"""Slot deeper, and longer at either end, than the spline (mm). Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotLine:
    """Where a slot runs in the joint's plane, in piece axes.

    ``start`` is the middle of its beginning, ``way`` its direction, ``length`` how long it is.
    ``into_first`` is square to the joint's plane, towards the first part.
    """

    start: Vec
    way: Vec
    length: float
    into_first: Vec


@dataclass(frozen=True, slots=True, kw_only=True)
class SplineSize:
    """A spline's ``thickness``, and the ``depths`` of its slots in the first and second part (mm).

    ``clearance`` is what the slots are wider than the spline.
    """

    thickness: float
    depths: tuple[float, float]
    clearance: float = CLEARANCE


def splined_butt(
    line: SlotLine, size: SplineSize, *, closes: Vec | str, material: str | None, made_by: str
) -> Halves:
    """Slot the end of the first part and the face of the second for one spline."""
    first, second = slots(line, size, made_by=made_by)
    return Halves(
        kind="spline",
        first=(first,),
        second=(second,),
        closes=closes,
        loose=(spline(line, size, material=material),),
    )


def slots(line: SlotLine, size: SplineSize, *, made_by: str) -> tuple[Channel, Channel]:
    """The slot in the first part and the one in the second."""
    first, second = (
        Channel(
            kind=ChannelKind.SLOT,
            seat=Seat(line.start, line.way, into),
            length=line.length,
            width=size.thickness + size.clearance,
            depth=depth,
            made_by=made_by,
        )
        for into, depth in zip((line.into_first, neg(line.into_first)), size.depths, strict=True)
    )
    return first, second


def spline(line: SlotLine, size: SplineSize, *, material: str | None) -> Loose:
    """The spline: long along the joint, its grain across it, where it can break."""
    one, other = (depth - END_CLEARANCE for depth in size.depths)
    axes = Frame(line.way, line.into_first)
    corner = along(line.start, line.way, END_CLEARANCE)
    corner = along(corner, axes.y, -other)
    corner = along(corner, axes.z, -size.thickness / 2)
    return Loose(
        name="spline",
        blank=Blank(
            length=line.length - 2 * END_CLEARANCE,
            width=one + other,
            thickness=size.thickness,
            grain=Grain.WIDTH,
        ),
        frame=Frame(axes.x, axes.y, corner),
        material=material,
    )
