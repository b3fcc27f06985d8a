"""The four corners of the case: which panel runs, what is cut, what holds them."""

import math
from dataclasses import dataclass

from ground.vectors import Vec, X, Y, Z, neg
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.kit import Halves
from models.parts.joints.mitre import MitreLine, SplineSeat, plain, spline_seat, splined
from models.setting_out.bench import Bench
from models.setting_out.meeting import Meeting, hold
from models.setting_out.notes import not_made
from models.setting_out.numbers import CaseNumbers
from specs.case import (
    ButtCorner,
    ButtRuns,
    Carrier,
    Corner,
    CornerKind,
    Corners,
    DadoCorner,
    MitreCorner,
    RabbetCorner,
)
from specs.joints import Joint, SplineJoint

FRONT_STOP = 10.0
"""A spline's slot stops this far behind the panel's front edge (mm): it comes out nowhere.
Common practice, no source."""
SHORT_OF_GROOVE = 3.0
"""A spline stops this far short of the back's groove (mm): design rule."""
TONGUE = 1 / 3
"""A barefaced tongue is a third of its panel. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerWay:
    """How one corner is made, every default filled in.

    ``over``: a butted panel runs over the sides' ends. ``in_sides``: the sides carry the rabbet or
    dado. ``depth`` of it, and how far the other panel is ``lifted`` from the carrier's end (mm).
    """

    kind: CornerKind
    over: bool = False
    in_sides: bool = True
    depth: float = 0.0
    lifted: float = 0.0

    def side_inset(self, thickness: float) -> float:
        """How far a side stops short of the case's outside at this corner (mm)."""
        if self.kind is CornerKind.BUTT and self.over:
            return thickness
        let_in = self.kind in (CornerKind.RABBET, CornerKind.DADO)
        return thickness - self.depth if let_in and not self.in_sides else 0.0

    def panel_inset(self, thickness: float) -> float:
        """How far the top or bottom stops short of the case's outside at this corner (mm)."""
        match self.kind:
            case CornerKind.MITRE:
                return 0.0
            case CornerKind.BUTT:
                return 0.0 if self.over else thickness
            case CornerKind.RABBET | CornerKind.DADO:
                return thickness - self.depth if self.in_sides else 0.0


