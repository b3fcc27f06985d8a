"""Inset doors worked out: one or a pair, their sizes, where their hinges are. Plain arithmetic."""

from dataclasses import dataclass, replace
from typing import Final

from ground.vectors import Vec, X, neg
from models.setting_out.densities import density
from models.setting_out.draft import Box
from models.setting_out.hinges import DoorSize, hinge_heights
from models.setting_out.numbers import Leaf
from models.setting_out.stock import thickness
from models.setting_out.trouble import trouble
from specs.case import Side
from specs.doors import PanelDoors, SlabDoors
from specs.hardware import ButtHinge, CupHinge, FittingKind, PushLatch, ShelfPins
from specs.shelves import Shelves, Support
from specs.spec import Spec

LEAST_DOOR: Final = 80.0
"""A door smaller than this either way takes no hinges (mm). Common practice, no source."""
USUAL_DENSITY: Final = 700.0
"""kg/m3 where nothing is known of a material, only to count hinges. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorNumbers:
    """One door worked out: its ``box`` (finished, piece axes) and the ``side`` that it hangs on."""

    id: str
    box: Box
    side: Side

    @property
    def left(self) -> bool:
        """Whether it hangs on its left."""
        return self.side is Side.LEFT

    @property
    def away(self) -> Vec:
        """From its hinges to its free edge."""
        return X if self.left else neg(X)


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorParts:
    """The keys of the parts that carry a door's hinges and what is at its free edge."""

    hinge: str
    free: str


def door_thickness(spec: Spec, doors: SlabDoors | PanelDoors) -> float:
    """How thick the doors of an opening are (mm)."""
    if isinstance(doors, PanelDoors):
        return doors.frame.thickness
    return thickness(spec, doors.material, doors.thickness)


def doors_in(spec: Spec, leaf: Leaf, doors: SlabDoors | PanelDoors) -> tuple[DoorNumbers, ...]:
    """Work out the doors of an opening, left to right.

    Worked: 542.8 wide and 412.8 high, gaps of 2: a pair is (542.8 - 3 x 2) / 2 = 268.4 wide and
    412.8 - 2 x 2 = 408.8 high.

    Raises:
        SettingOutError: nothing is left.
    """
    lo, hi, gap = leaf.box.lo, leaf.box.hi, doors.gap
    sides = doors.hung_on
    width = (hi[0] - lo[0] - (len(sides) + 1) * gap) / len(sides)
    height = hi[2] - lo[2] - 2 * gap
    if min(width, height) < LEAST_DOOR:
        message = (
            f"gaps of {gap:.1f} mm leave doors {width:.1f} mm wide and {height:.1f} mm high; make "
            f"the opening larger: {LEAST_DOOR:.0f} mm either way is the least"
        )
        raise trouble((*leaf.path, "doors"), message)
    thick = door_thickness(spec, doors)
    made: list[DoorNumbers] = []
    for number, side in enumerate(sides):
        start = lo[0] + gap + number * (width + gap)
        box = Box((start, 0.0, lo[2] + gap), (start + width, thick, hi[2] - gap))
        made.append(DoorNumbers(id=f"door {leaf.id}/{number + 1}", box=box, side=side))
    return tuple(made)


def door_size(spec: Spec, doors: SlabDoors | PanelDoors, box: Box) -> DoorSize:
    """A door's size and mass, for counting hinges, and what they keep clear of at its ends."""
    width, thick, height = box.size
    size = DoorSize(width=width, height=height, thick=thick, mass=0.0)
    if isinstance(doors, SlabDoors):
        return replace(size, mass=width * thick * height * 1e-9 * _weight(spec, doors.material))
    frame, panel = doors.frame, doors.panel
    inside = (width - 2 * frame.stiles) * (height - 2 * frame.rails)
    wood = (width * height - inside) * thick * _weight(spec, frame.material)
    between = inside * thickness(spec, panel.material, panel.thickness)
    mass = (wood + between * _weight(spec, panel.material)) * 1e-9
    return replace(size, mass=mass, keep=frame.rails)


def _weight(spec: Spec, material: str) -> float:
    known = density(spec.materials[material])
    return USUAL_DENSITY if known is None else known.kg_m3


def row_pitch(spec: Spec, leaf: Leaf) -> float | None:
    """The pitch of the row that the doors' plates share with shelf pins (mm); None: they do not."""
    doors, shelves = leaf.spec.doors, leaf.spec.shelves
    if doors is None or shelves is None or shelves.support is not Support.SHELF_PINS:
        return None
    if shelves.places is not None:
        return None
    if not isinstance(spec.hardware[doors.hinge], CupHinge):
        return None
    return pins_of(spec, shelves).pitch


def pins_of(spec: Spec, shelves: Shelves) -> ShelfPins:
    """The pins of an opening's shelves; the usual ones where the spec names none."""
    named = None if shelves.pins is None else spec.hardware[shelves.pins]
    return named if isinstance(named, ShelfPins) else ShelfPins(kind=FittingKind.SHELF_PINS)


def hinges_at(spec: Spec, leaf: Leaf) -> tuple[float, ...]:
    """Z of every hinge in an opening: a shelf keeps away from them."""
    doors = leaf.spec.doors
    if doors is None:
        return ()
    hinge = spec.hardware[doors.hinge]
    if not isinstance(hinge, CupHinge | ButtHinge):
        return ()
    box = doors_in(spec, leaf, doors)[0].box
    heights = hinge_heights(hinge, door_size(spec, doors, box), row_pitch(spec, leaf))
    return tuple(box.lo[2] + at for at in heights)


def sinks_in(spec: Spec, leaf: Leaf) -> float:
    """How far a push sends an opening's doors in (mm); 0 without a push latch."""
    doors = leaf.spec.doors
    latch = None if doors is None or doors.latch is None else spec.hardware[doors.latch]
    return latch.sinks if isinstance(latch, PushLatch) else 0.0
