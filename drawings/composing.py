"""From drafted views to a finished sheet: the largest scale that fits, border, block, remarks."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from drawings.additions import CLEAR, Addition, Drawn, OnSheet, added, on_sheet_so_far
from drawings.angles import reworded
from drawings.drafts import Draft, Spacing
from drawings.lettering import pitch, text_width
from drawings.paper import LARGER, LETTER, MARGIN, SCALES, SIZES, Scale
from drawings.placing import Arranged, Blocks, moved_note, moved_view, out_of_line, placed
from drawings.records import Align, Issue, Note, Sheet, Text, View
from drawings.title_block import HEIGHT as TITLE_HEIGHT
from drawings.title_block import WIDTH as TITLE_WIDTH
from drawings.title_block import Furniture, furniture, title_block, unit_words
from ground.quantities import Units
from models.parts.views import LineView, Point
from specs.spec import Paper, Projection, Standard

LEGIBLE = 70.0
"""The principal view is at least so long on paper, or a larger sheet is taken (mm)."""

RUNS: tuple[tuple[float, float | None, bool], ...] = tuple(
    (overhang, wrap, straight)
    for straight in (True, False)
    for overhang, wrap in (
        (90.0, None),
        (45.0, None),
        (60.0, 75.0),
        (0.0, None),
        (0.0, 75.0),
        (0.0, 55.0),
    )
)
"""How far notes may run past their view, where their lines break (paper mm), and whether they are
broken shorter so that leaders stand straight: tried in turn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How sheets are drawn: units, whose standard, on what paper."""

    units: Units
    standard: Standard
    paper: Paper
    projection: Projection


def style(units: Units, standard: Standard, paper: Paper, issue: Issue) -> Style:
    """The style asked for; ISO draws in first angle and ASME in third unless said otherwise."""
    own = Projection.FIRST_ANGLE if standard is Standard.ISO else Projection.THIRD_ANGLE
    return Style(units=units, standard=standard, paper=paper, projection=issue.projection or own)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drafts:
    """The views of a sheet, the remarks that belong to none of them, and what comes beside.

    ``lying`` draws the view beside with its length level, for where it stands by itself. Views of
    a ``loose`` sheet may stand out of line where there is no room for them in it.
    """

    principal: Draft
    stack: Draft | None = None
    beside: Draft | None = None
    lying: Callable[[], Draft] | None = None
    general: tuple[Note, ...] = ()
    additions: tuple[Addition, ...] = ()
    loose: bool = False

    @property
    def views(self) -> tuple[LineView, ...]:
        """The line views that there are."""
        drafts = (self.principal, self.stack, self.beside)
        return tuple(draft.view for draft in drafts if draft is not None)


def compose(name: str, drafts: Drafts, style: Style, issue: Issue, fields: dict[str, str]) -> Sheet:
    """Lay the drafts out on the paper asked for, or on the next larger one that takes them."""
    paper = style.paper
    made = Blocks()
    while True:
        room = furniture(paper, style.projection, title_block(issue, fields, ""))
        fitting = _largest(drafts, (paper, room), style.units, made)
        if paper not in LARGER or (fitting is not None and _legible(drafts, fitting)):
            break
        paper = LARGER[paper]
    if fitting is None:
        spacing = Spacing(units=style.units)
        how = (SCALES[-1], spacing)
        fitting = placed(drafts.principal, drafts.stack, drafts.beside, how, made).arranged()
    block = title_block(issue, {"units": unit_words(style.units), **fields}, str(fitting.scale))
    done = furniture(paper, style.projection, block)
    at = _centred(fitting, done, _general_height(drafts.general, done, style.units))
    views = tuple(moved_view(view, at) for view in fitting.views)
    notes = (
        *(moved_note(note, at) for note in fitting.notes),
        *_aside(drafts.general, done, style.units),
    )
    more = _additions(drafts, (views, notes), fitting.scale, (paper, done))
    views, notes = _with_angles(views, notes, more)
    return Sheet(
        name=name,
        paper=paper,
        standard=style.standard,
        projection=style.projection,
        units=style.units,
        scale=fitting.scale,
        title=block,
        views=(*views, *(view for drawn in more for view in drawn.views)),
        notes=(*notes, *(note for drawn in more for note in drawn.notes)),
        texts=done.texts,
        ruled=(*done.ruled, *(line for drawn in more for line in drawn.ruled)),
        circles=done.circles,
    )


def _additions(
    drafts: Drafts,
    placed: tuple[tuple[View, ...], tuple[Note, ...]],
    scale: Scale,
    sheet: tuple[Paper, Furniture],
) -> list[Drawn]:
    """All that finds room beside the views."""
    if not drafts.additions:
        return []
    taken = replace(_taken(placed, scale, sheet), shown={view.name: view for view in drafts.views})
    return [drawn for drawn in added(drafts.additions, taken) if drawn is not None]


def _with_angles(
    views: tuple[View, ...], notes: tuple[Note, ...], more: list[Drawn]
) -> tuple[tuple[View, ...], tuple[Note, ...]]:
    """The views with the angles that found room, whose degrees the notes then leave to them."""
    for name, angular in (one for drawn in more for one in drawn.dimensions):
        views = tuple(
            replace(view, dimensions=(*view.dimensions, angular)) if view.name == name else view
            for view in views
        )
        notes = tuple(
            replace(note, text=replace(note.text, text=reworded(note.text.text, angular)))
            if note.view == name and set(angular.states) & set(note.states)
            else note
            for note in notes
        )
    return views, notes


def _taken(
    placed: tuple[tuple[View, ...], tuple[Note, ...]],
    scale: Scale,
    sheet: tuple[Paper, Furniture],
) -> OnSheet:
    """What room is left on a sheet beside its views, notes, title block and border."""
    paper, done = sheet
    frame = ((done.low[0], done.low[1] - TITLE_HEIGHT), done.high)
    taken = on_sheet_so_far(SIZES[paper], frame, *placed, scale)
    width = SIZES[paper][0] - MARGIN
    taken.take(((width - TITLE_WIDTH - CLEAR, 0.0), (width, done.low[1])))
    for line in done.ruled:
        taken.lines.take_line(line.start, line.end)
        taken.room.take_line(line.start, line.end)
    return taken


def _largest(
    drafts: Drafts, sheet: tuple[Paper, Furniture], units: Units, made: Blocks
) -> Arranged | None:
    """The arrangement at the largest scale that fits, None where none does."""
    room = sheet[1]
    wide, tall = room.high[0] - room.low[0], room.high[1] - room.low[1]
    tall -= _general_height(drafts.general, room, units)
    for scale in SCALES:
        (left, bottom), (right, top) = drafts.principal.extent
        if (right - left) * scale.factor > wide or (top - bottom) * scale.factor > tall:
            continue
        for apart in _ways_of(drafts, scale):
            found = _straightest(drafts, apart, (scale, made), ((wide, tall), sheet, units))
            if found is not None:
                return found
    return None


Apart = tuple[tuple[Draft, Scale], ...]
"""Views out of line, each at a scale of its own."""

ASLANT = 12.0
"""Leaders that run aside by more in all are worth another try (mm)."""


def _straightest(
    drafts: Drafts,
    apart: Apart,
    how: tuple[Scale, Blocks],
    where: tuple[Point, tuple[Paper, Furniture], Units],
) -> Arranged | None:
    """Of the arrangements that fit at a scale the one whose leaders run aside least."""
    (wide, tall), sheet, units = where
    scale, made = how
    names = {draft.view.name for draft, _ in apart}
    stack = None if drafts.stack is None or drafts.stack.view.name in names else drafts.stack
    beside = None if len(names) > (stack is not drafts.stack) else drafts.beside
    best: tuple[float, Arranged] | None = None
    tries = TRIES if apart else len(RUNS)
    for run in RUNS:
        spacing = Spacing(units=units, overhang=run[0], wrap=run[1], straight=run[2])
        main = made.block(drafts.principal, scale, spacing)
        if main.high[0] - main.low[0] > wide or main.high[1] - main.low[1] > tall:
            continue
        found = placed(drafts.principal, stack, beside, (scale, spacing), made)
        if found.size[0] > wide or found.size[1] > tall:
            continue
        if best is not None and found.aside >= best[0] - ASLANT:
            continue
        whole = _with_apart(drafts, found.arranged(), apart, sheet, (spacing, made))
        tries -= 1
        if whole is not None:
            best = (sum(note.slant for note in whole.notes), whole)
        if not tries or (best is not None and best[0] <= ASLANT):
            break
    return None if best is None else best[1]


TRIES = 4
"""With views out of line so many arrangements of the others are tried."""

END_MOST, END_WIDEST, END_LEAST = 60.0, 150.0, 6.0
"""The end of a part out of line is no taller on paper, lying no wider; in line it is no thinner, or
it goes out of line first (mm)."""


def _ways_of(drafts: Drafts, scale: Scale) -> Iterator[Apart]:
    """Which views stand out of line, tried in turn: none of them, or the end; at last the edge."""
    ends = list(_ends_of(drafts, scale))
    yield from ends
    if drafts.stack is not None and drafts.loose and scale.factor <= 1.0:
        yield from (((drafts.stack, scale), *end) for end in ends)


def _ends_of(drafts: Drafts, scale: Scale) -> Iterator[Apart]:
    """Ways to draw a part's end: by itself, or in line with the others."""
    end = drafts.beside
    if end is None or not drafts.loose:
        yield ()
        return
    (left, bottom), (right, top) = end.extent
    large, small = max(right - left, top - bottom), min(right - left, top - bottom)
    if small * scale.factor >= END_LEAST:
        yield ()
    larger = [own for own in SCALES if scale.factor < own.factor <= 1.0]
    yield from (((end, own),) for own in larger if large * own.factor <= END_MOST)
    if small * scale.factor < END_LEAST:
        yield ()
    if large * scale.factor <= END_MOST:
        yield ((end, scale),)
    if drafts.lying is not None:
        level = drafts.lying()
        yield from (((level, own),) for own in (*larger, scale) if large * own.factor <= END_WIDEST)


