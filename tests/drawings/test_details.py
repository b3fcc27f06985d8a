"""What is too small or hidden is drawn once more: details, sections of sockets."""

from dataclasses import replace

import pytest

from drawings.part_sheet import part_sheet
from drawings.records import Issue, Sheet
from drawings.sections import SEEN, hidden_features, wanted_cuts
from ground.quantities import Units
from ground.vectors import X, Y, Z
from models.parts.features import Channel, ChannelKind, Seat, Waste, WasteKind
from models.parts.part import Part
from models.parts.views import Arc, LineView
from specs.spec import Paper, Standard
from tests.helpers.examples import EXAMPLES, piece
from tests.helpers.flat_views import flat_views
from tests.helpers.hand_made_parts import board, hole
from tests.helpers.sheets import collisions, crossed, texts


def drawn(part: Part, views: tuple[LineView, ...] | None = None) -> Sheet:
    return part_sheet(
        part,
        flat_views(part) if views is None else views,
        units=Units.MM,
        standard=Standard.ISO,
        paper=Paper.A3,
        piece=Issue(piece="Test piece"),
    )


def slot(x: float, width: float, length: float) -> Channel:
    """A stopped slot in the top, ``width`` x ``length`` (mm)."""
    return Channel(
        seat=Seat((x, 150.0, 20.0), X, (0.0, 0.0, -1.0)),
        kind=ChannelKind.RABBET,
        length=length,
        width=width,
        depth=5.0,
        made_by="test",
    )


def details(sheet: Sheet) -> list[str]:
    return [view.name for view in sheet.views if view.name.startswith("detail")]


def test_a_feature_under_3_mm_on_paper_has_a_detail_in_which_it_is_larger():
    """4 wide in a board 1500 long: 0.8 at 1:5, 8 at 2:1 or 4 at 1:1."""
    sheet = drawn(board(1500, 300, 20, slot(400, 4, 30)))
    assert sheet.scale.factor == 0.2
    assert details(sheet) == ["detail D"]
    detail = next(view for view in sheet.views if view.name == "detail D")
    assert 4 * sheet.scale.factor * detail.by >= SEEN
    said = [text.text for text in texts(sheet)]
    assert "D" in said
    assert any(text.startswith("D (") for text in said)
    assert collisions(sheet) == []
    assert crossed(sheet) == []


def test_the_circle_of_a_detail_goes_round_its_feature():
    sheet = drawn(board(1500, 300, 20, slot(400, 4, 30)))
    (circle,) = [
        stroke
        for view in sheet.views
        if view.name == "circle D"
        for _, stroke in view.strokes
        if isinstance(stroke, Arc)
    ]
    u, v = circle.centre
    assert v == pytest.approx(150)
    assert abs(u - 400) < circle.radius  # the slot's near end is in it, and both of its walls
    assert circle.radius > 2


def test_a_feature_large_enough_on_paper_has_no_detail():
    assert details(drawn(board(1500, 300, 20, slot(400, 40, 60)))) == []


def test_a_round_hole_has_no_detail():
    assert details(drawn(board(1500, 300, 20, hole((400, 150, 20), 5, 12)))) == []


def test_features_that_are_alike_have_one_detail():
    two = board(1500, 300, 20, slot(400, 4, 30), replace(slot(900, 4, 30), id="second"))
    assert len(details(drawn(two))) == 1


def sockets(part: Part) -> list[Waste]:
    return [f for f in part.features if isinstance(f, Waste) and f.kind is WasteKind.SOCKET]


def test_a_blind_dovetail_socket_is_cut_through_across_its_tails():
    """The plane is square to the width, through the middle of the first socket."""
    found = 0
    for name in EXAMPLES:
        for part in piece(name).parts:
            blind = [h for h in hidden_features(part) if set(h.ids) & {f.id for f in sockets(part)}]
            for hidden in blind:
                found += 1
                assert hidden.run in (X, Y, Z)
                cut = next(c for c in wanted_cuts(part) if c.plane.height(hidden.at) == 0.0)
                assert abs(sum(a * b for a, b in zip(cut.plane.normal, hidden.run, strict=True)))
    assert found > 0
