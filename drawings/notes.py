"""The words beside a feature: what it is, its size and its depth. Positions are dimensions."""

from typing import assert_never

from drawings.lettering import DEGREE, DIAMETER, TIMES, size, slant_text, slope_text
from drawings.loops import box
from drawings.marks import Mark
from ground.quantities import Units, angle_text
from ground.vectors import Vec, dot, scale, sub
from models.parts.blank import FACES
from models.parts.features import (
    Channel,
    Countersink,
    EasedEdge,
    Hole,
    HoleKind,
    Mortise,
    Trim,
    Waste,
)

LESS = ("shorter", "narrower", "thinner")
"""What a cut across the length, the width or the thickness makes of a part."""

STRAIGHT = 1e-9
"""A tool is square to a face within this (1 less the cosine)."""

PLAIN_HOLES = frozenset({HoleKind.FITTING, HoleKind.CLEARANCE})
"""Holes that their diameter says enough of."""


def mark_note(mark: Mark, units: Units, outward: Vec) -> str:
    """Word the note of a cut that is seen on a face, which looks ``outward``."""
    return f"{_sized(mark, units)}{_slanted(mark, outward)}"


def _slanted(mark: Mark, outward: Vec) -> str:
    """How far and which way a cut is off square to its face."""
    if not mark.slant:
        return ""
    off = f", {slant_text(mark.slant)}"
    if not isinstance(mark.feature, Channel | Mortise | Hole | Countersink):
        return off
    into = mark.feature.seat.into
    if abs(abs(dot(into, outward)) - 1.0) <= STRAIGHT:  # square to the face, but on a slanted run
        return off
    return f"{off}, {way_of_tool(into, outward)}"


def _sized(mark: Mark, units: Units) -> str:
    feature = mark.feature
    match feature:
        case Hole():
            return _hole(feature, mark.depth, units)
        case Countersink():
            return (
                f"{_times(feature.count)}countersink {DIAMETER}{size(feature.diameter, units)} "
                f"{TIMES} {angle_text(feature.angle)}{DEGREE}{_pitch(feature, units)}"
            )
        case Channel():
            return f"{feature.kind} {size(feature.width, units)} wide, {_deep(mark.depth, units)}"
        case Mortise():
            long, wide = size(feature.length, units), size(feature.width, units)
            return f"mortise {long} {TIMES} {wide}, {_deep(mark.depth, units)}"
        case Waste():
            return _waste(feature, mark, units)
        case Trim():
            return trim_note(feature, mark)
        case EasedEdge():
            return easing_note(feature, units)
    assert_never(feature)


def _hole(feature: Hole, depth: float | None, units: Units) -> str:
    kind = "" if feature.kind in PLAIN_HOLES else f" {feature.kind}"
    return (
        f"{_times(feature.count)}{DIAMETER}{size(feature.diameter, units)}{kind}, "
        f"{_deep(depth, units)}{_pitch(feature, units)}"
    )


def _waste(feature: Waste, mark: Mark, units: Units) -> str:
    (low_u, low_v), (high_u, high_v) = box(mark.shape)
    sides = f"{size(high_u - low_u, units)} {TIMES} {size(high_v - low_v, units)}"
    what = feature.note or feature.kind.value
    return f"{what} {sides}, {_deep(mark.depth, units)}"


def trim_note(feature: Trim, mark: Mark) -> str:
    """Word the note of a planar cut, leaning as ``mark`` shows it."""
    way = "from the face" if mark.lies else "from square"
    under = ", leaning under" if mark.under else ""
    return f"{feature.kind} {slope_text(mark.slant)} {way}{under}"


def plumb_trim_note(feature: Trim, degrees: float, seen: tuple[Vec, Vec]) -> str:
    """Word the note of a planar cut ``degrees`` off square in the plane of ``seen`` (right, up)."""
    return f"{feature.kind} {slope_text(degrees)}, {way_of_trim(feature.plane.normal, seen)}"


def way_of_trim(normal: Vec, seen: tuple[Vec, Vec]) -> str:
    """Which way a planar cut leans: toward which face it leaves less (``shorter at the top``)."""
    along, across = sorted(seen, key=lambda way: -abs(dot(normal, way)))
    less = LESS[max(range(3), key=lambda axis: abs(along[axis]))]
    toward = scale(across, dot(normal, across))
    return f"{less} at the {face_toward(toward)}"


def way_of_tool(into: Vec, outward: Vec) -> str:
    """Which way a slanted tool leans as it goes in."""
    return f"leaning toward the {face_toward(sub(into, scale(outward, dot(into, outward))))}"


def face_toward(way: Vec) -> str:
    """The blank face that a direction points to most, in the maker's words."""
    name = max(FACES, key=lambda face: dot(FACES[face], way))
    return f"{name} end" if name in {"left", "right"} else name


def easing_note(feature: EasedEdge, units: Units) -> str:
    """Word the note of one eased arris."""
    return f"{feature.kind} {size(feature.size, units)}: {_edge(feature)}"


def easings_note(features: list[EasedEdge], units: Units) -> str:
    """One line for every arris that is eased alike."""
    first = features[0]
    edges = ", ".join(_edge(feature) for feature in features)
    return f"{first.kind} {size(first.size, units)}: {edges}"


def _edge(feature: EasedEdge) -> str:
    return f"{feature.between[0]}/{feature.between[1]}"


def _times(count: int) -> str:
    return f"{count} {TIMES} " if count > 1 else ""


def _pitch(feature: Hole | Countersink, units: Units) -> str:
    return f", pitch {size(feature.pitch, units)}" if feature.count > 1 else ""


def _deep(depth: float | None, units: Units) -> str:
    return "through" if depth is None else f"{size(depth, units)} deep"


def counted(note: str, count: int) -> str:
    """The note of ``count`` features that are alike; rows of holes are counted as rows."""
    if count == 1:
        return note
    return f"{count} rows of {note}" if note[0].isdigit() else f"{count} {TIMES} {note}"
