"""What goes together one way at a time, what closes as a group, and what never does."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.vectors import Vec, X, Y, Z, add, neg, scale
from models.parts.assembly import Joint
from models.parts.directions import between, knots


def joint(name: str, first: str, second: str, closes: Vec | str, *each: Vec) -> Joint:
    """A joint whose second part comes home by ``closes``."""
    return Joint(id=name, kind="loose tenon", parts=(first, second), closes=closes, each=each)


def leaning(degrees: float, way: float) -> Vec:
    """The direction ``way`` (-1, 1) along Y, tilted up by ``degrees``."""
    tilt = math.radians(degrees)
    return (0.0, way * math.cos(tilt), math.sin(tilt))


def frame(*more: Joint) -> list[Joint]:
    """The splayed base: two frames of legs and a long apron, joined by two side aprons.

    A side apron meets a leg square to its inner face, which leans by 12.2595 degrees.
    """
    found = [
        joint(f"{hand} {end}", f"side apron {hand}", f"{end} frame", leaning(12.2595, way))
        for hand in ("left", "right")
        for end, way in (("front", 1.0), ("back", -1.0))
    ]
    return [*found, *more]


def test_the_frame_of_a_splayed_base_goes_together() -> None:
    assert knots(frame()) == ()


def test_a_stretcher_dropped_in_from_above_goes_in_last() -> None:
    dropped = [
        joint(f"stretcher {end}", f"{end} frame", "stretcher", neg(Z)) for end in ("front", "back")
    ]
    assert knots(frame(*dropped)) == ()


def test_a_stretcher_with_level_loose_tenons_between_splayed_aprons_is_refused() -> None:
    """Square to the long apron's face, 4 degrees; square to the leg's: 12.2595 - 4 = 8.2595."""
    tenoned = [
        joint(f"stretcher {end}", "stretcher", f"{end} frame", leaning(4.0, way))
        for end, way in (("front", 1.0), ("back", -1.0))
    ]
    (knot,) = knots(frame(*tenoned))
    assert knot.apart("left front", "stretcher front") == pytest.approx(8.2595, abs=1e-6)
    assert set(knot.parts) == {
        "front frame",
        "back frame",
        "side apron left",
        "side apron right",
        "stretcher",
    }


def mitred(*more: Joint, group: bool = True) -> list[Joint]:
    """Four mitred panels: sides inward, top down, bottom up; or each corner by itself."""
    ways = {"top": neg(Z), "bottom": Z, "left": X, "right": neg(X)}
    half = math.sqrt(0.5)
    found: list[Joint] = []
    for panel in ("top", "bottom"):
        for side in ("left", "right"):
            if group:
                found.append(joint(f"{panel} {side}", panel, side, "case", ways[panel], ways[side]))
                continue
            across = (ways[side][0] * half, 0.0, -ways[panel][2] * half)
            found.append(joint(f"{panel} {side}", panel, side, across))
    return [*found, *more]


def test_a_mitred_case_closes_as_a_group() -> None:
    assert knots(mitred()) == ()


STANDING = (
    joint("divider low", "divider", "bottom", Z),
    joint("divider high", "divider", "top", neg(Z)),
)


def test_two_halves_of_a_mitred_case_close_along_a_diagonal_unless_a_divider_stands_inside() -> (
    None
):
    """Each corner asks for 45 degrees, the divider for the vertical."""
    assert knots(mitred(group=False)) == ()
    (knot,) = knots(mitred(*STANDING, group=False))
    assert knot.apart("top left", "divider high") == pytest.approx(45.0)
    assert knot.apart("top left", "top right") == pytest.approx(90.0)


def test_a_divider_between_top_and_bottom_closes_with_the_group() -> None:
    assert knots(mitred(*STANDING)) == ()


def test_a_shelf_in_dadoes_of_sides_closes_with_the_group() -> None:
    shelf = [joint("low", "shelf", "left", X), joint("high", "shelf", "right", neg(X))]
    assert knots(mitred(*shelf)) == ()


def test_a_captive_back_closes_with_the_group_and_one_from_below_after_it() -> None:
    captive = [
        joint(f"back {key}", key, "back", way)
        for key, way in (("left", neg(X)), ("right", X), ("top", Z), ("bottom", neg(Z)))
    ]
    assert knots(mitred(*captive)) == ()
    below = [joint(f"back {key}", key, "back", Z) for key in ("left", "right", "top")]
    assert knots(mitred(*below)) == ()


def test_a_board_that_three_ways_hold_is_refused() -> None:
    """Sides on a bottom along X; a board in one of them along Y, in the other along Z."""
    odd = [
        joint("left", "bottom", "left", X),
        joint("right", "bottom", "right", neg(X)),
        joint("odd left", "odd", "left", Y),
        joint("odd right", "odd", "right", Z),
    ]
    (knot,) = knots(odd)
    assert knot.parts == ("bottom", "left", "odd", "right")
    assert knot.apart("odd left", "odd right") == pytest.approx(90.0)
    assert knots(odd[:3]) == ()


def test_a_board_cannot_come_between_two_that_are_one_already() -> None:
    """A ring along one line: the board must be behind and before the same block."""
    ring = [
        joint("one", "post", "rail", X),
        joint("other", "rail", "post", X),
    ]
    (knot,) = knots(ring)
    assert set(knot.parts) == {"post", "rail"}


def test_a_glued_butt_may_slide_along_its_face() -> None:
    """A block glued under a shelf slides in along Y beside a tongue that runs in Y."""
    glued = Joint(id="glue", kind="butt", parts=("shelf", "block"), closes=Z)
    tongue = joint("tongue", "block", "shelf", Y)
    assert knots([glued, tongue]) == ()
    square = joint("glue", "shelf", "block", Z)
    assert len(knots([square, tongue])) == 1


def test_three_parts_at_one_joint() -> None:
    """A corner block comes home against two aprons at once."""
    block = Joint(id="block", kind="butt", parts=("long", "side", "block"), closes=neg(Z))
    assert knots([joint("corner", "long", "side", X), block]) == ()


def test_lines_have_no_sense_of_direction() -> None:
    assert between(X, neg(X)) == 0.0
    assert between(X, Y) == pytest.approx(90.0)


@given(st.lists(st.tuples(st.integers(0, 5), st.sampled_from((X, Y, Z, neg(X)))), max_size=8))
def test_what_hangs_together_by_one_joint_each_always_goes_together(
    grown: list[tuple[int, Vec]],
) -> None:
    """Every new part is joined to one that stands already: a tree has no ring to close."""
    joints = [
        joint(f"j{place}", f"p{min(to, place)}", f"p{place + 1}", way)
        for place, (to, way) in enumerate(grown)
    ]
    assert knots(joints) == ()


@given(st.sampled_from((X, Y, Z)), st.floats(0.2, 90.0), st.integers(1, 4))
def test_two_joints_between_the_same_two_parts_share_their_way_or_are_refused(
    way: Vec, tilt: float, more: int
) -> None:
    """A second joint tilted by anything over a tenth of a degree is found with that angle."""
    side = {X: Y, Y: Z, Z: X}[way]
    turn = math.radians(tilt)
    leans = add(scale(way, math.cos(turn)), scale(side, math.sin(turn)))
    same = [joint(f"j{n}", "a", "b", way) for n in range(more)]
    assert knots(same) == ()
    (knot,) = knots([*same, joint("odd", "a", "b", leans)])
    assert knot.apart("j0", "odd") == pytest.approx(tilt)
