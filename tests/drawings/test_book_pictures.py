"""How the steps are shown: apart, with arrows along their ways and labels clear of one another."""

import re

import pytest

from casewright.book import shown
from drawings.book.eyes import UNDER, arrows, corners, flat, scene, spread
from drawings.book.tags import tags
from exporters.scene_svg import label, meet
from exporters.svg_kit import Paper
from ground.vectors import ORIGIN, angle, dot, neg, norm, sub
from models.parts.part import PartKind
from tests.helpers import examples
from tests.helpers.examples import DEMO

PIECE = examples.piece(DEMO)
STEPS = examples.order(DEMO)
KINDS = {copy.id: PIECE.part(copy.label).kind for copy in PIECE.copies}
LABEL = re.compile(r"<text [^>]*>([A-Z]+\d+)</text>")
RECT = re.compile(r'<rect x="([-\d.]+)" y="([-\d.]+)" width="([\d.]+)" height="([\d.]+)"')


def view(step):
    return shown(step, PIECE)


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.title[:24])
def test_what_moves_is_shown_before_it_is_home(step):
    found = view(step)
    away = dict(scene(found, PIECE).away)
    ways = {name: way for name, way in found.moves if way is not None}
    assert set(away) == set(ways)
    for name, offset in away.items():
        assert angle(neg(ways[name]), offset) == pytest.approx(0.0, abs=1e-6)
        assert norm(offset) > 10.0


def test_loose_pieces_lie_halfway_between_the_halves():
    """The tenons of the legs go along with the legs that they are glued into."""
    (step,) = [step for step in STEPS if step.title.startswith("Legs to")]
    away = dict(scene(view(step), PIECE).away)
    legs = {norm(away[name]) for name in away if KINDS[name] is PartKind.LUMBER}
    tenons = {norm(away[name]) for name in away if KINDS[name] is PartKind.LOOSE}
    assert len(legs) == len(tenons) == 1
    assert min(tenons) == pytest.approx(min(legs) / 2)


def test_dowels_go_down_into_the_bottom_before_the_dividers():
    (step,) = [step for step in STEPS if step.title.startswith("Dividers to")]
    ways = {move.way for move in step.moves if KINDS[move.copy] is PartKind.LOOSE}
    assert ways == {(0.0, 0.0, -1.0)}


def test_shelves_come_in_from_the_front():
    (step,) = [step for step in STEPS if step.title.startswith("Shelves")]
    shelves = [way for name, way in view(step).moves if KINDS[name] is PartKind.SHEET]
    assert shelves == [(0.0, 1.0, 0.0)] * 2


def test_the_base_is_looked_at_from_below():
    (step,) = [step for step in STEPS if step.turned]
    found = scene(view(step), PIECE)
    assert (found.right, found.up) == UNDER


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.title[:24])
def test_arrows_point_along_the_ways(step):
    found = view(step)
    drawn = scene(found, PIECE)
    away = dict(drawn.away)
    boxes = {name: corners(PIECE, name, away.get(name, ORIGIN)) for name, _ in found.moves}
    marks = arrows(found, drawn, boxes, spread(PIECE, (*drawn.standing, *drawn.moving)))
    ways = [flat(way, drawn.right, drawn.up) for _, way in found.moves if way is not None]
    assert 1 <= len(marks) <= len(ways)
    for tail, head in marks:
        u, v = head[0] - tail[0], head[1] - tail[1]
        assert any(abs(u * b - v * a) < 0.02 * abs(u * a + v * b) and u * a + v * b > 0
                   for a, b in ways)  # fmt: skip


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.title[:24])
def test_labels_do_not_cover_one_another(step):
    """As large as the book sets them: every part that moves is named, most of its copies too."""
    found = view(step)
    drawn = scene(found, PIECE)
    names = (*drawn.standing, *drawn.moving)
    away = dict(drawn.away)
    points = [
        flat(point, drawn.right, drawn.up)
        for name in names
        for point in corners(PIECE, name, away.get(name, ORIGIN))
    ]
    left, low = min(u for u, _ in points), min(v for _, v in points)
    scale = min(76.0 / (max(u for u, _ in points) - left), 56.0 / (max(v for _, v in points) - low))
    paper = Paper(scale=scale, left=4.0 - left * scale, floor=60.0 + low * scale)
    wanted = tags(found, drawn, PIECE)
    taken: list[tuple[float, float, float, float]] = []
    said = "".join("".join(label(tag, paper, taken)) for tag in wanted)
    fields = [
        (x, y, x + w, y + h)
        for x, y, w, h in (map(float, match.groups()) for match in RECT.finditer(said))
    ]
    assert len(fields) == len(taken)
    assert len(taken) >= 0.6 * len(wanted)
    assert set(LABEL.findall(said)) >= {t.text for t in wanted if t.marked}, "moving"
    assert not any(meet(a, b) for n, a in enumerate(fields) for b in fields[n + 1 :])


def test_every_part_that_moves_is_named_and_what_it_is_brought_to():
    (step,) = [step for step in STEPS if step.title.startswith("Stretchers")]
    found = view(step)
    said = [(tag.text, tag.marked) for tag in tags(found, scene(found, PIECE), PIECE)]
    assert sorted(said) == [("B3", False), ("B3", False), ("B5", True), ("B5", True)]


def test_a_way_of_the_picture_is_not_that_of_the_joint():
    """A shelf is let down onto its pins, whichever way it is shown to come in."""
    (step,) = [step for step in STEPS if step.title.startswith("Shelves")]
    shelf = next(move for move in step.moves if KINDS[move.copy] is PartKind.SHEET)
    assert shelf.way == (0.0, 0.0, -1.0)
    assert shelf.enters is not None
    assert dot(shelf.way, shelf.enters) == 0.0
    assert norm(sub(shelf.way, shelf.enters)) > 1.0
