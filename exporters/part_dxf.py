"""The machine's file of a part: full size, one layer an operation and depth, every outline closed.

The faces that are worked stand side by side from left to right, the one worked most first. Its
layers have plain names (``OUTLINE``, ``GROOVE-D8.0``); those of the other faces begin with the
face's (``FRONT-OUTLINE``). Cutting layers carry no text: what there is to say is on ``NOTES``.

Layer names, built from the left: the face; ``BY-HAND`` for what a cutter square to the face
cannot make; ``THROUGH`` for what comes out on the other side; the operation; the diameter of a
round hole; ``D`` and the depth below the face; ``A`` and the slant in degrees from square (after
``FLAT``: from the face itself); ``UNDER`` where it leans under the face. Lengths in mm.
"""

from collections.abc import Iterable
from typing import assert_never

from ezdxf.layouts import Modelspace

from drawings.loops import box
from drawings.marks import Arris, Mark
from drawings.worked import WorkedFace, worked_faces
from exporters.dxf_kit import (
    Pen,
    add_layers,
    draw_line_of_text,
    draw_shape,
    draw_stroke,
    dxf_bytes,
    new_document,
)
from exporters.names import dxf_layer
from models.parts.blank import FACES
from models.parts.cuts import Profile
from models.parts.features import (
    Channel,
    Countersink,
    EasedEdge,
    Feature,
    Hole,
    Mortise,
    Trim,
    Waste,
)
from models.parts.part import Part

NOTES = "NOTES"
OUTLINE = "OUTLINE"

VERSION = "R2000"
"""The oldest version with light polylines and units, which machines' programs read best."""

APART = 60.0
"""Clear space between two faces in the file (mm)."""

LETTER = 7.0
SMALL_LETTER = 3.5
"""Heights of the notes (mm) from ISO 3098's list."""

LARGE = 400.0
"""Parts at least this long have the larger notes (mm)."""

WIDEST = 0.9
"""A letter with its space takes at most so many letter heights: room kept for the notes."""

PITCH = 1.6
"""Line pitch of the notes in letter heights: more than ISO 3098's 1.5 for type B."""

COLOURS = (1, 2, 3, 4, 5, 6, 30, 94, 140, 200)
"""Colour indices given to operations in turn; the outline has 7, notes 8."""

FLIPS = {
    "top": "lay it down with the top face up",
    "bottom": "turn it over edge for edge: the left end stays left",
    "front": "stand it on its back edge: the front edge is up, the left end stays left",
    "back": "stand it on its front edge: the back edge is up, the left end stays left",
    "left": "stand it on its right end: the left end is up",
    "right": "stand it on its left end: the right end is up",
}
"""How the part is brought from lying with its top up to having a face up."""


def part_dxf(part: Part) -> bytes:
    """Draw every worked face of ``part`` in one full-size file."""
    sheet = [_Placed(part, face, first=place == 0) for place, face in enumerate(worked_faces(part))]
    document = new_document(VERSION)
    add_layers(document, _pens(layer for placed in sheet for layer in placed.layers()))
    at = 0.0
    for placed in sheet:
        at = placed.draw(document.modelspace(), at) + APART
    return dxf_bytes(document)


def part_dxfs(part: Part) -> dict[str, bytes]:
    """The machine files of ``part`` by suffix: one file holds all of its faces."""
    return {".dxf": part_dxf(part)}


class _Placed:
    """One face in the file: its layers, its notes and where it stands."""

    def __init__(self, part: Part, face: WorkedFace, *, first: bool) -> None:
        self.face = face
        self.first = first
        self.letter = LETTER if max(part.blank.size) >= LARGE else SMALL_LETTER
        self.notes = _notes(part, face, first=first)

    def layers(self) -> list[str]:
        """The layers that the face needs, its outline's first."""
        face = self.face
        names = [OUTLINE, *(operation(m) for m in face.marks), *(easing(a) for a in face.arrises)]
        return list(dict.fromkeys(self.layer(name) for name in names))

    def layer(self, name: str) -> str:
        """The whole name of a layer: the first face's have no face in front."""
        face = self.face
        if self.first:
            return dxf_layer(name)
        if face.name in FACES:
            return dxf_layer(f"{face.name.upper()}-{name}")
        # no flat table brings a slanted face level without a wedge under the part
        return dxf_layer(f"BY-HAND-{face.name.upper()}-A{face.tilt:.1f}-{name}")

    def draw(self, space: Modelspace, left: float) -> float:
        """Draw the face from ``left`` on; answer how far right it and its notes reach."""
        face = self.face
        (low_u, low_v), (high_u, _) = box(face.outline)
        # the first face keeps its own axes: its numbers are those of build.json
        at = (0.0, 0.0) if self.first else (left - low_u, 0.0 - low_v)
        draw_shape(space, face.outline, self.layer(OUTLINE), at)
        for mark in face.marks:
            draw_shape(space, mark.shape, self.layer(operation(mark)), at)
        for arris in face.arrises:
            draw_stroke(space, arris.line, self.layer(easing(arris)), at)
        for row, line in enumerate(self.notes):
            below = self.letter * (-2.0 - row * PITCH)
            draw_line_of_text(space, line, (left, below), self.letter, NOTES)
        written = max(map(len, self.notes)) * self.letter * WIDEST
        return max(at[0] + high_u, left + written)


