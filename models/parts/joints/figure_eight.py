"""What is screwed between the top of a rail and the panel that lies on it: plates and clips."""

from dataclasses import dataclass

from ground.vectors import Frame, Plane, Vec, Z, along, cross, neg
from models.parts.assembly import HardwareLine
from models.parts.blank import Blank, Section
from models.parts.features import (
    Channel,
    ChannelKind,
    Hole,
    HoleKind,
    Seat,
    Waste,
    WasteKind,
)
from models.parts.joints.kit import Halves, Loose
from models.parts.joints.screw import NUMBER_8
from models.parts.part import PartKind

PLATE = 2.5
"""Thickness of a figure-eight fastener (mm; from memory: two discs of about 19 mm)."""
DISC = 19.0
"""Diameter of either of its discs (mm; from memory)."""
HOLES = 21.0
"""Between its two screw holes (mm; from memory)."""
RECESS = 20.0
"""Diameter of its recess in the rail (mm): a common cutter's, with room to swing."""
RECESS_DEPTH = 3.0
"""mm: the plate lies just under the rail's top (common practice, no source)."""
BREAKS_OUT = 3.0
"""mm that the recess reaches past the rail's inner edge, so that the plate can swing (common
practice, no source)."""
WAIST = (3.0, 12.0)
"""From a disc's middle to the waist between the two, and the waist's width (mm; from memory)."""
LEAST_RIM = 3.0
"""mm of rail outside the recess at least (common practice, no source)."""
LEFT_ABOVE = 4.0
"""mm of panel left above a screw's point (common practice, no source)."""
LENGTHS = (20.0, 16.0, 12.0, 10.0)
"""Lengths of short wood screws (mm; from memory)."""

CLIP_SLOT = (4.0, 40.0, 10.0)
"""Width, length and depth of a slotted clip's slot (mm; from memory)."""
CLIP_DOWN = 12.0
"""From the rail's top to the middle of a clip's slot (mm; from memory)."""
CLIP = (2.5, 18.0, 26.0)
"""A clip's thickness, its width, and how far it reaches from the rail's face (mm; from memory)."""
CLIP_SHORT = 1.0
"""Its tongue ends this far short of the slot's floor (mm; from memory)."""
CLIP_REACH = 18.0
"""From the rail's face to a clip's screw (mm; from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A place on the inner top edge of a rail, piece axes.

    ``at`` is on the arris, ``out`` level through the rail away from the room, ``run`` along it.
    ``rail`` is the rail's level thickness, ``panel`` the thickness of what lies on it (mm).
    """

    at: Vec
    out: Vec
    run: Vec
    rail: float
    panel: float

    @property
    def rim(self) -> float:
        """What a recess leaves of the rail outside it (mm)."""
        return self.rail - (RECESS - BREAKS_OUT)


def screw_length(panel: float, taken: float) -> float | None:
    """The longest short screw that, ``taken`` used up, stops under the panel's far face (mm)."""
    return next((long for long in LENGTHS if long - taken <= panel - LEFT_ABOVE), None)


def figure_eight(place: Edge, length: float, *, made_by: str) -> Halves:
    """Recess the rail (second) for a plate, and bore it and the panel (first) for its screws.

    The rail goes home upwards, against the panel.
    """
    centre = along(place.at, place.out, RECESS / 2 - BREAKS_OUT)
    floor = along(centre, Z, -RECESS_DEPTH)
    screw = NUMBER_8
    recess = Hole(
        kind=HoleKind.RECESS,
        seat=Seat(centre, place.run, neg(Z)),
        diameter=RECESS,
        depth=RECESS_DEPTH,
        made_by=made_by,
    )
    into_rail = Hole(
        kind=HoleKind.PILOT,
        seat=Seat(floor, place.run, neg(Z)),
        diameter=screw.pilot(hard=True),
        depth=length - PLATE,
        made_by=made_by,
    )
    return Halves(
        kind="figure-eight fastener",
        first=(_pilot(along(centre, place.out, -HOLES), place.run, length - PLATE, made_by),),
        second=(recess, into_rail),
        closes=Z,
        hardware=(
            HardwareLine(
                name="figure-eight fastener",
                quantity=1,
                size=f"discs {DISC:g} mm, {PLATE:g} mm thick, holes {HOLES:g} mm apart",
                for_what="case on base",
                note="measure the ones in hand before boring the recesses",
            ),
            _screws(length, 2),
        ),
    )


