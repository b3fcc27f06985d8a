"""Blocks of views put together on a sheet: in line with one another, or by themselves.

The principal view stands in the middle, one view is stacked below or above it, one beside it. Paper
mm unless said otherwise.
"""

from dataclasses import dataclass, replace

from drawings.arranging import Block, block
from drawings.drafts import Draft, Spacing
from drawings.lettering import text_box, text_width
from drawings.paper import LETTER, Scale
from drawings.records import Align, Note, Text, View
from drawings.room import Box
from models.parts.views import Point

APART = 8.0
"""Clear between the blocks of two views."""

NAMED = {"front": "edge", "back": "edge", "right": "end", "left": "end"}
"""What the sides of a part are called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arranged:
    """Blocks placed on the sheet at one scale; ``pinned`` to its upper left corner or free."""

    scale: Scale
    views: tuple[View, ...]
    notes: tuple[Note, ...]
    width: float
    height: float
    pinned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """Blocks with where they stand, before anything is moved there."""

    scale: Scale
    blocks: tuple[tuple[Block, Point], ...]

    @property
    def box(self) -> Box:
        """What they take."""
        lows = [(b.low[0] + at[0], b.low[1] + at[1]) for b, at in self.blocks]
        highs = [(b.high[0] + at[0], b.high[1] + at[1]) for b, at in self.blocks]
        return (
            (min(u for u, _ in lows), min(v for _, v in lows)),
            (max(u for u, _ in highs), max(v for _, v in highs)),
        )

    @property
    def size(self) -> Point:
        """How wide and how high they are together."""
        low, high = self.box
        return (high[0] - low[0], high[1] - low[1])

    @property
    def aside(self) -> float:
        """How far leaders run aside in all (mm)."""
        return sum(note.slant for block, _ in self.blocks for note in block.notes)

    def arranged(self) -> Arranged:
        """Everything in its place; the lower left corner is (0, 0)."""
        low, _ = self.box
        shifts = [(block, (at[0] - low[0], at[1] - low[1])) for block, at in self.blocks]
        return Arranged(
            scale=self.scale,
            views=tuple(moved_view(block.view, by) for block, by in shifts),
            notes=tuple(moved_note(note, by) for block, by in shifts for note in block.notes),
            width=self.size[0],
            height=self.size[1],
        )


class Blocks:
    """Blocks that were worked out before, for the many ways in which a sheet is tried."""

    def __init__(self) -> None:
        self._made: dict[tuple[int, Scale, Spacing], tuple[Draft, Block]] = {}
        self.together: dict[tuple[int, int, Scale, Spacing], Placed] = {}

    def block(self, draft: Draft, scale: Scale, spacing: Spacing) -> Block:
        """The block of a view at a scale; worked out once."""
        key = (id(draft), scale, spacing)
        found = self._made.get(key)
        if found is None:
            found = (draft, block(draft, scale, spacing))  # the draft is kept: so is its id
            self._made[key] = found
        return found[1]


def placed(
    principal: Draft,
    stack: Draft | None,
    beside: Draft | None,
    how: tuple[Scale, Spacing],
    made: Blocks,
) -> Placed:
    """Place up to three views about the principal one; worked out once."""
    key = (id(stack), id(beside), *how)
    if key not in made.together:
        made.together[key] = _placed(principal, stack, beside, how, made)
    return made.together[key]


def _placed(
    principal: Draft,
    stack: Draft | None,
    beside: Draft | None,
    how: tuple[Scale, Spacing],
    made: Blocks,
) -> Placed:
    scale = how[0]
    main = made.block(principal, *how)
    found = [(main, (0.0, 0.0))]
    if stack is not None:
        second = made.block(stack, *how)
        # distances stand toward the stacked view, so `up` says where it is
        found.append((second, (0.0, _clear_of(found, second, 1, principal.up))))
    if beside is not None:
        third = made.block(beside, *how)
        found.append((third, (_clear_of(found, third, 0, -principal.side), 0.0)))
    return Placed(scale=scale, blocks=tuple(found))


def out_of_line(made: Block, own: Scale, scale: Scale) -> Block:
    """A view out of line at its ``own`` scale, with a title over it that says what it shows."""
    name = made.view.name
    text = f"{name if ' ' in name else f'{name} {NAMED[name]}'} ({own})"
    wide = text_width(text, LETTER)
    at = (min(0.0, made.low[0]) + wide / 2, made.high[1] + 0.8 * LETTER)
    title = Text(at=at, text=text, height=LETTER, align=Align.CENTRE)
    box = text_box(title)
    return Block(
        view=replace(made.view, by=own.factor / scale.factor),
        notes=(*made.notes, Note(text=title)),
        boxes=(*made.boxes, box),
        low=made.low,
        high=(max(made.high[0], box[1][0]), box[1][1]),
    )


def _clear_of(placed: list[tuple[Block, Point]], block: Block, axis: int, way: int) -> float:
    """How far a block goes along an axis, one way or the other, to stand clear of those placed."""
    across = 1 - axis
    shift = 0.0
    for other, at in placed:
        for taken in other.boxes:
            low, high = taken[0][axis] + at[axis], taken[1][axis] + at[axis]
            side_low, side_high = taken[0][across] + at[across], taken[1][across] + at[across]
            for box in block.boxes:
                need = high + APART - box[0][axis] if way > 0 else low - APART - box[1][axis]
                if need * way > shift * way and (
                    box[0][across] - APART < side_high and side_low < box[1][across] + APART
                ):
                    shift = need
    return shift


def moved_view(view: View, by: Point) -> View:
    """The view further right and up by so many paper mm."""
    return replace(view, at=(view.at[0] + by[0], view.at[1] + by[1]))


def moved_note(note: Note, by: Point) -> Note:
    """The note with its leader, further right and up."""
    return replace(
        note,
        text=replace(note.text, at=(note.text.at[0] + by[0], note.text.at[1] + by[1])),
        leader=tuple((u + by[0], v + by[1]) for u, v in note.leader),
    )
