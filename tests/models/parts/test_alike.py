"""Parts alike by rotation are one part; mirror images are a left and a right."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.vectors import Frame, Vec, X, Y, Z, neg, norm, sub
from models.parts.alike import same_under, turned, turns
from models.parts.blank import Blank, Grain
from models.parts.features import Hole, HoleKind, Seat
from models.parts.part import Part, PartKind

BOARD = Blank(length=400.0, width=100.0, thickness=20.0)


def bored(*places: tuple[float, float], blank: Blank = BOARD, through: bool = False) -> Part:
    """A board with a blind (or through) hole in its top at each of ``places``."""
    return Part(
        label="",
        name="board",
        kind=PartKind.LUMBER,
        material=None,
        blank=blank,
        features=tuple(
            Hole(
                kind=HoleKind.PIN,
                seat=Seat((x, y, blank.thickness), X, neg(Z)),
                diameter=5.0,
                depth=None if through else 10.0,
                made_by="test",
            )
            for x, y in places
        ),
    )


@pytest.mark.parametrize(
    ("size", "count"), [((3.0, 2.0, 1.0), 4), ((3.0, 1.0, 1.0), 8), ((1.0, 1.0, 1.0), 24)]
)
def test_a_box_has_as_many_turns_as_its_symmetry_says(size: Vec, count: int) -> None:
    blank = Blank(length=size[0], width=size[1], thickness=size[2], grain=Grain.NONE)
    assert len(list(turns(blank))) == count
    assert len(list(turns(blank, mirrored=True))) == count


def test_grain_keeps_the_length_of_a_cube() -> None:
    cube = Blank(length=1.0, width=1.0, thickness=1.0, grain=Grain.LENGTH)
    assert len(list(turns(cube))) == 8


def test_a_board_turned_end_for_end_is_the_same_part() -> None:
    assert same_under(bored((50, 30)), bored((350, 70))) is not None


def test_a_mirror_image_is_another_part() -> None:
    one, other = bored((50, 30)), bored((50, 70))
    assert same_under(one, other) is None
    assert same_under(one, other, mirrored=True) is not None


def test_a_through_hole_may_be_bored_from_either_side() -> None:
    one, other = bored((50, 30), through=True), bored((50, 70), through=True)
    assert same_under(one, other) is not None


def test_another_depth_is_another_part() -> None:
    one = bored((50, 30))
    (hole,) = one.features
    assert isinstance(hole, Hole)
    deeper = replace(one, features=(replace(hole, depth=11.0),))
    assert same_under(one, deeper) is None
    assert same_under(one, deeper, mirrored=True) is None


def test_a_show_face_is_part_of_the_part() -> None:
    one = replace(bored((200, 50), through=True), show="top")
    assert same_under(one, replace(one, show="front")) is None


places = st.tuples(st.floats(10, 390), st.floats(10, 90))


@given(st.lists(places, min_size=1, max_size=4), st.integers(0, 3))
def test_a_turned_copy_stands_where_the_other_stood(
    holes: list[tuple[float, float]], turn: int
) -> None:
    """Turn the board about its centre, describe it anew in its own axes, and find it again.

    Half the turns lay the top face down; those boards are bored from the bottom.
    """
    rows = list(turns(BOARD))[turn]
    one = bored(*holes)
    move = Frame(rows[0], rows[1])
    centre = BOARD.centre
    about = Frame(rows[0], rows[1], sub(centre, move.direction(centre)))
    other = replace(one, features=tuple(f.moved(about) for f in one.features))
    found = same_under(one, other)
    assert found is not None
    placement = Frame(Y, neg(X), (7.0, 8.0, 9.0))
    stands = turned(placement, found, BOARD)
    ours = sorted(_rounded(stands.point(f.seat.origin)) for f in one.features)  # type: ignore[union-attr]
    theirs = sorted(_rounded(placement.point(f.seat.origin)) for f in other.features)  # type: ignore[union-attr]
    assert all(norm(sub(a, b)) < 1e-6 for a, b in zip(ours, theirs, strict=True))


def _rounded(p: Vec) -> Vec:
    return (round(p[0], 6), round(p[1], 6), round(p[2], 6))
