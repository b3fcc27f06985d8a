"""What holds the aprons to the legs: chosen by proportion, measured in three dimensions, made.

All four corners mirror one another, so one corner is worked and the others follow.
"""

import math
from dataclasses import dataclass, replace
from typing import assert_never

from ground.quantities import Units
from ground.tolerances import ANGLE_EPS, close
from ground.vectors import ORIGIN, Vec, Z, along, angle, neg
from models.parts.joints.dowel import END_CLEARANCE, DowelSize, dowelled
from models.parts.joints.kit import Halves
from models.parts.joints.loose_tenon import SIDE_CLEARANCE, TenonSize, TenonWay, loose_tenons
from models.parts.joints.mortise_tenon import (
    CHEEK_CLEARANCE,
    END_ROOM,
    Tenon,
    TenonPlace,
    mortise_and_tenon,
    tenon_corners,
)
from models.parts.joints.pocket_screw import (
    POCKET,
    SLANT,
)
from models.parts.joints.rows import Row
from models.setting_out.aprons import Apron
from models.setting_out.bench import Bench
from models.setting_out.legs import Leg
from models.setting_out.tenons import (
    LOWER_SHOULDER,
    NARROWEST,
    TOP_MARGIN,
    RailEnd,
    Shape,
    Slots,
    deepest,
    fitted,
    haunched,
    integral,
    loose,
    nearest_cutter,
    usual_depth,
)
from models.setting_out.trouble import SettingOutError, trouble
from specs.base import Aprons
from specs.joints import (
    ApronJoint,
    DowelJoint,
    LooseTenonJoint,
    MortiseAndTenonJoint,
    PocketScrewJoint,
)

MADE_BY = "base.aprons.joint"

CLOSES = "base frames"
"""The group that closes together: front and back frame, each with its legs, on the side aprons."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The tenons of one corner: of the side apron ``[0]`` and of the long apron ``[1]``."""

    joint: ApronJoint
    slots: tuple[Slots, Slots]
    ends: tuple[RailEnd, RailEnd]


def plan_joints(aprons: tuple[Apron, ...], spec: Aprons, leg: float, units: Units) -> Plan | None:
    """Choose the tenons of every corner of legs ``leg`` thick; None for a joint without any.

    Raises:
        SettingOutError: no tenon fits between the edges of an apron.
    """
    joint = spec.joint
    if isinstance(joint, PocketScrewJoint):
        return None
    ends = _one_corner(aprons)
    thick, depth = _wanted(joint, spec.thickness, leg, units)
    shape = _shape(joint, ends)
    given = joint.length if isinstance(joint, MortiseAndTenonJoint) else joint.depth
    if given is None:
        slots = deepest(ends, thick, depth, shape)
    else:
        one, other = (shape(end, thick, depth) for end in ends)
        slots = None if one is None or other is None else (one, other)
    if slots is None:
        raise _no_room(ends, shape, thick, depth if given else NARROWEST * thick)
    width = None if isinstance(joint, DowelJoint) else joint.width
    if width is not None:
        slots = (replace(slots[0], width=width), replace(slots[1], width=width))
    return Plan(joint=joint, slots=slots, ends=ends)


def _one_corner(aprons: tuple[Apron, ...]) -> tuple[RailEnd, RailEnd]:
    front = next(apron for apron in aprons if (apron.axis, apron.side) == (1, -1))
    left = next(apron for apron in aprons if (apron.axis, apron.side) == (0, -1))
    leg = front.legs[0]
    return left.end(leg), front.end(leg)


