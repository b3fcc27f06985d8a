"""Which joint holds the corners of a drawer box, what it does to the sizes, what is against it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import assert_never

from ground.errors import Path
from ground.findings import Finding, Severity
from ground.quantities import Slope
from ground.tolerances import LENGTH_EPS
from models.parts.joints.applied_front import LENGTHS
from models.parts.joints.box_butt import FROM_EDGE, butt_fit, butt_screwed
from models.parts.joints.box_corner import BoxCorner, CornerFit
from models.parts.joints.box_pocket import box_pocketed, pocket_seat
from models.parts.joints.drawer_bottom import BottomGroove
from models.parts.joints.inlaid_bars import Bars, barred
from models.parts.joints.kit import Halves
from models.parts.joints.lock_rabbet import LockRabbet, lock_rabbet, lock_rabbet_fit, lock_rabbeted
from models.parts.joints.pocket_screw import LEAST_POCKET
from models.parts.joints.rabbet_pins import (
    PIN_FROM_EDGE,
    PIN_IN_END,
    Pins,
    pin_heights,
    rabbet_fit,
    rabbeted,
)
from models.parts.joints.screw import NUMBER_8, WoodScrew
from models.parts.joints.tails import (
    LAP,
    LEAST_LAP,
    LEAST_PIN,
    TailRules,
    Tails,
    dovetails,
    fingers,
    tailed,
    tails_fit,
)
from models.setting_out.trouble import trouble
from specs.drawers import (
    BoxCorner as CornerSpec,
)
from specs.drawers import (
    BoxJointCorner,
    ButtBoxCorner,
    CornerPins,
    HalfBlindDovetailCorner,
    InlaidBars,
    LockRabbetBoxCorner,
    PocketScrewBoxCorner,
    RabbetBoxCorner,
    ThroughDovetailCorner,
)

USUAL_SLOPE = Slope(1 / 7)
"""1:6 in softwood to 1:8 in hardwood (check values 7.3)."""
IN_END = 25.0
"""How far a corner's screw goes into the end at least (mm). Common practice, no source."""
PRACTICE = "common practice, no source"
LEAST_IN_END = 2.0
"""An inlaid bar goes this far beyond the lap into the end at least (mm). Common practice, no
source."""
BETWEEN_HEADS = 15.0
"""Screws of a corner stand this far apart at least (mm). Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerRoom:
    """What a corner joint is worked from: the box's ``height``, its ``stock``, the bottom's groove.

    ``subject`` names the drawer in findings, ``path`` the corner's place in the spec.
    """

    height: float
    stock: float
    groove: BottomGroove
    subject: str
    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxJoint:
    """The joint of all four corners: what it does to sizes, how it is made, what is against it."""

    fit: CornerFit
    make: Callable[[BoxCorner], Halves]
    findings: tuple[Finding, ...] = ()


def box_joint(corner: CornerSpec, room: CornerRoom) -> BoxJoint:
    """Choose and lay out the joint that the spec asks for.

    Raises:
        SettingOutError: its numbers leave no joint.
    """
    match corner:
        case RabbetBoxCorner():
            return _rabbet(corner, room)
        case LockRabbetBoxCorner():
            return _lock_rabbet(corner, room)
        case HalfBlindDovetailCorner():
            lap = room.stock * LAP if corner.lap is None else corner.lap
            return _dovetail(corner, room, lap)
        case ThroughDovetailCorner():
            return _dovetail(corner, room, 0.0)
        case BoxJointCorner():
            return _box_joint(corner, room)
        case ButtBoxCorner():
            return _butt(corner, room)
        case PocketScrewBoxCorner():
            return _pockets(corner, room)
    assert_never(corner)


def _rabbet(corner: RabbetBoxCorner, room: CornerRoom) -> BoxJoint:
    depth = room.stock / 2 if corner.depth is None else corner.depth
    if depth >= room.stock:
        message = f"{depth:.1f} mm goes through a side of {room.stock:.1f} mm; write half of it"
        raise trouble((*room.path, "depth"), message)
    found: list[Finding] = []
    if room.stock - depth < LEAST_LAP:
        found.append(_weak("joint.rabbet_lap", "lap", room, room.stock - depth, LEAST_LAP))
    fit = rabbet_fit(depth, side=room.stock, end=room.stock, groove=room.groove.depth)
    make: Callable[[BoxCorner], Halves] = partial(rabbeted, depth=depth, pins=None)
    if corner.pins is not None:
        pins, against = _pins(corner.pins, room, depth)
        make, found = partial(rabbeted, depth=depth, pins=pins), found + against
    if corner.bars is not None:
        bars, against = _bars(corner.bars, room, depth)
        make, found = partial(_rabbet_with_bars, depth=depth, bars=bars), found + against
    return BoxJoint(fit=fit, make=make, findings=tuple(found))


def _pins(asked: CornerPins, room: CornerRoom, depth: float) -> tuple[Pins, list[Finding]]:
    """Pins spread between the bottom's groove and the upper edge, and what is against them."""
    heights, found = _heights(asked.count, asked.diameter, room, "pin")
    if asked.diameter > room.stock - 2 * LEAST_LAP:
        limit = room.stock - 2 * LEAST_LAP
        found.append(_weak("joint.pin_wide", "pin", room, asked.diameter, limit, most=True))
    lap = room.stock - depth
    pins = Pins(
        diameter=asked.diameter,
        heights=heights,
        in_end=PIN_IN_END if asked.length is None else max(asked.length - lap, 5.0),
        name=f"{asked.species} pin",
    )
    return pins, found


