"""From drafts to parts and copies: labels, parts alike put together, lefts and rights told apart.

Labels are a letter and a number: B base, C case, S shelves and dividers, D drawers, F fronts and
doors, E edging, L loose pieces, H hardware.
"""

from collections import Counter
from dataclasses import dataclass, field, replace

from ground.vectors import Frame, Vec
from models.parts.alike import same_under, turned
from models.parts.assembly import Copy
from models.parts.part import Part, numbered
from models.setting_out.draft import Draft


@dataclass(slots=True)
class _Kind:
    """One distinct part and where it stands; ``pair`` is the other hand."""

    letter: str
    part: Part
    places: list[tuple[Draft, Frame]] = field(default_factory=list)
    pair: "_Kind | None" = None


def gathered(
    drafts: tuple[Draft, ...],
) -> tuple[tuple[Part, ...], tuple[Copy, ...], dict[str, str]]:
    """The distinct parts, the copies, and the copy id of every draft's key."""
    kinds: list[_Kind] = []
    for draft in drafts:
        _gather(draft, kinds)
    numbers: Counter[str] = Counter()
    parts: list[Part] = []
    copies: list[Copy] = []
    ids: dict[str, str] = {}
    for letter in sorted({kind.letter for kind in kinds}):
        for kind in (kind for kind in kinds if kind.letter == letter):
            numbers[letter] += 1
            label = f"{letter}{numbers[letter]}"
            parts.append(replace(kind.part, label=label, name=_handed(kind)))
            for number, (draft, frame) in enumerate(kind.places, 1):
                ids[draft.key] = f"{label}.{number}"
                copies.append(
                    Copy(
                        id=ids[draft.key],
                        label=label,
                        group=draft.group,
                        placement=frame,
                        mover=draft.mover,
                    )
                )
    return tuple(parts), tuple(copies), ids


def _gather(draft: Draft, kinds: list[_Kind]) -> None:
    part = Part(
        label="",
        name=draft.name,
        kind=draft.kind,
        material=draft.material,
        blank=draft.blank,
        features=numbered(tuple(draft.features)),
        show=draft.show,
        banded=draft.banded,
        edged=draft.edged,
        over=draft.over,
        made=draft.made,
        stage=draft.stage,
        note=draft.note,
    )
    mirror: _Kind | None = None
    for kind in kinds:
        if kind.letter != draft.letter or kind.part.name != draft.name:
            continue
        rows = same_under(kind.part, part)
        if rows is not None:
            kind.places.append((draft, turned(draft.frame, rows, part.blank)))
            return
        if mirror is None and kind.pair is None and same_under(kind.part, part, mirrored=True):
            mirror = kind
    fresh = _Kind(draft.letter, part, [(draft, draft.frame)], mirror)
    if mirror is not None:
        mirror.pair = fresh
    kinds.append(fresh)


def _handed(kind: _Kind) -> str:
    """The part's name, with its hand where there is another: seen from the front of the piece."""
    if kind.pair is None:
        return kind.part.name
    mine, other = _middle(kind), _middle(kind.pair)
    return f"{kind.part.name} {'left' if mine < other else 'right'}"


def _middle(kind: _Kind) -> Vec:
    draft, frame = kind.places[0]
    x, y, z = frame.point(draft.blank.centre)
    return (round(x, 4), round(y, 4), round(z, 4))
