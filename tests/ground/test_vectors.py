"""Frames are rigid, planes carry with them, three planes meet where they should."""

import math

from hypothesis import given
from hypothesis import strategies as st

from ground.vectors import (
    Frame,
    Plane,
    Vec,
    X,
    Z,
    angle,
    cross,
    dot,
    meet,
    norm,
    sub,
    unit,
)

coordinate = st.floats(-1000.0, 1000.0, allow_nan=False)
points = st.tuples(coordinate, coordinate, coordinate)
angles = st.floats(-math.pi, math.pi)


@st.composite
def frames(draw: st.DrawFn) -> Frame:
    """Any rotation by two turns, and any shift."""
    a, b = draw(angles), draw(angles)
    x = unit((math.cos(a) * math.cos(b), math.sin(a) * math.cos(b), math.sin(b)))
    y = unit(cross(Z if abs(x[2]) < 0.9 else X, x))
    return Frame(x, y, draw(points))


@given(frames(), points)
def test_a_frame_and_its_inverse_bring_a_point_home(frame: Frame, point: Vec) -> None:
    assert norm(sub(frame.inverse().point(frame.point(point)), point)) < 1e-9


@given(frames(), frames(), points)
def test_one_frame_then_another_is_one_frame(one: Frame, other: Frame, point: Vec) -> None:
    both = one.then(other)
    assert norm(sub(both.point(point), other.point(one.point(point)))) < 1e-8


@given(frames(), frames())
def test_frames_never_mirror(one: Frame, other: Frame) -> None:
    both = one.then(other.inverse())
    assert abs(dot(cross(both.x, both.y), both.z) - 1.0) < 1e-9


@given(frames(), points, points)
def test_a_carried_plane_keeps_its_heights(frame: Frame, place: Vec, point: Vec) -> None:
    plane = Plane.through(place, (1.0, 2.0, 3.0))
    assert abs(frame.plane(plane).height(frame.point(point)) - plane.height(point)) < 1e-8


@given(frames(), points)
def test_the_axes_planes_of_a_frame_meet_at_its_origin(frame: Frame, place: Vec) -> None:
    planes = [Plane.through(place, way) for way in (frame.x, frame.y, frame.z)]
    assert norm(sub(meet(*planes), place)) < 1e-8


def test_angles_are_measured_well_near_nothing() -> None:
    assert angle(X, (1.0, 1e-9, 0.0)) == math.degrees(1e-9)
    assert abs(angle(X, (0.0, 1.0, 0.0)) - 90.0) < 1e-12
