"""Fittings and joints that contradict one another: each found, and silent just inside its limit."""

import pytest

from ground.findings import Finding, Severity
from ground.vectors import X, Z
from models.parts.features import Hole, HoleKind, Seat
from models.parts.joints.drawer_bottom import BottomGroove
from models.setting_out.box_corners import CornerRoom, box_joint
from models.setting_out.doors import lay_doors
from models.setting_out.hinges import DoorSize, hinge_findings
from specs.drawers import BoxCornerKind, CornerPins, RabbetBoxCorner
from specs.hardware import CupHinge, FittingKind
from tests.helpers.rooms import codes, filled, room
from tests.models.test_doors import BAY, PAIR, holes
from tests.models.test_drawers import stack

DOOR = (250.0, 400.0, 500.0)


def doors(text: str) -> list[str]:
    """What is found against one door 246 x 496."""
    return codes(filled(f"  doors: {{material: board, {text}}}", DOOR))


def drawers(runner: str, *, pull: str = "", depth: float = 412.0) -> list[str]:
    """What is found against a stack of three in an opening ``depth`` deep."""
    text = stack(runner=runner, layers=1 if runner == "under" else 2).rstrip()
    return codes(filled(f"{text}\n{pull}", (520.0, depth, 412.8)))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("hinge: sprung, latch: latch", True),
        ("hinge: cup, latch: latch", False),
        ("hinge: butt, latch: latch", False),
        ("hinge: sprung, catch: catch", False),
    ],
)
def test_a_push_latch_wants_hinges_that_move_freely(text: str, *, found: bool) -> None:
    assert ("fitting.latch_fights_hinge" in doors(text)) is found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("hinge: cup", True),
        ("hinge: sprung", True),
        ("hinge: cup, latch: latch", False),
        ("hinge: cup, catch: ball, pull: knob", False),
        ("hinge: cup, stop: block, pull: knob", False),
    ],
)
def test_an_inset_door_wants_a_latch_a_catch_or_a_stop(text: str, *, found: bool) -> None:
    assert ("fitting.door_swings_in" in doors(text)) is found


KNOB = "    pull: {kind: knob}\n"


@pytest.mark.parametrize(
    ("runner", "pull", "found"),
    [
        ("push", KNOB, "fitting.pull_on_push_runner"),
        ("push", "", None),
        ("under", "", "fitting.nothing_to_pull"),
        ("under", KNOB, None),
    ],
)
def test_a_pull_goes_with_a_runner_that_is_pulled(
    runner: str, pull: str, found: str | None
) -> None:
    against = {"fitting.pull_on_push_runner", "fitting.nothing_to_pull"}
    assert against & set(drawers(runner, pull=pull)) == ({found} if found else set())


@pytest.mark.parametrize(
    ("depth", "found"),
    [
        (372.9, {"fit.runner_depth"}),  # 20 + 3 + 350 = 373
        (373.0, {"fit.push_room"}),
        (376.9, {"fit.push_room"}),  # it sinks 4
        (377.0, set()),
    ],
)
def test_a_runner_has_room_for_itself_and_for_the_push(depth: float, found: set[str]) -> None:
    against = {"fit.runner_depth", "fit.push_room"}
    assert against & set(drawers("push", depth=depth)) == found


def hinge(cup: dict[str, float], *, width: float = 200.0, thick: float = 20.0) -> set[str]:
    """What is found against a cup hinge on a door 408.8 high, 70 from its ends."""
    door = DoorSize(width=width, height=408.8, thick=thick, mass=2.0)
    asked = CupHinge.model_validate({"kind": FittingKind.CUP_HINGE, "first": 70.0, **cup})
    return {finding.code for finding in hinge_findings("door", asked, door)}


@pytest.mark.parametrize(
    ("width", "found"),
    [(268.79, set()), (268.81, {"fitting.hinge_spacing"})],
)
def test_hinges_stand_further_apart_than_their_door_is_wide(width: float, found: set[str]) -> None:
    """408.8 - 2 x 70 = 268.8."""
    assert hinge({}, width=width) == found


@pytest.mark.parametrize(("edge", "found"), [(2.9, True), (3.0, False), (8.0, False), (8.1, True)])
def test_a_cup_keeps_3_to_8_from_the_edge(edge: float, *, found: bool) -> None:
    assert ("fitting.cup_edge" in hinge({"cup_edge": edge})) is found


@pytest.mark.parametrize(("depth", "found"), [(18.1, True), (18.0, False)])
def test_a_cup_leaves_2_of_its_door(depth: float, *, found: bool) -> None:
    assert ("fitting.cup_depth" in hinge({"cup_depth": depth})) is found


@pytest.mark.parametrize(("count", "found"), [(12, True), (3, False)])
def test_a_plate_that_meets_a_dividers_joint_everywhere_is_found(
    count: int, *, found: bool
) -> None:
    """Dowels 8 apart from Z 140, 12 deep, behind the lower plate: 11 + 12 + 2 > 18.

    Three of them leave it a place further up; twelve do not.
    """
    made = room(PAIR, BAY)
    dowels = Hole(
        kind=HoleKind.DOWEL,
        seat=Seat((82.0, 57.0, 140.0), Z, X),
        diameter=6.0,
        depth=12.0,
        made_by="divider",
        count=count,
        pitch=8.0,
    )
    made.bench.cut("case/left", (dowels,))
    lay_doors(made.bench, made.spec, made.leaf)
    assert ("drilling.holes_meet" in codes(made)) is found
    assert len(holes(made, "door 1/1/door", HoleKind.HINGE_CUP)) == 2


def pinned(height: float) -> tuple[Finding, ...]:
    """A box corner with one pin 8 across over a bottom's groove that ends 25.2 up."""
    room_of = CornerRoom(
        height=height,
        stock=15.0,
        groove=BottomGroove(up=13.0, thick=12.0, depth=6.0),
        subject="drawer",
        path=(),
    )
    pins = CornerPins(diameter=8.0, count=1, species="black walnut")
    asked = RabbetBoxCorner(kind=BoxCornerKind.RABBET, pins=pins)
    return box_joint(asked, room_of).findings


@pytest.mark.parametrize(
    ("height", "severity"),
    [(49.2, None), (49.1, Severity.WARNING), (33.3, Severity.WARNING), (33.2, Severity.ERROR)],
)
def test_pins_keep_a_diameter_over_the_bottoms_groove(
    height: float, severity: Severity | None
) -> None:
    """In the middle of 24 it has 8 over and under it; in the middle of 8 it cuts the groove."""
    found = pinned(height)
    assert [f.severity for f in found] == ([] if severity is None else [severity])
    assert {f.code for f in found} <= {"joint.pins_cut_groove"}
