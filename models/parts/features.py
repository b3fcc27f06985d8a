"""What a maker does to a blank, in the maker's words. Every feature takes wood away.

So the order of features has no meaning, and the blank is the cut-list size. All in part axes,
mm and degrees; ``moved`` carries a feature to other axes. ``id`` is unique in a part (numbered by
``models.parts.part.numbered`` where it is left empty); ``made_by`` names the joint, the fitting or
the place in the spec that asks for it.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Self

from ground.vectors import Frame, Plane, Vec, cross
from models.parts.cuts import Profile


@dataclass(frozen=True, slots=True)
class Seat:
    """A place on a face: ``origin`` on the surface, ``along`` in it, ``into`` the wood.

    ``along`` and ``into`` are unit vectors, square to one another.
    """

    origin: Vec
    along: Vec
    into: Vec

    @property
    def across(self) -> Vec:
        """In the surface, square to ``along``."""
        return cross(self.into, self.along)

    def moved(self, frame: Frame) -> "Seat":
        """The same seat seen from outside ``frame``."""
        return Seat(
            frame.point(self.origin), frame.direction(self.along), frame.direction(self.into)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seated:
    """What sits on a face: known by its seat, and carried with it."""

    seat: Seat
    made_by: str
    id: str = ""

    def moved(self, frame: Frame) -> Self:
        """The same feature seen from outside ``frame``."""
        return replace(self, seat=self.seat.moved(frame))


class TrimKind(StrEnum):
    """Planar cuts that leave the rest of the part on one side."""

    MITRE = "mitre"
    BEVEL = "bevel"
    TAPER = "taper"
    SPLAY = "splay"
    SHOULDER = "shoulder"
    FACET = "facet"
    END = "end"
    """A cut to length that is not square (a splayed leg's top and foot)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """Everything beyond ``plane`` is sawn off; its normal points at the waste."""

    kind: TrimKind
    plane: Plane
    made_by: str
    id: str = ""

    def moved(self, frame: Frame) -> "Trim":
        """The same trim seen from outside ``frame``."""
        return replace(self, plane=frame.plane(self.plane))


class ChannelKind(StrEnum):
    """Straight channels with square ends and a flat floor."""

    GROOVE = "groove"
    DADO = "dado"
    RABBET = "rabbet"
    SLOT = "slot"
    """For a spline, or for a screw that must be free to move."""
    NOTCH = "notch"
    RECESS = "recess"
    MORTISE = "square mortise"
    """Chopped with a chisel, square at both ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel(_Seated):
    """A channel that runs ``length`` along from the seat's origin, half ``width`` each side.

    The seat's origin is the middle of the channel's starting end, on the surface.
    """

    kind: ChannelKind
    length: float
    width: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Mortise(_Seated):
    """A round-ended slot centred on the seat: ``length`` over all along, ``width`` across."""

    length: float
    width: float
    depth: float

    @property
    def kind(self) -> str:
        """The maker's word for it."""
        return "mortise"


class HoleKind(StrEnum):
    """What a round hole is for; a pilot, a clearance and a counterbore are three holes."""

    PILOT = "pilot hole"
    CLEARANCE = "clearance hole"
    COUNTERBORE = "counterbore"
    PLUG = "plug hole"
    POCKET = "pocket hole"
    DOWEL = "dowel hole"
    PIN = "pin hole"
    SHELF_PIN = "shelf-pin hole"
    HINGE_CUP = "hinge cup"
    FITTING = "fitting hole"
    RECESS = "round recess"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole(_Seated):
    """A flat-bottomed hole, or a row of ``count`` of them, ``pitch`` apart along the seat.

    ``depth`` is measured along the hole from the surface; None: through the part. ``lead`` is how
    far the cutter also clears behind the surface where the hole stands on a slant.
    """

    kind: HoleKind
    diameter: float
    depth: float | None
    count: int = 1
    pitch: float = 0.0
    lead: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Countersink(_Seated):
    """A conical seat for a screw head, ``diameter`` at the surface, ``angle`` degrees included."""

    diameter: float
    angle: float
    count: int = 1
    pitch: float = 0.0

    @property
    def kind(self) -> str:
        """The maker's word for it."""
        return "countersink"


class WasteKind(StrEnum):
    """What is left standing, or let in, when a convex bite is taken away."""

    NOTCH = "notch"
    TENON = "tenon"
    SOCKET = "dovetail socket"
    FINGER = "box-joint socket"
    HAUNCH = "haunch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Waste:
    """A convex bite: all that lies inside every plane goes.

    Plane normals point out of the bite, into the wood that stays; name a plane ``""`` where the
    bite is open to the air. ``note`` says what a drawing should call it.
    """

    kind: WasteKind
    planes: tuple[tuple[str, Plane], ...]
    made_by: str
    note: str = ""
    id: str = ""

    def moved(self, frame: Frame) -> "Waste":
        """The same bite seen from outside ``frame``."""
        return replace(
            self, planes=tuple((name, frame.plane(plane)) for name, plane in self.planes)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class EasedEdge:
    """The arris between two planes of the base (blank faces or trims, by name), eased."""

    between: tuple[str, str]
    size: float
    made_by: str
    profile: Profile = Profile.ROUND
    id: str = ""

    @property
    def kind(self) -> str:
        """The maker's word for it."""
        return self.profile.value

    def moved(self, frame: Frame) -> "EasedEdge":
        """An eased edge is known by its faces: moving changes nothing."""
        del frame
        return self


Feature = Trim | Channel | Mortise | Hole | Countersink | Waste | EasedEdge
"""Closed: a new feature makes the type checker list what still needs it."""
