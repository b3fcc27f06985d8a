"""A sketch a jig: to no scale that is told, with the sizes that it is made by."""

import math
from collections.abc import Callable
from typing import assert_never

from drawings.records import Align
from exporters.book.sketch import (
    ACCENT,
    DARK,
    PALE,
    SOFT,
    Note,
    Ring,
    Shape,
    Size,
    Sketch,
    svg,
)
from exporters.book.tables import size as length
from ground.quantities import Units, angle_text
from models.parts.views import Point
from planning.jigs.records import (
    ClampWedge,
    GuideBlock,
    HoleStrip,
    Jig,
    LevellingWedge,
    MitreCaul,
    SledSetting,
    Spacer,
    TaperSled,
)

ROOM = (64.0, 30.0)
"""How large a jig's picture is (mm)."""
BLOCK = 60.0
"""How long blocks and cauls are drawn, where no size is asked for (mm)."""
LIP = 8.0
"""How thick the lip is drawn that hooks over the edge (mm)."""


def picture(jig: Jig, units: Units) -> str:
    """Draw a jig."""
    match jig:
        case LevellingWedge():
            found = levelling(jig, units)
        case TaperSled():
            found = sled(jig, units)
        case HoleStrip():
            found = strip(jig, units)
        case GuideBlock():
            found = guide(jig)
        case ClampWedge():
            found = clamp_wedge(jig)
        case MitreCaul():
            found = mitre_caul()
        case Spacer():
            found = spacer(jig, units)
        case _:
            assert_never(jig)
    return svg(found, ROOM)


def box(low: Point, high: Point) -> tuple[Point, ...]:
    """A rectangle by two corners."""
    return (low, (high[0], low[1]), high, (low[0], high[1]))


def levelling(jig: LevellingWedge, units: Units) -> Sketch:
    """The wedge from the side."""
    end = (jig.length, jig.rise)
    return Sketch(
        shapes=(Shape(points=((0.0, 0.0), (jig.length, 0.0), end)),),
        sizes=(
            Size(start=(0.0, 0.0), end=(jig.length, 0.0), text=length(jig.length, units), off=-5.0),
            Size(start=end, end=(jig.length, 0.0), text=length(jig.rise, units), off=5.0),
        ),
        margins=(4.0, 11.0, 12.0, 4.0),
    )


def sled(jig: TaperSled, units: Units) -> Sketch:
    """The bed from above: the blade runs along its upper edge, the cleat lies askew."""
    steep = max(jig.settings, key=lambda setting: abs(setting.far - setting.near))
    start = 40.0
    long = max(jig.piece, jig.over) + start + 40.0
    slope = (steep.far - steep.near) / jig.over
    reach = max(jig.piece, jig.over)

    def cleat(along: float, off: float = 0.0) -> Point:
        return (start + along, -(steep.near + slope * along) - off)

    thick = 22.0
    deep = max(-cleat(reach)[1], steep.near) + thick + 15.0
    stop = (
        (start - thick, -4.0),
        (start, -4.0),
        cleat(0.0),
        (start - thick, cleat(-thick)[1]),
    )
    a, b = cleat(0.0), cleat(jig.over)
    return Sketch(
        shapes=(
            Shape(points=box((0.0, -deep), (long, 0.0)), fill=PALE),
            Shape(points=(cleat(-thick), cleat(reach), cleat(reach, thick), cleat(-thick, thick))),
            Shape(points=stop),
            Shape(points=workpiece(steep, jig.piece, cleat), dashed=True),
        ),
        sizes=(
            Size(start=(a[0], 0.0), end=a, text="a", off=4.0),
            Size(start=(b[0], 0.0), end=b, text="b", off=4.0),
            Size(start=(a[0], 0.0), end=(b[0], 0.0), text=length(jig.over, units), off=5.0),
        ),
        notes=(
            Note(at=(long, 0.0), text="blade", shift=(0.0, 1.4), align=Align.RIGHT, colour=ACCENT),
            Note(at=(long, -deep), text="fence", shift=(0.0, -4.0), align=Align.RIGHT, colour=SOFT),
        ),
        margins=(3.0, 6.0, 3.0, 10.0),
    )


def workpiece(
    setting: SledSetting, long: float, cleat: Callable[[float], Point]
) -> tuple[Point, ...]:
    """About where the piece lies: from the cleat to a little over the edge."""
    over = max(6.0, (setting.far - setting.near) / 2)
    first, last = cleat(0.0), cleat(long)
    return (first, last, (last[0], over), (first[0], over))


