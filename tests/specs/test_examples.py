from decimal import Decimal
from pathlib import Path

import pytest

from ground.errors import Problem
from ground.quantities import Share, Slope, Units
from specs.base import (
    Arris,
    FixingKind,
    Plinth,
    PlinthCorners,
    Runs,
    SplayedLegs,
    StraightLegs,
    StretcherPlaces,
    TaperFaces,
)
from specs.case import (
    ButtCorner,
    ButtRuns,
    Carrier,
    CaseGrain,
    Enters,
    GroovedBack,
    MitreCorner,
    RabbetCorner,
    Side,
)
from specs.doors import SlabDoors
from specs.drawers import (
    BarPull,
    HalfBlindDovetailCorner,
    Knob,
    LockRabbetBoxCorner,
    RabbetBoxCorner,
)
from specs.edging import EdgingCorners, SolidEdging, TapeEdging
from specs.hardware import Closing, CupHinge, Opens, PushLatch, SideMountSlide, UndermountRunner
from specs.joints import (
    DadoJoint,
    DowelJoint,
    Helper,
    LooseTenonJoint,
    MortiseAndTenonJoint,
    OpenSide,
    ScrewJoint,
    ScrewSide,
    SplineJoint,
    StoppedDadoJoint,
)
from specs.materials import Core, Cut, Lumber, Sheet, SheetGrain
from specs.openings import Split
from specs.reading import load
from specs.shelves import Support
from specs.spec import Paper, Projection, Standard

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def reading_room():
    return load(EXAMPLES / "reading-room-cabinet.yaml")


@pytest.fixture(scope="module")
def bedside():
    return load(EXAMPLES / "bedside-cabinet.yaml").spec


@pytest.fixture(scope="module")
def chest():
    return load(EXAMPLES / "plan-chest.yaml").spec


def test_the_reading_room_cabinet_s_shop_and_materials(reading_room):
    spec = reading_room.spec
    assert (spec.format, spec.name, spec.units) == (1, "Reading-room cabinet", Units.MM)
    assert (spec.drawings.paper, spec.drawings.standard) == (Paper.A3, Standard.ISO)
    assert spec.drawings.projection_used is Projection.FIRST_ANGLE
    assert (spec.shop.kerf, spec.shop.trim, spec.shop.temperature) == (3.2, 10, 20)
    assert spec.shop.humidity == (35, 65)
    oak = spec.materials["oak"]
    assert isinstance(oak, Lumber)
    assert (oak.species, oak.moisture, oak.price) == ("white oak", 8, Decimal(2900))
    assert [(b.thickness, b.width, b.length, b.count) for b in oak.boards] == [
        (65, 210, 2400, 1),
        (34, 180, 3000, 2),
        (27, 200, 2400, 1),
    ]
    panel, front = spec.materials["case-panel"], spec.materials["front-panel"]
    assert isinstance(panel, Sheet)
    assert isinstance(front, Sheet)
    assert (panel.core, panel.thickness, panel.thickness_used) == (Core.VENEER_PLYWOOD, 19, 18.6)
    assert (front.thickness_used, front.density, front.grain) == (20, 850, SheetGrain.NONE)
    assert front.size == (1250, 2500)


def test_the_reading_room_cabinet_s_hardware(reading_room):
    runner, hinge, latch = reading_room.spec.hardware.values()
    assert isinstance(runner, UndermountRunner)
    assert (runner.length, runner.capacity, runner.opens, runner.sync_rod) == (
        350,
        30,
        Opens.PUSH,
        True,
    )
    assert isinstance(hinge, CupHinge)
    assert (hinge.opens_to, hinge.closing) == (110, Closing.FREE)
    assert isinstance(latch, PushLatch)


