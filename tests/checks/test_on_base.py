"""A solid panel on its base. The language has sheet panels so far, so one is made solid here."""

from dataclasses import replace

import pytest

from checks.on_base import find_on_base, reach, swing
from checks.placed import Piece, read
from models.parts.part import PartKind
from models.setting_out.piece import set_out
from specs.base import FixingKind
from specs.spec import Spec
from tests.helpers.examples import DEMO, EXAMPLES, changed, piece, spec

FIXED = "fixing: {kind: figure-eight fastener, count: 8}"


def solid_bottom(asked: Spec) -> Piece:
    """A piece with its bottom made of oak, the grain along its length."""
    whole = set_out(asked)
    parts = tuple(
        replace(part, kind=PartKind.LUMBER, material="oak") if part.name == "bottom" else part
        for part in whole.parts
    )
    return read(replace(whole, parts=parts), asked)


def fixed_by(words: str) -> Spec:
    return changed(DEMO, (FIXED, f"fixing: {{{words}}}"))


def in_air(asked: Spec, dry: float, damp: float) -> Spec:
    shop = asked.shop.model_copy(update={"humidity": (dry, damp)})
    return asked.model_copy(update={"shop": shop})


@pytest.mark.parametrize("name", EXAMPLES)
def test_panels_of_sheet_goods_do_not_move(name):
    assert list(find_on_base(read(piece(name), spec(name)))) == []


def test_a_figure_eight_swings_until_its_waist_meets_the_mouth():
    """Recess of 20 open by 3: mouth 2 sqrt(10^2 - 7^2) = 14.28; a waist of 12, 7 from the middle.

    7 tan a + 6 / cos a = 7.141 at a = 8.70 degrees; 21 sin a = 3.18 mm.
    """
    assert swing() == pytest.approx(3.18, abs=0.01)
    assert reach(FixingKind.FIGURE_EIGHT).square == pytest.approx(0.5)
    assert reach(FixingKind.SLOTTED_CLIP).along == pytest.approx(11.0)


def test_figure_eights_on_the_long_rails_hold_a_solid_bottom():
    """Their plates lie the way that the panel moves and have half a millimetre of play."""
    (mine,) = find_on_base(solid_bottom(spec(DEMO)))
    assert mine.code == "movement.base_fixing"
    assert mine.limit == pytest.approx(0.5)
    assert mine.value is not None
    assert mine.value > 1.0
    assert "square to its rail" in mine.message


def test_in_steadier_air_they_reach_far_enough():
    """Milled at 8 %: 41 to 45 % at 20 degrees is 7.9 to 8.5 %, 0.3 mm where 2.3 mm was."""
    assert list(find_on_base(solid_bottom(in_air(spec(DEMO), 41, 45)))) == []


def test_a_slotted_clip_reaches_where_the_finding_says_that_it_does():
    air = (38, 48)  # 0.8 mm to the dampest month: over 0.5, under 1
    (mine,) = find_on_base(solid_bottom(in_air(spec(DEMO), *air)))
    assert "a slotted clip reaches far enough" in mine.message
    clips = in_air(fixed_by("kind: slotted clip, count: 8"), *air)
    assert list(find_on_base(solid_bottom(clips))) == []


def test_screws_let_nothing_move():
    (mine,) = find_on_base(solid_bottom(in_air(fixed_by("kind: screw, count: 8"), 41, 45)))
    assert mine.limit == 0.0
