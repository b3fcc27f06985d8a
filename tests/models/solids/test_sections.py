"""Sections through solids: areas worked by hand, holes left free, outlines where they should be."""

import pytest

from ground.vectors import Plane, X, Y, Z, neg
from models.parts.features import Mortise, Seat
from models.parts.views import Region, SectionCut
from models.solids.pictures import Standing, isometric
from models.solids.sections import section
from models.solids.solid import solid
from tests.helpers.hand_made_parts import board, groove, hole

pytestmark = pytest.mark.kernel

ACROSS = {"right": Y, "up": Z}


def area(region: Region) -> float:
    """What a face covers, its holes left out (the shoelace sum)."""
    rings = [
        abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(r, (*r[1:], r[0]), strict=True))) / 2
        for r in region
    ]
    return rings[0] - sum(rings[1:])


def test_a_section_shows_a_groove_in_its_true_shape():
    """200 x 20 less a groove of 6 x 8."""
    part = board(600, 200, 20, groove((0, 150, 20), X, (600, 6, 8)))
    view = section(solid(part), SectionCut(name="A-A", plane=Plane(X, 300.0), **ACROSS))
    assert sum(area(region) for region in view.cut) == pytest.approx(200 * 20 - 6 * 8)
    assert view.hidden == ()


def test_a_section_through_a_hole_leaves_it_free():
    """A bore of 8 across the board, cut along its axis: two faces, 96 and 496 long."""
    part = board(600, 200, 20, hole((100, 40, 20), 8, None))
    cut = SectionCut(name="A-A", plane=Plane(neg(Y), -40.0), right=X, up=Z)
    view = section(solid(part), cut)
    assert sorted(area(region) for region in view.cut) == pytest.approx([96 * 20, 496 * 20])


def test_what_is_before_the_plane_is_gone():
    """Cut at 300: the mortise at 450 has gone with the near half, the one at 150 is not cut."""
    seats = [Seat((x, 0.0, 10.0), X, Y) for x in (150.0, 450.0)]
    part = board(
        600,
        200,
        20,
        *(Mortise(seat=s, length=40, width=8, depth=25, made_by="joint") for s in seats),
    )
    view = section(solid(part), SectionCut(name="A-A", plane=Plane(X, 300.0), **ACROSS))
    assert sum(area(region) for region in view.cut) == pytest.approx(200 * 20)


def test_a_picture_of_a_box_has_its_nine_edges():
    """Seen from a corner: three sides, nine edges."""
    from ground.vectors import Frame

    body = solid(board(600, 200, 20))
    view = isometric([Standing(solid=body, placement=Frame())], "whole")
    assert len(view.visible) == 9