def test_the_reading_room_cabinet_s_base(reading_room):
    base = reading_room.spec.base
    assert isinstance(base, SplayedLegs)
    assert (base.height, base.set_in.front, base.set_in.back, base.set_in.sides) == (
        190,
        24,
        24,
        130,
    )
    legs = base.legs
    assert (legs.top, legs.foot, legs.splay.front, legs.splay.side) == ((58, 58), (30, 30), 9, 4)
    assert legs.facet is not None
    assert (legs.facet.arris, legs.facet.width, legs.ease) == (Arris.OUTER, 12, 3)
    assert (base.aprons.height, base.aprons.thickness, base.aprons.set_back) == (70, 26, 8)
    assert isinstance(base.aprons.joint, LooseTenonJoint)
    (stretchers,) = base.stretchers
    assert (stretchers.count, stretchers.runs) == (2, Runs.FRONT_TO_BACK)
    assert stretchers.at is StretcherPlaces.DIVIDERS
    assert isinstance(stretchers.joint, StoppedDadoJoint)
    assert stretchers.joint.open is OpenSide.TOP
    assert base.corner_blocks is not None
    assert (base.corner_blocks.thickness, base.corner_blocks.legs) == (26, 80)
    assert base.feet is None
    assert (base.fixing.kind, base.fixing.count) == (FixingKind.FIGURE_EIGHT, 8)


def test_the_reading_room_cabinet_s_case(reading_room):
    case = reading_room.spec.case
    assert (case.size.length, case.size.height, case.size.depth) == (1680, 450, 430)
    assert isinstance(case.corners.top, MitreCorner)
    assert isinstance(case.corners.bottom, ButtCorner)
    assert case.corners.bottom_runs is ButtRuns.BETWEEN
    assert isinstance(case.joints.top, SplineJoint)
    assert isinstance(case.joints.bottom, LooseTenonJoint)
    assert case.joints.bottom.with_ is Helper.POCKET_SCREW
    assert case.grain is CaseGrain.CONTINUOUS
    assert case.edging is not None
    front, back = case.edging.front, case.edging.back
    assert isinstance(front, SolidEdging)
    assert (front.material, front.thickness, front.corners) == ("oak", 6, EdgingCorners.MITRE)
    assert isinstance(back, TapeEdging)
    assert back.thickness == 0.6
    assert isinstance(case.back, GroovedBack)
    assert (case.back.groove_depth, case.back.set_in, case.back.enters) == (
        8,
        12,
        Enters.FROM_BELOW,
    )


def test_the_reading_room_cabinet_s_inside(reading_room):
    inside = reading_room.spec.inside
    assert inside.split is Split.UPRIGHT
    assert isinstance(inside.dividers.joint, DowelJoint)
    assert isinstance(inside.dividers.edging.front, SolidEdging)
    assert [piece.size for piece in inside.pieces] == [Share(1), 520, Share(1)]
    left, middle, _ = inside.pieces
    assert isinstance(left.doors, SlabDoors)
    assert (left.doors.count, left.doors.gap, left.doors.hinge) == (2, 2, "hinge")
    assert left.doors.hung_on == (Side.LEFT, Side.RIGHT)
    assert (left.shelves.count, left.shelves.support) == (1, Support.SHELF_PINS)
    drawers = middle.drawers
    assert drawers.heights == (Share(1), Share(1), Share(1.5))
    assert (drawers.front.cut, drawers.front.thickness, drawers.front.gap) == (Cut.QUARTERED, 20, 2)
    assert isinstance(drawers.box.corner, RabbetBoxCorner)
    pins = drawers.box.corner.pins
    assert pins is not None
    assert (pins.diameter, pins.count, pins.species) == (8, 2, "black walnut")
    assert (drawers.bottom.layers, drawers.bottom.groove_depth, drawers.bottom.up) == (2, 6, 13)
    assert drawers.pull is None
    loads = reading_room.spec.loads
    assert (loads.top, loads.shelf, loads.drawer, loads.bottom) == (400, 250, 120, None)