def _with_apart(
    drafts: Drafts,
    others: Arranged,
    apart: Apart,
    sheet: tuple[Paper, Furniture],
    how: tuple[Spacing, Blocks],
) -> Arranged | None:
    """The other views as high up as they go, those apart where there is room for all of them."""
    if not apart:
        return others
    done = sheet[1]
    spacing, blocks = how
    pinned = replace(others, pinned=True)
    at = _centred(pinned, done, 0.0)
    views = tuple(moved_view(view, at) for view in others.views)
    notes = (
        *(moved_note(note, at) for note in others.notes),
        *_aside(drafts.general, done, spacing.units),
    )
    taken = _taken((views, notes), others.scale, sheet)
    for draft, own in apart:
        made = out_of_line(blocks.block(draft, own, spacing), own, others.scale)
        size = (made.high[0] - made.low[0] + 2 * CLEAR, made.high[1] - made.low[1] + 2 * CLEAR)
        corner = taken.room.nearest(size, taken.frame[0], taken.frame)
        if corner is None:
            return None
        taken.take((corner, (corner[0] + size[0], corner[1] + size[1])))
        by = (corner[0] + CLEAR - made.low[0] - at[0], corner[1] + CLEAR - made.low[1] - at[1])
        pinned = replace(
            pinned,
            views=(*pinned.views, moved_view(made.view, by)),
            notes=(*pinned.notes, *(moved_note(note, by) for note in made.notes)),
        )
    return pinned


