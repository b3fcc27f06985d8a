import math

import pytest

from models.parts.views import Arc, Curve, Line
from models.solids.strokes import tidy


def chain(centre, size, start, end, count=40):
    steps = [math.radians(start + (end - start) * n / count) for n in range(count + 1)]
    return Curve(
        tuple((centre[0] + size[0] * math.cos(a), centre[1] + size[1] * math.sin(a)) for a in steps)
    )


def test_lines_that_overlap_or_meet_become_one():
    lines = [Line((0, 0), (10, 0)), Line((30, 0), (5, 0)), Line((30, 0), (40, 0))]
    assert tidy(lines, []) == ((Line((0, 0), (40, 0)),), ())


def test_lines_apart_on_one_carrier_stay_apart():
    lines = [Line((0, 5), (10, 5)), Line((20, 5), (30, 5))]
    assert tidy(lines, [])[0] == tuple(lines)


def test_a_line_drawn_backwards_is_the_same_line():
    assert tidy([Line((3, 9), (3, 1)), Line((3, 1), (3, 9))], [])[0] == (Line((3, 1), (3, 9)),)


def test_a_visible_line_covers_the_hidden_one_under_it():
    visible, hidden = tidy([Line((10, 0), (20, 0))], [Line((0, 0), (30, 0))])
    assert visible == (Line((10, 0), (20, 0)),)
    assert hidden == (Line((0, 0), (10, 0)), Line((20, 0), (30, 0)))


def test_a_hidden_line_fully_covered_is_gone():
    assert tidy([Line((0, 0), (30, 0))], [Line((1, 0), (29, 0))])[1] == ()


def test_parallel_lines_a_hundredth_apart_are_two():
    lines = [Line((0, 0), (30, 0)), Line((0, 0.01), (30, 0.01))]
    assert tidy(lines, [])[0] == tuple(lines)


def test_two_half_circles_are_one_circle():
    halves = [Arc((5, 5), 3, 0, 180), Arc((5, 5), 3, 180, 360)]
    assert tidy(halves, [])[0] == (Arc((5, 5), 3, 0, 360),)


def test_an_arc_across_the_start_of_its_circle_stays_one():
    assert tidy([Arc((0, 0), 2, 300, 420)], [])[0] == (Arc((0, 0), 2, 300, 420),)
    assert tidy([Arc((0, 0), 2, -60, 60)], [])[0] == (Arc((0, 0), 2, 300, 420),)


def test_a_visible_arc_covers_a_hidden_circle_in_part():
    visible, hidden = tidy([Arc((0, 0), 2, 90, 180)], [Arc((0, 0), 2, 0, 360)])
    assert visible == (Arc((0, 0), 2, 90, 180),)
    assert hidden == (Arc((0, 0), 2, 180, 450),)


def test_a_chain_that_runs_straight_is_a_line():
    assert tidy([Curve(((0, 0), (4, 0), (9, 0), (4, 0)))], [])[0] == (Line((0, 0), (9, 0)),)


@pytest.mark.parametrize(("start", "end"), [(10, 130), (130, 10), (-80, 40)])
def test_a_chain_that_runs_round_is_an_arc(start, end):
    (arc,) = tidy([chain((7, 3), (5, 5), start, end)], [])[0]
    assert isinstance(arc, Arc)
    assert arc.centre == pytest.approx((7, 3))
    assert arc.radius == pytest.approx(5)
    assert arc.end - arc.start == pytest.approx(120)
    assert arc.start == pytest.approx(min(start, end) % 360)


def test_a_chain_round_a_whole_circle_is_a_circle():
    assert tidy([chain((7, 3), (5, 5), 0, 360)], [])[0] == (Arc((7, 3), 5, 0, 360),)


def test_an_ellipse_stays_a_chain_and_covers_its_twin():
    ellipse = chain((0, 0), (5, 3), 0, 90)
    visible, hidden = tidy([ellipse], [Curve(tuple(reversed(ellipse.points)))])
    assert [type(stroke) for stroke in visible] == [Curve]
    assert hidden == ()


def test_specks_are_dropped():
    assert tidy([Line((0, 0), (0, 1e-4)), Curve(((0, 0), (1e-5, 0)))], []) == ((), ())
