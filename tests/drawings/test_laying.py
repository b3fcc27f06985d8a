"""The edge that a template is laid on for the angle that it gives, on the sheet and on paper."""

import math

import pytest

from drawings.laying import laid, lying_edge, shaped_outlines
from drawings.loops import Loop
from drawings.templates import of_part
from ground.quantities import Units
from models.parts.features import Trim
from tests.helpers.examples import EXAMPLES, piece
from tests.helpers.hand_made_parts import board, splayed_leg, trim
from tests.helpers.sheets import iso, texts

TAPERED = board(300, 80, 20, trim((0, 80, 0), (20, 300, 0)))
"""Narrower at the right end by 20 over 300: the front edge stays straight."""


def test_a_taper_is_laid_on_the_straight_edge():
    (one,) = [found for found in laid(TAPERED) if found.face == "top"]
    assert one.edge == "front"
    assert [t.id for t in one.trims] == ["mitre-1"]


def test_the_template_gives_the_angle_from_the_edge_that_it_is_laid_on():
    """Its slanted edge stands atan(20/300) off the straight one."""
    (_, _, outline) = next(one for one in shaped_outlines(TAPERED) if one[0] == "top")
    assert isinstance(outline, Loop)
    points = outline.points
    slopes = [
        abs(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))) % 90.0
        for a, b in zip(points, (*points[1:], points[0]), strict=True)
    ]
    wanted = math.degrees(math.atan2(20, 300))
    assert any(min(slope, 90.0 - slope) == pytest.approx(wanted, abs=1e-6) for slope in slopes)


def test_a_square_part_has_no_template_to_lay():
    assert laid(board(300, 80, 20)) == ()


def test_a_mitre_is_laid_on_the_longer_face_that_it_runs_from():
    """The bottom is longer than the top, so an edge template lies on the bottom."""
    faces = {one.face: one.edge for one in laid(board(600, 100, 20, trim((600, 0, 0), (1, 0, 1))))}
    assert faces == {"front": "bottom", "back": "bottom"}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_template_with_an_angle_says_its_edge_on_both_papers(name):
    for part in piece(name).parts:
        found = laid(part)
        if not found:
            continue
        titles = [one.title for one in of_part(part, Units.MM)]
        for one in found:
            mine = [title for title in titles if f", {one.face}" in title]
            assert mine, (part.label, one.face)
            assert all(title.endswith(f", laid on the {one.edge}") for title in mine)


def test_the_sheet_of_a_leg_names_its_templates():
    said = " ".join(text.text for text in texts(iso(splayed_leg())))
    for one in laid(splayed_leg()):
        assert f"the {one.face}" in said
        assert f"laid on the {one.edge}" in " ".join(said.split())
    assert laid(splayed_leg())


def test_every_slanted_cut_of_a_leg_is_an_edge_of_some_template():
    given = {t.id for one in laid(splayed_leg()) for t in one.trims}
    slanted = {
        f.id
        for f in splayed_leg().features
        if isinstance(f, Trim) and max(map(abs, f.plane.normal)) < 1 - 1e-9
    }
    assert given
    assert given <= slanted
    assert all(lying_edge(frame, outline) for _, frame, outline in shaped_outlines(splayed_leg()))
