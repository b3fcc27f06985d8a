"""The faces of a part that are worked, each laid level, and what is cut into it as flat shapes.

Full size, mm. A worked face is seen from outside: ``u`` to the right, ``v`` up, heights out of the
wood. Both the machine's file and the dimensions of a shop drawing are read from these records.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from drawings import polyhedron
from drawings.loops import Shape, circle, hull, obround, within
from drawings.marks import Arris, Mark, arris_on, flat, mark_of, slope_of
from drawings.polyhedron import Body
from drawings.seats import face_plane, seat_of
from ground.vectors import Frame, Plane, Vec, X, Y, Z, cross, dot, neg, norm, scale, sub, unit
from models.parts.blank import FACES, Blank, Section
from models.parts.cuts import Cut
from models.parts.features import EasedEdge, Feature, Trim
from models.parts.part import Part

OVER = {"top": "bottom", "bottom": "top"}
"""The broad faces and what is up when each is turned over."""

ROLLED = ("top", "front", "bottom", "back")
"""Faces met as the part is rolled about its length, so that x always runs left to right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedFace:
    """One face laid level: ``frame`` carries (u, v, height) to part axes.

    ``outline`` is what a plumb cutter leaves around it. ``tilt`` is how far, in degrees, the part
    is tipped from having its ``nearest`` blank face level to having this one level.
    """

    name: str
    frame: Frame
    outline: Shape
    marks: tuple[Mark, ...] = ()
    arrises: tuple[Arris, ...] = ()
    tilt: float = 0.0
    nearest: str = ""


@lru_cache(maxsize=8)
def worked_faces(part: Part) -> tuple[WorkedFace, ...]:
    """Every worked face of ``part``; the one that is worked most on the flat comes first."""
    body = polyhedron.base(part)
    placed = [(feature, cut, seat_of(part, body, feature, cut)) for feature, cut in part.cuts()]
    main = _main(part, body, placed)
    placed = [(f, cut, _from_main(part, body, (f, cut, name), main)) for f, cut, name in placed]
    others = [*ROLLED, "left", "right", *(f.name for f in body if f.name not in FACES)]
    seated = {name for _, _, name in placed}
    names = [main, *(name for name in others if name in seated and name != main)]
    return tuple(_worked(part, body, name, placed, is_main=name == main) for name in names)


def _main(part: Part, body: Body, placed: list[tuple[Feature, Cut, str]]) -> str:
    """The broad face with the most work that cannot be done from the other."""
    needs = {
        (name, feature)
        for feature, cut, name in placed
        if name in OVER and _from_main(part, body, (feature, cut, name), OVER[name]) == name
    }
    below = sum(name == "bottom" for name, _ in needs)
    return "bottom" if below > len(needs) - below else "top"


def _from_main(part: Part, body: Body, seated: tuple[Feature, Cut, str], main: str) -> str:
    """What goes plumb through the part is made from the main face: one turning over less."""
    feature, cut, name = seated
    if name == main or name not in OVER:
        return name
    frame = face_frame(main, face_plane(part, body, main), part.blank, body)
    mark = mark_of(body, feature, cut, frame)
    return main if mark is not None and mark.depth is None and not mark.by_hand else name


def _worked(
    part: Part,
    body: Body,
    name: str,
    placed: list[tuple[Feature, Cut, str]],
    *,
    is_main: bool,
) -> WorkedFace:
    """Lay one face level and draw what is cut into it."""
    plane = face_plane(part, body, name)
    tilt, nearest = _tilt(plane.normal)
    frame = face_frame(name, plane, part.blank, body)
    outline = _outline(part.blank, body, name, frame)
    marks: list[Mark] = []
    arrises: list[Arris] = []
    for feature, cut, seat in placed:
        if seat == name and not isinstance(feature, Trim):
            mark = mark_of(body, feature, cut, frame)
            if mark is not None:
                marks += _clipped(mark, outline)
        if is_main and isinstance(feature, Trim):
            marks += slope_of(body, feature, frame)
        if is_main and isinstance(feature, EasedEdge):
            arrises += arris_on(body, feature, frame)
    return WorkedFace(
        name=name,
        frame=frame,
        outline=outline,
        marks=tuple(marks),
        arrises=tuple(arrises),
        tilt=tilt,
        nearest=nearest,
    )


def _clipped(mark: Mark, outline: Shape) -> Iterator[Mark]:
    """The mark with its shape kept inside the outline, or nothing."""
    shape = within(mark.shape, outline)
    if shape is not None:
        yield mark if shape is mark.shape else replace(mark, shape=shape)


def _tilt(normal: Vec) -> tuple[float, str]:
    """Degrees from the nearest blank face, and its name."""
    name = max(FACES, key=lambda face: dot(FACES[face], normal))
    facing = FACES[name]
    sine = norm(sub(normal, scale(facing, dot(normal, facing))))
    return math.degrees(math.atan2(sine, dot(normal, facing))), name


def face_frame(name: str, plane: Plane, blank: Blank, body: Body) -> Frame:
    """The axes of a face laid level: on blank faces the blank's corner is the origin."""
    width, thickness = blank.width, blank.thickness
    known = {
        "top": Frame(X, Y, (0.0, 0.0, thickness)),
        "bottom": Frame(X, neg(Y), (0.0, width, 0.0)),
        "front": Frame(X, Z),
        "back": Frame(X, neg(Z), (0.0, width, thickness)),
        "right": Frame(Y, Z, (blank.length, 0.0, 0.0)),
        "left": Frame(neg(Y), Z, (0.0, width, 0.0)),
    }
    if name in known:
        return known[name]
    lead = X if abs(plane.normal[0]) < math.cos(math.pi / 4) else Y
    right = unit(sub(lead, scale(plane.normal, dot(lead, plane.normal))))
    turned = Frame(right, cross(plane.normal, right))
    points = [turned.inverse().point(c) for f in body if f.name == name for c in f.corners]
    u = min((p[0] for p in points), default=0.0)
    v = min((p[1] for p in points), default=0.0)
    corner = turned.point((u, v, plane.offset))
    return Frame(turned.x, turned.y, corner)


def _outline(blank: Blank, body: Body, name: str, frame: Frame) -> Shape:
    """What the part covers, seen square to the face; a slanted face shows its own shape."""
    if name in {"left", "right"} and blank.section is Section.ROUND:
        return circle((blank.width / 2, blank.thickness / 2), blank.width / 2)
    if name in {"left", "right"} and blank.section is Section.ROUND_EDGED:
        half = blank.thickness / 2
        return obround((half, half), (blank.width - half, half), half)
    if name in FACES:
        return hull(flat(frame, polyhedron.corners(body)))
    return hull(flat(frame, (c for f in body if f.name == name for c in f.corners)))
