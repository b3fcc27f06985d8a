"""What fixes each feature of a part: the view that shows it, the distances, the note's point."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from drawings import polyhedron
from drawings.bites import SQUARE
from drawings.loops import box
from drawings.marks import Mark
from drawings.notes import mark_note, plumb_trim_note
from drawings.polyhedron import Body, Facet
from drawings.worked import WorkedFace, worked_faces
from ground.quantities import Units
from ground.vectors import Vec, along, cross, dot
from models.parts.blank import FACES
from models.parts.features import Channel, Countersink, Hole, Trim
from models.parts.part import Part
from models.parts.views import LineView, Point

SAME = 0.02
"""Distances nearer than this are one line on paper (mm)."""

EDGE_ON = math.cos(math.pi / 4)
"""A cut is worded in the views that see it on edge: its normal lies this much in the paper."""

Extent = tuple[Point, Point]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fix:
    """One feature in one view: places along u and along v to dimension, its note and its box."""

    feature: str
    view: str
    us: tuple[float, ...]
    vs: tuple[float, ...]
    note: str
    spot: Extent


def flat(view: LineView, point: Vec) -> Point:
    """Where a point of the part lies in a view."""
    return (dot(point, view.right), dot(point, view.up))


def extent(view: LineView, body: Body) -> Extent:
    """What the convex base covers in a view: a part's overall size before anything is eased."""
    points = [flat(view, corner) for corner in polyhedron.corners(body)]
    return (
        (min(u for u, _ in points), min(v for _, v in points)),
        (max(u for u, _ in points), max(v for _, v in points)),
    )


def fixes(
    part: Part, views: dict[str, LineView], units: Units, far: frozenset[int] = frozenset()
) -> tuple[Fix, ...]:
    """Every feature but eased arrises, fixed in the view that shows it best.

    ``far`` are the axes along which distances count from the far side of the part.
    """
    body = polyhedron.base(part)
    found = [
        fix
        for face in worked_faces(part)
        for mark in face.marks
        if not isinstance(mark.feature, Trim)
        for fix in _mark_fix(face, mark, views, body, (units, far))
    ]
    trims = [f for f in part.features if isinstance(f, Trim)]
    return (*found, *(fix for trim in trims for fix in _trim_fix(trim, views, body)))


def toward(view: LineView) -> Vec:
    """The direction from the part to the eye."""
    return cross(view.right, view.up)


def view_of(face: WorkedFace, views: dict[str, LineView]) -> LineView:
    """The view on a face, or that of the blank face nearest to it; through the wood if it must."""
    normal = FACES[face.nearest]
    return max(
        views.values(),
        key=lambda view: (round(abs(dot(toward(view), normal)), 6), dot(toward(view), normal)),
    )


def _mark_fix(
    face: WorkedFace,
    mark: Mark,
    views: dict[str, LineView],
    body: Body,
    how: tuple[Units, frozenset[int]],
) -> Iterator[Fix]:
    """Fix one cut; rows of holes by their first hole only, the note says the pitch."""
    units, far = how
    if isinstance(mark.feature, Hole | Countersink) and not _is_first(face, mark):
        return
    view = view_of(face, views)
    spots = [flat(view, corner) for corner in _mouth(face, mark)]
    us, vs = sorted({u for u, _ in spots}), sorted({v for _, v in spots})
    middle = None if mark.centre is None else flat(view, face.frame.point((*mark.centre, 0.0)))
    (left, bottom), (right, top) = extent(view, body)
    wide, tall = us[-1] - us[0], vs[-1] - vs[0]
    runs = isinstance(mark.feature, Channel)  # how long it is, no note says
    across = _ends(_from(us, view.right, far), (left, right), both=runs and wide > tall)
    up = _ends(_from(vs, view.up, far), (bottom, top), both=runs and tall >= wide)
    yield Fix(
        feature=mark.feature.id,
        view=view.name,
        us=across if middle is None else (middle[0],),
        vs=up if middle is None else (middle[1],),
        note=f"{mark_note(mark, units, face.frame.z)}{_where(face, view)}",
        spot=((us[0], vs[0]), (us[-1], vs[-1])),
    )


