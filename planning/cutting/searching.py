"""Ruin and recreate: take some parts out, put them back another way, keep what is not worse.

The idea is published (goal-driven ruin and recreate for cutting with guillotine cuts: Gardeyn and
Wauters, European Journal of Operational Research, 2022; late acceptance: Burke and Bykov, the same
journal, 2017); the code is written from the idea. Plain loops over arrays; see ``tree_arrays.py``.
"""

from typing import Final, NamedTuple

from planning.cutting.placing import (
    AREA_FIT,
    BY_AREA,
    BY_CHANCE,
    BY_GIRTH,
    BY_HEIGHT,
    BY_LONG,
    BY_WIDTH,
    POWER,
    ROOT_POWER,
    SLACK_FIT,
    Way,
    place_pool,
)
from planning.cutting.tree_arrays import (
    CALM,
    CLOSED,
    CUT,
    FREE,
    LEFT,
    NONE,
    PART,
    PLACE,
    RANDOM,
    ROUNDS,
    USED,
    Job,
    State,
    below,
    clear,
    copy,
    draw,
    parts_in,
)

NOISE: Final = 0.3
PASSED: Final = 0.01
FREE_WEIGHT: Final = 0.1
"""What squares of free areas count against the area of the parts that are not placed."""
FOND: Final = 0.2
"""How far a tidying round may prefer a size that is cut beside already."""
STILL: Final = 150
"""So many histories without a better plan, and the search is shaken up."""
SHAKE: Final = 0.15
UNPLACED: Final = 1e6
"""A part that is not placed costs more than any tidiness."""
OFFCUT_STEPS: Final = 20.0
"""The largest offcut counts in steps of a twentieth of a sheet; below that, fence settings do."""
MOST_LEVELS: Final = 1000
"""More levels than a zone is cut in."""
CUT_WEIGHT: Final = 0.01
BAND: Final = 1000.0
"""What a step of the largest offcut is worth, in fence settings."""
RACK: Final = 1e5
"""What a sheet's worth of parts out of new sheets instead of those in hand costs, in settings."""

ALIKE: Final = 0.5
"""The share of tidying rounds that take parts of one size out."""
ANYWHERE: Final = 0.45
TWO_ZONES: Final = 0.85
SECOND_ZONE: Final = 0.95
"""Chances of the ways to take parts out: anywhere, from two zones, one zone whole, and two."""

RATING_CHANCES: Final = ((0.2, SLACK_FIT), (0.3, AREA_FIT), (0.5, ROOT_POWER), (1.0, POWER))
ORDER_CHANCES: Final = (
    (0.4, BY_AREA),
    (0.65, BY_LONG),
    (0.75, BY_WIDTH),
    (0.85, BY_HEIGHT),
    (0.93, BY_GIRTH),
)
"""Chances up to which a rating, an order is taken."""


class Aim(NamedTuple):
    """What a search is for: ``tidy`` 0 places all parts, 1 keeps them placed and tidies up.

    ``most`` is the mean number of parts taken out, ``keep_side`` and ``keep_area`` make an offcut
    worth keeping (in the arrays' units, area as a share of the first zone). ``rack`` zones are in
    hand; they are cut up before new ones.
    """

    tidy: int
    most: int
    unit_w: float
    unit_h: float
    keep_side: float
    keep_area: float
    kerf: int
    rack: int


def cost(s: State, job: Job, aim: Aim) -> float:
    """How far the plan is from what the search is for."""
    if aim.tidy == 1:
        return UNPLACED * s.tally[LEFT] + untidiness(s, aim)
    missing = 0.0
    for i in range(s.tally[LEFT]):
        t = s.pool[i]
        missing += (job.w[t] * aim.unit_w) * (job.h[t] * aim.unit_h)
    squares = 0.0
    for x in range(s.tally[USED]):
        if s.kind[x] == FREE:
            area = (s.w[x] * aim.unit_w) * (s.h[x] * aim.unit_h)
            squares += area * area
    return missing - FREE_WEIGHT * squares


def untidiness(s: State, aim: Aim) -> float:
    """Fence settings and cuts, less what the largest offcut is worth (in settings).

    Parts out of new zones come before all that, where there are zones in hand.
    """
    largest = 0.0
    bought = 0.0
    cuts = 0
    settings = 0
    for x in range(s.tally[USED]):
        if s.kind[x] == FREE and s.parent[x] >= 0:
            largest = max(largest, worth_keeping(s, aim, x))
        elif s.kind[x] == CUT:
            child = s.first[x]
            while child >= 0:
                if not is_rest(s, x, child):
                    cuts += 1
                    settings += note_setting(s, settings, x, child)
                child = s.next[child]
        elif s.kind[x] == PART and 0 < aim.rack <= s.zone[x]:
            bought += (s.w[x] * aim.unit_w) * (s.h[x] * aim.unit_h)
    bands = int(largest * OFFCUT_STEPS)
    return settings + CUT_WEIGHT * cuts - BAND * bands + RACK * bought


def worth_keeping(s: State, aim: Aim, x: int) -> float:
    """The area of an offcut (share of the first zone), 0 where nobody would keep it."""
    if min(s.w[x], s.h[x]) - aim.kerf < aim.keep_side:
        return 0.0
    area = (s.w[x] * aim.unit_w) * (s.h[x] * aim.unit_h)
    return area if area >= aim.keep_area else 0.0


def is_rest(s: State, x: int, child: int) -> bool:
    """Tell whether ``child`` is what remains of ``x`` after its last cut.

    That is the free piece, or else the smallest one.
    """
    if s.kind[child] == FREE:
        return True
    smallest = NONE
    k = s.first[x]
    while k >= 0:
        if s.kind[k] == FREE:
            return False
        if smallest < 0 or _size(s, x, k) < _size(s, x, smallest):
            smallest = k
        k = s.next[k]
    return child == smallest


