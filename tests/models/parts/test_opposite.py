"""What two cuts from opposite faces leave between them, against sums done by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.vectors import Vec, X, Y, Z, neg
from models.parts.blank import Blank
from models.parts.features import (
    Channel,
    ChannelKind,
    Feature,
    Hole,
    HoleKind,
    Mortise,
    Seat,
)
from models.parts.opposite import opposed_channels, opposite_holes
from models.parts.part import Part, PartKind, numbered

THICK = 18.0


def panel(*features: Feature) -> Part:
    """A panel 400 x 300 x 18."""
    return Part(
        label="C1",
        name="side",
        kind=PartKind.SHEET,
        material=None,
        blank=Blank(length=400, width=300, thickness=THICK),
        features=numbered(features),
    )


def hole(x: float, y: float, *, top: bool, depth: float | None = 12.0, **more: object) -> Hole:
    """A hole 5 wide from the upper or the lower face."""
    origin: Vec = (x, y, THICK if top else 0.0)
    diameter, by = float(str(more.get("diameter", 5.0))), str(more.get("by", f"{x} {y} {top}"))
    return Hole(
        kind=HoleKind.SHELF_PIN,
        seat=Seat(origin, X, neg(Z) if top else Z),
        diameter=diameter,
        depth=depth,
        made_by=by,
    )


def test_a_pin_12_deep_against_a_screw_8_deep_in_18() -> None:
    """12 + 8 + 2 = 22 > 18: the floors pass one another by 2; 6 apart is less than 1.5 x 5."""
    (found,) = opposite_holes(
        panel(hole(100, 50, top=True), hole(106, 50, top=False, depth=8, diameter=3))
    )
    assert found.depth == pytest.approx(-2.0)
    assert found.plan == pytest.approx(6.0)
    assert found.least == 7.5
    assert found.at == pytest.approx((100.0, 50.0, 7.0))


def test_two_millimetres_in_depth_are_enough() -> None:
    """9 + 7 = 16 leaves 2 of 18; 9 + 7.1 leaves 1.9."""
    kept = panel(hole(100, 50, top=True, depth=9), hole(100, 50, top=False, depth=7))
    assert opposite_holes(kept) == ()
    met = panel(hole(100, 50, top=True, depth=9), hole(100, 50, top=False, depth=7.1))
    assert opposite_holes(met)[0].depth == pytest.approx(1.9)


def test_one_and_a_half_diameters_apart_are_enough() -> None:
    assert opposite_holes(panel(hole(100, 50, top=True), hole(107.5, 50, top=False))) == ()
    assert len(opposite_holes(panel(hole(100, 50, top=True), hole(107.4, 50, top=False)))) == 1


def test_holes_from_one_face_are_not_opposite() -> None:
    assert opposite_holes(panel(hole(100, 50, top=True), hole(104, 50, top=True))) == ()


def test_a_hole_through_and_what_one_fitting_bores_from_both_sides_are_meant() -> None:
    through = panel(hole(100, 50, top=True, depth=None), hole(100, 50, top=False))
    assert opposite_holes(through) == ()
    one = panel(hole(100, 50, top=True, by="latch"), hole(100, 50, top=False, by="latch"))
    assert opposite_holes(one) == ()
    two = panel(hole(100, 50, top=True, by="latch"), hole(100, 50, top=False, by="pull"))
    assert len(opposite_holes(two)) == 1


def test_every_hole_of_a_row_counts() -> None:
    """Rows of five, 32 apart: one that is shifted by a whole pitch meets in four places."""
    row = Hole(
        kind=HoleKind.SHELF_PIN,
        seat=Seat((40.0, 50.0, THICK), X, neg(Z)),
        diameter=5.0,
        depth=12.0,
        made_by="a",
        count=5,
        pitch=32.0,
    )
    other = Hole(
        kind=HoleKind.SHELF_PIN,
        seat=Seat((72.0, 50.0, 0.0), X, Z),
        diameter=5.0,
        depth=12.0,
        made_by="b",
        count=5,
        pitch=32.0,
    )
    assert len(opposite_holes(panel(row, other))) == 4


def mortise(x: float, y: float, *, top: bool, run: Vec, by: str) -> Mortise:
    """A mortise 8 x 40, 10 deep."""
    origin: Vec = (x, y, THICK if top else 0.0)
    seat = Seat(origin, run, neg(Z) if top else Z)
    return Mortise(seat=seat, length=40, width=8, depth=10, made_by=by)


def test_mortises_are_round_ended_bars() -> None:
    """Middle lines 32 long: end to end 40 apart leave 8 between the lines, 12 are wanted."""
    found = opposite_holes(
        panel(mortise(100, 50, top=True, run=X, by="a"), mortise(140, 50, top=False, run=X, by="b"))
    )
    assert found[0].plan == pytest.approx(8.0)
    assert found[0].least == 12.0
    crossed = panel(
        mortise(100, 50, top=True, run=X, by="a"), mortise(100, 55, top=False, run=Y, by="b")
    )
    assert opposite_holes(crossed)[0].plan == 0.0


def dado(x: float, depth: float, *, top: bool) -> Channel:
    """A dado 18 wide right across."""
    origin: Vec = (x, 0.0, THICK if top else 0.0)
    return Channel(
        kind=ChannelKind.DADO,
        seat=Seat(origin, Y, neg(Z) if top else Z),
        length=300,
        width=18,
        depth=depth,
        made_by="divider",
    )


def test_dadoes_back_to_back_take_half_a_panel_at_most() -> None:
    """4 + 5 = 9 is half of 18; 6 + 6 = 12 is not."""
    assert opposed_channels(panel(dado(100, 4, top=True), dado(100, 5, top=False))) == ()
    (found,) = opposed_channels(panel(dado(100, 6, top=True), dado(110, 6, top=False)))
    assert (found.taken, found.thickness, found.most) == (12.0, 18.0, 9.0)
    assert opposed_channels(panel(dado(100, 6, top=True), dado(118, 6, top=False))) == ()
    assert opposed_channels(panel(dado(100, 6, top=True), dado(100, 6, top=True))) == ()


@pytest.mark.parametrize(
    ("deep", "x", "left"),
    [
        (10.0, 100.0, None),  # 10 + 6 leaves 2 of 18
        (10.1, 100.0, 1.9),
        (12.5, 111.4, -0.5),  # 9 + 2.5 = 11.5 from the dado's middle is clear of it
        (12.5, 111.5, None),
        (12.0, 100.0, None),  # bored to come out at the floor, as a screw's way is
    ],
)
def test_a_hole_keeps_2_from_a_dado_in_the_other_face(
    deep: float, x: float, left: float | None
) -> None:
    found = opposite_holes(panel(dado(100, 6, top=True), hole(x, 50, top=False, depth=deep)))
    if left is None:
        assert found == ()
        return
    assert found[0].depth == pytest.approx(left)
    assert "dado" in {str(feature.kind) for feature in found[0].features}


def test_what_one_joint_cuts_from_both_sides_is_meant() -> None:
    screw = hole(100, 50, top=False, depth=11, by="divider")
    assert opposite_holes(panel(dado(100, 6, top=True), screw)) == ()


sizes = st.floats(3.0, 12.0)


@given(sizes, sizes, st.floats(2.0, 16.0), st.floats(2.0, 16.0), st.floats(0.0, 40.0))
def test_holes_are_found_exactly_where_both_rules_are_broken(
    one: float, other: float, deep: float, deeper: float, apart: float
) -> None:
    found = opposite_holes(
        panel(
            hole(100, 50, top=True, depth=deep, diameter=one),
            hole(100 + apart, 50, top=False, depth=deeper, diameter=other),
        )
    )
    least = 1.5 * max(one, other)
    if abs(deep + deeper + 2 - THICK) < 1e-3 or abs(apart - least) < 1e-3:
        return
    assert bool(found) == (deep + deeper + 2 > THICK and apart < least)


def shoulder(*, top: bool, by: str, along: Vec = Y, x: float = 3.0) -> Channel:
    """A rabbet 6 wide and 7 deep at the end x = 0, from the upper or the lower face."""
    start: Vec = (x, 0.0, THICK if top else 0.0) if along == Y else (0.0, 20.0, 0.0)
    seat = Seat(start, along, neg(Z) if top else Z)
    return Channel(
        kind=ChannelKind.RABBET, seat=seat, length=300.0, width=6.0, depth=7.0, made_by=by
    )


def test_the_shoulders_of_one_tongue_are_no_channels_back_to_back() -> None:
    """7 + 7 of 18 leave a tongue of 4; made by two joints they are weighed as before."""
    tongue = panel(shoulder(top=True, by="end"), shoulder(top=False, by="end"))
    assert opposed_channels(tongue) == ()
    (found,) = opposed_channels(panel(shoulder(top=True, by="a"), shoulder(top=False, by="b")))
    assert found.taken == 14.0


def test_a_groove_across_a_tongue_only_notches_it() -> None:
    groove = Channel(
        kind=ChannelKind.GROOVE,
        seat=Seat((0.0, 20.0, 0.0), X, Z),
        length=400.0,
        width=6.0,
        depth=6.0,
        made_by="back",
    )
    assert opposed_channels(panel(shoulder(top=True, by="end"), groove)) == ()
