import math

import numpy as np
import pytest

from ground.errors import BuildError
from ground.vectors import Plane, X, Y, Z, neg, norm, sub
from models.parts.blank import Blank
from models.parts.features import TrimKind
from models.solids.base import Arris, Polyhedron, convex, convex_base
from tests.helpers.hand_made_parts import board, splayed_leg, trim


def meeting(body: Polyhedron, first: str, second: str) -> Arris:
    found = body.arris(first, second)
    assert found is not None
    return found


def test_a_board_without_trims_is_its_blank():
    body = convex_base(board(300, 80, 20))
    assert body.volume() == pytest.approx(300 * 80 * 20, rel=1e-12)
    assert len(body.points) == 8
    assert len(body.arrises()) == 12
    assert {arris.dihedral for arris in body.arrises()} == {90.0}


def test_a_mitre_exactly_through_the_arris_drops_the_end_face():
    """100 x 50 x 20 less the wedge 35 x 50 / 2 x 20: 100,000 - 17,500."""
    body = convex_base(board(100, 50, 20, trim((100, 0, 0), (1.0, 0.7, 0.0), named="mitre")))
    assert body.volume() == pytest.approx(82_500, rel=1e-12)
    assert "right" not in body.loops
    assert body.arris("right", "front") is None
    assert meeting(body, "mitre", "front").dihedral == pytest.approx(
        math.degrees(math.atan2(1, 0.7)), abs=1e-9
    )


def test_a_plane_that_only_touches_is_dropped():
    body = convex_base(board(100, 50, 20, trim((100, 50, 20), (1, 1, 1), named="idle")))
    assert set(body.loops) == {"bottom", "top", "front", "back", "left", "right"}


def test_a_plane_on_a_blank_face_goes_by_the_faces_name():
    body = convex_base(board(100, 50, 20, trim((100, 0, 0), X, TrimKind.END, "end")))
    assert "end" not in body.loops
    assert meeting(body, "end", "top").between in {("top", "right"), ("right", "top")}


def test_nothing_left_names_the_trim_that_takes_the_last():
    part = board(
        100, 50, 20, trim((60, 0, 0), X, named="first"), trim((70, 0, 0), neg(X), named="second")
    )
    with pytest.raises(BuildError, match="T1 part: second: nothing is left of the part"):
        convex_base(part)


def test_planes_that_do_not_close_are_an_error():
    planes = Blank(length=10, width=10, thickness=10).planes()
    del planes["top"]
    with pytest.raises(BuildError, match="do not close"):
        convex(planes)


def test_no_space_inside_is_none():
    planes = Blank(length=10, width=10, thickness=10).planes()
    assert convex(planes | {"all": Plane(Z, -1.0)}) is None
    assert convex(planes | {"flat": Plane(Z, 0.0)}) is None


def test_the_splayed_leg_has_the_worked_angles_and_arris():
    """Design's numbers: outer faces meet at 89.3748, inner side and outer front at 88.8313.

    The first is the angle between the normals (the faces lean apart, 90.6252 inside the wood).
    """
    body = convex_base(splayed_leg(facet=0, ease_by=0, deep=0))
    outer = meeting(body, "outer-side", "outer-front")
    assert 180 - outer.dihedral == pytest.approx(89.3748, abs=5e-5)
    assert norm(sub(outer.end, outer.start)) == pytest.approx(192.8266, abs=5e-5)
    assert meeting(body, "inner-side", "outer-front").dihedral == pytest.approx(88.8313, abs=5e-5)


def test_the_splayed_legs_inner_slopes_follow_taper_and_splay():
    """atan(tan 9 + 28/190) = 17.0012 and atan(tan 4 + 28/190) = 12.2595 from upright."""
    planes = convex_base(splayed_leg(facet=0, ease_by=0, deep=0)).planes
    side, front = planes["inner-side"].normal, planes["inner-front"].normal
    assert math.degrees(math.atan2(-side[0], side[1])) == pytest.approx(17.0012, abs=5e-5)
    assert math.degrees(math.atan2(-front[0], front[2])) == pytest.approx(12.2595, abs=5e-5)


def test_the_facet_is_as_wide_as_asked():
    body = convex_base(splayed_leg(facet=12, ease_by=0, deep=0))
    ends = [meeting(body, "facet", name) for name in ("outer-side", "outer-front")]
    start, end = ends[0].start, ends[0].end
    run = tuple((b - a) / norm(sub(end, start)) for a, b in zip(start, end, strict=True))
    arm = sub(ends[1].start, start)
    along = sum(a * b for a, b in zip(arm, run, strict=True))
    assert math.sqrt(norm(arm) ** 2 - along**2) == pytest.approx(12, abs=1e-9)


@pytest.mark.parametrize("tilt", [1e-4, 0.01, 1.0, 89.0])
def test_a_slight_bevel_is_as_good_as_a_steep_one(tilt):
    """The bevel turns about the board's lower right arris; a prism of the triangle comes off."""
    slope = math.tan(math.radians(tilt))
    body = convex_base(board(1680, 412, 20, trim((1680, 0, 0), (1.0, 0.0, slope), named="bevel")))
    reach = min(20 * slope, 1680)
    off = reach * 20 / 2 if reach < 1680 else 1680 * 20 - 1680 * (1680 / slope) / 2
    assert body.volume() == pytest.approx((1680 * 20 - off) * 412, rel=1e-12)


def test_loops_turn_counter_clockwise_seen_from_outside():
    body = convex_base(board(100, 50, 20, trim((90, 0, 0), (1.0, 0.2, 0.3))))
    for name, loop in body.loops.items():
        a, b, c = (body.points[place] for place in loop[:3])
        turn = np.cross(b - a, c - b)
        assert turn @ body.planes[name].normal > 0


def test_too_few_planes_for_a_corner_hold_nothing():
    assert convex({"a": Plane(X, 1), "b": Plane(neg(X), 0), "c": Plane(Y, 1)}) is None
