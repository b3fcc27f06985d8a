"""Hinges let into a door and the panel that it hangs on, and what there is to buy for them."""

from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Vec, Y, Z, along, neg
from models.parts.assembly import HardwareLine
from models.parts.features import Hole
from models.parts.joints.butt_hinge import LeafPlace, LeafSize, butt_hinged, recess
from models.parts.joints.cup_hinge import PLATE_DEPTH, CupSize, HingeCorner, cup_hinged
from models.parts.joints.hinge_bodies import cup_middle, plate_and_arm
from models.setting_out.bench import Bench
from models.setting_out.door_numbers import DoorNumbers
from models.setting_out.drilling import meeting
from models.setting_out.fittings import (
    Bought,
    between,
    cut_edging,
    edging_of,
    grazes,
    lay_block,
    lay_rod,
)
from models.setting_out.numbers import Leaf
from specs.hardware import ButtHinge, CupFixing, CupHinge, Hinge

LEFT_BEHIND: Final = 3.0
"""Least panel left behind a plate's holes (mm). Common practice, no source."""
HINGE_STEPS: Final = (0.0, 8.0, -8.0, 16.0, -16.0, 24.0, -24.0)
"""A hinge whose plate would meet other holes of the panel moves by one of these (mm)."""


def hang(
    bench: Bench, leaf: Leaf, numbers: DoorNumbers, hinge: Hinge, which: tuple[str, str, float]
) -> None:
    """Join a door to its panel by one hinge; ``which`` is its name, the door's key, its Z."""
    match hinge:
        case CupHinge():
            _cup(bench, leaf, numbers, which, hinge)
        case ButtHinge():
            _butt(bench, leaf, numbers, which, hinge)


def hinge_lines(hinge: Hinge, count: int, door: str) -> tuple[HardwareLine, ...]:
    """What there is to buy for the hinges of one door."""
    match hinge:
        case CupHinge():
            plate = HardwareLine(
                name="mounting plate for an inset door", quantity=count, for_what=door
            )
            cup = HardwareLine(
                name="cup hinge",
                quantity=count,
                size=f"{hinge.cup_diameter:g} mm cup, opens to {hinge.opens_to:g} degrees",
                for_what=door,
                note=f"closing {hinge.closing.value}",
            )
            return (cup, plate)
        case ButtHinge():
            size = f"{hinge.length:g} x {hinge.width:g} mm a leaf"
            return (HardwareLine(name="butt hinge", quantity=count, size=size, for_what=door),)


def _panel(leaf: Leaf, numbers: DoorNumbers) -> tuple[str, float]:
    """The key of the panel that a door hangs on, and the X of its face."""
    if numbers.left:
        return leaf.left, leaf.box.lo[0]
    return leaf.right, leaf.box.hi[0]


def cup_size(hinge: CupHinge) -> CupSize:
    """What a cup hinge of the spec asks to be bored."""
    pressed = hinge.fixing is CupFixing.PRESSED_DOWELS
    return CupSize(
        diameter=hinge.cup_diameter,
        depth=hinge.cup_depth,
        centre=hinge.cup_edge + hinge.cup_diameter / 2,
        spacing=hinge.fixing_spacing,
        offset=hinge.fixing_offset,
        pressed=hinge.dowel_diameter if pressed else None,
        line=hinge.plate_line,
        plate_spacing=hinge.plate_spacing,
    )


def _cup(
    bench: Bench,
    leaf: Leaf,
    numbers: DoorNumbers,
    which: tuple[str, str, float],
    hinge: CupHinge,
) -> None:
    """Bore for one cup hinge, moved a little where its plate would meet other holes."""
    name, door, at = which
    panel, face = _panel(leaf, numbers)
    edge = numbers.box.lo[0] if numbers.left else numbers.box.hi[0]
    host = bench.drafts[panel]
    size = cup_size(hinge)
    corners = [
        HingeCorner(
            edge=(edge, numbers.box.hi[1], at + step),
            panel=(face, numbers.box.hi[1], at + step),
            away=numbers.away,
            deep=Y,
            up=Z,
            panel_depth=min(PLATE_DEPTH, host.blank.thickness - LEFT_BEHIND),
        )
        for step in HINGE_STEPS
    ]
    made = [(corner, cup_hinged(corner, size, made_by="doors.hinge")) for corner in corners]
    clear = [
        (corner, halves)
        for corner, halves in made
        if all(meeting(host, hole) is None for hole in halves.first if isinstance(hole, Hole))
    ]
    if not clear:
        bench.find(_no_room(name, panel, (face, numbers.box.hi[1], at)))
    corner, halves = (clear or made)[0]
    bench.join(name, panel, door, halves)
    for hole in (feature for feature in halves.second if isinstance(feature, Hole)):
        graze_edging(bench, door, hole)
    _cup_bodies(bench, numbers, name, (corner, size))


