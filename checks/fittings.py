"""What hangs, slides and is screwed: loads on runners, hinges, pins and screws against limits."""

import math
from collections.abc import Iterator

from checks.contents import contents
from checks.leaves import leaves
from checks.placed import GRAVITY, Piece, Placed
from ground import wood
from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC, Finding, Severity
from models.parts.assembly import Motion, Mover
from models.parts.features import Channel, ChannelKind, Hole, HoleKind
from models.parts.part import PartKind
from models.setting_out.densities import density
from specs.hardware import SideMountSlide, UndermountRunner
from specs.materials import Lumber

HINGES = ((1016.0, 6.8, 2), (1524.0, 13.6, 3), (2032.0, 20.4, 4), (2540.0, 27.2, 5))
"""Height (mm), mass (kg) and hinges of a door: one hinge maker's catalogue chart, guideline values;
other makers' differ by a factor of two."""
SLENDER_DOOR = 60.0
"""A door higher than this many thicknesses bows. Common practice, no source."""
WIDE_DRAWER = 2.0
"""A drawer wider than this many runner lengths sticks unless a rod ties both sides. Common
practice, no source."""
BEARING = 5.0
"""What a panel bears under a shelf pin (MPa; from memory, low confidence)."""
PIN_DIAMETER, PIN_BEARS = 5.0, 8.0
"""A shelf pin and the length of it that a shelf rests on (mm). Common practice, no source."""
PLATE_SCREW, PLATE_THREAD, PLATE_SCREWS = 3.5, 12.0, 2
"""Diameter and thread of a hinge plate's screws (mm), how many. Common practice, no source."""
SHEET_GRAVITY = 1120.0
"""Density of a panel by this stands for its specific gravity at 12 % (kg/m3)."""


def withdrawal(gravity: float, diameter: float, thread: float) -> float:
    """Allowable withdrawal of a wood screw from side grain, N.

    p = 2850 G^2 D, lb an inch of thread (an engineering handbook page, after the wood council);
    none from end grain.
    """
    pounds = 2850 * gravity**2 * diameter / 25.4 * thread / 25.4
    return pounds * 4.4482216


def ultimate_withdrawal(gravity: float, diameter: float, thread: float) -> float:
    """What pulls a wood screw out of side grain, N: 108.25 G^2 D L (from memory: Wood Handbook)."""
    return 108.25 * gravity**2 * diameter * thread


def find_fittings(piece: Piece) -> Iterator[Finding]:
    """Say which runner, hinge, pin or screw carries more than it should."""
    yield from _runners(piece)
    for mover in piece.movers.values():
        if mover.kind is Motion.TURNS:
            yield from _door(piece, mover)
    yield from _pins(piece)


def _runners(piece: Piece) -> Iterator[Finding]:
    held = {one.mover: one.kg for one in contents(piece) if one.mover is not None}
    specs = leaves(piece.spec)
    for clear in piece.assembly.openings:
        asked = specs.get(clear.id)
        if asked is None or asked.drawers is None:
            continue
        runner = piece.spec.hardware.get(asked.drawers.runner)
        if not isinstance(runner, UndermountRunner | SideMountSlide):
            continue
        movers = {piece.by_id[copy].copy.mover for copy in clear.contents} - {None}
        drawers = sorted(str(one) for one in movers)
        if runner.capacity is None:
            yield _no_capacity(asked.drawers.runner)
        for drawer in drawers:
            kg = held.get(drawer, 0.0) + _mass(piece, drawer)
            if runner.capacity is not None and kg > runner.capacity:
                yield _overloaded(piece, drawer, kg, runner.capacity)
            rod = isinstance(runner, UndermountRunner) and runner.sync_rod
            if not rod and clear.width > WIDE_DRAWER * runner.length:
                yield _sticks(drawer, clear.width, runner.length)


def _mass(piece: Piece, mover: str) -> float:
    return sum(one.kg for one in piece.masses.values() if one.mover == mover)