def _bars(asked: InlaidBars, room: CornerRoom, depth: float) -> tuple[Bars, list[Finding]]:
    """Bars spread as pins are; a bar no deeper than the lap holds nothing.

    Raises:
        SettingOutError: no such bar can be let in.
    """
    lap, most = room.stock - depth, 2 * room.stock
    if asked.depth > most or asked.width > room.height - room.groove.span[1]:
        message = (
            f"a bar {asked.width:.1f} mm tall and {asked.depth:.1f} mm deep does not go into a "
            f"corner of stock {room.stock:.1f} mm thick; write at most {most:.1f} mm deep"
        )
        raise trouble((*room.path, "bars"), message)
    heights, found = _heights(asked.count, asked.width, room, "bar")
    if asked.depth < lap + LEAST_IN_END:
        found.append(
            _weak("joint.bar_shallow", "depth of a bar", room, asked.depth, lap + LEAST_IN_END)
        )
    name = f"{asked.species} bar"
    return Bars(width=asked.width, depth=asked.depth, heights=heights, name=name), found


def _heights(
    count: int, size: float, room: CornerRoom, what: str
) -> tuple[tuple[float, ...], list[Finding]]:
    """Middles of pins or bars ``size`` tall, and whether they stand too close to anything."""
    top = room.groove.span[1]
    heights = pin_heights(count, size, above=top, height=room.height)
    least = 2 * PIN_FROM_EDGE * size
    apart = (heights[-1] - heights[0]) / (count - 1) if count > 1 else least
    found: list[Finding] = []
    if apart < least - LENGTH_EPS:
        weak = _weak(f"joint.{what}s_crowded", f"{what}s' distance", room, apart, least)
        meet = apart <= size + LENGTH_EPS
        found.append(replace(weak, severity=Severity.ERROR) if meet else weak)
    over = min(heights) - size / 2 - top
    wanted = (PIN_FROM_EDGE - 0.5) * size
    if over < wanted - LENGTH_EPS:
        kept = f"{what}s over the bottom's groove"
        weak = _weak(f"joint.{what}s_cut_groove", kept, room, over, wanted)
        cut = over <= LENGTH_EPS
        found.append(replace(weak, severity=Severity.ERROR) if cut else weak)
    return heights, found


def _rabbet_with_bars(corner: BoxCorner, depth: float, bars: Bars) -> Halves:
    return barred(rabbeted(corner, depth, None), corner, depth, bars)


def _lock_rabbet(corner: LockRabbetBoxCorner, room: CornerRoom) -> BoxJoint:
    usual = lock_rabbet(side=room.stock, end=room.stock)
    tongue = usual.tongue if corner.tongue is None else corner.tongue
    depth = usual.depth if corner.depth is None else corner.depth
    if tongue + LEAST_LAP >= room.stock or depth >= room.stock:
        message = (
            f"a tongue of {tongue:.1f} mm, {depth:.1f} mm deep, leaves nothing of stock "
            f"{room.stock:.1f} mm thick; write a third of it for both"
        )
        raise trouble(room.path, message)
    rest = (room.stock - tongue) / 2
    joint = LockRabbet(lap=rest, stub=rest, tongue=tongue, depth=depth)
    found = []
    if rest < LEAST_LAP:
        found.append(_weak("joint.lock_rabbet_lap", "lap", room, rest, LEAST_LAP))
    if depth > room.stock / 2:
        found.append(
            _weak("joint.lock_rabbet_depth", "dado", room, depth, room.stock / 2, most=True)
        )
    fit = lock_rabbet_fit(joint, side=room.stock, end=room.stock, groove=room.groove.depth)
    return BoxJoint(fit=fit, make=partial(lock_rabbeted, joint=joint), findings=tuple(found))


