"""Parts made by hand for the tests of solids and for the benchmark: the sorts a case is made of."""

import math

from ground.vectors import ORIGIN, Plane, Vec, X, Y, Z, add, along, dot, neg, scale, unit
from models.parts.blank import Blank
from models.parts.cuts import Profile
from models.parts.features import (
    Channel,
    ChannelKind,
    Countersink,
    EasedEdge,
    Feature,
    Hole,
    HoleKind,
    Mortise,
    Seat,
    Trim,
    TrimKind,
    Waste,
    WasteKind,
)
from models.parts.part import Part, PartKind, numbered

DOWN: Vec = (0.0, 0.0, -1.0)
LEG_HEIGHT, LEG_TOP, LEG_FOOT = 190.0, 58.0, 30.0
LEG_SPLAY = (math.radians(9.0), math.radians(4.0))


def part(blank: Blank, *features: Feature, label: str = "T1", name: str = "part") -> Part:
    """A part of lumber with its features numbered."""
    return Part(
        label=label,
        name=name,
        kind=PartKind.LUMBER,
        material=None,
        blank=blank,
        features=numbered(features),
    )


def board(length: float, width: float, thickness: float, *features: Feature) -> Part:
    """A squared board."""
    return part(Blank(length=length, width=width, thickness=thickness), *features)


def hole(at: Vec, diameter: float, depth: float | None, into: Vec = DOWN, **more: float) -> Hole:
    """A hole; a row of it runs along x."""
    run = X if abs(into[0]) < 0.5 else Y
    return Hole(
        kind=HoleKind.SHELF_PIN,
        seat=Seat(at, run, into),
        diameter=diameter,
        depth=depth,
        made_by="test",
        count=int(more.get("count", 1)),
        pitch=more.get("pitch", 0.0),
        lead=more.get("lead", 0.0),
    )


def countersink(at: Vec, diameter: float, into: Vec = DOWN) -> Countersink:
    """A seat for a screw head, 90 degrees included."""
    run = X if abs(into[0]) < 0.5 else Y
    return Countersink(seat=Seat(at, run, into), diameter=diameter, angle=90.0, made_by="test")


def groove(start: Vec, run: Vec, size: tuple[float, float, float], into: Vec = DOWN) -> Channel:
    """A channel of length, width and depth from the middle of its end."""
    length, width, depth = size
    return Channel(
        kind=ChannelKind.GROOVE,
        seat=Seat(start, run, into),
        length=length,
        width=width,
        depth=depth,
        made_by="test",
    )


def trim(point: Vec, waste: Vec, kind: TrimKind = TrimKind.MITRE, named: str = "") -> Trim:
    """Everything beyond ``point`` towards ``waste`` is sawn off."""
    return Trim(kind=kind, plane=Plane.through(point, waste), made_by="test", id=named)


def ease(first: str, second: str, size: float, profile: Profile = Profile.ROUND) -> EasedEdge:
    """An eased arris."""
    return EasedEdge(between=(first, second), size=size, profile=profile, made_by="test")


def box_bite(low: Vec, high: Vec, *opens: int, kind: WasteKind = WasteKind.NOTCH) -> Waste:
    """A box taken away; ``opens`` are the sides open to the air: -1 and 1 for x, and so on."""
    planes: list[tuple[str, Plane]] = []
    for axis, direction in enumerate((X, Y, Z), start=1):
        for sign, corner in ((-1, low), (1, high)):
            name = "" if sign * axis in opens else f"wall-{'abcdef'[len(planes)]}"
            planes.append((name, Plane.through(corner, scale(direction, sign))))
    return Waste(kind=kind, planes=tuple(planes), made_by="test")


def splayed_leg(*, facet: float = 12.0, ease_by: float = 3.0, deep: float = 20.0) -> Part:
    """The splayed leg of the demo: x up from the foot, y and z inward from the outer corner.

    Splay 9 degrees along y and 4 along z, 190 high, 58 square at the top, 30 at the foot. Its
    blank is the box about it. Two round-ended mortises stand square to the inner faces.
    """
    outs = tuple(LEG_HEIGHT * math.tan(splay) for splay in LEG_SPLAY)
    blank = Blank(length=LEG_HEIGHT, width=LEG_TOP + outs[0], thickness=LEG_TOP + outs[1])
    outer = [side(axis, outs[axis], inner=False) for axis in (0, 1)]
    inner = [side(axis, outs[axis], inner=True) for axis in (0, 1)]
    names = ("outer-side", "outer-front", "inner-side", "inner-front")
    features: list[Feature] = [
        Trim(kind=TrimKind.SPLAY, plane=plane, made_by="legs", id=name)
        for name, plane in zip(names, (*outer, *inner), strict=True)
    ]
    arrises = [
        ("outer-side", "inner-front"),
        ("inner-side", "outer-front"),
        ("inner-side", "inner-front"),
    ]
    shown = list(names)
    if facet:
        features.append(
            Trim(kind=TrimKind.FACET, plane=facet_of(outer, facet), made_by="f", id="facet")
        )
        arrises += [("facet", "outer-side"), ("facet", "outer-front")]
        shown.append("facet")
    else:
        arrises.append(("outer-side", "outer-front"))
    if ease_by:
        feet = [("left", name) for name in shown]
        features += [ease(a, b, ease_by) for a, b in (*arrises, *feet)]
    if deep:
        features += [leg_mortise(inner[axis], outs, axis, deep) for axis in (0, 1)]
    return part(blank, *features, label="L1", name="leg")