def _mouth(face: WorkedFace, mark: Mark) -> list[Vec]:
    """The corners of what a cut covers on its face; of a slanted channel its mouth alone."""
    (left, bottom), (right, top) = box(mark.shape)
    corners = [face.frame.point((u, v, 0.0)) for u in (left, right) for v in (bottom, top)]
    if not mark.slant or not isinstance(mark.feature, Channel):
        return corners
    seat, half = mark.feature.seat, mark.feature.width / 2
    rim = [
        along(along(seat.origin, seat.along, run), seat.across, aside)
        for run in (0.0, mark.feature.length)
        for aside in (-half, half)
    ]
    back = face.frame.inverse()
    kept = [back.point(corner) for corner in rim]
    # a channel may run out past the face: there its end is the face's own
    return [
        face.frame.point((min(max(u, left), right), min(max(v, bottom), top), 0.0))
        for u, v, _ in kept
    ]


def counts_up(way: Vec, far: frozenset[int]) -> bool:
    """Tell whether distances grow along a direction: from the registered edge of that axis."""
    axis = max(range(3), key=lambda place: abs(way[place]))
    return (way[axis] > 0) is not (axis in far)


def _from(values: list[float], way: Vec, far: frozenset[int]) -> tuple[float, float]:
    """The ends of a cut in the order in which they are met from the registered edge."""
    ends = (values[0], values[-1])
    return ends if counts_up(way, far) else ends[::-1]


def _is_first(face: WorkedFace, mark: Mark) -> bool:
    """Tell whether a hole is the first that its feature makes on the face."""
    return next(m for m in face.marks if m.feature == mark.feature) is mark


def _ends(
    span: tuple[float, float], whole: tuple[float, float], *, both: bool
) -> tuple[float, ...]:
    """The ends of a cut that need a distance: not those on the part's own edge.

    Along a channel both ends are given, else the one nearest to the registered edge, which comes
    first in ``span``: the note says how wide it is.
    """
    ends = span if both else span[:1]
    return tuple(e for e in ends if abs(e - whole[0]) > SAME and abs(e - whole[1]) > SAME)


def _where(face: WorkedFace, view: LineView) -> str:
    """Say which face a cut is on where the view does not show it."""
    if face.name not in FACES:
        return f", square to {face.name}"
    return "" if dot(toward(view), face.frame.z) > 0 else f", in the {face.name}"


def _trim_fix(trim: Trim, views: dict[str, LineView], body: Body) -> Iterator[Fix]:
    """Fix a planar cut in each view that it does not cross square: its corners and its angle."""
    facet = next((side for side in body if side.name == trim.id), None)
    if facet is None:
        return
    for view in views.values():
        fix = _trim_in(trim, facet, view, body)
        if fix is not None:
            yield fix


def _trim_in(trim: Trim, facet: Facet, view: LineView, body: Body) -> Fix | None:
    """A trim in a view that sees it nearly edge on, None where its trace is square there."""
    across, up = dot(facet.plane.normal, view.right), dot(facet.plane.normal, view.up)
    off = math.degrees(math.atan2(min(abs(across), abs(up)), max(abs(across), abs(up))))
    in_plan = math.hypot(across, up)
    if off <= SQUARE or in_plan <= EDGE_ON:
        return None
    (left, bottom), (right, top) = extent(view, body)
    spots = [flat(view, corner) for corner in facet.corners]
    us = [u for u in _distinct(u for u, _ in spots) if min(u - left, right - u) > SAME]
    vs = [v for v in _distinct(v for _, v in spots) if min(v - bottom, top - v) > SAME]
    middle = (sum(u for u, _ in spots) / len(spots), sum(v for _, v in spots) / len(spots))
    return Fix(
        feature=trim.id,
        view=view.name,
        us=tuple(us),
        vs=tuple(vs),
        note=plumb_trim_note(trim, off, (view.right, view.up)),
        spot=(middle, middle),
    )


def _distinct(values: Iterator[float]) -> list[float]:
    """Values in order, those that fall on one line once."""
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > SAME:
            kept.append(value)
    return kept
