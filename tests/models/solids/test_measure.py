import math

import pytest
from hypothesis import given, settings

from ground.errors import BuildError
from ground.vectors import Plane, X, Y, Z, angle, neg
from models.parts.blank import Blank, Section
from models.parts.cuts import Profile
from models.parts.features import Mortise, Seat, TrimKind, Waste, WasteKind
from models.solids.measure import exact_box, measure
from models.solids.solid import solid
from tests.helpers.hand_made_parts import (
    board,
    box_bite,
    ease,
    groove,
    hole,
    part,
    splayed_leg,
    trim,
)
from tests.helpers.parts_strategy import parts

pytestmark = pytest.mark.kernel


def measured(made):
    return measure(solid(made), made)


def named(made):
    return {face.name: face for face in measured(made).faces}


def test_a_plain_board_shows_its_six_faces():
    faces = named(board(300, 80, 20))
    assert list(faces) == ["bottom", "top", "front", "back", "left", "right"]
    assert faces["top"].plane == Plane(Z, 20.0)
    assert faces["left"].plane == Plane(neg(X), 0.0)
    assert {face.made_by for face in faces.values()} == {None}


def test_a_groove_shows_its_floor_and_both_walls():
    """A groove 6 wide and 9 deep at y = 40: walls at 37 and 43, floor at 11, ends open."""
    faces = named(board(300, 80, 20, groove((0, 40, 20), X, (300, 6, 9))))
    assert set(faces) - set(named(board(300, 80, 20))) == {
        "groove-1.floor",
        "groove-1.wall-a",
        "groove-1.wall-b",
    }
    assert faces["groove-1.floor"].plane == Plane(Z, 11.0)
    assert sorted(
        (
            faces[f"groove-1.wall-{side}"].plane.normal[1],
            faces[f"groove-1.wall-{side}"].plane.offset,
        )
        for side in "ab"
    ) == [(-1.0, -43.0), (1.0, 37.0)]
    assert faces["groove-1.floor"].made_by == "test"


def test_a_stopped_groove_shows_its_end():
    faces = named(board(300, 80, 20, groove((20, 40, 20), X, (280, 6, 9))))
    assert faces["groove-1.end-a"].plane == Plane(X, 20.0)
    assert "groove-1.end-b" not in faces


def test_a_plane_that_is_parted_by_a_groove_comes_once():
    faces = measured(board(300, 80, 20, groove((0, 40, 20), X, (300, 6, 9)))).faces
    assert len({(face.plane.normal, face.plane.offset) for face in faces}) == len(faces) == 9


def test_a_row_of_holes_has_one_floor():
    faces = named(board(300, 80, 20, hole((40, 37, 20), 5, 12, count=7, pitch=32)))
    assert faces["shelf-pin-hole-1.floor"].plane == Plane(Z, 8.0)
    assert len(faces) == 7


def test_a_trim_shows_by_its_own_id():
    faces = named(board(300, 80, 20, trim((280, 0, 0), (1, 0, 1), TrimKind.MITRE, "mitre")))
    assert angle(faces["mitre"].plane.normal, X) == pytest.approx(45, abs=1e-9)
    assert faces["mitre"].made_by == "test"


def test_a_mortise_shows_floor_and_flat_sides():
    mortise = Mortise(
        seat=Seat((100, 0, 15), X, Y), length=50, width=8, depth=25, made_by="joint", id="m"
    )
    faces = named(board(200, 60, 30, mortise))
    assert faces["m.floor"].plane == Plane(neg(Y), -25.0)
    heights = sorted(faces[f"m.wall-{side}"].plane.offset for side in "ab")
    assert heights == pytest.approx([-19.0, 11.0])
    assert faces["m.wall-a"].made_by == "joint"


def test_a_chamfer_shows_its_flat():
    faces = named(board(100, 60, 20, ease("top", "front", 3, Profile.CHAMFER)))
    flat = faces["chamfer-1.wall"].plane
    assert angle(flat.normal, Z) == pytest.approx(45, abs=1e-9)
    assert flat.offset == pytest.approx(17 / math.sqrt(2), abs=1e-9)


