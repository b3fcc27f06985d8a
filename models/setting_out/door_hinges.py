"""Hinges let into a door and the panel that it hangs on, and what there is to buy for them."""

from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Y, Z, neg
from models.parts.assembly import HardwareLine
from models.parts.features import Hole
from models.parts.joints.butt_hinge import LeafPlace, LeafSize, butt_hinged, recess
from models.parts.joints.cup_hinge import PLATE_DEPTH, CupSize, HingeCorner, cup_hinged
from models.setting_out.bench import Bench
from models.setting_out.door_numbers import DoorNumbers
from models.setting_out.drilling import meeting
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
    made = [
        cup_hinged(
            HingeCorner(
                edge=(edge, numbers.box.hi[1], at + step),
                panel=(face, numbers.box.hi[1], at + step),
                away=numbers.away,
                deep=Y,
                up=Z,
                panel_depth=min(PLATE_DEPTH, host.blank.thickness - LEFT_BEHIND),
            ),
            cup_size(hinge),
            made_by="doors.hinge",
        )
        for step in HINGE_STEPS
    ]
    clear = [
        halves
        for halves in made
        if all(meeting(host, hole) is None for hole in halves.first if isinstance(hole, Hole))
    ]
    if not clear:
        bench.find(
            Finding(
                code="drilling.holes_meet",
                severity=Severity.ERROR,
                subject=name,
                message="the plate's holes meet others inside the panel wherever the hinge is "
                "moved by up to 24 mm; move what is bored from the other side",
                copies=(panel,),
                at=(face, numbers.box.hi[1], at),
                source=COMMON_PRACTICE,
            )
        )
    bench.join(name, panel, door, (clear or made)[0])


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
    for draft in tuple(bench.drafts.values()):
        for place, owner in ((beside, panel), (on_door, door)):
            if draft.key.startswith(f"{owner}/edging"):
                bench.cut(draft.key, (recess(place, size, "doors.hinge"),))
