"""What a maker must find on a part's sheet, worked from the features by another library.

Nothing here asks ``drawings`` where a feature lies: convex bites are cut by manifold3d, corners of
trims found as meeting points of planes, holes and mortises taken from their seats.
"""

import itertools
import math
from dataclasses import dataclass

import numpy as np

from drawings.records import Angular, Axis, Linear, Ordinate, Sheet, View
from ground.vectors import Vec, along, dot
from models.parts.features import (
    Channel,
    Countersink,
    EasedEdge,
    Feature,
    Hole,
    Mortise,
    Seat,
    Trim,
    Waste,
)
from models.parts.lowering import lower
from models.parts.part import Part
from tests.helpers import twins

AXES = {
    "top": (0, 1),
    "bottom": (0, 1),
    "front": (0, 2),
    "back": (0, 2),
    "right": (2, 1),
    "right end, lying": (1, 2),
}
"""The part's axes along u and v of each view as it stands on a sheet."""

MERGED = 0.1
"""Distances nearer than this are one line on paper (mm)."""

EDGE = 0.021
"""What lies on the part's own edge needs no distance (mm)."""

LEANS = 0.6
"""What stands on a slanted face is stated by its shadow on the view (mm)."""

SQUARE = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """A distance that must be stated: of which feature, along which axis, how far, how nearly."""

    feature: str
    axis: int
    at: float
    within: float = MERGED


def base_corners(part: Part) -> np.ndarray:
    """Every corner of the convex base: where three of its planes meet inside all the others."""
    planes = list(part.base_planes().values())
    if len(planes) < 6:
        low, high = (0.0, 0.0, 0.0), part.blank.size
        return np.array(list(itertools.product(*zip(low, high, strict=True))))
    normals = np.array([plane.normal for plane in planes])
    offsets = np.array([plane.offset for plane in planes])
    found = []
    for three in itertools.combinations(range(len(planes)), 3):
        rows = normals[list(three)]
        if abs(np.linalg.det(rows)) > 1e-9:
            point = np.linalg.solve(rows, offsets[list(three)])
            if (normals @ point <= offsets + 1e-6).all():
                found.append(point)
    return np.array(found)


def needs(part: Part) -> list[list[tuple[Need, ...]]]:
    """What fixes each feature on the face that it is worked from, without what lies on an edge.

    A feature on a slanted face may be fixed in either view that shows the face: one of the
    alternatives has to be there.
    """
    corners = base_corners(part)
    low, high = corners.min(axis=0), corners.max(axis=0)

    def inside(need: Need) -> bool:
        return bool(need.at - low[need.axis] > EDGE and high[need.axis] - need.at > EDGE)

    found = []
    for feature in part.features:
        options = [tuple(filter(inside, option)) for option in _options(part, feature, corners)]
        if options:
            found.append(options)
    return found


def _options(part: Part, feature: Feature, corners: np.ndarray) -> list[tuple[Need, ...]]:
    match feature:
        case EasedEdge() | Trim():
            return []  # where a trim ends is asked of each view: see ``trim_needs``
        case Hole() | Countersink():
            mouth = np.array([_mouth(part, feature.seat)])
            return _facing(feature, feature.seat.into, mouth, LEANS)
        case Mortise():
            half = feature.length / 2
            return _facing(feature, feature.seat.into, _rim(feature, -half, half), LEANS)
        case Channel():
            straight = max(abs(share) for share in feature.seat.into) > 1.0 - SQUARE
            points = _bitten(part, feature) if straight else _rim(feature, 0.0, feature.length)
            return _facing(feature, feature.seat.into, points, LEANS)
        case Waste():
            box = _bitten(part, feature)
            faces = [a for a in range(3) if _touches(box[:, a], corners[:, a])]
            return [_ends(feature, axis, box, MERGED) for axis in faces or range(3)]


def _rim(feature: Channel | Mortise, start: float, end: float) -> np.ndarray:
    """The four corners of a mouth that runs from ``start`` to ``end`` along its seat."""
    seat = feature.seat
    return np.array(
        [
            along(along(seat.origin, seat.along, a), seat.across, b)
            for a in (start, end)
            for b in (-feature.width / 2, feature.width / 2)
        ]
    )


def _touches(span: np.ndarray, whole: np.ndarray) -> bool:
    """Tell whether a bite comes out on one of the two sides across an axis."""
    return bool(span[0] - whole.min() < EDGE or whole.max() - span[1] < EDGE)


def _mouth(part: Part, seat: Seat) -> Vec:
    """Where a tool enters the base: a hole may begin on the floor of another."""
    back = [
        plane.height(seat.origin) / dot(plane.normal, seat.into)
        for plane in part.base_planes().values()
        if dot(plane.normal, seat.into) < -SQUARE
    ]
    return along(seat.origin, seat.into, -min(back, default=0.0))


