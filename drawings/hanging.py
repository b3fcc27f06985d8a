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

BESIDE = 3.5
"""And so far off a note beside which they come down, or the note goes over them."""

SHORTER = (150.0, 115.0, 90.0, 70.0)
"""Lines of notes are broken so long where their leaders would run aslant else."""

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
    wanted = [(_middle(remark) - left) * scale.factor for remark in remarks]
    said, hung = _broken(remarks, wanted, (paper[0], spacing.overhang, draft.side), spacing)
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
            found.append(
                Note(
                    text=text,
                    leader=() if row else leader,
                    states=remark.states,
                    view=draft.view.name,
                )
            )
    return tuple(found)


def _broken(
    remarks: list[Remark],
    wanted: list[float],
    room: tuple[float, float, int],
    spacing: Spacing,
) -> tuple[list[tuple[str, ...]], tuple[Hung, ...]]:
    """The lines of each note and their places: broken as asked, or shorter to hang straight."""
    wraps = [spacing.wrap]
    if spacing.straight:
        wraps += [wrap for wrap in SHORTER if spacing.wrap is None or wrap < spacing.wrap]
    found: list[tuple[list[tuple[str, ...]], tuple[Hung, ...]]] = []
    for wrap in wraps:
        said = [_lines(remark.text, wrap) for remark in remarks]
        widths = [max(text_width(line, LETTER) for line in lines) for lines in said]
        hung = straight(wanted, widths, room, [len(lines) for lines in said])
        if hung is not None:
            found.append((said, hung))
            if wrap == spacing.wrap:
                break
    if found:
        return min(found, key=lambda one: _height(one[1]))
    said = [_lines(remark.text, spacing.wrap) for remark in remarks]
    widths = [max(text_width(line, LETTER) for line in lines) for lines in said]
    return said, hang(wanted, widths, room, [len(lines) for lines in said])


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
    counts = [1] * len(wanted) if lines is None else lines
    found = straight(wanted, widths, room, counts)
    if found is not None:
        return found
    limit = _limit(wanted, widths, room)
    drops = clear_of(spread(wanted, HANG), long, side)
    return _pushed(drops, widths, counts, (limit, overhang))


def _limit(wanted: list[float], widths: list[float], room: tuple[float, float, int]) -> float:
    """How far to the right notes may reach."""
    return max(room[0] + room[1], max(widths) + HANG * len(wanted))


def straight(
    wanted: list[float], widths: list[float], room: tuple[float, float, int], counts: list[int]
) -> tuple[Hung, ...] | None:
    """Notes whose leaders all drop straight down, in as few rows as that takes; None: no way."""
    long, overhang, side = room
    limit = _limit(wanted, widths, room)
    drops = clear_of(spread(wanted, HANG), long, side)
    found = [
        _straight(drops, widths, counts, first)
        for first in range(len(wanted) + 1)
        if all(drop + wide <= limit for drop, wide in zip(drops[:first], widths, strict=False))
        and all(
            drop - wide >= 0.0 - overhang
            for drop, wide in zip(drops[first:], widths[first:], strict=True)
        )
        and not _entangled(drops, widths, first)
    ]
    return min(found, key=lambda hung: (_height(hung), -_runs_right(hung)), default=None)


def _straight(
    drops: list[float], widths: list[float], counts: list[int], first: int
) -> tuple[Hung, ...]:
    """Notes at their own leaders: the ``first`` ones run to the right, the others to the left."""
    return _rowed(
        [
            Hung(
                start=drop if place < first else drop - wide,
                long=wide,
                drop=drop,
                row=0,
                lines=count,
            )
            for place, (drop, wide, count) in enumerate(zip(drops, widths, counts, strict=True))
        ]
    )


def _entangled(drops: list[float], widths: list[float], first: int) -> bool:
    """Tell whether a note to the right and one to the left each lie over the other's leader."""
    return any(
        drops[one] + widths[one] + BESIDE > drops[other]
        and drops[other] - widths[other] - BESIDE < drops[one]
        for one in range(first)
        for other in range(first, len(drops))
    )


def _height(hung: tuple[Hung, ...]) -> int:
    """The rows that notes take."""
    return max(one.row + one.lines for one in hung)


def _runs_right(hung: tuple[Hung, ...]) -> int:
    """How many notes run to the right of their leaders."""
    return sum(one.start >= one.drop for one in hung)


def _pushed(
    drops: list[float], widths: list[float], counts: list[int], room: tuple[float, float]
) -> tuple[Hung, ...]:
    """Notes whose leaders drop further to the left where there is no room for them."""
    limit, overhang = room
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
        hung.append(Hung(start=start, long=wide, drop=drop, row=0, lines=counts[place]))
    return _rowed(hung[::-1])


def _rowed(hung: list[Hung]) -> tuple[Hung, ...]:
    """Rows: a note lies over every leader that comes down through it, clear of every note."""
    under = [
        [other for other, one in enumerate(hung) if one is not note and _over(note, one.drop)]
        for note in hung
    ]
    done: dict[int, Hung] = {}
    while len(done) < len(hung):
        waiting = [place for place in range(len(hung)) if place not in done]
        ready = [place for place in waiting if all(o in done for o in under[place])]
        place = max(ready or waiting)
        note = hung[place]
        row = max(
            (done[o].row + done[o].lines for o in under[place] if o in done),
            default=0,
        )
        while any(_meet(replace(note, row=row), other) for other in done.values()):
            row += 1
        done[place] = replace(note, row=row)
    return tuple(done[place] for place in range(len(hung)))


def _over(note: Hung, drop: float) -> bool:
    """Tell whether a leader that comes down at ``drop`` comes through a note."""
    return note.start - BESIDE < drop < note.end + BESIDE


def _meet(one: Hung, other: Hung) -> bool:
    """Tell whether two notes share a row and room in it."""
    return (
        other.row < one.row + one.lines
        and one.row < other.row + other.lines
        and one.start < other.end + HANG
        and other.start < one.end + HANG
    )


def _middle(remark: Remark) -> float:
    """The middle of what a remark speaks of, along u (view mm)."""
    return (remark.spot[0][0] + remark.spot[1][0]) / 2
