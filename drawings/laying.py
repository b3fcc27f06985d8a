"""The templates that show slanted cuts as edges, and the edge that each is laid on.

A template gives an angle when the cut is one of its slanted edges and another edge of it runs
along the part: that one is laid on the part, the other one marked along. Lengths in mm.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from drawings import polyhedron
from drawings.loops import Loop, Shape, box, hull
from drawings.marks import flat
from drawings.notes import face_toward
from drawings.polyhedron import Body
from drawings.seats import face_plane
from drawings.worked import WorkedFace, face_frame, worked_faces
from ground.vectors import Frame, Plane
from models.parts.blank import FACES
from models.parts.features import Trim
from models.parts.part import Part, PartKind
from models.parts.views import Point

SQUARE = 1e-6
"""An edge runs along an axis within this (mm)."""

ON = 1e-5
"""A corner lies on a cut within this (mm)."""

REGISTERED = ("front", "bottom", "left end")
"""Of two edges as long as one another the one that the maker registers on."""

TEMPLATED = (PartKind.LUMBER, PartKind.SHEET)
"""What templates are made for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A template of a face, the edge of the part that it is laid on, the cuts that it gives."""

    face: str
    edge: str
    trims: tuple[Trim, ...]


def shaped_outlines(part: Part) -> Iterator[tuple[str, Frame, Shape]]:
    """The faces that templates with a slanted edge are made of: worked ones, then long ones."""
    seen: set[str] = set()
    for face in worked_faces(part):
        seen.add(face.name)
        if _is_left(face) and is_shaped(face.outline):
            yield face.name, face.frame, face.outline
    for name, outline in shaped_faces(part):
        if name not in seen:
            body = polyhedron.base(part)
            frame = face_frame(name, face_plane(part, body, name), part.blank, body)
            yield name, frame, outline


def _is_left(face: WorkedFace) -> bool:
    return not isinstance(face.outline, Loop) or bool(face.outline.corners)


def laid(part: Part) -> tuple[Laid, ...]:
    """Every template of a part that gives an angle."""
    if not part.made or part.kind not in TEMPLATED:
        return ()
    trims = [feature for feature in part.features if isinstance(feature, Trim)]
    if not trims:
        return ()
    body = polyhedron.base(part)
    found = []
    for name, frame, outline in shaped_outlines(part):
        edge = lying_edge(frame, outline)
        given = tuple(
            trim for trim in trims if trim.id != name and _is_edge(trim, body, frame, outline)
        )
        if edge is not None and given:
            found.append(Laid(face=name, edge=edge, trims=given))
    return tuple(found)


def lying_edge(frame: Frame, outline: Shape) -> str | None:
    """The part's edge along which the longest square edge of a template lies."""
    square = [
        (math.dist(a, b), _name(frame, (a, b)))
        for a, b in _edges(outline)
        if min(abs(a[0] - b[0]), abs(a[1] - b[1])) <= SQUARE
    ]
    if not square:
        return None
    return max(square, key=lambda one: (round(one[0], 3), one[1] in REGISTERED))[1]


def _name(frame: Frame, edge: tuple[Point, Point]) -> str:
    """The face that an edge of an outline (counter-clockwise) looks to."""
    (u, v), (end_u, end_v) = edge
    return face_toward(frame.direction((end_v - v, u - end_u, 0.0)))


def _edges(outline: Shape) -> list[tuple[Point, Point]]:
    if not isinstance(outline, Loop):
        return []
    points = outline.points
    return list(zip(points, (*points[1:], points[0]), strict=True))


def _is_edge(trim: Trim, body: Body, frame: Frame, outline: Shape) -> bool:
    """Tell whether a cut is a slanted edge of an outline."""
    facet = next((side for side in body if side.name == trim.id), None)
    if facet is None:
        return False
    corners = flat(frame, facet.corners)
    return any(
        min(abs(a[0] - b[0]), abs(a[1] - b[1])) > SQUARE
        and all(any(math.dist(end, corner) <= ON for corner in corners) for end in (a, b))
        for a, b in _edges(outline)
    )


# ---- which faces are shaped


def is_shaped(outline: Shape) -> bool:
    """Tell whether an outline is anything but an upright rectangle."""
    if not isinstance(outline, Loop):
        return False
    (low_u, low_v), (high_u, high_v) = box(outline)
    corners = outline.points
    return any(
        min(abs(u - low_u), abs(u - high_u)) > SQUARE
        or min(abs(v - low_v), abs(v - high_v)) > SQUARE
        for u, v in corners
    )


def shaped_faces(part: Part) -> Iterator[tuple[str, Shape]]:
    """The long faces of a part with slanted sides, each in its true shape."""
    body = polyhedron.base(part)
    names = [facet.name for facet in body]
    if all(name in FACES for name in names):
        return
    for name in dict.fromkeys(names):
        plane = face_plane(part, body, name)
        if abs(plane.normal[0]) > math.cos(math.pi / 4):
            continue
        outline = true_shape(part, body, name, plane)
        if is_shaped(outline):
            yield name, outline


def true_shape(part: Part, body: Body, name: str, plane: Plane) -> Shape:
    """What a face itself covers, seen square to it."""
    frame = face_frame(name, plane, part.blank, body)
    corners = (corner for facet in body if facet.name == name for corner in facet.corners)
    return hull(flat(frame, corners))