def strip(jig: HoleStrip, units: Units) -> Sketch:
    """The strip with its holes, the lip at the edge that it is set to."""
    last = jig.places[-1]
    long = last + max(0.06 * last, 12.0)
    wide = max(long * 0.16, 20.0)
    middle = -wide / 2
    radius = max(bit.diameter for bit in jig.bits) / 2
    lip = max(LIP, long * 0.02)
    # every place from the same edge: no number has to be added up
    numbers = tuple(
        Note(
            at=(place, 0.0),
            text=length(place, units),
            shift=(0.9, 1.2),
            turned=90.0,
            align=Align.LEFT,
        )
        for place in jig.places
    )
    return Sketch(
        shapes=(
            Shape(points=box((0.0, -wide), (long, 0.0)), fill=PALE),
            Shape(points=box((-lip, -wide), (0.0, 0.0)), fill=DARK),
        ),
        rings=tuple(Ring(at=(place, middle), radius=min(radius, wide / 4)) for place in jig.places),
        lines=(
            ((-lip, middle), (long, middle)),
            *(((place, 0.0), (place, -wide)) for place in jig.places),
        ),
        notes=(*numbers, Note(at=(-lip / 2, -wide), text="lip", shift=(0.0, -4.0), colour=SOFT)),
        margins=(4.0, 5.0, 4.0, 15.0),
    )


def guide(jig: GuideBlock) -> Sketch:
    """The block in section, the hole through it at its slant."""
    lean = math.radians(jig.lean)
    high = 40.0
    run = high * math.tan(lean)
    wide = max(BLOCK, run + 40.0)
    if run > 2 * BLOCK:  # so flat that the block would be all length
        high = 2 * BLOCK / math.tan(lean)
        run = 2 * BLOCK
        wide = run + 40.0
    half = max(bit.diameter for bit in jig.bits) / 2 / math.cos(lean)
    foot = wide / 2 - run / 2
    head = foot + run
    return Sketch(
        shapes=(
            Shape(points=box((0.0, 0.0), (wide, high))),
            Shape(points=((foot - half, 0.0), (foot + half, 0.0), (head + half, high),
                          (head - half, high)), fill="#ffffff"),
            Shape(points=((foot, 0.0), (foot, high)), dashed=True),
        ),
        lines=(((foot - run * 0.1, -high * 0.1), (head + run * 0.1, high * 1.1)),),
        notes=(
            Note(
                at=((foot + head) / 2, high),
                text=f"{angle_text(jig.lean)}° from square",
                shift=(0.0, 2.4),
            ),
            Note(at=(0.0, 0.0), text="clamped to the face", shift=(0.0, -4.4), align=Align.LEFT,
                 colour=SOFT),
        ),
        margins=(4.0, 8.0, 4.0, 8.0),
    )  # fmt: skip


def clamp_wedge(jig: ClampWedge) -> Sketch:
    """The wedge from the side, jaw above, work below."""
    rise = BLOCK * math.tan(math.radians(jig.angle))
    thin = 6.0
    return Sketch(
        shapes=(
            Shape(points=((0.0, 0.0), (BLOCK, 0.0), (BLOCK, thin + rise), (0.0, thin))),
        ),
        notes=(
            Note(at=(0.0, thin), text=f"{angle_text(jig.angle)}°", shift=(8.0, 4.0)),
            Note(at=(BLOCK / 2, 0.0), text="against the work", shift=(0.0, -3.6), colour=SOFT),
            Note(at=(BLOCK * 0.8, thin + rise * 0.8), text="jaw", shift=(0.0, 2.4), colour=SOFT),
        ),
        margins=(4.0, 7.0, 4.0, 5.0),
    )  # fmt: skip


def mitre_caul() -> Sketch:
    """Two strips in section on the outsides of a closed mitre."""
    thick, side, caul = 18.0, 62.0, 20.0
    slant = caul * math.sqrt(0.5)
    top = ((0.0, 0.0), (side, 0.0), (side, -thick), (thick, -thick))
    upright = ((0.0, 0.0), (thick, -thick), (thick, -side), (0.0, -side))
    over = ((8.0, 0.0), (8.0 + 2 * slant, 0.0), (8.0, 2 * slant))
    beside = ((0.0, -8.0), (-2 * slant, -8.0), (0.0, -8.0 - 2 * slant))
    return Sketch(
        shapes=(
            Shape(points=top, fill=PALE),
            Shape(points=upright, fill=PALE),
            Shape(points=over),
            Shape(points=beside),
        ),
        lines=(((8.0 + slant * 1.6, slant * 1.6), (-slant * 1.6, -8.0 - slant * 1.6)),),
        notes=(Note(at=(8.0, slant), text="45°", shift=(-4.5, 0.0)),),
        margins=(4.0, 4.0, 4.0, 4.0),
    )


def spacer(jig: Spacer, units: Units) -> Sketch:
    """A stick on its edge."""
    long, wide = 90.0, 20.0
    return Sketch(
        shapes=(
            Shape(points=box((0.0, 0.0), (long, wide))),
            Shape(points=box((long + 14.0, 0.0), (long + 14.0 + max(jig.thickness, 1.5), wide))),
        ),
        notes=(
            Note(
                at=(long + 14.0 + jig.thickness / 2, wide),
                text=length(jig.thickness, units),
                shift=(0.0, 2.0),
            ),
        ),
        margins=(4.0, 4.0, 8.0, 7.0),
    )