# ---- layers


def _pens(layers: Iterable[str]) -> dict[str, Pen]:
    """A colour for every layer: 7 for outlines, 8 for notes, the others in turn."""
    pens: dict[str, Pen] = {}
    turn = 0
    for layer in layers:
        if layer.endswith(OUTLINE):
            pens[layer] = Pen(width=35)
        else:
            pens[layer] = Pen(colour=COLOURS[turn % len(COLOURS)])
            turn += 1
    pens[NOTES] = Pen(colour=8, width=18)
    return pens


def operation(mark: Mark) -> str:
    """Name the operation that makes ``mark``: ``GROOVE-D8.0``, ``THROUGH-HOLE-5.0``."""
    words = [_word(mark.feature)]
    if mark.size is not None:
        words.append(_number(mark.size))
    match mark.feature:
        case Countersink(angle=angle):
            words.append(f"A{angle:.0f}")
        case Trim():
            words += ["FLAT"] if mark.lies else []
            words.append(f"A{mark.slant:.1f}")
        case Channel() | Mortise() | Hole() | Waste() | EasedEdge():
            through = mark.depth is None
            words = ["THROUGH", *words] if through else [*words, f"D{_number(mark.depth or 0.0)}"]
            words += [f"A{mark.slant:.1f}"] if mark.slant else []
        case _:
            assert_never(mark.feature)
    words += ["UNDER"] if mark.under else []
    return "-".join(["BY-HAND", *words] if mark.by_hand else words)


def easing(arris: Arris) -> str:
    """Name the operation along an arris: ``ROUND-OVER-R3.0``, ``CHAMFER-2.0``."""
    feature = arris.feature
    letter = "" if feature.profile is Profile.CHAMFER else "R"
    word = f"{feature.profile.value.upper()}-{letter}{_number(feature.size)}"
    return f"BY-HAND-{word}" if arris.by_hand else word


def _word(feature: Feature) -> str:
    """The maker's word for a feature, as a layer is named."""
    match feature:
        case Hole():
            return "HOLE"
        case Waste(kind=kind):
            return f"{kind.value.upper().replace(' ', '-')}"
        case Trim(kind=kind):
            return kind.value.upper()
        case Channel(kind=channel):
            return channel.value.upper()
        case Mortise() | Countersink() | EasedEdge():
            return feature.kind.upper().replace(" ", "-")
    assert_never(feature)


def _number(value: float) -> str:
    """A size in a layer's name: one decimal, two where they matter (5/16 in is 7.94)."""
    text = f"{value:.2f}"
    return text.removesuffix("0")


# ---- notes


def _notes(part: Part, face: WorkedFace, *, first: bool) -> list[str]:
    """What the file says about one face, line by line."""
    lines: list[str] = []
    if first:
        length, width, thickness = part.blank.size
        lines.append(f"{part.label} {part.name}")
        lines.append(f"full size, mm; blank {length:.1f} x {width:.1f} x {thickness:.1f}")
        if part.banded:
            lines.append(f"sizes without the edging on: {', '.join(part.banded)}")
    lines.append(f"face up: {face.name}{_on_view(part, face)}")
    lines.append(_flip(face))
    lines += _by_hand(part, face) if first else []
    return lines


def _on_view(part: Part, face: WorkedFace) -> str:
    """Say where the side on view is while a broad face is worked."""
    if part.show == face.name:
        return " (the side on view)"
    if part.show in {"top", "bottom"} and face.name in {"top", "bottom"}:
        return f" (the side on view, the {part.show}, lies down)"
    return ""


def _flip(face: WorkedFace) -> str:
    """Say how the part comes to lie as this face is drawn."""
    if face.name in FACES:
        return FLIPS[face.name]
    way = FLIPS[face.nearest]
    return f"{way}; then tip it {face.tilt:.1f} degrees until {face.name} is level"


def _by_hand(part: Part, face: WorkedFace) -> list[str]:
    """Name the edges to ease that no view shows."""
    drawn = {arris.feature.id for arris in face.arrises}
    return [
        f"by hand: {feature.kind} {_number(feature.size)} between {' and '.join(feature.between)}"
        for feature in part.features
        if isinstance(feature, EasedEdge) and feature.id not in drawn
    ]
