"""Joints from both sides of one panel: their holes staggered, so that none meets inside it."""

from collections.abc import Iterator
from dataclasses import replace

from models.parts.features import Feature, Hole
from models.parts.opposite import opposite_holes
from models.parts.part import Part, numbered
from models.setting_out.draft import Draft
from models.setting_out.drilling import meeting as met_by
from models.setting_out.meeting import Held, Meeting

STEP = 5.0
"""Rows of holes are moved along their joint by as many of these as it takes (mm). Common practice,
no source."""
MOST = 12
"""Steps that a row is moved at most, either way."""


def shifts(meeting: Meeting) -> Iterator[Meeting]:
    """The meeting with its row of holes moved: the nearest places first, the way on before back."""
    for steps in range(1, MOST + 1):
        for way in (1, -1):
            yield replace(meeting, shift=way * steps * STEP)


def meets(face: Draft, held: Held) -> bool:
    """Tell whether what a joint bores into ``face`` meets what is bored there already."""
    fresh = [f for half in held.halves for f in half.second]
    fresh += [f for half in held.swapped for f in half.first]
    if any(isinstance(f, Hole) and met_by(face, f) is not None for f in fresh):
        return True
    back = face.frame.inverse()
    before = len(opposite_holes(_part(face)))
    return len(opposite_holes(_part(face, *(f.moved(back) for f in fresh)))) > before


def as_sound(held: Held, usual: Held) -> bool:
    """Tell whether a moved row leaves all the wood that it should where the usual one does."""
    return sum(not room.enough for room in held.rooms) <= sum(
        not room.enough for room in usual.rooms
    )


def _part(draft: Draft, *fresh: Feature) -> Part:
    return Part(
        label="",
        name=draft.name,
        kind=draft.kind,
        material=draft.material,
        blank=draft.blank,
        features=numbered((*draft.features, *fresh)),
    )
