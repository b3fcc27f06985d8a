"""The fence error, worked by hand, and the wedge that mends it."""

import math

import pytest

from ground.vectors import Plane, X, Y, Z, dot, neg
from models.parts.blank import Blank
from planning.saw.fence import fence_cut, slips
from planning.saw.lie import Lie, wedged
from planning.saw.settings import setting
from planning.saw.workpiece import Workpiece, block

LENGTH, THICK, THIN, BEVEL = 400.0, 60.0, 34.0, 7.0
BLANK = Blank(length=LENGTH, width=80.0, thickness=THICK)
TAPER = Plane.through((0.0, 0.0, THICK), (THICK - THIN, 0.0, LENGTH))
"""The upper face falls from 60 at the left end to 34 at the right."""

TABLE = Lie(table=Plane(neg(Z), 0.0), reference=Plane(neg(Y), 0.0), stop=Plane(neg(X), 0.0))


def tapered() -> Workpiece:
    return block(BLANK.planes(), BLANK.size).cut("taper", TAPER)


def bevel(direction: tuple[float, float, float], width: float) -> Plane:
    """A side that holds ``direction``, ``width`` out on the tapered face at the left end."""
    t = math.tan(math.radians(BEVEL))
    # as z rises by one the side goes out by t: the normal is square to (0, t, 1) and direction
    rise = direction[2] * t / direction[0]
    return Plane.through((0.0, width, THICK), (rise, 1.0, -t))


def widths(piece: Workpiece) -> tuple[float, float]:
    left, right = piece.length("taper", "left"), piece.length("taper", "right")
    assert left is not None
    assert right is not None
    return left, right


def test_a_bevel_along_the_fence_makes_a_tapered_leg_an_eighth_narrower():
    """60 to 34 at 7 degrees: (60 - 34) tan 7 = 26 x 0.122785 = 3.192 mm."""
    along_the_fence = bevel((1.0, 0.0, 0.0), 58.0)
    assert setting(along_the_fence, TABLE, 3.2).rips
    left, right = widths(tapered().cut("side", along_the_fence))
    assert left == pytest.approx(58.0)
    assert left - right == pytest.approx(3.19, abs=0.005)
    assert left - right == pytest.approx(26 * math.tan(math.radians(7)), abs=1e-9)


def test_with_a_wedge_the_widths_are_the_same_at_both_ends():
    """The wedge lifts the thin end by 26 over 400: then the tapered face lies level."""
    wanted = bevel((LENGTH, 0.0, THIN - THICK), 58.0)
    assert not setting(wanted, TABLE, 3.2).rips
    table = wedged(TABLE, THICK - THIN, LENGTH)
    on_the_wedge = Lie(table=table, reference=TABLE.reference, stop=TABLE.stop)
    assert setting(wanted, on_the_wedge, 3.2).rips
    assert dot(table.normal, TAPER.normal) == pytest.approx(-1.0)
    left, right = widths(tapered().cut("side", wanted))
    assert abs(left - right) < 0.01
    assert left == pytest.approx(58.0)


def test_what_comes_out_without_the_wedge_is_said_in_numbers_at_both_ends():
    wanted = bevel((LENGTH, 0.0, THIN - THICK), 58.0)
    got = fence_cut(wanted, TABLE)
    found = {(slip.face, slip.end): slip for slip in slips(tapered(), wanted, got)}
    at_the_head, at_the_foot = found["left", "taper"], found["right", "taper"]
    assert at_the_head.wanted == pytest.approx(58.0)
    assert at_the_head.out == pytest.approx(0.0, abs=0.001)
    assert at_the_foot.wanted == pytest.approx(58.0)
    # The blade stands at asin(sin 7 cos 3.72), a hair less than 7: the tilt that the plane wanted
    # has on the untapered face.
    assert at_the_foot.out == pytest.approx(-3.19, abs=0.01)


def test_a_wedge_needs_a_stop_for_its_thin_end():
    with pytest.raises(ValueError, match="stop"):
        wedged(Lie(table=TABLE.table, reference=TABLE.reference), 1.0, 100.0)