def _wanted(
    joint: LooseTenonJoint | MortiseAndTenonJoint | DowelJoint,
    rail: float,
    leg: float,
    units: Units,
) -> tuple[float, float]:
    """The tenons' thickness and how deep they are wanted in the leg (mm)."""
    match joint:
        case LooseTenonJoint():
            thick = joint.thickness or nearest_cutter(rail / 3, units)
            return thick, joint.depth or usual_depth(thick)
        case MortiseAndTenonJoint():
            # Two thirds of the leg, or 25 to 40 mm (check-values 7.3); walls may ask for less.
            long = joint.length or min(40.0, float(int(2 * leg / 3)))
            return joint.thickness or nearest_cutter(rail / 3, units), long + END_ROOM
        case DowelJoint():
            # Two fifths of the rail, so that its faces do not split (common practice, no source).
            thick = joint.diameter or max(6.0, min(10.0, float(int(rail / 2.5))))
            usual = 2.5 * thick if joint.length is None else joint.length / 2 + END_CLEARANCE
            return thick + (joint.clearance or 0.0), joint.depth or usual
    assert_never(joint)


def _shape(joint: ApronJoint, ends: tuple[RailEnd, RailEnd]) -> Shape:
    if isinstance(joint, DowelJoint) and joint.length is not None:
        return _dowel_of(joint.length)
    if not isinstance(joint, MortiseAndTenonJoint):
        return loose
    level = all(close(end.face.normal[2], 0.0, ANGLE_EPS) for end in ends)
    return haunched if level and joint.haunch is not False else integral


def _dowel_of(length: float) -> Shape:
    """Dowels ``length`` long: what does not go into the leg goes into the apron.

    Raises:
        SettingOutError: nothing of them is left for the apron.
    """

    def shape(end: RailEnd, thickness: float, depth: float) -> Slots | None:
        in_rail = length - depth + 2 * END_CLEARANCE
        if in_rail <= END_CLEARANCE:
            raise trouble(
                ("base", "aprons", "joint", "length"),
                f"{length:.1f} mm do not come out of a hole {depth:.1f} mm deep in the leg; "
                "make the dowels longer",
            )
        return fitted(end, thickness, (depth, in_rail))

    return shape


def _no_room(
    ends: tuple[RailEnd, RailEnd], shape: Shape, thick: float, depth: float
) -> SettingOutError:
    """Say what leaves no height for a tenon: the splay, or the aprons' height."""
    key, end = next(
        (key, end)
        for key, end in zip(("side", "front"), ends, strict=True)
        if shape(end, thick, depth) is None
    )
    lean = 90.0 - angle(end.face.normal, Z)
    need = f"a tenon {thick:.1f} mm thick and {depth:.1f} mm deep has no room"
    if lean > ANGLE_EPS:
        return trouble(
            ("base", "legs", "splay", key),
            f"the leg's inner face leans {lean:.1f} degrees, and {need} in aprons "
            f"{end.high - end.low:.1f} mm high: its slot climbs "
            f"{depth * end.face.normal[2]:.1f} mm in the leg and drops as much in the apron; "
            "splay or taper the legs less, or make the aprons higher",
        )
    return trouble(
        ("base", "aprons", "height"),
        f"{need} between the {TOP_MARGIN:g} mm under the leg's top and the "
        f"{LOWER_SHOULDER:g} mm over the lower edge; make the aprons higher",
    )


def tenon_ends(plan: Plan | None, apron: Apron) -> tuple[Vec, ...]:
    """The corners of the tenons left on an apron's ends; none where tenons are loose."""
    if plan is None or not isinstance(plan.joint, MortiseAndTenonJoint):
        return ()
    tenon = _tenon(plan, apron)
    return tuple(
        corner
        for leg, name in zip(apron.legs, ("left", "right"), strict=True)
        for corner in tenon_corners(_place(plan, apron, leg, name), tenon)
    )


def _tenon(plan: Plan, apron: Apron) -> Tenon:
    slots = plan.slots[apron.axis]
    said = plan.joint.clearance
    return Tenon(
        thickness=slots.thickness,
        width=slots.width,
        depth=slots.depths[0],
        haunch=slots.haunch,
        haunch_depth=min(slots.thickness, slots.depths[0] / 2) + END_ROOM if slots.haunch else 0.0,
        clearance=CHEEK_CLEARANCE if said is None else said / 2,
    )


def _place(plan: Plan, apron: Apron, leg: Leg, name: str) -> TenonPlace:
    end = apron.end(leg)
    return TenonPlace(
        centre=end.centre(plan.slots[apron.axis].level),
        up=end.slot,
        into_leg=end.face.normal,
        end=name,
    )


