"""A workpiece after each cut: volumes worked by hand, faces and edges that a rule could measure."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.vectors import Plane, X, Y, Z, dot, neg, norm, unit
from models.parts.blank import Blank
from planning.saw.workpiece import Workpiece, block

BOARD = Blank(length=100.0, width=60.0, thickness=20.0)


def board() -> Workpiece:
    return block(BOARD.planes(), BOARD.size)


def test_a_blank_has_six_faces_twelve_edges_and_its_volume():
    piece = board()
    assert len(piece.faces) == 6
    assert len(piece.edges) == 12
    assert piece.volume == pytest.approx(100 * 60 * 20)
    assert piece.length("top", "front") == pytest.approx(100)
    assert piece.length("top", "bottom") is None


def test_a_mitred_end_takes_half_a_square_prism():
    """45 degrees through 20 of thickness, 60 wide: 20 x 20 / 2 x 60 = 12000."""
    piece = board().cut("mitre", Plane.through((100.0, 0.0, 0.0), unit((1.0, 0.0, 1.0))))
    assert piece.volume == pytest.approx(120_000 - 12_000)
    assert "right" not in piece.by_name
    assert piece.length("mitre", "front") == pytest.approx(20 * math.sqrt(2))


def test_a_cut_that_takes_nothing_leaves_the_piece_as_it_is():
    piece = board()
    assert piece.misses(Plane(X, 100.0))
    assert piece.cut("square", Plane(X, 100.0)) is piece


def test_a_cut_that_takes_everything_leaves_nothing():
    assert board().cut("all", Plane(X, -1.0)).gone


normals = st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda v: norm(v) > 0.2).map(unit)


@given(st.lists(st.tuples(normals, st.floats(0.2, 0.95)), min_size=1, max_size=6))
def test_cuts_and_offcuts_add_up_and_faces_look_outward(cuts):
    piece = board()
    for place, (normal, share) in enumerate(cuts):
        low, high = piece.span(normal)
        plane = Plane(normal, low + (high - low) * share)
        kept, offcut = piece.cut(f"cut {place}", plane), piece.cut("cut", plane.flipped())
        assert kept.volume + offcut.volume == pytest.approx(piece.volume, rel=1e-6, abs=1e-3)
        piece = kept
    for face in piece.faces:
        assert dot(unit(face.area_vector), face.plane.normal) == pytest.approx(1.0, abs=1e-4)
        assert max(face.plane.height(corner) for corner in piece.corners) < 1e-4
    # Euler: corners - edges + faces = 2, each edge shared by two faces
    assert len(piece.edges) >= len(piece.faces) + 2


def test_the_size_of_a_piece_is_measured_in_any_direction():
    assert board().size(unit((1.0, 1.0, 0.0))) == pytest.approx(160 / math.sqrt(2))
    assert board().size(neg(Z)) == pytest.approx(20)
    assert board().size(Y) == pytest.approx(60)
