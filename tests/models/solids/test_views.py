import pytest
from hypothesis import given, settings

from ground.vectors import X, cross, neg
from models.parts.blank import FACES, Blank, Section
from models.parts.features import TrimKind
from models.parts.views import Arc, Curve, Line
from models.solids.solid import solid
from models.solids.views import VIEWS, line_views
from tests.helpers.hand_made_parts import board, groove, hole, part, splayed_leg, trim
from tests.helpers.parts_strategy import parts

pytestmark = pytest.mark.kernel

RAIL = board(
    100,
    60,
    20,
    hole((30, 30, 20), 10, None),
    hole((60, 25, 20), 8, 12),
    groove((0, 50, 20), X, (100, 6, 5)),
)


def view(made, name):
    (found,) = line_views(solid(made), (name,))
    return found


def outline(length, height):
    return {
        Line((0, 0), (length, 0)),
        Line((0, 0), (0, height)),
        Line((0, height), (length, height)),
        Line((length, 0), (length, height)),
    }


def test_the_usual_views_are_top_front_and_right():
    assert [found.name for found in line_views(solid(RAIL))] == ["top", "front", "right"]


@pytest.mark.parametrize("name", VIEWS)
def test_each_view_looks_straight_at_its_face(name):
    found = view(RAIL, name)
    assert cross(found.right, found.up) == FACES[name]


def test_the_top_shows_circles_and_the_groove():
    """Groove 6 wide about y = 50: lines at 47 and 53; true circles, the through hole's once."""
    found = view(RAIL, "top")
    assert set(found.visible) == {
        *outline(100, 60),
        Line((0, 47), (100, 47)),
        Line((0, 53), (100, 53)),
        Arc((30, 30), 5, 0, 360),
        Arc((60, 25), 4, 0, 360),
    }
    assert found.hidden == ()


def test_the_bottom_hides_what_does_not_come_through():
    found = view(RAIL, "bottom")
    assert Arc((30, -30), 5, 0, 360) in found.visible
    assert Arc((60, -25), 4, 0, 360) in found.hidden
    assert {Line((0, -47), (100, -47)), Line((0, -53), (100, -53))} <= set(found.hidden)


def test_the_front_hides_holes_and_the_grooves_floor():
    """Blind hole 12 deep: floor at z = 8, walls at x = 56 and 64."""
    found = view(RAIL, "front")
    assert set(found.visible) == outline(100, 20)
    assert set(found.hidden) == {
        Line((0, 15), (100, 15)),
        Line((25, 0), (25, 20)),
        Line((35, 0), (35, 20)),
        Line((56, 8), (56, 20)),
        Line((56, 8), (64, 8)),
        Line((64, 8), (64, 20)),
    }


def test_the_right_end_shows_the_groove_as_a_notch_in_its_outline():
    found = view(RAIL, "right")
    assert {Line((47, 15), (47, 20)), Line((47, 15), (53, 15)), Line((0, 20), (47, 20))} <= set(
        found.visible
    )


def test_the_back_is_seen_from_behind():
    """Looking along -y, x runs to the left: the hole at x = 30 stands at u = -30."""
    found = view(RAIL, "back")
    assert found.right == neg(X)
    assert Line((-35, 0), (-35, 20)) in found.hidden


def test_a_mitre_is_a_slanted_line():
    made = board(100, 60, 20, trim((100, 0, 0), (1, 1, 0), TrimKind.MITRE, "m"))
    (slant,) = (
        set(view(made, "top").visible)
        - outline(100, 60)
        - {
            Line((0, 60), (40, 60)),
        }
    )
    assert slant.start == pytest.approx((40, 60))
    assert slant.end == pytest.approx((100, 0))


def test_a_rods_slanted_end_seen_along_the_rod_is_a_circle():
    rod = part(
        Blank(length=50, width=8, thickness=8, section=Section.ROUND), trim((40, 4, 4), (1, 0.3, 0))
    )
    found = view(rod, "right")
    assert [type(stroke) for stroke in found.visible] == [Arc]
    assert found.visible[0].radius == pytest.approx(4, abs=1e-6)
    assert found.hidden == ()


def test_curves_follow_the_true_one_within_a_hundredth():
    """The slanted end of a rod seen from the front: an ellipse 2.4 x 8 about (40, 4)."""
    rod = part(
        Blank(length=60, width=8, thickness=8, section=Section.ROUND), trim((40, 4, 4), (1, 0.3, 0))
    )
    chains = [stroke for stroke in view(rod, "front").visible if isinstance(stroke, Curve)]
    assert chains
    for u, v in (point for chain in chains for point in chain.points):
        assert ((u - 40) / 1.2) ** 2 + ((v - 4) / 4) ** 2 == pytest.approx(1, abs=1e-5)


def test_a_splayed_leg_is_drawn_on_every_side():
    for found in line_views(solid(splayed_leg()), VIEWS):
        assert len(found.visible) > 8


@settings(max_examples=8)
@given(parts())
def test_views_are_as_large_as_the_part(made):
    box = solid(made).BoundingBox()
    found = view(made, "top")
    points = [p for stroke in found.visible for p in places(stroke)]
    assert min(p[0] for p in points) == pytest.approx(box.xmin, abs=0.01)
    assert max(p[0] for p in points) == pytest.approx(box.xmax, abs=0.01)
    assert max(p[1] for p in points) == pytest.approx(box.ymax, abs=0.01)


def places(stroke):
    """Points of a line or a chain; arcs lie inside a board's outline."""
    if isinstance(stroke, Line):
        return (stroke.start, stroke.end)
    return stroke.points if isinstance(stroke, Curve) else ()
