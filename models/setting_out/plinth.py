"""A plinth: four boards on edge under the case, set in from its edges."""

from dataclasses import dataclass, replace

from ground.vectors import Plane, Vec, X, Y, Z, neg, scale, unit
from models.parts.blank import Grain
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.kit import Halves
from models.parts.joints.loose_tenon import TenonSize, TenonWay, loose_tenons
from models.parts.joints.mitre import MitreLine, plain, spline_seat, splined
from models.parts.part import PartKind
from models.setting_out.bearers import Bearer
from models.setting_out.bench import Bench
from models.setting_out.corner_blocks import Bay, lay_block
from models.setting_out.draft import Box, Draft, blank, lying
from models.setting_out.feet import Standing, lay_feet
from models.setting_out.fixing import lay_fixing
from models.setting_out.legs import CORNERS, Corner
from models.setting_out.numbers import CaseNumbers
from models.setting_out.tenons import nearest_cutter
from models.setting_out.trouble import trouble
from specs.base import Plinth, PlinthCorners
from specs.materials import Lumber, Sheet, SheetGrain
from specs.spec import Spec

MADE_BY = "base.corners"
CLOSES = "plinth"
"""The group that closes together: four mitred boards."""
SPLINE_STOPS = 10.0
"""mm that a spline's slot stops under the plinth's upper edge (common practice, no source)."""
LEFT_BEHIND = 5.0
"""mm of board left behind a blind mortise (check-values 7.3)."""
FOOT_IN = 60.0
"""mm from a plinth's corner to the middle of its foot (common practice, no source)."""
DIVIDER = 25.0
"""mm kept from a divider's middle (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlinthNumbers:
    """The plinth's ``outside`` (piece axes, feet not included) and its boards' ``thickness``."""

    outside: Box
    thickness: float
    corners: PlinthCorners


def plinth_numbers(spec: Spec, base: Plinth, case: CaseNumbers) -> PlinthNumbers:
    """Outside sizes and thickness of the boards.

    Raises:
        SettingOutError: the set-ins leave no room between the boards.
    """
    out, set_in = case.outside, base.set_in
    lift = base.feet.thickness if base.feet else 0.0
    box = Box(
        (out.lo[0] + set_in.sides, out.lo[1] + set_in.front, out.lo[2] - base.height + lift),
        (out.hi[0] - set_in.sides, out.hi[1] - set_in.back, out.lo[2]),
    )
    found = spec.materials[base.material]
    thickness = found.thickness_used if isinstance(found, Sheet) else base.thickness or 0.0
    for axis, key in ((0, "sides"), (1, "front")):
        room = box.size[axis] - 2 * thickness
        if room <= 0.0:
            raise trouble(
                ("base", "set_in", key),
                f"leaves {room:.1f} mm between the plinth's boards; set it in less",
            )
    return PlinthNumbers(outside=box, thickness=thickness, corners=base.corners)


def lay_plinth(
    bench: Bench, spec: Spec, base: Plinth, case: CaseNumbers, dividers: tuple[float, ...]
) -> None:
    """Lay out the four boards, join their corners, fix the case on them.

    Raises:
        SettingOutError: no plinth can be set out from the numbers.
    """
    numbers = plinth_numbers(spec, base, case)
    for axis, side in ((1, -1), (1, 1), (0, -1), (0, 1)):
        _board(bench, spec, base, numbers, (axis, side))
    for corner in CORNERS:
        _corner(bench, spec, numbers, corner)
        if base.corner_blocks is not None:
            lay_block(bench, base.corner_blocks, _bay(numbers, corner))
    if base.feet is not None:
        lay_feet(bench, base.feet, _standings(numbers))
    taken = base.corner_blocks.legs if base.corner_blocks else 0.0
    bearers = tuple(
        _bearer(numbers, way, taken, dividers) for way in ((1, -1), (1, 1), (0, -1), (0, 1))
    )
    lay_fixing(bench, spec, base.fixing, bearers)


def _key(axis: int, side: int) -> str:
    words = {(1, -1): "front", (1, 1): "back", (0, -1): "left", (0, 1): "right"}
    return f"base/plinth {words[axis, side]}"


def _box(numbers: PlinthNumbers, axis: int, side: int) -> Box:
    """A board's box: long ones over the ends of the sides, and all to the mitres' points."""
    lo, hi = list(numbers.outside.lo), list(numbers.outside.hi)
    if side < 0:
        hi[axis] = lo[axis] + numbers.thickness
    else:
        lo[axis] = hi[axis] - numbers.thickness
    if axis == 0:
        inset = {
            PlinthCorners.MITRE: 0.0,
            PlinthCorners.BUTT: numbers.thickness,
            PlinthCorners.RABBET: numbers.thickness / 2,
        }[numbers.corners]
        lo[1], hi[1] = lo[1] + inset, hi[1] - inset
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def _board(
    bench: Bench, spec: Spec, base: Plinth, numbers: PlinthNumbers, way: tuple[int, int]
) -> None:
    axis, side = way
    out = scale((X, Y)[axis], float(side))
    size, frame = lying(_box(numbers, axis, side), length=_run(axis, side), up=out)
    found = spec.materials[base.material]
    plain_sheet = isinstance(found, Sheet) and found.grain is SheetGrain.NONE
    bench.put(
        Draft(
            key=_key(axis, side),
            letter="B",
            name="plinth, long board" if axis == 1 else "plinth, side board",
            group=("base",),
            kind=PartKind.LUMBER if isinstance(found, Lumber) else PartKind.SHEET,
            material=base.material,
            blank=blank(size, grain=Grain.NONE if plain_sheet else Grain.LENGTH),
            frame=frame,
            show="top",
        )
    )


def _run(axis: int, side: int) -> Vec:
    """Level, to the right as seen from outside."""
    return scale(X, float(-side)) if axis == 1 else scale(Y, float(side))


def _corner(bench: Bench, spec: Spec, numbers: PlinthNumbers, corner: Corner) -> None:
    """Join the long board at ``corner`` (first) and the side board (second)."""
    keys = (_key(1, corner.y), _key(0, corner.x))
    match numbers.corners:
        case PlinthCorners.MITRE:
            halves = _mitred(numbers, corner)
        case PlinthCorners.BUTT:
            halves = _butted(spec, numbers, corner)
        case PlinthCorners.RABBET:
            halves = _rabbeted(numbers, corner)
    bench.join(f"base/plinth corner {corner.name}", *keys, halves)


def _inner(numbers: PlinthNumbers, corner: Corner) -> Vec:
    """The inner corner line's lower end."""
    lo, hi, t = numbers.outside.lo, numbers.outside.hi, numbers.thickness
    x = lo[0] + t if corner.x < 0 else hi[0] - t
    y = lo[1] + t if corner.y < 0 else hi[1] - t
    return (x, y, lo[2])