def _facing(
    feature: Feature, into: Vec, points: np.ndarray, slanted: float
) -> list[tuple[Need, ...]]:
    """The distances in a view that looks along ``into``, or on a face that is near to square."""
    straight = max(abs(share) for share in into) > 1.0 - SQUARE
    faces = [axis for axis in range(3) if abs(into[axis]) > (0.5 if not straight else 0.9)]
    faces += [] if straight else [axis for axis in range(3) if axis not in faces]
    return [_ends(feature, axis, points, MERGED if straight else slanted) for axis in faces]


def _bitten(part: Part, feature: Channel | Waste) -> np.ndarray:
    """The box of what a convex bite takes out of the base."""
    base = twins.trimmed(
        twins.stock(part.blank), [f.plane for f in part.features if isinstance(f, Trim)]
    )
    (cut,) = lower(feature, part.blank)
    taken = twins.bite(cut, part, base) ^ base
    return np.array(taken.bounding_box()).reshape(2, 3)


def _ends(feature: Feature, axis: int, points: np.ndarray, within: float) -> tuple[Need, ...]:
    """The near ends across an axis; a channel, whose length no note says, has both of its ends."""
    low, high = points.min(axis=0), points.max(axis=0)
    one, other = sorted((a for a in range(3) if a != axis), key=lambda a: high[a] - low[a])
    ends = [(one, low[one]), (other, low[other])]
    if isinstance(feature, Channel):
        ends.append((other, high[other]))
    return tuple(Need(feature=feature.id, axis=a, at=float(at), within=within) for a, at in ends)


def trim_needs(part: Part, sheet: Sheet) -> list[Need]:
    """Where each slanted cut ends, in every view that sees it on edge and not square."""
    corners = base_corners(part)
    low, high = corners.min(axis=0), corners.max(axis=0)
    found = []
    for feature in part.features:
        if not isinstance(feature, Trim):
            continue
        on = corners[np.abs(corners @ feature.plane.normal - feature.plane.offset) < 1e-6]
        for view in sheet.views:
            if view.name not in AXES:
                continue
            axes = AXES[view.name]
            seen = [abs(feature.plane.normal[axis]) for axis in axes]
            off = math.degrees(math.atan2(min(seen), max(seen)))
            if off <= 0.02 or math.hypot(*seen) <= math.sqrt(0.5):
                continue
            for axis in axes:
                found += [
                    Need(feature=feature.id, axis=axis, at=float(at))
                    for at in on[:, axis]
                    if at - low[axis] > EDGE and high[axis] - at > EDGE
                ]
    return found


def distances(sheet: Sheet) -> list[tuple[Linear | Ordinate, View]]:
    """Every distance of the part's own views."""
    return [
        (d, view)
        for view in sheet.views
        if view.name in AXES
        for d in view.dimensions
        if not isinstance(d, Angular)
    ]


def meets(need: Need, dimension: Linear | Ordinate, view: View) -> bool:
    """Tell whether a dimension states what is needed."""
    axis = AXES[view.name][0 if dimension.axis is Axis.U else 1]
    return (
        axis == need.axis
        and need.feature in dimension.states
        and not isinstance(dimension, Linear)
        and abs(dimension.measured - need.at) <= need.within
    )


def chosen(part: Part, sheet: Sheet) -> list[Need]:
    """What is needed, of alternatives the one that is stated best."""
    given = distances(sheet)

    def missing(option: tuple[Need, ...]) -> tuple[int, int]:
        lost = sum(not any(meets(need, *one) for one in given) for need in option)
        return lost, -len(option)

    return [
        *(need for options in needs(part) for need in min(options, key=missing)),
        *trim_needs(part, sheet),
    ]


def unmet(part: Part, sheet: Sheet) -> list[Need]:
    """What is needed and not stated."""
    return lost(chosen(part, sheet), sheet)


def lost(needed: list[Need], sheet: Sheet) -> list[Need]:
    """Which of some needs a sheet does not state."""
    given = distances(sheet)
    return [need for need in needed if not any(meets(need, *one) for one in given)]


def spare(part: Part, sheet: Sheet) -> list[Linear | Ordinate]:
    """Distances without which everything is still stated; noughts and whole sizes are none."""
    needed = chosen(part, sheet)
    given = distances(sheet)
    sole = [
        [dimension for dimension, view in given if meets(need, dimension, view)] for need in needed
    ]
    kept = {id(found[0]) for found in sole if len(found) == 1}
    return [d for d, _ in given if d.states and isinstance(d, Ordinate) and id(d) not in kept]


def words(sheet: Sheet, feature: str) -> str:
    """All that notes and arcs say of a feature."""
    said = [note.text.text for note in sheet.notes if feature in note.states]
    said += [
        d.text
        for view in sheet.views
        for d in view.dimensions
        if isinstance(d, Angular) and feature in d.states
    ]
    return " ".join(said)


def whole(part: Part) -> Vec:
    """The whole size of the convex base."""
    corners = base_corners(part)
    spans = corners.max(axis=0) - corners.min(axis=0)
    return (float(spans[0]), float(spans[1]), float(spans[2]))