def _legible(drafts: Drafts, fitting: Arranged) -> bool:
    """Tell whether the principal view is large enough to be read; else the paper is too small."""
    (left, bottom), (right, top) = drafts.principal.extent
    factor = fitting.scale.factor
    return factor >= 1.0 or max(right - left, top - bottom) * factor >= LEGIBLE


def _centred(fitting: Arranged, room: Furniture, below: float) -> Point:
    """Where the arrangement's lower left corner goes, clear of the remarks ``below`` it."""
    wide, tall = room.high[0] - room.low[0], room.high[1] - room.low[1] - below
    if fitting.pinned:
        return (room.low[0] + max(0.0, (wide - fitting.width) / 2), room.high[1] - fitting.height)
    return (
        room.low[0] + max(0.0, (wide - fitting.width) / 3),
        room.high[1] - fitting.height - max(0.0, (tall - fitting.height) / 3),
    )


# ---- remarks that belong to no view, beside the title block or above it


FLOOR = 6.5
"""The lowest remark's base line stands so far off the frame, over the centring mark (mm)."""


def _lines(general: Sequence[Note], wide: float) -> list[Note]:
    """Remarks broken into lines that fit."""
    lines: list[Note] = []
    for note in general:
        rest = note.text.text.split(" ")
        line = ""
        for word in rest:
            longer = f"{line} {word}".strip()
            if line and text_width(longer, LETTER) > wide:
                lines.append(replace(note, text=replace(note.text, text=line)))
                longer = f"   {word}"
            line = longer
        lines.append(replace(note, text=replace(note.text, text=line)))
    return lines


def _beside(room: Furniture) -> bool:
    """Tell whether there is room for remarks left of the title block."""
    return room.aside[1][0] - room.aside[0][0] > text_width("n" * 30, LETTER)


def _general_height(general: Sequence[Note], room: Furniture, units: Units) -> float:
    """Height that remarks take out of the drawing's room."""
    if not general:
        return 0.0
    if _beside(room):
        wide = room.aside[1][0] - room.aside[0][0] - LETTER * 2
        tall = room.aside[1][1] - room.aside[0][1] - FLOOR
    else:
        wide, tall = room.high[0] - room.low[0], 0.0
    needed = len(_lines(general, wide)) * pitch(units, LETTER) + LETTER
    return max(0.0, needed - tall)


def _aside(general: Sequence[Note], room: Furniture, units: Units) -> tuple[Note, ...]:
    """Place remarks line by line, the first one highest."""
    low, high = room.aside
    if _beside(room):
        left, wide, floor = low[0] + LETTER, high[0] - low[0] - LETTER * 2, low[1] + FLOOR
    else:
        left, wide, floor = room.low[0], room.high[0] - room.low[0], room.low[1]
    lines = _lines(general, wide)
    step = pitch(units, LETTER)
    return tuple(
        replace(
            note,
            text=Text(
                at=(left, floor + step * (len(lines) - 1 - place)),
                text=note.text.text,
                height=LETTER,
                align=Align.LEFT,
            ),
        )
        for place, note in enumerate(lines)
    )


def general_note(text: str, states: tuple[str, ...] = ()) -> Note:
    """A remark that belongs to no view; its place is found when the sheet is composed."""
    return Note(text=Text(at=(0.0, 0.0), text=text, height=LETTER), states=states)


def issue_of(piece: str | Issue) -> Issue:
    """An issue from a piece's bare name."""
    return piece if isinstance(piece, Issue) else Issue(piece=piece)