def _dovetail(
    corner: HalfBlindDovetailCorner | ThroughDovetailCorner, room: CornerRoom, lap: float
) -> BoxJoint:
    if lap >= room.stock - LEAST_LAP:
        message = f"{lap:.1f} mm leaves no tail in a front of {room.stock:.1f} mm; write a third"
        raise trouble((*room.path, "lap"), message)
    slope = USUAL_SLOPE if corner.slope is None else corner.slope
    tails = dovetails(
        TailRules(slope=slope.ratio, lap=lap, pin=corner.pin, count=corner.tails),
        height=room.height,
        side=room.stock,
        end=room.stock,
        groove=room.groove.span,
    )
    if not tails.tails:
        message = (
            f"a corner {room.height:.1f} mm high takes no such dovetails; write fewer tails, "
            "thinner pins or another corner"
        )
        raise trouble(room.path, message)
    found = []
    if isinstance(corner, HalfBlindDovetailCorner) and lap < LEAST_LAP:
        found.append(_weak("joint.dovetail_lap", "lap", room, lap, LEAST_LAP))
    if min(tails.pins) < LEAST_PIN:
        found.append(_weak("joint.dovetail_pin", "pin", room, min(tails.pins), LEAST_PIN))
    found += _groove_in_pin(tails, room)
    return _tailed(tails, room, str(corner.kind), found)


def _box_joint(corner: BoxJointCorner, room: CornerRoom) -> BoxJoint:
    joint = fingers(height=room.height, width=corner.finger or room.stock, end=room.stock)
    return _tailed(joint, room, "box joint", _groove_in_pin(joint, room))


def _tailed(joint: Tails, room: CornerRoom, kind: str, found: list[Finding]) -> BoxJoint:
    fit = tails_fit(joint, side=room.stock, end=room.stock, groove=room.groove.depth)
    return BoxJoint(fit=fit, make=partial(tailed, joint=joint, kind=kind), findings=tuple(found))


def _groove_in_pin(joint: Tails, room: CornerRoom) -> list[Finding]:
    if joint.holds(room.groove.span):
        return []
    low, high = room.groove.span
    return [
        Finding(
            code="joint.groove_in_pin",
            severity=Severity.WARNING,
            subject=room.subject,
            message=f"the bottom's groove, {low:.1f} to {high:.1f} mm up, lies in no tail: it is "
            "stopped, and cuts into a pin; move the bottom or write another number of tails",
            value=low,
            unit="mm",
            source=PRACTICE,
        )
    ]


def _pockets(corner: PocketScrewBoxCorner, room: CornerRoom) -> BoxJoint:
    """Pocket screws from the ends' outer faces.

    Raises:
        SettingOutError: the stock is too thin for a head's seat.
    """
    seat = pocket_seat(side=room.stock, end=room.stock)
    if seat < LEAST_POCKET:
        message = (
            f"stock {room.stock:.1f} mm thick leaves {seat:.1f} mm under a pocket screw's head; "
            "write thicker stock or another corner"
        )
        raise trouble(room.path, message)
    fit = butt_fit(side=room.stock, end=room.stock, groove=room.groove.depth)
    make = partial(
        box_pocketed,
        above=room.groove.span[1],
        count=corner.count,
        for_what=f"{room.subject}, corners",
    )
    return BoxJoint(fit=fit, make=make, findings=_screws_crowded(corner.count, room))


def _screws_crowded(count: int | None, room: CornerRoom) -> tuple[Finding, ...]:
    """Find more screws than a corner holds."""
    space = room.height - room.groove.span[1]
    kept = min(FROM_EDGE, space / 4)
    apart = (space - 2 * kept) / ((count or 1) - 1) if (count or 1) > 1 else BETWEEN_HEADS
    if apart >= BETWEEN_HEADS:
        return ()
    return (_weak("joint.screws_crowded", "screws' distance", room, apart, BETWEEN_HEADS),)


def _butt(corner: ButtBoxCorner, room: CornerRoom) -> BoxJoint:
    fit = butt_fit(side=room.stock, end=room.stock, groove=room.groove.depth)
    length = next((long for long in LENGTHS if long >= room.stock + IN_END), LENGTHS[-1])
    screw = WoodScrew(shank=NUMBER_8.shank, root=NUMBER_8.root, length=length)
    make = partial(
        butt_screwed,
        screw=screw,
        above=room.groove.span[1],
        for_what=f"{room.subject}, corners",
        count=corner.count,
    )
    return BoxJoint(fit=fit, make=make, findings=_screws_crowded(corner.count, room))


def _weak(
    code: str, what: str, room: CornerRoom, value: float, limit: float, *, most: bool = False
) -> Finding:
    word = "at most" if most else "at least"
    return Finding(
        code=code,
        severity=Severity.WARNING,
        subject=room.subject,
        message=f"corner of the box: {what} {value:.1f} mm; make it {word} {limit:.1f} mm",
        value=value,
        limit=limit,
        unit="mm",
        source=PRACTICE,
    )
