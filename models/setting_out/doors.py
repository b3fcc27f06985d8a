"""Inset doors: one or a pair, hung on the panels beside them, held shut, opened."""

from ground.vectors import X, Y, Z, neg
from models.parts.assembly import Motion
from models.parts.part import Stage
from models.setting_out.bench import Bench
from models.setting_out.door_fittings import door_fittings, lay_pull
from models.setting_out.door_frame import frame_findings, lay_frame
from models.setting_out.door_hinges import hang, hinge_lines, knuckle
from models.setting_out.door_numbers import DoorNumbers, DoorParts, door_size, doors_in, row_pitch
from models.setting_out.hinges import hinge_findings, hinge_heights
from models.setting_out.numbers import Leaf
from models.setting_out.stock import FITTED, Board, Stock, is_lumber, lay_slab
from models.setting_out.trouble import trouble
from specs.doors import PanelDoors, SlabDoors
from specs.drawers import FrontGrain
from specs.hardware import ButtHinge, CupHinge, Hinge
from specs.spec import Spec


def lay_doors(bench: Bench, spec: Spec, leaf: Leaf) -> None:
    """Lay out the doors of one opening.

    Raises:
        SettingOutError: the numbers leave no door.
    """
    doors = leaf.spec.doors
    if doors is None:
        return
    hinge = spec.hardware[doors.hinge]
    if not isinstance(hinge, CupHinge | ButtHinge):
        message = f"'{doors.hinge}' is a {hinge.kind}; name a hinge"
        raise trouble((*leaf.path, "doors", "hinge"), message)
    hung = tuple(
        (numbers, _lay_door(bench, spec, leaf, numbers, hinge))
        for numbers in doors_in(spec, leaf, doors)
    )
    door_fittings(bench, spec, leaf, hung, hinge)


def _lay_door(
    bench: Bench, spec: Spec, leaf: Leaf, numbers: DoorNumbers, hinge: Hinge
) -> DoorParts:
    doors = leaf.spec.doors
    if doors is None:
        raise ValueError(leaf.id)
    if isinstance(doors, PanelDoors):
        parts = lay_frame(bench, spec, leaf, doors, numbers)
        for finding in frame_findings(numbers, doors, hinge):
            bench.find(finding)
    else:
        parts = _lay_slab(bench, spec, doors, numbers)
    size = door_size(spec, doors, numbers.box)
    pitch = row_pitch(spec, leaf)
    heights = hinge_heights(hinge, size, pitch)
    for number, height in enumerate(heights, 1):
        at = numbers.box.lo[2] + height
        name = f"{numbers.id}/hinge {number}"
        hang(bench, leaf, numbers, hinge, (name, parts.hinge, at))
    face = leaf.box.lo[0] if numbers.left else leaf.box.hi[0]
    bench.moves(
        numbers.id,
        Motion.TURNS,
        neg(Z) if numbers.left else Z,
        knuckle(numbers, hinge, face),
        hinge.opens_to,
    )
    for finding in hinge_findings(numbers.id, hinge, size, pitch):
        bench.find(finding)
    bench.hardware.extend(hinge_lines(hinge, len(heights), numbers.id))
    lay_pull(bench, doors, numbers, parts)
    return parts


def _lay_slab(bench: Bench, spec: Spec, doors: SlabDoors, numbers: DoorNumbers) -> DoorParts:
    key = f"{numbers.id}/door"
    lumber = is_lumber(spec, doors.material)
    stock = Stock(
        letter="F",
        group=("doors", numbers.id),
        mover=numbers.id,
        stage=Stage.TO_FIT if lumber else Stage.AFTER_GLUE_UP,
    )
    it = Board(
        key=key,
        name="door",
        material=doors.material,
        box=numbers.box,
        length=X if doors.grain is FrontGrain.LEVEL else Z,
        up=neg(Y),
        show="top",
        over=(FITTED, FITTED, 0.0) if lumber else (0.0, 0.0, 0.0),
        note="plane it to its opening: the gap all round is in the drawing" if lumber else "",
    )
    lay_slab(bench, spec, stock, it, doors.edging)
    return DoorParts(hinge=key, free=key)
