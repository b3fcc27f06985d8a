"""Holes that break into another joint's cut."""

from dataclasses import replace

import pytest

from checks.cuts_meet import find_cuts_meet, own, prism
from checks.placed import Piece, read
from checks.solid_geometry import lump
from ground.findings import Severity
from ground.vectors import along
from models.parts.cuts import Bore
from models.parts.features import Channel, Hole, HoleKind
from models.setting_out.piece import set_out
from tests.helpers.checked import made
from tests.helpers.examples import EXAMPLES, piece, spec

SCREW = 4.0


def bored(aside: float, *, made_by: str = "a hinge", deep: float = 10.0) -> Piece:
    """A case with a hole bored into a side, ``aside`` mm from the middle of the back's groove."""
    asked = made("open: true")
    whole = set_out(asked)
    side = next(part for part in whole.parts if part.name.startswith("side"))
    groove = next(one for one in side.features if isinstance(one, Channel))
    seat = groove.seat
    mouth = along(along(seat.origin, seat.along, 200.0), seat.across, aside)
    hole = Hole(
        kind=HoleKind.PILOT,
        seat=replace(seat, origin=mouth),
        diameter=SCREW,
        depth=deep,
        made_by=made_by,
        id="more",
    )
    parts = tuple(
        replace(part, features=(*part.features, hole)) if part is side else part
        for part in whole.parts
    )
    return read(replace(whole, parts=parts), asked)


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_hole_of_the_examples_breaks_into_a_cut(name):
    assert list(find_cuts_meet(read(piece(name), spec(name)))) == []


def test_a_screw_in_the_groove_is_found_and_half_a_diameter_further_off_it_is_not():
    """The groove is 6 mm wide and the hole 4: they touch at 5 mm between their middles."""
    (mine,) = find_cuts_meet(bored(4.5))
    assert mine.code == "fit.hole_in_cut"
    assert mine.severity is Severity.WARNING
    assert "case.back" in mine.message
    assert mine.at is not None
    assert list(find_cuts_meet(bored(5.2))) == []


def test_how_much_of_a_hole_lies_in_the_groove():
    """In the middle of the groove, 6 mm deep: eight-sided, 0.9003 of a circle of 4 by 6."""
    (mine,) = find_cuts_meet(bored(0.0))
    assert mine.value == pytest.approx(2 * 2**0.5 * 2.0**2 * 6, rel=1e-3)


def test_what_one_joint_bores_into_its_own_cut_is_meant_so():
    assert list(find_cuts_meet(bored(0.0, made_by="case.back"))) == []
    assert own("case.corners.top", "case.joints.top")
    assert not own("case.corners.top", "case.joints.bottom")


def test_the_prism_stays_inside_its_hole():
    bore = Bore(start=(0.0, 0.0, 0.0), into=(0.0, 0.6, -0.8), diameter=10.0, depth=20.0)
    assert lump(prism(bore)).volume == pytest.approx(2 * 2**0.5 * 25 * 20)
