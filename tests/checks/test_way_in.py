"""The way into the room: doorway, stair, its turn, lift; the base on and off."""

import math
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.passage import in_rectangle, longest_round, round_corner
from checks.way_in import HANDS, Doorway, find_way, goes
from ground.findings import Finding, Severity
from specs.place import Way
from specs.reading import read
from specs.spec import Spec
from tests.helpers.checked import found
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, spec
from tests.helpers.repository import ROOT


def going(name: str, **way: Any) -> dict[str, Finding]:
    """What is said of the way; a size that is not given is not there."""
    sizes = {key: None for key in Way.model_fields if key != "base_off"}
    whole: dict[str, Any] = {**sizes, "base_off": False, **way}
    asked: Spec = spec(name).model_copy(update={"way": Way.model_construct(**whole)})
    return found(asked, find_way)


@pytest.mark.parametrize(("width", "code"), [(449, "way.doorway"), (451, "way.passes")])
def test_the_demo_goes_through_a_doorway_upright(width, code):
    """430 deep and 640 high: 430 + 20 for hands through the width, 640 up."""
    assert set(going(DEMO, door_width=width, door_height=1000)) == {code}


def test_the_width_that_is_said_to_be_enough_is_enough():
    mine = going(DEMO, door_width=449, door_height=1000)["way.doorway"]
    assert mine.severity is Severity.ERROR
    enough = re.search(r"(\d+) mm of width would be enough", mine.message)
    assert enough
    assert set(going(DEMO, door_width=float(enough[1]), door_height=1000)) == {"way.passes"}


def test_a_doorway_lower_than_the_piece_takes_it_on_its_back():
    mine = going(DEMO, door_width=700, door_height=500)["way.passes"]
    assert "on its back" in mine.message


def test_a_piece_is_tilted_through_where_it_does_not_go_square():
    """200 x 2100 through 2000 high: (2 p q a + (p2 - q2) sqrt(p2 + q2 - a2)) / (p2 + q2) = 1036."""
    case = (2600.0, 200.0, 2100.0)
    assert goes(case, Doorway(1040 + HANDS, 2000 + HANDS)) == "tilted"
    assert goes(case, Doorway(1030 + HANDS, 2000 + HANDS)) is None
    assert goes(case, Doorway(220, 2100 + HANDS)) == "upright"


def test_what_is_higher_and_deeper_than_a_doorway_does_not_go_through():
    assert set(going(CHEST, door_width=745, door_height=2000)) == {"way.passes"}
    assert set(going(CHEST, door_width=1500, door_height=739)) == {"way.doorway"}


def test_the_base_off_is_the_answer_where_it_helps():
    """640 high with its base, 450 without; a lift of 1700 x 600 x 440 takes only the case."""
    lift = {"lift_width": 1700.0, "lift_depth": 600.0, "lift_height": 440.0}
    mine = going(DEMO, **lift)["way.lift"]
    assert mine.severity is Severity.ERROR
    assert "write base_off: true" in mine.message
    taken = going(DEMO, **lift, base_off=True)["way.lift"]
    assert taken.severity is Severity.NOTE


def test_the_base_itself_must_go_through_when_it_is_off():
    """A lift of 1690 x 440 x 445: the case and the base go in, both on the floor."""
    lift = {"lift_width": 1690.0, "lift_depth": 440.0, "lift_height": 455.0}
    assert "with the base off, 450 high, it does" in going(DEMO, **lift)["way.lift"].message
    short = {**lift, "lift_width": 1600.0, "lift_height": 1600.0}
    assert "with the base off it does not either" in going(DEMO, **short)["way.lift"].message


def test_a_lift_takes_a_long_piece_from_corner_to_corner():
    """1680 x 430 on 1400 x 1500 of floor: square it does not go in; 2052 from corner to corner."""
    assert set(going(DEMO, lift_width=1400.0, lift_depth=1500.0, lift_height=2100.0)) == {
        "way.passes"
    }
    small = going(DEMO, lift_width=1200.0, lift_depth=1300.0, lift_height=1600.0)
    assert set(small) == {"way.lift"}


def test_a_narrow_stair():
    assert "way.stair" in going(CHEST, stair_width=735.0)
    assert "way.stair" not in going(CHEST, stair_width=745.0)


def test_a_low_stair():
    """760 deep, 720 high, 1120 long: 740 of headroom take it upright, 730 do not."""
    assert "way.stair" not in going(CHEST, stair_width=900.0, stair_height=745.0)
    assert "way.stair" in going(CHEST, stair_width=900.0, stair_height=735.0)


@pytest.mark.parametrize(("after", "code"), [(1100.0, "way.passes"), (850.0, "way.turn")])
def test_the_demo_round_the_turn_of_a_stair(after, code):
    """1680 x 430 in 880 clear of hands: it goes round into 1080 and not into 830."""
    mine = going(DEMO, stair_width=900.0, turn_width=after, stair_height=900.0)
    assert code in mine
    assert ("way.turn" in mine) == (code == "way.turn")


def test_without_a_way_nothing_is_said():
    assert found(spec(BEDSIDE), find_way) == {}


def test_the_turn_needs_the_stairs_width():
    text = (ROOT / "examples" / f"{DEMO}.yaml").read_text(encoding="utf-8")
    with pytest.raises(Exception, match="says nothing without the stair's width"):
        read(f"{text}\nway: {{turn_width: 900}}\n", "more.yaml")


def turned_in(one: tuple[float, float], hole: tuple[float, float]) -> bool:
    """The same by turning the rectangle a quarter of a degree at a time."""
    return any(
        one[0] * math.cos(turn) + one[1] * math.sin(turn) <= hole[0]
        and one[0] * math.sin(turn) + one[1] * math.cos(turn) <= hole[1]
        for turn in (math.radians(step / 4) for step in range(361))
    )


sides = st.floats(100, 2000)


@given(sides, sides, sides, sides)
def test_a_rectangle_that_turning_gets_in_is_said_to_go_in(p, q, a, b):
    """Half a millimetre of slack stands for the steps between the quarters of a degree."""
    if turned_in((p, q), (a, b)):
        assert in_rectangle((p, q), (a + 1e-6, b + 1e-6))
    if in_rectangle((p, q), (a, b)):
        assert turned_in((p, q), (a + 6, b + 6))


@given(st.floats(500, 2000), st.floats(500, 2000))
def test_a_pole_goes_round_a_corner_as_the_known_formula_says(a, b):
    """(a^(2/3) + b^(2/3))^(3/2), for what has no depth."""
    assert longest_round(0.0, a, b) == pytest.approx((a ** (2 / 3) + b ** (2 / 3)) ** 1.5, rel=1e-3)


def test_a_square_corner_of_two_like_passages():
    """2 sqrt 2 a - 2 d at 45 degrees: 1000 wide, 400 deep, 2028.4 long."""
    longest = 2 * math.sqrt(2) * 1000 - 2 * 400
    assert longest_round(400.0, 1000.0, 1000.0) == pytest.approx(longest)
    assert round_corner((longest - 1, 400.0), 1000.0, 1000.0)
    assert not round_corner((longest + 1, 400.0), 1000.0, 1000.0)


@given(sides, sides, sides)
def test_a_wider_passage_never_takes_less(deep, a, more):
    assert longest_round(deep, a, a + more) >= longest_round(deep, a, a) - 1e-9