def slotted_clip(place: Edge, length: float, *, made_by: str) -> Halves:
    """Slot the rail's inner face (second) for a clip, and bore the panel (first) for its screw."""
    width, long, deep = CLIP_SLOT
    start = along(along(place.at, place.run, -long / 2), Z, -CLIP_DOWN)
    slot = Channel(
        kind=ChannelKind.SLOT,
        seat=Seat(start, place.run, place.out),
        length=long,
        width=width,
        depth=deep,
        made_by=made_by,
    )
    screw = along(place.at, place.out, -CLIP_REACH)
    return Halves(
        kind="slotted clip",
        first=(_pilot(screw, place.run, length - PLATE, made_by),),
        second=(slot,),
        closes=Z,
        hardware=(
            HardwareLine(name="slotted clip", quantity=1, for_what="case on base"),
            _screws(length, 1),
        ),
    )


def plate_body(place: Edge) -> Loose:
    """Two discs joined by a waist, the first in the recess, the second under the panel."""
    centre = along(place.at, place.out, RECESS / 2 - BREAKS_OUT)
    long = HOLES + DISC
    body = Blank(length=PLATE, width=long, thickness=DISC, section=Section.ROUND_EDGED)
    inward = neg(place.out)
    beside = cross(Z, inward)
    corner = along(along(centre, Z, -PLATE), place.out, DISC / 2)
    frame = Frame(Z, inward, along(corner, beside, -DISC / 2))
    start, width = WAIST
    ends = (
        ("end-a", Plane.through((0.0, DISC / 2 + start, 0.0), (0.0, -1.0, 0.0))),
        ("end-b", Plane.through((0.0, long - DISC / 2 - start, 0.0), (0.0, 1.0, 0.0))),
    )
    middle = DISC / 2
    sides = (
        Plane.through((0.0, 0.0, middle - width / 2), (0.0, 0.0, 1.0)),
        Plane.through((0.0, 0.0, middle + width / 2), (0.0, 0.0, -1.0)),
    )
    return Loose(
        name="figure-eight fastener",
        blank=body,
        frame=frame,
        features=tuple(_off((("waist", side), *ends)) for side in sides),
        kind=PartKind.HARDWARE,
        made=False,
    )


def clip_body(place: Edge) -> Loose:
    """A tongue in the slot, a riser before the rail, and a leaf under the panel."""
    thick, wide, reach = CLIP
    inward, deep = neg(place.out), CLIP_SLOT[2] - CLIP_SHORT
    low = CLIP_DOWN + thick / 2
    size = (deep + reach, wide, low)
    side = cross(Z, inward)
    corner = along(along(along(place.at, place.out, deep), Z, -low), side, -wide / 2)
    frame = Frame(inward, side, corner)
    before = deep + CLIP_SHORT / 2
    wastes = (
        _off(
            (
                ("riser", Plane.through((before, 0.0, 0.0), (1.0, 0.0, 0.0))),
                ("tongue", Plane.through((0.0, 0.0, thick), (0.0, 0.0, -1.0))),
            )
        ),
        _off(
            (
                ("riser-back", Plane.through((before + thick, 0.0, 0.0), (-1.0, 0.0, 0.0))),
                ("leaf", Plane.through((0.0, 0.0, low - thick), (0.0, 0.0, 1.0))),
            )
        ),
    )
    return Loose(
        name="slotted clip",
        blank=Blank(length=size[0], width=size[1], thickness=size[2]),
        frame=frame,
        features=wastes,
        kind=PartKind.HARDWARE,
        made=False,
    )


def _off(planes: tuple[tuple[str, Plane], ...]) -> Waste:
    return Waste(kind=WasteKind.NOTCH, planes=planes, made_by="base.fixing")


def _pilot(at: Vec, run: Vec, depth: float, made_by: str) -> Hole:
    return Hole(
        kind=HoleKind.PILOT,
        seat=Seat(at, run, Z),
        diameter=NUMBER_8.pilot(hard=True),
        depth=depth,
        made_by=made_by,
    )


def _screws(length: float, count: int) -> HardwareLine:
    return HardwareLine(
        name="wood screw",
        quantity=count,
        size=f"{NUMBER_8.shank:.1f} x {length:g} mm",
        for_what="case on base",
    )