def _size(s: State, x: int, child: int) -> int:
    return s.w[child] if s.axis[x] == 0 else s.h[child]


def note_setting(s: State, known: int, x: int, child: int) -> int:
    """Note the fence setting of a cut in ``work`` and ``keys``; 1 where its zone has none such."""
    size = _size(s, x, child)
    stage = 2 * (s.level[x] + MOST_LEVELS * s.zone[x]) + s.axis[x]
    for i in range(known):
        if s.keys[i] == size and s.work[i] == stage:
            return 0
    s.keys[known] = size
    s.work[known] = stage
    return 1


def ruin(s: State, job: Job, aim: Aim) -> None:
    """Take parts out: anywhere, out of two zones, or whole zones."""
    zones = len(job.zone_w)
    if aim.tidy == 1 and draw(s) < ALIKE:
        _take_alike(s, job, 1 + below(s, 3 * aim.most))
        return
    chance = draw(s)
    one, two = NONE, NONE
    if chance < ANYWHERE or zones == 1:
        many = 1 + below(s, 2 * aim.most)
    elif chance < TWO_ZONES:
        many = 2 + below(s, 3 * aim.most)
        one, two = below(s, zones), below(s, zones)
    else:
        many = below(s, aim.most)
        _clear_zone(s, below(s, zones))
        if chance > SECOND_ZONE:
            _clear_zone(s, below(s, zones))
    held = _used_pieces(s, one, two)
    got = 0
    for _ in range(6 * many + 20):
        if got >= many or held == 0:
            return
        # a piece listed may be gone by now: it counts as nothing then
        got += _take_out(s, s.free[below(s, held)], many - got)


def _take_alike(s: State, job: Job, many: int) -> None:
    """Take parts out that have a side in common with one part, so that they may come together."""
    held = _used_pieces(s, NONE, NONE)
    got = 0
    first = NONE
    for _ in range(6 * many + 20):
        if got >= many or held == 0:
            return
        x = s.free[below(s, held)]
        if s.kind[x] != PART:
            continue
        t = s.item[x]
        if first < 0:
            first = t
        if job.w[t] == job.w[first] or job.h[t] == job.h[first]:
            clear(s, x)
            got += 1


def _clear_zone(s: State, z: int) -> None:
    if s.kind[z] == CUT or s.kind[z] == PART:
        clear(s, z)


def _used_pieces(s: State, one: int, two: int) -> int:
    """List the pieces with parts in zone ``one`` or ``two`` (NONE: in any); how many there are."""
    n = 0
    kind, zone, free = s.kind, s.zone, s.free
    for x in range(s.tally[USED]):
        here = one < 0 or zone[x] == one or zone[x] == two
        if here and (kind[x] == CUT or kind[x] == PART):
            free[n] = x
            n += 1
    return n


def _take_out(s: State, x: int, most: int) -> int:
    """Take the parts in ``x`` out if they are not too many; how many they are."""
    if s.kind[x] == CLOSED or s.kind[x] == FREE:
        return 0
    n = parts_in(s, x, most + 1)
    if n > most + 1:
        return 0
    clear(s, x)
    return n


def some_way(s: State, aim: Aim) -> Way:
    """A way of placing, by chance."""
    chance = draw(s)
    rating = POWER
    for upto, other in RATING_CHANCES:
        if chance < upto:
            rating = other
            break
    fond = FOND * draw(s) if aim.tidy == 1 else 0.0
    return Way(rating, some_order(s), NOISE * draw(s), PASSED, fond, aim.unit_w, aim.unit_h)


def some_order(s: State) -> int:
    """An order of placing, by chance."""
    chance = draw(s)
    for upto, order in ORDER_CHANCES:
        if chance < upto:
            return order
    return BY_CHANCE


class Record(NamedTuple):
    """How a search goes: costs of late acceptance, and ``marks``: the best cost, the present."""

    history: list[float]
    marks: list[float]


class Trial(NamedTuple):
    """The plan at hand, the one being tried, and the best so far."""

    now: State
    new: State
    best: State


def search(trial: Trial, job: Job, aim: Aim, record: Record, rounds: int) -> bool:
    """Run ``rounds`` rounds; True as soon as a search for room has placed everything."""
    now, new, best = trial.now, trial.new, trial.best
    history, marks = record.history, record.marks
    for _ in range(rounds):
        copy(now, new)
        new.tally[RANDOM] = now.tally[RANDOM]
        ruin(new, job, aim)
        place_pool(new, job, some_way(new, aim))
        now.tally[RANDOM] = new.tally[RANDOM]
        now.tally[ROUNDS] += 1
        now.tally[CALM] += 1
        found = cost(new, job, aim)
        place = now.tally[PLACE]
        if found <= marks[1] + 1e-12 or found <= history[place] + 1e-12:
            copy(new, now)
            marks[1] = found
            if found < marks[0] - 1e-12:
                marks[0] = found
                copy(new, best)
                now.tally[CALM] = 0
            if aim.tidy == 0 and new.tally[LEFT] == 0:
                copy(new, best)
                return True
        history[place] = min(history[place], marks[1])
        now.tally[PLACE] = place + 1 if place + 1 < len(history) else 0
        if now.tally[CALM] > STILL * len(history):
            _shake(now, record, aim)
    return False


def _shake(now: State, record: Record, aim: Aim) -> None:
    """Accept worse plans for a while."""
    now.tally[CALM] = 0
    lift = SHAKE * draw(now) if aim.tidy == 0 else 5.0 * draw(now)
    for i in range(len(record.history)):
        record.history[i] = record.marks[1] + lift
