"""Rows of shelf-pin holes on a grid, in both panels beside an opening, clear of other holes."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec, X, Z, neg
from models.parts.features import Hole, HoleKind, Seat
from models.parts.lowering import row
from models.setting_out.bench import Bench
from models.setting_out.drilling import meeting
from models.setting_out.numbers import Leaf
from specs.hardware import ShelfPins

FROM_ENDS: Final = 64.0
"""No hole nearer than this to the opening's floor or ceiling (mm): a shelf there is of no use.
Common practice, no source."""
LEFT_BEHIND: Final = 3.0
"""Least panel left behind a pin's hole (mm). Common practice, no source."""
PLATES: Final = "doors.hinge"
"""What makes the holes of a hinge's plate."""
ENOUGH: Final = 0.6
"""Rows that lose more of their holes than this leaves are tried half a pitch further back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PinGrid:
    """Rows at ``ys`` (front and rear), and the heights ``zs`` that are clear in all four rows."""

    ys: tuple[float, float]
    zs: tuple[float, ...]


def levels(leaf: Leaf, pins: ShelfPins, start: float | None = None) -> tuple[float, ...]:
    """Z of every hole of the grid that counts from the opening's floor, or from ``start`` (a Z).

    Worked: 412.8 high, pitch 32: from 64 to 320 above the floor, 9 holes.
    """
    lo, hi = leaf.box.lo[2], leaf.box.hi[2]
    offset = 0.0 if start is None else (start - lo) % pins.pitch
    count = int((hi - lo) // pins.pitch) + 1
    places = (offset + pins.pitch * i for i in range(count))
    return tuple(lo + at for at in places if FROM_ENDS <= at <= hi - lo - FROM_ENDS)


def plate_holes(bench: Bench, leaf: Leaf) -> tuple[tuple[str, Vec], ...]:
    """Every hole of a hinge's plate in the panels beside an opening: the panel, and its mouth."""
    found: list[tuple[str, Vec]] = []
    for panel, face in ((leaf.left, leaf.box.lo[0]), (leaf.right, leaf.box.hi[0])):
        frame = bench.drafts[panel].frame
        for hole in bench.drafts[panel].features:
            if not isinstance(hole, Hole) or hole.made_by != PLATES:
                continue
            mouths = (frame.point(mouth) for mouth in row(hole.seat, hole.count, hole.pitch))
            found += [(panel, at) for at in mouths if abs(at[0] - face) < LENGTH_EPS]
    return tuple(found)


def clear_grid(
    bench: Bench,
    leaf: Leaf,
    pins: ShelfPins,
    rows: tuple[tuple[float, float], Iterable[float]],
    *,
    on_grid: bool,
) -> PinGrid:
    """Of the heights in ``rows`` (after their Ys) the clear ones; moved half a pitch for more.

    On the line of a hinge's plate a hole either is one of the plate's or keeps half a pitch away.
    """
    ys, wanted = rows[0], tuple(rows[1])
    # Places that are written are kept as they are, so long as no two holes meet.
    plates = plate_holes(bench, leaf) if on_grid else ()
    best = PinGrid(ys=ys, zs=())
    for step in (0.0, pins.pitch / 2, -pins.pitch / 2):
        moved = (ys[0] + step, ys[1] + step)
        free = tuple(
            z
            for z in wanted
            if not _crowds(plates, pins, moved, z)
            and all(
                meeting(bench.drafts[panel], hole) is None
                for panel, hole in pin_holes(bench, leaf, pins, moved, (z,))
            )
        )
        if len(free) > len(best.zs):
            best = PinGrid(ys=moved, zs=free)
        if len(free) >= ENOUGH * len(wanted):
            break
    return best


def _crowds(
    plates: tuple[tuple[str, Vec], ...], pins: ShelfPins, ys: tuple[float, float], z: float
) -> bool:
    """Tell whether a pin's hole stands on a plate's line, less than half a pitch from a hole."""
    return any(
        abs(at[2] - z) < pins.pitch / 2 - LENGTH_EPS
        for _, at in plates
        if any(abs(at[1] - y) < pins.diameter for y in ys)
    )


def pin_holes(
    bench: Bench, leaf: Leaf, pins: ShelfPins, ys: tuple[float, float], run: tuple[float, ...]
) -> tuple[tuple[str, Hole], ...]:
    """The four rows of one run of neighbouring heights: each panel's key and its row."""
    lo, hi = leaf.box.lo, leaf.box.hi
    hands: tuple[tuple[str, float, Vec], ...] = ((leaf.left, lo[0], neg(X)), (leaf.right, hi[0], X))
    return tuple(
        (
            panel,
            Hole(
                kind=HoleKind.SHELF_PIN,
                seat=Seat((face, y, run[0]), Z, into),
                diameter=pins.diameter,
                depth=hole_depth(bench, panel, pins),
                made_by="shelves",
                count=len(run),
                pitch=pins.pitch if len(run) > 1 else 0.0,
            ),
        )
        for panel, face, into in hands
        for y in ys
    )


def hole_depth(bench: Bench, panel: str, pins: ShelfPins) -> float:
    """As deep as asked, as far as the panel allows (mm)."""
    return min(pins.depth, bench.drafts[panel].blank.thickness - LEFT_BEHIND)


def runs(zs: tuple[float, ...], pitch: float) -> tuple[tuple[float, ...], ...]:
    """Heights in order, parted where a hole of the grid is missing."""
    parted: list[list[float]] = []
    for z in sorted(zs):
        if parted and abs(z - parted[-1][-1] - pitch) < pitch / 4:
            parted[-1].append(z)
        else:
            parted.append([z])
    return tuple(tuple(run) for run in parted)


def about(zs: tuple[float, ...], shelves: tuple[float, ...], each: int) -> tuple[float, ...]:
    """Of the heights ``zs`` the ``each`` nearest to every shelf's own."""
    kept: set[float] = set()
    for shelf in shelves:
        kept |= set(sorted(zs, key=lambda z: (abs(z - shelf), z))[:each])
    return tuple(sorted(kept))