def _no_capacity(runner: str) -> Finding:
    return Finding(
        code="load.runner_unknown",
        severity=Severity.NOTE,
        subject=runner,
        message="no capacity is given, so what its drawers weigh is not checked; write capacity "
        "from its data sheet",
        source=FROM_THE_SPEC,
    )


def _overloaded(piece: Piece, drawer: str, kg: float, capacity: float) -> Finding:
    return Finding(
        code="load.runner",
        severity=Severity.ERROR,
        subject=drawer,
        message=f"drawer and contents weigh {kg:.1f} kg and a pair of its runners carries "
        f"{capacity:g} kg; take runners for {math.ceil(kg / 5) * 5} kg or more, or write a "
        "smaller load",
        copies=tuple(one.id for one in piece.on(drawer)),
        value=round(kg, 6),
        limit=capacity,
        unit="kg",
        source=FROM_THE_SPEC,
    )


def _sticks(drawer: str, width: float, runner: float) -> Finding:
    return Finding(
        code="load.wide_drawer",
        severity=Severity.WARNING,
        subject=drawer,
        message=f"it is {width / runner:.1f} times as wide as its runners are long and will stick "
        "when it is pushed at one side; a rod that ties both runners (sync_rod: true) or longer "
        "runners mend it",
        value=round(width / runner, 6),
        limit=WIDE_DRAWER,
        source=COMMON_PRACTICE,
    )


def _door(piece: Piece, mover: Mover) -> Iterator[Finding]:
    parts = [one for one in piece.on(mover.id) if one.wood]
    if not parts:
        return
    mine = {one.id for one in parts}
    hinges = [
        joint
        for joint in piece.assembly.joints
        if joint.kind.endswith("hinge") and mine.intersection(joint.parts)
    ]
    high = max(one.hi[2] for one in parts) - min(one.lo[2] for one in parts)
    wide = max(one.hi[0] for one in parts) - min(one.lo[0] for one in parts)
    thick = max(one.part.blank.thickness for one in parts)
    kg = _mass(piece, mover.id)
    needed = next((n for most, heavy, n in HINGES if high <= most and kg <= heavy), 6)
    if 0 < len(hinges) < needed:
        yield Finding(
            code="load.hinges",
            severity=Severity.WARNING,
            subject=mover.id,
            message=f"{high:.0f} mm high and {kg:.1f} kg hang on {len(hinges)} hinges; the chart "
            f"asks for {needed}: write count: {needed} at its hinge",
            copies=tuple(sorted(mine)),
            value=len(hinges),
            limit=needed,
            source="one hinge maker's catalogue chart, guideline values",
        )
    yield from _bows(mover, high, thick)
    if len(hinges) > 1 and kg > 0:
        yield from _plates(piece, mover, (wide, kg))


def _bows(mover: Mover, high: float, thick: float) -> Iterator[Finding]:
    if high > SLENDER_DOOR * thick:
        yield Finding(
            code="load.long_door",
            severity=Severity.WARNING,
            subject=mover.id,
            message=f"it is {high:.0f} mm high and {thick:.1f} mm thick, and doors over "
            f"{SLENDER_DOOR:g} thicknesses bow; make it {high / SLENDER_DOOR:.1f} mm thick, or "
            "stiffen it",
            copies=mover.copies,
            value=round(high / thick, 6),
            limit=SLENDER_DOOR,
            source=COMMON_PRACTICE,
        )