def _no_room(name: str, panel: str, at: Vec) -> Finding:
    """The plate's holes meet others wherever the hinge is moved."""
    return Finding(
        code="drilling.holes_meet",
        severity=Severity.ERROR,
        subject=name,
        message="the plate's holes meet others inside the panel wherever the hinge is moved by up "
        "to 24 mm; move what is bored from the other side",
        copies=(panel,),
        at=at,
        source=COMMON_PRACTICE,
    )


def _cup_bodies(
    bench: Bench, numbers: DoorNumbers, name: str, hinge: tuple[HingeCorner, CupSize]
) -> None:
    """The cup in the door, and plate and arm on the panel."""
    corner, size = hinge
    group = ("doors", numbers.id)
    cup = Bought(key=f"{name}/cup", name="hinge cup", group=group, mover=numbers.id)
    floor = along(cup_middle(corner, size), neg(corner.deep), size.depth)
    lay_rod(bench, cup, floor, corner.deep, (size.diameter, size.depth))
    body = plate_and_arm(corner, size)
    arm = Bought(key=f"{name}/arm", name="hinge arm and plate", group=group)
    lay_block(bench, arm, between(*body.ends), body.wastes)


def _butt(
    bench: Bench,
    leaf: Leaf,
    numbers: DoorNumbers,
    which: tuple[str, str, float],
    hinge: ButtHinge,
) -> None:
    """Let both leaves of a butt hinge in: their beds and the gap are as deep as they are thick."""
    name, door, at = which
    panel, face = _panel(leaf, numbers)
    edge = numbers.box.lo[0] if numbers.left else numbers.box.hi[0]
    gap = abs(edge - face)
    size = LeafSize(
        length=hinge.length,
        width=hinge.width,
        let_in=max(0.2, hinge.thickness - gap / 2),
    )
    into_panel = neg(numbers.away)
    host, slab = bench.drafts[panel], bench.drafts[door]
    beside = LeafPlace(
        start=(face, 0.0, at),
        deep=Y,
        up=Z,
        into=into_panel,
        room=host.blank.thickness - LEFT_BEHIND,
    )
    on_door = LeafPlace(
        start=(edge, 0.0, at), deep=Y, up=Z, into=numbers.away, room=slab.blank.width / 2
    )
    bench.join(name, panel, door, butt_hinged(beside, on_door, size, made_by="doors.hinge"))
    # The leaf reaches to the front plane: what edges the panel and the door is let in as well.
    for place, owner in ((beside, panel), (on_door, door)):
        cut_edging(bench, owner, (recess(place, size, "doors.hinge"),))
    _butt_bodies(bench, numbers, (name, hinge), (beside, on_door), size)


def knuckle(numbers: DoorNumbers, hinge: Hinge, face: float) -> Vec:
    """A point on the line that a door turns about; ``face`` is the X of its panel's face.

    A butt hinge turns about its knuckle, which stands out in front between door and panel; a cup
    hinge about a line near the door's front arris.
    """
    edge = numbers.box.lo[0] if numbers.left else numbers.box.hi[0]
    match hinge:
        case CupHinge():
            return (edge, 0.0, numbers.box.lo[2])
        case ButtHinge():
            return ((edge + face) / 2, -hinge.knuckle / 2, numbers.box.lo[2])


def _butt_bodies(
    bench: Bench,
    numbers: DoorNumbers,
    which: tuple[str, ButtHinge],
    places: tuple[LeafPlace, LeafPlace],
    size: LeafSize,
) -> None:
    """Two leaves in their beds, and the knuckle in front between them."""
    name, hinge = which
    group = ("doors", numbers.id)
    beside, on_door = places
    for place, owner in ((beside, None), (on_door, numbers.id)):
        word = "panel" if owner is None else "door"
        floor = along(along(place.start, place.into, size.let_in), Z, -size.length / 2)
        far = along(along(floor, place.into, -hinge.thickness), Y, size.width)
        far = along(far, Z, size.length)
        leaf = Bought(key=f"{name}/leaf {word}", name="hinge leaf", group=group, mover=owner)
        lay_block(bench, leaf, between(floor, far))
    at = knuckle(numbers, hinge, beside.start[0])
    end = (at[0], at[1], beside.start[2] - size.length / 2)
    pin = Bought(key=f"{name}/knuckle", name="hinge knuckle", group=group)
    lay_rod(bench, pin, end, Z, (hinge.knuckle, size.length))


def graze_edging(bench: Bench, host: str, hole: Hole) -> None:
    """Take a hole's bite out of the edging beside it."""
    for strip in edging_of(bench, host):
        if grazes(strip, hole):
            bench.cut(strip.key, (hole,))