def _mitred(numbers: PlinthNumbers, corner: Corner) -> Halves:
    """Mitred, with a spline that slides in from below and stops under the case."""
    toe = unit((float(corner.x), float(corner.y), 0.0))
    line = MitreLine(
        heel=_inner(numbers, corner),
        way=Z,
        toe=toe,
        # The long board lies away from the corner along X, the side board along Y.
        into_first=unit((-float(corner.x), float(corner.y), 0.0)),
        thickness=numbers.thickness,
    )
    seat = spline_seat(numbers.thickness)
    room = numbers.outside.size[2] - SPLINE_STOPS
    if seat is None or room <= SPLINE_STOPS:
        return replace(plain(line, made_by=MADE_BY), closes=CLOSES)
    halves = splined(line, seat, span=(0.0, room), material=None, made_by=MADE_BY)
    return replace(halves, closes=CLOSES)


def _butted(spec: Spec, numbers: PlinthNumbers, corner: Corner) -> Halves:
    """The side board's end against the long board's inner face, on two loose tenons."""
    t = numbers.thickness
    thick = nearest_cutter(t / 3, spec.units)
    height = numbers.outside.size[2]
    width = min(5 * thick, (height - 3 * LEFT_BEHIND) / 2)
    inner = _inner(numbers, corner)
    outward = scale(Y, float(corner.y))
    middle = inner[0] + corner.x * t / 2
    levels = (0.5,) if width < 2 * thick else (0.25, 0.75)
    places = tuple((middle, inner[1], inner[2] + height * level) for level in levels)
    size = TenonSize(
        thickness=thick,
        width=min(5 * thick, height - 2 * LEFT_BEHIND) if len(levels) == 1 else width,
        depths=(t - LEFT_BEHIND, 2.5 * thick),
    )
    way = TenonWay(into_first=outward, slot=Z)
    return loose_tenons(places, way, size, made_by=MADE_BY)


