"""How large a tenon fits where an apron meets a leg, and where its middle lies.

Tenons stand square to the joint face. Where that face leans, a slot climbs as it goes into the leg
and drops as it goes into the apron, so there is less height for it than the apron has.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from ground.quantities import Units
from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, Vec, Z, cross, meet, neg, unit
from models.parts.features import Mortise, Seat
from models.parts.joints.walls import LEAST_WALL, reach, wall_between, wall_to

CUTTERS = {
    Units.MM: (4.0, 5.0, 6.0, 8.0, 10.0, 12.0),
    Units.INCH: (25.4 * 3 / 16, 25.4 / 4, 25.4 * 5 / 16, 25.4 * 3 / 8, 25.4 / 2),
}
"""Widths of mortise that cutters and chisels are sold for (mm; check-values 7.3 and common
practice)."""

TOP_MARGIN = 10.0
"""mm from the leg's end to a mortise (check-values 7.3: 10 to 12 at least)."""

LOWER_SHOULDER = 5.0
"""mm from a tenon to the apron's lower edge (check-values 7.3: shoulders 3 mm at least)."""

WIDEST = 5.0
"""A tenon wider than this many thicknesses is made as two (common practice, no source)."""

NARROWEST = 1.5
"""A tenon narrower, or a mortise shallower, than this many thicknesses holds too little (common
practice, no source)."""

_STEP = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RailEnd:
    """Where an apron's end meets a leg, in piece axes.

    ``mid`` is the middle plane of the apron's thickness, ``face`` the joint's plane with its normal
    into the leg. ``low`` and ``high`` are the apron's level edges. ``rail`` and ``leg`` are the
    planes that bound the wood of either (without the joint's own).
    """

    mid: Plane
    face: Plane
    low: float
    high: float
    rail: tuple[Plane, ...]
    leg: tuple[Plane, ...]

    @property
    def thick(self) -> float:
        """The apron's thickness: between its two faces, the first of ``rail`` (mm)."""
        return self.rail[0].offset + self.rail[1].offset

    @property
    def slot(self) -> Vec:
        """The way of a tenon's width: up the joint's face, along the apron."""
        way = unit(cross(self.mid.normal, self.face.normal))
        return way if way[2] > 0 else neg(way)

    def centre(self, level: float) -> Vec:
        """The middle of the joint's face at height ``level``."""
        return meet(self.mid, self.face, Plane(Z, level))

    def slots(self, size: "Slots") -> tuple[Mortise, Mortise]:
        """The mortise in the leg and the one in the apron."""
        centre = self.centre(size.level)
        into, leg_depth, rail_depth = self.face.normal, size.depths[0], size.depths[1]
        one = Mortise(
            seat=Seat(centre, self.slot, into),
            length=size.width + (size.thickness if size.square else 0.0),
            width=size.thickness,
            depth=leg_depth,
            made_by="",
        )
        return one, replace(one, seat=Seat(centre, self.slot, neg(into)), depth=rail_depth)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slots:
    """A tenon's size (mm): ``depths`` of the slot in leg and apron, ``level`` of its middle.

    ``haunch`` is what a stub takes of the apron's height above it. A ``square`` slot is worked as
    a round-ended one that holds it.
    """

    thickness: float
    width: float
    depths: tuple[float, float]
    level: float
    haunch: float = 0.0
    square: bool = False


Shape = Callable[["RailEnd", float, float], Slots | None]
"""The tenon for a rail's end, a thickness and a depth in the leg (mm); None if none fits."""


def nearest_cutter(wanted: float, units: Units) -> float:
    """The cutter nearest to ``wanted`` (mm)."""
    return min(CUTTERS[units], key=lambda size: (abs(size - wanted), size))


def usual_depth(thickness: float) -> float:
    """Half the length of tenon stock of ``thickness``.

    Published sizes 4x20, 5x30, 6x40, 8x40, 10x50 (check-values 7.3); thicker: 2.5 thicknesses.
    """
    halves = ((4.5, 10.0), (5.5, 15.0), (9.0, 20.0), (11.0, 25.0))
    return next((half for most, half in halves if thickness <= most), 2.5 * thickness)