def in_apron(plan: Plan | None, spec: Aprons) -> float:
    """How deep the end joints go into the aprons (mm)."""
    slant = math.radians(SLANT)
    # A pocket's far rim lies half a pocket's slanting width past its middle.
    pocket = spec.thickness / 2 / math.tan(slant) + POCKET / 2 / math.sin(slant)
    if plan is None:
        return pocket
    glued = max(slot.depths[1] for slot in plan.slots)
    joint = spec.joint
    helped = isinstance(joint, LooseTenonJoint | DowelJoint) and joint.with_ is not None
    return max(glued, pocket) if helped else glued


def join_aprons(bench: Bench, aprons: tuple[Apron, ...], plan: Plan | None) -> None:
    """Cut the glued joints of every corner of the base."""
    if plan is None:
        return
    for apron in aprons:
        for leg, name in zip(apron.legs, ("left", "right"), strict=True):
            home = neg(apron.face_of(leg).normal)
            halves = _halves(plan, apron, leg, name)
            if apron.axis == 0:
                # The side apron stands still; a whole frame goes home with each of its legs.
                halves = replace(halves, closes=CLOSES, each=(ORIGIN, home))
            bench.join(f"{apron.key}/{leg.corner.name}", apron.key, leg.key, halves)


def _halves(plan: Plan, apron: Apron, leg: Leg, name: str) -> Halves:
    slots, joint, end = plan.slots[apron.axis], plan.joint, apron.end(leg)
    match joint:
        case LooseTenonJoint():
            return _loose(joint, slots, end)
        case MortiseAndTenonJoint():
            place = _place(plan, apron, leg, name)
            return mortise_and_tenon(place, _tenon(plan, apron), made_by=MADE_BY)
        case DowelJoint():
            return _dowels(joint, slots, end)
        case PocketScrewJoint():
            return Halves(kind="butt", first=(), second=(), closes=neg(end.face.normal))
    assert_never(joint)


def _loose(joint: LooseTenonJoint, slots: Slots, end: RailEnd) -> Halves:
    """One tenon, or as many as are asked for, a thickness of wood between them."""
    size = TenonSize(
        thickness=slots.thickness,
        width=tenon_width(slots, joint.count or 1),
        depths=(slots.depths[1], slots.depths[0]),
        clearance=SIDE_CLEARANCE if joint.clearance is None else joint.clearance / 2,
    )
    way = TenonWay(into_first=neg(end.face.normal), slot=end.slot)
    return loose_tenons(glued_row(joint, slots, end).places(), way, size, made_by=MADE_BY)


def _dowels(joint: DowelJoint, slots: Slots, end: RailEnd) -> Halves:
    """Dowels in a row up the joint's face, about 32 mm apart."""
    home = neg(end.face.normal)
    play = joint.clearance or 0.0
    in_leg, in_rail = (depth - END_CLEARANCE for depth in slots.depths)
    size = DowelSize(
        diameter=slots.thickness - play,
        length=in_leg + in_rail,
        in_first=in_rail,
        clearance=play,
    )
    row = glued_row(joint, slots, end)
    return dowelled(row, home, size, closes=home, made_by=MADE_BY)


def glued_row(joint: LooseTenonJoint | DowelJoint, slots: Slots, end: RailEnd) -> Row:
    """The places of an apron's dowels, or of its loose tenons."""
    if isinstance(joint, DowelJoint):
        room = slots.width - slots.thickness
        count = joint.count or max(2, int(room / 32.0) + 1)
        pitch = room / (count - 1) if count > 1 else 0.0
    else:
        count = joint.count or 1
        pitch = tenon_width(slots, count) + slots.thickness
    start = along(end.centre(slots.level), end.slot, -pitch * (count - 1) / 2)
    return Row(start=start, way=end.slot, count=count, pitch=pitch)


def tenon_width(slots: Slots, count: int) -> float:
    """How wide each of ``count`` tenons one over the other is, a thickness of wood between (mm)."""
    return (slots.width - (count - 1) * slots.thickness) / count
