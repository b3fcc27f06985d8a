"""Holes of one panel: opposite, side by side, and one into the edge behind another."""

import pytest

from ground.vectors import Vec, X, Y, Z, neg
from models.parts.features import Channel, ChannelKind, Hole, HoleKind, Seat
from models.parts.part import PartKind
from models.setting_out.draft import Box, Draft, blank, lying
from models.setting_out.drilling import first_clear, meeting


def panel(*holes: Hole) -> Draft:
    """A panel 18 thick in X from 0, 400 deep and 600 high, with ``holes`` (piece axes) in it."""
    size, frame = lying(Box((0.0, 0.0, 0.0), (18.0, 400.0, 600.0)), length=Z, up=X)
    draft = Draft(
        key="panel",
        letter="C",
        name="panel",
        group=("case",),
        kind=PartKind.SHEET,
        material="ply",
        blank=blank(size),
        frame=frame,
    )
    draft.features.extend(hole.moved(frame.inverse()) for hole in holes)
    return draft


def hole(mouth: Vec, into: Vec, along: Vec, *, diameter: float = 5.0, depth: float = 12.0) -> Hole:
    """One hole, in piece axes."""
    return Hole(
        kind=HoleKind.FITTING,
        seat=Seat(mouth, along, into),
        diameter=diameter,
        depth=depth,
        made_by="test",
    )


def from_left(y: float, z: float, depth: float = 12.0) -> Hole:
    """A hole 5 across from the left face."""
    return hole((0.0, y, z), X, Z, depth=depth)


def from_right(y: float, z: float, depth: float = 12.0) -> Hole:
    """A hole 5 across from the right face."""
    return hole((18.0, y, z), neg(X), Z, depth=depth)


@pytest.mark.parametrize(
    ("depth", "aside", "meets"),
    [
        (4.0, 0.0, False),  # 12 + 4 + 2 = 18
        (4.1, 0.0, True),  # 18.1
        (12.0, 7.4, True),  # 1.5 x 5 = 7.5
        (12.0, 7.5, False),
    ],
)
def test_opposite_holes_want_two_in_depth_or_one_and_a_half_diameters(
    depth: float, aside: float, *, meets: bool
) -> None:
    found = meeting(panel(from_left(100.0, 300.0)), from_right(100.0, 300.0 + aside, depth))
    assert (found is not None) is meets


@pytest.mark.parametrize(("apart", "meets"), [(6.9, True), (7.0, False)])
def test_holes_side_by_side_leave_two_between_their_walls(apart: float, *, meets: bool) -> None:
    found = meeting(panel(from_left(100.0, 300.0)), from_left(100.0 + apart, 300.0))
    assert (found is not None) is meets


@pytest.mark.parametrize(("low", "meets"), [(8.0, True), (20.0, True), (30.0, False)])
def test_a_dowel_in_the_panels_end_is_met_as_well(low: float, *, meets: bool) -> None:
    """A dowel hole 8 across, 19 deep from the lower end, in the middle of 18: X 5 to 13.

    A hole 12 deep reaches X 12. Beside it, or 1 above its floor, they meet; 11 above they do not.
    """
    dowel = hole((9.0, 100.0, 0.0), Z, Y, diameter=8.0, depth=19.0)
    assert (meeting(panel(dowel), from_left(100.0, low)) is not None) is meets


@pytest.mark.parametrize(
    ("deep", "z", "meets"), [(5.9, 300.0, False), (6.1, 300.0, True), (12.0, 311.5, False)]
)
def test_a_dado_in_the_other_face_is_met_as_well(deep: float, z: float, *, meets: bool) -> None:
    """18 wide and 10 deep of 18: 6 leave 2; 9 + 2.5 = 11.5 above its middle a hole is clear."""
    housing = Channel(
        kind=ChannelKind.DADO,
        seat=Seat((0.0, 0.0, 300.0), Y, X),
        length=400.0,
        width=18.0,
        depth=10.0,
        made_by="shelf",
    )
    draft = panel()
    draft.features.append(housing.moved(draft.frame.inverse()))
    assert (meeting(draft, from_right(100.0, z, deep)) is not None) is meets


def test_a_row_is_looked_at_hole_by_hole() -> None:
    rows = Hole(
        kind=HoleKind.SHELF_PIN,
        seat=Seat((0.0, 100.0, 100.0), Z, X),
        diameter=5.0,
        depth=12.0,
        made_by="test",
        count=8,
        pitch=32.0,
    )
    draft = panel(rows)
    met = meeting(draft, from_right(100.0, 100.0 + 5 * 32.0))
    assert met is not None
    assert draft.frame.point(met[0].mouth) == pytest.approx((0.0, 100.0, 260.0))
    assert meeting(draft, from_right(100.0, 100.0 + 5.5 * 32.0)) is None


def test_the_first_place_that_is_clear_is_taken() -> None:
    draft = panel(from_left(100.0, 300.0))
    tries = [from_right(100.0, 300.0), from_right(102.0, 300.0), from_right(132.0, 300.0)]
    assert first_clear(draft, tries) is tries[2]
    assert first_clear(draft, tries[:2]) is None
