"""A left and its right: set out from the same edges, one drawn beside the other."""

from dataclasses import replace
from functools import cache

import pytest

from drawings.part_sheet import part_sheet
from drawings.records import Issue, Ordinate, Sheet
from drawings.standing import other_hand, standing
from models.parts.assembly import Assembly
from models.parts.part import Part
from models.parts.views import ISOMETRIC_RIGHT, ISOMETRIC_UP, LineView
from tests.helpers.examples import EXAMPLES, piece, spec
from tests.helpers.flat_views import cube_picture, flat_views
from tests.helpers.sheets import collisions, crossed, texts

TURNED = {"bottom": "top", "back": "front"}
"""The view on the far side shows the same two axes."""


@cache
def pairs_of(name: str) -> list[tuple[Part, Part]]:
    """The pairs of an example."""
    return pairs(piece(name))


def pairs(assembly: Assembly) -> list[tuple[Part, Part]]:
    """Every left with its right."""
    found = [(part, other_hand(assembly, part)) for part in assembly.parts if part.made]
    return [(part, other) for part, other in found if other and part.name.endswith("left")]


WITH_PAIRS = [name for name in EXAMPLES if pairs_of(name)]


@cache
def drawn(name: str, label: str) -> Sheet:
    """The sheet of one hand, the other one beside it."""
    asked, assembly = spec(name), piece(name)
    part = assembly.part(label)
    whole = LineView(
        name="whole", right=ISOMETRIC_RIGHT, up=ISOMETRIC_UP, visible=cube_picture(assembly)
    )
    views = {p.label: flat_views(p) for pair in pairs_of(name) for p in pair}
    return part_sheet(
        part,
        flat_views(part),
        units=asked.units,
        standard=asked.drawings.standard,
        paper=asked.drawings.paper,
        piece=replace(Issue.of(asked), standing=standing(assembly, whole, part.label, views)),
    )


def distances(sheet: Sheet) -> set[tuple[str, str, float]]:
    """Every distance by the view and the axis that it is given along."""
    return {
        (TURNED.get(view.name, view.name), str(d.axis), round(d.measured, 6) + 0.0)
        for view in sheet.views
        for d in view.dimensions
        if isinstance(d, Ordinate)
    }


@pytest.mark.parametrize("name", WITH_PAIRS)
def test_a_left_and_its_right_are_set_out_from_the_same_edges(name):
    for left, right in pairs_of(name):
        assert distances(drawn(name, left.label)) == distances(drawn(name, right.label)), left.label


@pytest.mark.parametrize("name", WITH_PAIRS)
def test_each_hand_names_the_other(name):
    for pair in pairs_of(name):
        for part, other in (pair, pair[::-1]):
            sheet = drawn(name, part.label)
            said = " ".join(text.text for text in texts(sheet))
            assert f"a pair with {other.label}: the same distances, mirrored" in said
            assert collisions(sheet) == []
            assert crossed(sheet) == []


def test_the_other_hand_is_drawn_wherever_there_is_room():
    """All but the sheets that a part at full size fills."""
    hands = [(name, part.label) for name in WITH_PAIRS for pair in pairs_of(name) for part in pair]
    alone = {
        (name, label)
        for name, label in hands
        if not any(view.name == "pair" for view in drawn(name, label).views)
    }
    assert all(drawn(*one).scale.factor >= 1.0 for one in alone)
    assert len(alone) <= len(hands) / 10


def test_a_right_says_from_which_edge_its_distances_count():
    """The right side of the case lies with its other edge to the front."""
    left, right = next(p for p in pairs_of(WITH_PAIRS[-1]) if p[0].name == "side left")
    said = [
        next(t.text for t in texts(drawn(WITH_PAIRS[-1], part.label)) if "distances from" in t.text)
        for part in (left, right)
    ]
    assert said[0] == "distances from the left end, the front edge and the bottom"
    assert said[1] == "distances from the left end, the back edge and the bottom"
