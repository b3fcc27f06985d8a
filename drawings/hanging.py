"""Notes of a view in rows, each hanging on a leader; paper mm unless said otherwise."""

from dataclasses import dataclass, replace

from drawings.drafts import Draft, Remark, Spacing
from drawings.lettering import pitch, text_width, wrapped
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
    """Where a note starts, how long it is, where its leader drops, its nearest row, its lines."""

    start: float
    long: float
    drop: float
    row: int
    lines: int = 1

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
    said = [_lines(remark.text, spacing.wrap) for remark in remarks]
    hung = hang(
        [(_middle(remark) - left) * scale.factor for remark in remarks],
        [max(text_width(line, LETTER) for line in lines) for lines in said],
        (paper[0], spacing.overhang, draft.side),
        [len(lines) for lines in said],
    )
    step = pitch(spacing.units, LETTER) + 0.8
    up = draft.up < 0
    found = []
    for remark, place, lines in zip(remarks, hung, said, strict=True):
        rise = max(NOTE_OFF, taken + BEYOND) + place.row * step
        base = paper[1] + rise if up else 0.0 - rise - LETTER
        foot = base - 1.0 if up else base + LETTER + 1.0
        edge = paper[1] + 3.0 if up else -3.0
        (low_u, low_v), (high_u, high_v) = remark.spot
        at_u = min(max(place.drop, (low_u - left) * scale.factor), (high_u - left) * scale.factor)
        at_v = ((low_v + high_v) / 2 - bottom) * scale.factor
        leader = ((place.drop, foot), (place.drop, edge), (at_u, at_v))
        for row, line in enumerate(reversed(lines) if up else lines):
            at = (place.start, base + row * step if up else base - row * step)
            text = Text(at=at, text=line, height=LETTER, align=Align.LEFT)
            found.append(Note(text=text, leader=() if row else leader, states=remark.states))
    return tuple(found)


def _lines(text: str, wrap: float | None) -> tuple[str, ...]:
    return (text,) if wrap is None else wrapped(text, wrap, LETTER)


def hang(
    wanted: list[float],
    widths: list[float],
    room: tuple[float, float, int],
    lines: list[int] | None = None,
) -> tuple[Hung, ...]:
    """Places of notes whose leaders drop as near to ``wanted`` (in order) as they get.

    A note runs to the right of its leader, or to the left where there is no room on the right and
    no other leader comes down there. ``room`` is the view's length, how far notes may run past it,
    and on which side of it (1 or -1) numbers stand; ``lines`` how many lines each note has, one
    where it is not given.
    """
    long, overhang, side = room
    limit = max(long + overhang, max(widths) + HANG * len(wanted))
    drops = clear_of(spread(wanted, HANG), long, side)
    after = limit + HANG
    hung: list[Hung] = []
    for place in range(len(drops) - 1, -1, -1):
        drop, wide = min(drops[place], after - HANG), widths[place]
        start = drop
        if drop + wide > limit:
            before = [other for other in drops[:place] if other > drop - wide - HANG]
            if not before and drop - wide >= -overhang:
                start = drop - wide
            else:
                drop = start = min(limit - wide, drop)
        after = drop
        count = 1 if lines is None else lines[place]
        hung.append(Hung(start=start, long=wide, drop=drop, row=0, lines=count))
    return _rowed(hung)


def _rowed(hung: list[Hung]) -> tuple[Hung, ...]:
    """Rows, from the right: over every leader that comes down through it, clear of every note."""
    done: list[Hung] = []
    for one in hung:
        under = [
            other.row + other.lines
            for other in done
            if one.start - HANG < other.drop < one.end + HANG
        ]
        row = max(under, default=0)
        while any(
            other.row < row + one.lines
            and row < other.row + other.lines
            and one.start < other.end + HANG
            and other.start < one.end + HANG
            for other in done
        ):
            row += 1
        done.append(replace(one, row=row))
    return tuple(reversed(done))


def _middle(remark: Remark) -> float:
    """The middle of what a remark speaks of, along u (view mm)."""
    return (remark.spot[0][0] + remark.spot[1][0]) / 2