def test_the_splayed_legs_angles_are_read_from_its_faces():
    faces = named(splayed_leg())
    outer = angle(faces["outer-side"].plane.normal, faces["outer-front"].plane.normal)
    inner = angle(faces["inner-side"].plane.normal, faces["outer-front"].plane.normal)
    assert outer == pytest.approx(89.3748, abs=5e-5)
    assert 180 - inner == pytest.approx(88.8313, abs=5e-5)
    assert {f"mortise-{n}.{w}" for n in (1, 2) for w in ("floor", "wall-a", "wall-b")} <= set(faces)


def test_a_wall_left_behind_an_open_side_names_the_cut():
    """The mouth is said to be open 5 mm under the face: a skin of wood stays over it."""
    made = board(300, 80, 20, groove((0, 40, 15), X, (300, 6, 9)))
    with pytest.raises(BuildError, match=r"T1 part: groove-1: .* behind its open side"):
        measured(made)


def test_a_face_that_no_cut_leaves_is_an_error():
    plain, cut = board(300, 80, 20), board(300, 80, 20, groove((0, 40, 20), X, (300, 6, 9)))
    with pytest.raises(BuildError, match=r"T1 part: faces: .* left by no cut"):
        measure(solid(cut), plain)


def test_an_unnamed_plane_in_the_wood_is_an_error():
    """A bite with an open side that is not open."""
    bite = Waste(
        kind=WasteKind.NOTCH,
        planes=(("a", Plane(X, 100.0)), ("", Plane(neg(X), -50.0)), ("b", Plane(neg(Z), -12.0))),
        made_by="test",
        id="bite",
    )
    with pytest.raises(BuildError, match="T1 part: bite:"):
        measured(board(300, 80, 20, bite))


@pytest.mark.parametrize(
    ("made", "size"),
    [
        (board(300, 80, 20), (300, 80, 20)),
        (board(1680.5, 412, 19.05, hole((40, 37, 19.05), 5, 12)), (1680.5, 412, 19.05)),
        (part(Blank(length=50, width=8, thickness=8, section=Section.ROUND)), (50, 8, 8)),
        (part(Blank(length=50, width=30, thickness=8, section=Section.ROUND_EDGED)), (50, 30, 8)),
        (board(300, 60, 12, ease("top", "front", 6), ease("bottom", "front", 6)), (300, 60, 12)),
        (board(300, 60, 20, box_bite((290, 0, 0), (300, 60, 20), 1, -2, 2, -3, 3)), (290, 60, 20)),
    ],
)
def test_the_box_is_exact(made, size):
    assert measured(made).size == pytest.approx(size, abs=1e-9)


def test_the_box_of_a_slanted_rod_reaches_to_the_ellipse():
    """Diameter 8, plane through (40, 4, 4) falling 0.5 in 1 across y: the tip is 2 mm further."""
    rod = Blank(length=60, width=8, thickness=8, section=Section.ROUND)
    made = part(rod, trim((40, 4, 4), (1, 0.5, 0)))
    assert measured(made).box[1][0] == pytest.approx(42, abs=1e-9)


def test_the_box_of_a_tilted_ellipse_lies_between_its_axes():
    """The plane x + 0.3 y + 0.4 z: the rim rises 4 sqrt(0.3^2 + 0.4^2) = 2 above the axis."""
    rod = Blank(length=60, width=8, thickness=8, section=Section.ROUND)
    made = part(rod, trim((40, 4, 4), (1, 0.3, 0.4)))
    assert measured(made).box[1][0] == pytest.approx(42, abs=1e-9)


def test_the_box_of_an_odd_curve_is_sought():
    """A rod bored through across: the bore's rim is no conic; a hole 6 wide leaves x to 23..37."""
    rod = Blank(length=60, width=8, thickness=8, section=Section.ROUND)
    made = part(rod, hole((30, 4, 8), 6, None))
    low, high = exact_box(solid(made).wrapped)
    assert low == pytest.approx((0, 0, 0), abs=1e-6)
    assert high == pytest.approx((60, 8, 8), abs=1e-6)


@settings(max_examples=15)
@given(parts())
def test_every_plane_of_any_part_has_a_name_and_bounds_it(made):
    found = measured(made)
    (x0, y0, z0), (x1, y1, z1) = found.box
    names = [face.name for face in found.faces]
    assert len(set(names)) == len(names)
    for face in found.faces:
        corners = [
            face.plane.height((x, y, z)) for x in (x0, x1) for y in (y0, y1) for z in (z0, z1)
        ]
        assert min(corners) <= 1e-6
        assert max(corners) >= -1e-6
