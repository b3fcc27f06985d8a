"""Where a part stands in the piece, and in the set of boards that it belongs to."""

import re
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace

from ground.vectors import Vec
from models.parts.alike import Rows, same_under
from models.parts.assembly import Assembly, Copy
from models.parts.part import Part, PartKind
from models.parts.views import LineView

HANDS = re.compile(r"\b(left|right|front|back|long|side|top|bottom)\b")
"""Words that tell the boards of one set apart."""

LEFT, RIGHT = "left", "right"
"""The last words of the names of two parts that mirror one another."""

MOST = 8
"""A set of more boards is not marked together."""

SAME_SIZE = 0.05
"""Boards of one set have blanks alike within this (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardSet:
    """Boards that are marked together, in the order in which they stand.

    ``way`` says from where to where: ``left to right``, ``front to back``, ``from below``.
    """

    copies: tuple[str, ...]
    own: tuple[bool, ...]
    way: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mate:
    """The other hand of a part, with the line views of it."""

    part: Part
    views: tuple[LineView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A part's copies in the piece; ``whole`` is the closed piece in isometric view.

    ``mate`` is the other hand with its line views, None where there is none. ``far`` are the axes
    of the part (0, 1, 2) along which its distances count from the far side, so that a right is
    set out from the same edges as its left.
    """

    whole: LineView
    part: Part
    copies: tuple[Copy, ...]
    boards: BoardSet | None
    mate: Mate | None = None
    far: frozenset[int] = frozenset()


def standing(
    assembly: Assembly,
    whole: LineView,
    label: str,
    views: Mapping[str, tuple[LineView, ...]] | None = None,
) -> Standing:
    """Where the part with ``label`` stands; ``views`` are the line views of parts by label.

    Raises:
        KeyError: there is none.
    """
    part = assembly.part(label)
    other = None if views is None else other_hand(assembly, part)
    drawn = () if views is None or other is None else views.get(other.label, ())
    return Standing(
        whole=whole,
        part=part,
        copies=assembly.copies_of(label),
        boards=board_set(assembly, part),
        mate=None if other is None or not drawn else Mate(part=other, views=drawn),
        far=far_axes(assembly, part),
    )


def other_hand(assembly: Assembly, part: Part) -> Part | None:
    """The right of a left, the left of a right: named alike, and its mirror image."""
    stem, _, hand = part.name.rpartition(" ")
    opposite = {LEFT: RIGHT, RIGHT: LEFT}.get(hand)
    if opposite is None:
        return None
    for other in assembly.parts:
        named = other.name == f"{stem} {opposite}" and other.label[0] == part.label[0]
        if named and _mirror(part, other) is not None:
            return other
    return None


def _mirror(one: Part, other: Part) -> Rows | None:
    """The mirror that lays ``other`` on ``one``, None if there is none."""
    return same_under(one, replace(other, name=one.name), mirrored=True)


def far_axes(assembly: Assembly, part: Part) -> frozenset[int]:
    """The axes along which a right lies the other way round from its left; none of any other."""
    other = other_hand(assembly, part)
    if other is None or not part.name.endswith(RIGHT):
        return frozenset()
    rows = _mirror(other, part)
    if rows is None:
        return frozenset()
    return frozenset(axis for axis, image in enumerate(rows) if sum(image) < 0.0)


def board_set(assembly: Assembly, part: Part) -> BoardSet | None:
    """The boards of solid wood or sheet that a part is marked with; None where it is alone.

    They are alike in size and name but for the hand, and stand in one group: legs, two aprons,
    the sides of a case, the four sides of a drawer two by two.
    """
    if part.kind not in {PartKind.LUMBER, PartKind.SHEET}:
        return None
    sets: dict[tuple[str, ...], list[Copy]] = defaultdict(list)
    parts = {other.label: other for other in assembly.parts}
    for copy in assembly.copies:
        if _alike(part, parts[copy.label]):
            sets[copy.group].append(copy)
    with_it = [boards for boards in sets.values() if any(c.label == part.label for c in boards)]
    if not with_it or not 1 < len(with_it[0]) <= MOST:
        return None
    return _ordered(with_it[0], parts, part.label)


def _alike(part: Part, other: Part) -> bool:
    """Tell whether two parts are boards of one set."""
    return (
        part.kind is other.kind
        and HANDS.sub("", part.name) == HANDS.sub("", other.name)
        and all(
            abs(a - b) <= SAME_SIZE for a, b in zip(part.blank.size, other.blank.size, strict=True)
        )
    )


def _ordered(copies: list[Copy], parts: dict[str, Part], label: str) -> BoardSet:
    """Boards in order along the axis of the piece by which they are furthest apart."""
    middles = {copy.id: copy.placement.point(parts[copy.label].blank.centre) for copy in copies}
    spans = [
        max(m[axis] for m in middles.values()) - min(m[axis] for m in middles.values())
        for axis in range(3)
    ]
    axis = max(range(3), key=lambda place: round(spans[place], 3))

    def place(copy: Copy) -> Vec:
        x, y, z = (round(share, 3) for share in middles[copy.id])
        return ((x, y, z), (y, x, z), (z, x, y))[axis]

    order = sorted(copies, key=place)
    return BoardSet(
        copies=tuple(copy.id for copy in order),
        own=tuple(copy.label == label for copy in order),
        way=("left to right", "front to back", "from below up")[axis],
    )