def fitted(end: RailEnd, thickness: float, depths: tuple[float, float]) -> Slots | None:
    """The widest sound tenon at ``end``, in the middle of the height it has; None if none is.

    The slot in the leg keeps ``TOP_MARGIN`` under the leg's end at its highest point, the one in
    the apron ``LOWER_SHOULDER`` over the lower edge at its lowest.
    """
    into = end.face.normal[2]
    rise = max(0.0, depths[0] * into, -depths[1] * into)
    drop = max(0.0, -depths[0] * into, depths[1] * into)
    top, bottom = end.high - TOP_MARGIN - rise, end.low + LOWER_SHOULDER + drop
    half = (top - bottom) / 2
    slot, across = end.slot, cross(end.face.normal, end.slot)
    ends = thickness / 2 * (slot[2] ** 2 + across[2] ** 2) ** 0.5
    width = thickness + 2 * (half - ends) / slot[2]
    width = min(WIDEST * thickness, _whole(width))
    if width < NARROWEST * thickness - LENGTH_EPS:
        return None
    return Slots(thickness=thickness, width=width, depths=depths, level=(top + bottom) / 2)


def _whole(width: float) -> float:
    """Down to a whole millimetre: a slot is set out with a rule."""
    return float(int(width + LENGTH_EPS))


def leg_walls(ends: tuple[RailEnd, RailEnd], slots: tuple[Slots, Slots]) -> tuple[float, float]:
    """The least wood between the two mortises of one leg, and round either of them (mm)."""
    one, other = (end.slots(size)[0] for end, size in zip(ends, slots, strict=True))
    round_them = min(
        wall_to(mortise, plane)
        for end, mortise in ((ends[0], one), (ends[1], other))
        for plane in end.leg
    )
    return wall_between(one, other), round_them


def rail_wall(end: RailEnd, size: Slots) -> float:
    """The least wood round the mortise in the apron (mm)."""
    mortise = end.slots(size)[1]
    return min(wall_to(mortise, plane) for plane in end.rail)


def top_margin(end: RailEnd, size: Slots) -> float:
    """From the leg's end down to the highest point of its mortise (mm)."""
    return end.high - reach(end.slots(size)[0], Z)


def loose(end: RailEnd, thickness: float, depth: float) -> Slots | None:
    """A loose tenon: as deep in the apron as in the leg."""
    return fitted(end, thickness, (depth, depth))


def integral(end: RailEnd, thickness: float, depth: float) -> Slots | None:
    """A tenon of the apron's own: nothing is cut into the apron."""
    shape = fitted(end, thickness, (depth, 0.0))
    return None if shape is None else replace(shape, square=True)


def haunched(end: RailEnd, thickness: float, depth: float) -> Slots | None:
    """A tenon of the apron's own under a haunch of a third of its height (check-values 7.3)."""
    high = end.high - max(TOP_MARGIN, (end.high - end.low) / 3)
    low = end.low + LOWER_SHOULDER
    if high - low < NARROWEST * thickness - LENGTH_EPS:
        return None
    return Slots(
        thickness=thickness,
        width=high - low,
        depths=(depth, 0.0),
        level=(low + high) / 2,
        haunch=end.high - high,
        square=True,
    )


def lower_margin(end: RailEnd, size: Slots) -> float:
    """From the lowest point of the cut for a tenon down to the apron's lower edge (mm)."""
    return -end.low - max(reach(slot, neg(Z)) for slot in end.slots(size))


def deepest(
    ends: tuple[RailEnd, RailEnd], thickness: float, depth: float, shape: Shape
) -> tuple[Slots, Slots] | None:
    """The two tenons of a leg, as deep as ``depth`` or as their walls allow; None if none are.

    Depth is given up in steps of 1 mm, in both at once, until the wood between the two mortises
    and round them is ``LEAST_WALL`` thick.
    """
    least = NARROWEST * thickness
    tried: tuple[Slots, Slots] | None = None
    while depth >= least - LENGTH_EPS:
        one, other = (shape(end, thickness, depth) for end in ends)
        if one is not None and other is not None:
            tried = (one, other)
            if min(leg_walls(ends, tried)) >= LEAST_WALL:
                return tried
        depth -= _STEP
    return tried
