"""Plinths: four boards, their corners, and the blocks that hold the case."""

import pytest

from models.parts.features import Channel, Hole, HoleKind
from models.setting_out.bench import Bench
from models.setting_out.trouble import SettingOutError
from tests.helpers.bases import asked, assembly, based, codes
from tests.helpers.joints import assert_no_clash, goes_together, laid

PLINTH = """
  kind: plinth
  height: {height}
  set_in: {{front: 50, back: 20, sides: {sides}}}
  material: ply
  corners: {corners}
  {rest}
  fixing: {{kind: {fixing}, count: 8}}
"""


def plinth(
    corners: str = "mitre",
    rest: str = "",
    fixing: str = "screw block",
    sides: float = 20,
    height: float = 80,
) -> Bench:
    """The plan chest's plinth."""
    base = PLINTH.format(corners=corners, rest=rest, fixing=fixing, sides=sides, height=height)
    return based(asked(base, size=(1120, 760, 640), panel="18 mm"), ())


@pytest.mark.parametrize(("corners", "side"), [("mitre", 690), ("butt", 654), ("rabbet", 672)])
def test_boards_are_as_long_as_their_corners_ask(corners: str, side: float):
    """Outside 1120 - 40 = 1080 by 760 - 70 = 690; butted sides lose 2 x 18, rabbeted 2 x 9."""
    made = plinth(corners)
    assert made.drafts["base/plinth front"].blank.size == pytest.approx((1080, 80, 18))
    assert made.drafts["base/plinth left"].blank.size == pytest.approx((side, 80, 18))


def test_boards_alike_are_two_parts_of_two_copies():
    made = assembly(plinth())
    boards = [part for part in made.parts if part.name.startswith("plinth")]
    assert [len(made.copies_of(board.label)) for board in boards] == [2, 2]


def test_a_spline_stops_under_the_case():
    """80 high, 10 short of the upper edge: a slot of 70 from the floor up."""
    made = plinth()
    slots = [
        f.moved(made.drafts["base/plinth front"].frame)
        for f in made.drafts["base/plinth front"].features
        if isinstance(f, Channel)
    ]
    assert [slot.length for slot in slots] == pytest.approx([70, 70])
    assert all(slot.seat.origin[2] == pytest.approx(0.0) for slot in slots)


@pytest.mark.parametrize("corners", ["mitre", "butt", "rabbet"])
@pytest.mark.kernel
def test_the_corners_of_a_plinth_go_together(corners: str):
    made = plinth(corners, fixing="slotted clip")
    goes_together(laid(made, "base/plinth front", "base/plinth left"))
    goes_together(laid(made, "base/plinth back", "base/plinth right"))


@pytest.mark.kernel
def test_screw_blocks_lie_on_board_and_bottom():
    made = plinth()
    blocks = [key for key, draft in made.drafts.items() if draft.name == "screw block"]
    assert len(blocks) == 8
    block = next(key for key in blocks if "front" in key)
    goes_together(laid(made, "base/plinth front", block))
    assert_no_clash((laid(made, "case/bottom", block)).pieces)


@pytest.mark.kernel
def test_corner_blocks_of_a_plinth_go_together():
    made = plinth(
        rest="corner_blocks: {material: oak, thickness: 26, legs: 80}", fixing="slotted clip"
    )
    goes_together(laid(made, "base/plinth front", "base/corner block front left"))


def test_a_screw_block_s_screws_stop_inside_what_they_hold():
    made = plinth()
    for key, most in (("base/plinth front", 18 - 5), ("case/bottom", 18 - 5)):
        pilots = [
            f for f in made.drafts[key].features if isinstance(f, Hole) and f.kind is HoleKind.PILOT
        ]
        assert pilots
        assert all(f.depth is not None and f.depth <= most for f in pilots)


def test_feet_come_off_the_boards_height():
    made = plinth(rest="feet: {kind: glide, thickness: 5}")
    assert made.drafts["base/plinth front"].blank.width == pytest.approx(75)
    assert [line.quantity for line in made.hardware if line.name == "glide"] == [4]


def test_a_plinth_of_no_size_is_refused_at_its_place():
    with pytest.raises(SettingOutError) as refused:
        plinth(sides=545)
    assert refused.value.problems[0].path == ("base", "set_in", "sides")


def test_a_plinth_as_it_is_asked_raises_nothing():
    assert codes(plinth()) == []