def _plates(piece: Piece, mover: Mover, size: tuple[float, float]) -> Iterator[Finding]:
    """The upper hinge is pulled out of its panel by the door's weight at its middle."""
    wide, kg = size
    apart = _apart(piece, mover)
    if apart is None:
        return
    if apart <= wide:
        yield _close_hinges(mover, apart, wide)
    pull = kg * GRAVITY * wide / 2 / apart
    panel = _hung_on(piece, mover)
    gravity = None if panel is None else _gravity(piece, panel)
    if panel is None or gravity is None:
        return
    holds = PLATE_SCREWS * withdrawal(gravity, PLATE_SCREW, PLATE_THREAD)
    if pull > holds:
        yield Finding(
            code="load.hinge_screws",
            severity=Severity.WARNING,
            subject=mover.id,
            message=f"its upper hinge pulls {pull:.0f} N out of {panel.spoken}, and its screws "
            f"hold {holds:.0f} N; set the hinges further apart, or make the door narrower",
            copies=(panel.id,),
            value=round(pull, 6),
            limit=round(holds, 6),
            unit="N",
            source="2850 G^2 D lb an inch, for solid wood; panels by their density, indicative",
        )


def _close_hinges(mover: Mover, apart: float, wide: float) -> Finding:
    return Finding(
        code="load.hinge_spacing",
        severity=Severity.WARNING,
        subject=mover.id,
        message=f"its outer hinges stand {apart:.0f} mm apart and it is {wide:.0f} mm wide; set "
        f"them further apart than that, make it less than {apart:.0f} mm wide, or hang a pair",
        copies=mover.copies,
        value=round(apart, 6),
        limit=round(wide, 6),
        unit="mm",
        source="one hinge maker's catalogue: outer hinges further apart than the door is wide",
    )


def _apart(piece: Piece, mover: Mover) -> float | None:
    """How far the outer hinges stand apart, by what is let into the door; None where nothing is."""
    heights = [
        one.copy.placement.point(cut.seat.origin)[2]
        for one in piece.on(mover.id)
        for cut in one.part.features
        if (isinstance(cut, Hole) and cut.kind is HoleKind.HINGE_CUP)
        or (isinstance(cut, Channel) and cut.kind is ChannelKind.RECESS)
    ]
    apart = max(heights, default=0.0) - min(heights, default=0.0)
    return apart if apart > 1 else None


def _hung_on(piece: Piece, mover: Mover) -> Placed | None:
    """The panel that a door's hinges are screwed to."""
    for joint in piece.assembly.joints:
        if joint.kind.endswith("hinge") and set(joint.parts) & set(mover.copies):
            fixed = [piece.by_id[copy] for copy in joint.parts if copy not in mover.copies]
            return fixed[0] if fixed else None
    return None


def _gravity(piece: Piece, panel: Placed) -> float | None:
    """Specific gravity of what a panel is made of; sheets by their density."""
    material = piece.material(panel)
    if isinstance(material, Lumber):
        known = wood.gravity(material.species)
        return None if known is None else known.value
    weight = None if material is None else density(material)
    return None if weight is None else weight.kg_m3 / SHEET_GRAVITY


def _pins(piece: Piece) -> Iterator[Finding]:
    """A shelf on pins rests on four of them."""
    pins = [one for one in piece.placed if one.name.startswith("shelf pin")]
    if not any(one.part.kind is PartKind.HARDWARE for one in pins):
        return
    for shelf in piece.placed:
        if not shelf.wood or not shelf.name.startswith("shelf"):
            continue
        mine = [one for one in pins if one.copy.group == shelf.copy.group]
        weight = piece.masses.get(shelf.id)
        own = 0.0 if weight is None else weight.kg * GRAVITY
        asked = piece.spec.loads.shelf or 0.0
        each = (asked + own + (piece.spec.loads.shelf_point or 0.0)) / max(len(mine), 4)
        stress = each / (PIN_DIAMETER * PIN_BEARS)
        if mine and stress > BEARING:
            yield Finding(
                code="load.pins",
                severity=Severity.WARNING,
                subject=shelf.spoken,
                message=f"each of its pins carries {each:.0f} N and presses {stress:.1f} MPa into "
                f"the shelf; rest it in dados, or keep the load under "
                f"{BEARING * PIN_DIAMETER * PIN_BEARS * 4 - own:.0f} N",
                copies=(shelf.id,),
                value=round(stress, 6),
                limit=BEARING,
                unit="MPa",
                source="bearing of wood-based panels, from memory (low confidence)",
            )
            return
