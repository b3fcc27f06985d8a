"""Notes of a view in rows, each hanging on a leader; paper mm unless said otherwise."""

from dataclasses import dataclass

from drawings.drafts import Draft, Remark, Spacing
from drawings.lettering import pitch, text_width
from drawings.paper import LETTER, Scale
from drawings.records import Align, Note, Text
from drawings.rows import clear_of, spread
from models.parts.views import Point

HANG = 4.0
"""Leaders of one view hang at least so far apart."""

NOTE_OFF = 7.0
"""The lowest note's base line stands so far off the view."""

BEYOND = 3.0
"""Clear between the notes and the numbers that stand on their side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """Where a note starts, how long it is, where its leader drops, and its row."""

    start: float
    long: float
    drop: float
    row: int

    @property
    def end(self) -> float:
        """Where it ends."""
        return self.start + self.long


def notes(
    draft: Draft, room: tuple[Point, float], scale: Scale, spacing: Spacing
) -> tuple[Note, ...]:
    """Notes in rows on the far side, each hanging on a leader that drops to its feature.

    ``room`` is the view's size on paper, and how far numbers reach past it on the notes' side.
    """
    if not draft.remarks:
        return ()
    remarks = sorted(draft.remarks, key=lambda remark: (_middle(remark), remark.text))
    (left, bottom), _ = draft.extent
    paper, taken = room
    hung = hang(
        [(_middle(remark) - left) * scale.factor for remark in remarks],
        [text_width(remark.text, LETTER) for remark in remarks],
        (paper[0], spacing.overhang, draft.side),
    )
    up = draft.up < 0
    found = []
    for remark, place in zip(remarks, hung, strict=True):
        rise = max(NOTE_OFF, taken + BEYOND)
        rise += place.row * (pitch(spacing.units, LETTER) + 0.8)
        base = paper[1] + rise if up else 0.0 - rise - LETTER
        foot = base - 1.0 if up else base + LETTER + 1.0
        edge = paper[1] + 3.0 if up else -3.0
        (low_u, low_v), (high_u, high_v) = remark.spot
        at_u = min(max(place.drop, (low_u - left) * scale.factor), (high_u - left) * scale.factor)
        at_v = ((low_v + high_v) / 2 - bottom) * scale.factor
        text = Text(at=(place.start, base), text=remark.text, height=LETTER, align=Align.LEFT)
        leader = ((place.drop, foot), (place.drop, edge), (at_u, at_v))
        found.append(Note(text=text, leader=leader, states=remark.states))
    return tuple(found)


def hang(
    wanted: list[float], widths: list[float], room: tuple[float, float, int]
) -> tuple[Hung, ...]:
    """Places of notes whose leaders drop as near to ``wanted`` (in order) as they get.

    A note runs to the right of its leader, or to the left where there is no room on the right and
    no other leader comes down there. ``room`` is the view's length, how far notes may run past it,
    and on which side of it (1 or -1) numbers stand.
    """
    long, overhang, side = room
    limit = max(long + overhang, max(widths) + HANG * len(wanted))
    drops = clear_of(spread(wanted, HANG), long, side)
    after = limit
    hung: list[Hung] = []
    for place in range(len(drops) - 1, -1, -1):
        drop, wide = drops[place], widths[place]
        start = drop
        if drop + wide > limit:
            before = [other for other in drops[:place] if other > drop - wide - HANG]
            if not before and drop - wide >= -overhang:
                start = drop - wide
            else:
                drop = start = min(limit - wide, after - HANG)
        drop = min(drop, after - HANG) if start == drop else drop
        start = min(start, drop)
        after = drop
        hung.append(Hung(start=start, long=wide, drop=drop, row=0))
    return _rowed(hung)


def _rowed(hung: list[Hung]) -> tuple[Hung, ...]:
    """Rows, from the right: over every leader that comes down through it, clear of every note."""
    done: list[Hung] = []
    for one in hung:
        under = [other.row for other in done if one.start - HANG < other.drop < one.end + HANG]
        row = max(under, default=-1) + 1
        while any(
            other.row == row and one.start < other.end + HANG and other.start < one.end + HANG
            for other in done
        ):
            row += 1
        done.append(Hung(start=one.start, long=one.long, drop=one.drop, row=row))
    return tuple(reversed(done))


def _middle(remark: Remark) -> float:
    """The middle of what a remark speaks of, along u (view mm)."""
    return (remark.spot[0][0] + remark.spot[1][0]) / 2