def side(axis: int, out: float, *, inner: bool) -> Plane:
    """One side of the leg: ``axis`` 0 is square to y, 1 to z; ``out`` is its lean at the foot."""
    foot, top = (LEG_FOOT, out + LEG_TOP) if inner else (0.0, out)
    rise = unit((LEG_HEIGHT, top - foot, 0.0))
    normal = (-rise[1], rise[0]) if inner else (rise[1], -rise[0])
    point: Vec = (0.0, foot, 0.0) if axis == 0 else (0.0, 0.0, foot)
    turned: Vec = (normal[0], normal[1], 0.0) if axis == 0 else (normal[0], 0.0, normal[1])
    return Plane.through(point, turned)


def facet_of(outer: list[Plane], width: float) -> Plane:
    """The facet on the outer arris, ``width`` measured on it.

    Square to the arris it is the base of an isosceles triangle whose tip is the arris, which
    starts at the origin.
    """
    normal = unit(add(outer[0].normal, outer[1].normal))
    half_angle = math.acos(-dot(outer[0].normal, outer[1].normal)) / 2
    back = width / 2 / math.tan(half_angle)
    return Plane.through(along(ORIGIN, normal, -back), normal)


def leg_mortise(wall: Plane, outs: tuple[float, ...], axis: int, deep: float) -> Mortise:
    """A mortise 8 x 40 square to an inner face, its middle 35 below the top."""
    up = unit((1.0, -wall.normal[0] / wall.normal[1 + axis], 0.0))
    x = LEG_HEIGHT - 35.0
    on_wall = (wall.offset - wall.normal[0] * x) / wall.normal[1 + axis]
    across = outs[1 - axis] + 20.0
    origin: Vec = (x, on_wall, across) if axis == 0 else (x, across, on_wall)
    return Mortise(
        seat=Seat(origin, up if axis == 0 else (up[0], 0.0, up[1]), neg(wall.normal)),
        length=40.0,
        width=8.0,
        depth=deep,
        made_by="joint",
    )


def bench_parts() -> tuple[Part, ...]:
    """A leg, a panel with 200 holes, a case side, an apron and a drawer's parts, to be timed."""
    pins = [hole((20.0 + 8 * place, y, 18.0), 5, 12) for place in range(100) for y in (37.0, 400.0)]
    rows = [hole((60.0, y, 18.0), 5, 12, count=12, pitch=32.0) for y in (37.0, 380.0)]
    return (
        splayed_leg(),
        part(
            Blank(length=840, width=450, thickness=18),
            *pins,
            groove((0, 430, 18), X, (840, 6, 9)),
            label="H1",
            name="panel with 200 holes",
        ),
        part(
            Blank(length=450, width=412, thickness=18),
            *rows,
            groove((0, 399, 18), X, (450, 6, 9)),
            trim((450, 0, 0), (1, 0, 1), TrimKind.MITRE, "mitre"),
            *(hole((x, 60.0, 18.0), 8, 11) for x in (100.0, 200.0, 300.0)),
            label="C1",
            name="case side",
        ),
        part(
            Blank(length=900, width=72, thickness=22),
            trim((890, 35, 10), (1, 0.3, 0.02), TrimKind.SHOULDER, "right-shoulder"),
            trim((10, 35, 10), (-1, 0.3, -0.02), TrimKind.SHOULDER, "left-shoulder"),
            trim((0, 72, 0), (0, 1, 0.07), TrimKind.BEVEL, "bevel"),
            hole((200, 72, 11), 10, 30, neg(Y), count=4, pitch=150),
            label="B1",
            name="apron",
        ),
        part(
            Blank(length=350, width=120, thickness=15),
            groove((0, 16, 15), X, (350, 6, 7)),
            box_bite((0, 0, 9), (7, 120, 15), -1, -2, 2, 3),
            *(hole((7.5, y, 0), 4, 15, Z) for y in (30.0, 60.0, 90.0)),
            ease("top", "back", 2),
            ease("bottom", "back", 2),
            label="D1",
            name="drawer side",
        ),
    )
