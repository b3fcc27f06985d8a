"""The setting-out rod: where it is cut, and that every edge is on a lane with its label."""

import pytest

from drawings.rod import busiest, cuts, lanes, rod, stabbed
from ground.vectors import X, Z, neg
from models.parts.scenes import Crossed
from models.parts.views import Line
from tests.helpers.examples import DEMO, EXAMPLES, piece


def rectangle(left: float, low: float, right: float, high: float) -> tuple[Line, ...]:
    corners = ((left, low), (right, low), (right, high), (left, high))
    return tuple(Line(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_rod_is_cut_plumb_and_level(name):
    normals = {cut.plane.normal for cut in cuts(piece(name))}
    assert normals == {Z, neg(X)}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_opening_is_cut_both_ways(name):
    found = cuts(piece(name))
    for opening in piece(name).openings:
        x, _, z = opening.corner
        level = [cut.plane.offset for cut in found if cut.plane.normal == Z]
        plumb = [-cut.plane.offset for cut in found if cut.plane.normal != Z]
        assert any(z < at < z + opening.height for at in level)
        assert any(x < at < x + opening.width for at in plumb)


def test_spans_that_share_a_stretch_are_cut_once():
    found = stabbed([("1", (0.0, 10.0)), ("2", (4.0, 20.0)), ("3", (30.0, 40.0))])
    assert found == [(("1", "2"), 7.0), (("3",), 35.0)]


def test_the_busiest_place_is_where_the_most_spans_are():
    """0-10 and 5-20 share 5 to 10: the middle is 7.5."""
    assert busiest([(0.0, 10.0), (5.0, 20.0), (30.0, 31.0)]) == 7.5


def test_every_edge_of_every_part_is_a_tick_with_its_label():
    """Two sides 18 wide and a bottom between them: ticks at 0, 18, 482 and 500, and the depth."""
    first = cuts(piece(DEMO))[0]
    crossing = Crossed(
        cut=first,
        lines=(
            ("C3.1", rectangle(0.0, 0.0, 18.0, 400.0)),
            ("C4.1", rectangle(482.0, 0.0, 500.0, 400.0)),
            ("C2.1", rectangle(18.0, 0.0, 482.0, 390.0)),
        ),
    )
    (found,) = rod([crossing], piece(DEMO))
    below = [s for _, s in found.strokes if isinstance(s, Line) and max(s.start[1], s.end[1]) < 0]
    ticks = {s.start[0] for s in below if s.start[0] == s.end[0]}
    assert ticks == {0.0, 18.0, 482.0, 500.0}
    said = [text.text for text in found.texts]
    assert {"C3", "C4", "C2"} <= {word for text in said for word in text.replace(",", "").split()}
    assert "C3, C4" in said  # the same depth is one lane for both


def test_lanes_keep_spans_and_labels_apart():
    from drawings.rod import Edges

    def edge(label: str, low: float, high: float) -> tuple[tuple[float, float], Edges]:
        span = (low, high)
        return span, Edges(label=label, name=label, across=span, along=span, fills=False)

    found = lanes([edge("A", 0.0, 50.0), edge("B", 40.0, 90.0), edge("C", 80.0, 120.0)])
    assert [[name for _, name in lane] for lane in found] == [["A", "C"], ["B"]]


def test_sections_alike_are_drawn_once():
    one, two = cuts(piece(DEMO))[:2]
    lines = (("C3.1", rectangle(0.0, 0.0, 18.0, 400.0)),)
    found = rod([Crossed(cut=one, lines=lines), Crossed(cut=two, lines=lines)], piece(DEMO))
    assert len(found) == 1
    assert found[0].title.startswith(one.name)