def corner_way(corners: Corners, which: str, thickness: float) -> CornerWay:
    """The corner at the ``which`` (top or bottom) of the case, its panels ``thickness`` thick."""
    corner: Corner = corners.top if which == "top" else corners.bottom
    match corner:
        case ButtCorner():
            runs = corners.top_runs if which == "top" else corners.bottom_runs
            return CornerWay(kind=corner.kind, over=runs is ButtRuns.OVER)
        case RabbetCorner():
            depth = thickness / 2 if corner.depth is None else corner.depth
            return CornerWay(kind=corner.kind, in_sides=corner.in_ is Carrier.SIDES, depth=depth)
        case DadoCorner():
            depth = thickness / 3 if corner.depth is None else corner.depth
            return CornerWay(
                kind=corner.kind,
                in_sides=corner.in_ is Carrier.SIDES,
                depth=depth,
                lifted=corner.set_in or 0.0,
            )
        case MitreCorner():
            return CornerWay(kind=corner.kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerPlace:
    """One corner of the case.

    ``panel`` and ``side`` are keys; ``hand`` is -1 left and 1 right, ``upper`` -1 bottom and 1
    top. ``span`` is where in Y both panels stand.
    """

    panel: str
    side: str
    hand: int
    upper: int
    span: tuple[float, float]

    @property
    def name(self) -> str:
        """The joint's name."""
        place = "top" if self.upper > 0 else "bottom"
        return f"case/{place} {'left' if self.hand < 0 else 'right'}"


def join_corner(
    bench: Bench, case: CaseNumbers, corner: CornerWay, joint: Joint | None, place: CornerPlace
) -> None:
    """Cut and hold one corner of the case."""
    if corner.kind is CornerKind.MITRE:
        _mitre(bench, case, joint, place)
        return
    made_by = f"case.corners.{'top' if place.upper > 0 else 'bottom'}"
    if corner.kind in (CornerKind.RABBET, CornerKind.DADO):
        _let_in(bench, case, corner, place, made_by)
    _butt(bench, case, corner, joint, place)


def corner_point(case: CaseNumbers, place: CornerPlace) -> tuple[float, float]:
    """X and Z of the case's outer corner."""
    box = case.outside
    return (
        box.lo[0] if place.hand < 0 else box.hi[0],
        box.hi[2] if place.upper > 0 else box.lo[2],
    )


def _mitre(bench: Bench, case: CaseNumbers, joint: Joint | None, place: CornerPlace) -> None:
    x, z = corner_point(case, place)
    t, half = case.panel, math.sqrt(0.5)
    line = MitreLine(
        heel=(x - place.hand * t, 0.0, z - place.upper * t),
        way=Y,
        toe=(place.hand * half, 0.0, place.upper * half),
        into_first=(-place.hand * half, 0.0, place.upper * half),
        thickness=t,
    )
    made_by = f"case.joints.{'top' if place.upper > 0 else 'bottom'}"
    seat = _seat(joint, t)
    if seat is None:
        if joint is not None:
            bench.find(not_made(f"{joint.kind} in a mitre", place.name, place.panel, place.side))
        halves: Halves = plain(line, made_by=made_by)
    else:
        span = (place.span[0] + FRONT_STOP, case.groove_front - SHORT_OF_GROOVE)
        halves = splined(line, seat, span=span, material=case.lumber, made_by=made_by)
    bench.join(f"{place.name}/mitre", place.panel, place.side, halves)


def _seat(joint: Joint | None, thickness: float) -> SplineSeat | None:
    if not isinstance(joint, SplineJoint):
        return None
    return spline_seat(thickness, thickness=joint.thickness)


def _let_in(
    bench: Bench, case: CaseNumbers, corner: CornerWay, place: CornerPlace, made_by: str
) -> None:
    """The rabbet or dado that takes the other panel's end, and the tongue that goes into it."""
    t, depth = case.panel, corner.depth
    x, z = corner_point(case, place)
    in_sides = corner.in_sides
    carrier, guest = (place.side, place.panel) if in_sides else (place.panel, place.side)
    # A panel set in from the carrier's end is housed whole; at the end, a tongue is left on it.
    whole = corner.kind is CornerKind.RABBET or corner.lifted > 0.0
    tongue = t if whole else round(t * TONGUE, 1)
    # Seen in section: ``inward`` goes from the carrier's inner face into it; ``down`` from the
    # corner along the carrier. The channel takes the guest's inner `tongue`.
    if in_sides:
        mouth, into, down = (x - place.hand * t, z), _x(place.hand), _z(-place.upper)
    else:
        mouth, into, down = (x, z - place.upper * t), _z(place.upper), _x(-place.hand)
    middle = corner.lifted + t - tongue / 2
    start = (mouth[0] + down[0] * middle, place.span[0], mouth[1] + down[2] * middle)
    rabbet = Channel(
        kind=ChannelKind.RABBET if corner.kind is CornerKind.RABBET else ChannelKind.DADO,
        seat=Seat(start, Y, into),
        length=case.outside.hi[1] - place.span[0],
        width=tongue,
        depth=depth,
        made_by=made_by,
    )
    bench.cut(carrier, (rabbet,))
    if not whole:
        _bare_face(bench, guest, rabbet, (down, into), t - tongue)


def _bare_face(
    bench: Bench, guest: str, dado: Channel, ways: tuple[Vec, Vec], waste: float
) -> None:
    """Rabbet the guest's outer face at its end, so that a tongue is left for the dado."""
    down, into = ways
    o = dado.seat.origin
    back = dado.width / 2 + waste
    start = (
        o[0] - down[0] * back + into[0] * dado.depth / 2,
        o[1],
        o[2] - down[2] * back + into[2] * dado.depth / 2,
    )
    bench.cut(
        guest,
        (
            Channel(
                kind=ChannelKind.RABBET,
                seat=Seat(start, Y, down),
                length=dado.length,
                width=dado.depth,
                depth=waste,
                made_by=dado.made_by,
            ),
        ),
    )


def _butt(
    bench: Bench, case: CaseNumbers, corner: CornerWay, joint: Joint | None, place: CornerPlace
) -> None:
    t = case.panel
    x, z = corner_point(case, place)
    side_end = corner.side_inset(t)
    if side_end > 0.0:
        # The side's end stands against the top (or on the bottom).
        plane = z - place.upper * side_end
        end, face, into = place.side, place.panel, _z(-place.upper)
        start = (x - place.hand * t / 2, place.span[0], plane)
        left, hidden = side_end, _x(-place.hand)
    else:
        plane = x - place.hand * corner.panel_inset(t)
        end, face, into = place.panel, place.side, _x(-place.hand)
        start = (plane, place.span[0], z - place.upper * (corner.lifted + t / 2))
        left, hidden = corner.panel_inset(t), neg(Z)
    which = "top" if place.upper > 0 else "bottom"
    hold(
        bench,
        Meeting(
            name=place.name,
            end=end,
            face=face,
            start=start,
            way=Y,
            length=place.span[1] - place.span[0],
            into_end=into,
            end_thickness=t,
            face_thickness=left,
            hidden=hidden,
            made_by=f"case.joints.{which}",
            for_what=f"case {which}",
        ),
        joint,
        closes="case",
    )


def _x(sign: float) -> Vec:
    return X if sign > 0 else neg(X)


def _z(sign: float) -> Vec:
    return Z if sign > 0 else neg(Z)
