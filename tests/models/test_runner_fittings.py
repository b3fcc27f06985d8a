"""What goes with undermount runners, and wall anchors: holes and places worked by hand."""

import math

import pytest

from models.parts.features import Hole, HoleKind
from models.parts.joints.locking_device import locking_device
from models.setting_out.piece import set_out
from tests.helpers.examples import DEMO, changed, piece
from tests.helpers.rooms import Room, filled, shared_wood
from tests.models.joints.test_box_corners import corner
from tests.models.test_doors import bounds

OPENING = (520.0, 412.0, 160.0)


def drawer(runner: str = "push") -> Room:
    """One drawer with a box of 15 and a bottom of 6, 13 up."""
    bottom = "bottom: {material: thin, groove_depth: 6, up: 13}"
    box = "box: {material: box, corner: rabbet}"
    front = "front: {material: oak, thickness: 20}"
    return filled(
        f"  drawers: {{heights: [1 share], {front}, {box}, {bottom}, runner: {runner}}}", OPENING
    )


def test_locking_screws_stand_at_75_degrees_below_the_bottoms_groove() -> None:
    """15 degrees from square, 10 deep: they rise 10 sin 15 = 2.59, to 5 + 2.59 + 1.25 = 8.84."""
    device = locking_device(corner(), below=13.0, made_by="test")
    assert len(device.holes) == 2
    for hole in device.holes:
        assert (hole.diameter, hole.depth) == (2.5, 10.0)
        assert math.degrees(math.asin(hole.seat.into[2])) == pytest.approx(15.0)
        assert hole.seat.into[1] < 0.0
        point = hole.seat.origin[2] + 10.0 * hole.seat.into[2] + 1.25
        assert point == pytest.approx(8.84, abs=0.01)


def test_every_undermount_drawer_is_bored_for_two_devices_that_go_with_it() -> None:
    made = drawer()
    front = made.bench.drafts["drawer 1/1/box front"]
    slanted = [
        f
        for f in front.features
        if isinstance(f, Hole) and f.kind is HoleKind.PILOT and max(map(abs, f.seat.into)) < 0.99
    ]
    assert len(slanted) == 4
    for hand in ("left", "right"):
        device = made.bench.drafts[f"drawer 1/1/locking device {hand}"]
        assert device.mover == "drawer 1/1"


def test_the_rod_runs_from_runner_to_runner() -> None:
    """Runners reach from the panel 6 of air, 35 of notch less 1: 40 each; 520 - 80 = 440."""
    made = drawer()
    lo, hi = bounds(made.bench.drafts["drawer 1/1/rod"])
    left = bounds(made.bench.drafts["drawer 1/1/runner left"])
    assert lo[0] == pytest.approx(left[1][0])
    assert hi[0] - lo[0] == pytest.approx(440.0)
    assert hi[2] < bounds(made.bench.drafts["drawer 1/1/side left"])[0][2]
    (line,) = (line for line in made.bench.hardware if line.name == "synchronising rod")
    assert line.size.startswith("440.0 mm")
    assert "drawer 1/1/rod" not in drawer("under").bench.drafts


@pytest.mark.kernel
@pytest.mark.parametrize("runner", ["push", "slide", "wooden"])
def test_runners_and_what_goes_with_them_share_nothing(runner: str) -> None:
    assert shared_wood(drawer(runner)) == []


def test_anchors_stand_under_the_top_clear_of_dividers() -> None:
    """Two on 1642.8 inside: at a quarter and three quarters; 16 mm pilot less 2 of bracket."""
    made = set_out(
        changed(DEMO, ("  grain: continuous", "  anchor: {count: 2}\n  grain: continuous"))
    )
    (bracket,) = (part for part in made.parts if part.name == "wall anchor")
    places = [copy.placement.point(bracket.blank.centre) for copy in made.copies_of(bracket.label)]
    assert sorted(at[0] for at in places) == pytest.approx([429.3, 1250.7])
    top = next(part for part in made.parts if part.name == "top")
    pilots = [f for f in top.features if isinstance(f, Hole) and f.made_by == "case.anchor"]
    assert [hole.depth for hole in pilots] == [14.0, 14.0]
    assert {f.code for f in made.findings} == {f.code for f in piece(DEMO).findings}
    assert any(line.name == "wall anchor" and line.quantity == 2 for line in made.hardware)


def test_more_anchors_than_there_is_room_for_are_found() -> None:
    swap = ("  grain: continuous", "  anchor: {count: 90}\n  grain: continuous")
    made = set_out(changed(DEMO, swap))
    assert any(f.code == "fitting.no_room_for_anchor" for f in made.findings)