def _rabbeted(numbers: PlinthNumbers, corner: Corner) -> Halves:
    """The side board's end in a rabbet half as deep as the long board is thick."""
    t, inner = numbers.thickness, _inner(numbers, corner)
    middle = (inner[0] + corner.x * t / 2, inner[1], inner[2])
    rabbet = Channel(
        kind=ChannelKind.RABBET,
        seat=Seat(middle, Z, scale(Y, float(corner.y))),
        length=numbers.outside.size[2],
        width=t,
        depth=t / 2,
        made_by=MADE_BY,
    )
    return Halves(kind="rabbet", first=(rabbet,), second=(), closes=scale(Y, float(corner.y)))


def _bay(numbers: PlinthNumbers, corner: Corner) -> Bay:
    inner = _inner(numbers, corner)
    return Bay(
        corner=corner,
        faces=(
            Plane.through(inner, scale(X, -float(corner.x))),
            Plane.through(inner, scale(Y, -float(corner.y))),
        ),
        keys=(_key(0, corner.x), _key(1, corner.y)),
        leg=None,
        low=numbers.outside.lo[2],
        high=numbers.outside.hi[2],
        room=min(numbers.outside.size[:2]) - 2 * numbers.thickness,
        rail=numbers.thickness,
        taken=0.0,
    )


def _standings(numbers: PlinthNumbers) -> tuple[Standing, ...]:
    """Feet under the long boards, near their ends."""
    lo, hi, t = numbers.outside.lo, numbers.outside.hi, numbers.thickness
    inset = min(FOOT_IN, numbers.outside.size[0] / 4)
    return tuple(
        Standing(
            host=_key(1, corner.y),
            at=(
                lo[0] + inset if corner.x < 0 else hi[0] - inset,
                lo[1] + t / 2 if corner.y < 0 else hi[1] - t / 2,
                lo[2],
            ),
            room=t,
        )
        for corner in CORNERS
    )


def _bearer(
    numbers: PlinthNumbers, way: tuple[int, int], blocks: float, dividers: tuple[float, ...]
) -> Bearer:
    axis, side = way
    run, out = _run(axis, side), scale((X, Y)[axis], float(side))
    other = 1 - axis
    sign = run[other]
    ends = sorted(
        sign * (edge + inset)
        for edge, inset in (
            (numbers.outside.lo[other], numbers.thickness),
            (numbers.outside.hi[other], -numbers.thickness),
        )
    )
    taken = [(ends[0], ends[0] + blocks), (ends[1] - blocks, ends[1])]
    if axis == 1:
        taken += [(x * sign - DIVIDER, x * sign + DIVIDER) for x in dividers]
    corner = _inner(numbers, Corner(side, side))
    return Bearer(
        key=_key(axis, side),
        run=run,
        up=Z,
        out=out,
        inner=Plane.through(corner, neg(out)),
        thickness=numbers.thickness,
        low=numbers.outside.lo[2],
        high=numbers.outside.hi[2],
        span=(ends[0], ends[1]),
        taken=tuple(taken),
    )