def test_the_bedside_cabinet_is_read_in_inches(bedside):
    """1/8 in = 3.175; 21-3/4 = 552.45; 15-1/8 = 384.175; 18-3/8 = 466.725; 5/64 = 1.984375."""
    assert bedside.units is Units.INCH
    assert bedside.shop.kerf == pytest.approx(3.175, abs=1e-12)
    assert bedside.shop.temperature == pytest.approx(21.1111, abs=1e-4)
    assert bedside.materials["cherry"].price == Decimal("9.50")
    assert bedside.materials["case-panel"].thickness_used == pytest.approx(18.161, abs=1e-12)
    assert bedside.hardware["runner"].length == 381
    assert bedside.hardware["runner"].capacity == 20
    size = bedside.case.size
    assert (size.length, size.height, size.depth) == (552.45, 384.175, 466.725)
    base = bedside.base
    assert isinstance(base, StraightLegs)
    assert (base.height, base.legs.top, base.legs.foot) == (241.3, (38.1, 38.1), (22.225, 22.225))
    assert base.legs.taper is not None
    assert base.feet is not None
    assert (base.legs.taper.faces, base.legs.taper.starts) == (TaperFaces.INSIDE, 69.85)
    assert isinstance(base.aprons.joint, MortiseAndTenonJoint)
    assert base.feet.thickness == 4.7625
    assert isinstance(bedside.inside.dividers.joint, DadoJoint)
    assert bedside.inside.dividers.joint.depth == 6.35
    drawer, shelf = bedside.inside.pieces
    assert drawer.size == 139.7
    assert drawer.drawers.front.gap == 1.984375
    assert isinstance(drawer.drawers.box.corner, HalfBlindDovetailCorner)
    assert drawer.drawers.box.corner.slope == Slope(1 / 7)
    assert isinstance(drawer.drawers.pull, Knob)
    assert (shelf.size, shelf.open) == (Share(1), True)
    assert bedside.loads.top is None


def test_the_plan_chest_stands_on_a_plinth(chest):
    base = chest.base
    assert isinstance(base, Plinth)
    assert (base.height, base.material, base.corners) == (80, "case-panel", PlinthCorners.MITRE)
    assert (base.set_in.front, base.set_in.back, base.set_in.sides) == (50, 20, 20)
    assert (base.fixing.kind, base.fixing.count) == (FixingKind.SCREW_BLOCK, 8)
    for corner in (chest.case.corners.top, chest.case.corners.bottom):
        assert isinstance(corner, RabbetCorner)
        assert (corner.in_, corner.depth) == (Carrier.SIDES, 9)
    for joint in (chest.case.joints.top, chest.case.joints.bottom):
        assert isinstance(joint, ScrewJoint)
        assert (joint.from_, joint.plugs) == (ScrewSide.OUTSIDE, "ash")
    rail = chest.case.rails.under_top
    assert (rail.material, rail.height, rail.thickness) == ("ash", 60, 18)


def test_the_plan_chest_s_drawers(chest):
    slide = chest.hardware["slide"]
    assert isinstance(slide, SideMountSlide)
    assert (slide.length, slide.thickness, slide.deduction, slide.capacity) == (700, 12.7, 25.4, 45)
    drawers = chest.inside.drawers
    assert drawers.heights == (Share(1), Share(1), Share(1), Share(1), Share(1.6))
    assert drawers.front.thickness is None
    assert isinstance(drawers.front.edging, TapeEdging)
    assert isinstance(drawers.box.corner, LockRabbetBoxCorner)
    assert isinstance(drawers.pull, BarPull)
    assert (drawers.pull.holes, drawers.pull.count, drawers.pull.spacing) == (160, 2, 540)
    assert chest.inside.pieces == ()


@pytest.mark.parametrize(
    ("path", "place"),
    [
        (("case", "size", "height"), (59, 32)),
        (("inside", "into", 1, "size"), (76, 13)),
        (("inside", "into", 1, "drawers", "heights", 2), (78, 37)),
        (("base", "legs", "top", 1), (48, 15)),
        (("base", "legs", "taper", "starts"), (47, 5)),
        (("loads", "bottom"), (87, 8)),
        ((), (2, 1)),
    ],
)
def test_each_value_keeps_its_place_and_what_is_not_written_the_nearest(reading_room, path, place):
    assert reading_room.marks.place(path) == place


def test_a_problem_found_later_is_told_with_its_place_in_the_order_of_the_file(reading_room):
    error = reading_room.complain(
        [
            Problem(path=("inside", "into", 1, "drawers", "heights"), message="are too tall"),
            Problem(path=("base", "legs", "splay", "front"), message="leaves no foot"),
        ]
    )
    file = EXAMPLES / "reading-room-cabinet.yaml"
    assert error.lines() == [
        f"{file}:50:20: base.legs.splay.front: leaves no foot",
        f"{file}:78:18: inside.into[2].drawers.heights: are too tall",
    ]
