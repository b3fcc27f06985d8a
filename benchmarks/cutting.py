"""How good the cut plans are, against published instances and jobs like a shop's.

    python -P benchmarks/cutting.py FOLDER [--seconds 5] [--long 30] [--only NAME ...]

FOLDER holds the instances: ``2d/classes``, ``2d/gcut``, ``2d/beng`` and ``1d/*`` (their formats:
see ``read_2d`` and ``read_1d``). They are not part of this repository. One table comes out, all of
it from one run on one thread: sheets used, against the best of all guillotine settings of rectpack
instance by instance, and against the lower bound. Layouts of rectpack that cannot be cut from edge
to edge are left out. Seconds are processor time; rounds stand beside them, since plans of a build
count rounds and never seconds. Sections for ``--only``: fixed, turning, shop, bars.
"""

import argparse
import random
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import rectpack
from rectpack import guillotine

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from planning.cutting.bars import fewest_bars  # noqa: E402  the checkout comes first
from planning.cutting.bounds import lower_bound  # noqa: E402
from planning.cutting.compiled import can_compile, fast  # noqa: E402
from planning.cutting.engine import solve  # noqa: E402
from planning.cutting.layout import KEEP_SHEET as KEEP  # noqa: E402
from planning.cutting.layout import Bit, of_cell, tree  # noqa: E402
from planning.cutting.records import NodeKind, Placed  # noqa: E402
from planning.cutting.sheet_bound import sheet_bound  # noqa: E402
from planning.cutting.steps import fence_settings, saw_list  # noqa: E402
from planning.cutting.task import Cell, Effort, Found, Item, Task, Zone  # noqa: E402

CLASSES, SIZES = range(1, 11), (20, 40, 60, 80, 100)
GCUT, BENG = (3, 4, 7, 8, 11, 12), (3, 4, 6, 7)
"""The sixty instances: the first of each class and size, and these."""

Rect = tuple[int, int, int, int]


# ---- instances


def numbers(path: Path) -> list[int]:
    """Every number of a file."""
    return [int(float(word)) for word in path.read_text(encoding="utf-8").split()]


def read_2d(folder: Path) -> Iterator[tuple[str, tuple[int, int], list[tuple[int, int]]]]:
    """Name, sheet and items of each instance.

    Classes: n, W, H, then index, w, h a line; gcut: n, W, H, then w, h, value; beng: n, W, H, then
    index, h, w.
    """
    names = [("classes", f"CLASS{c:02d}_{n:03d}_01") for c in CLASSES for n in SIZES]
    names += [("gcut", f"gcut{n}") for n in GCUT] + [("beng", f"BENG{n}") for n in BENG]
    columns = {"classes": (1, 2), "gcut": (0, 1), "beng": (2, 1)}
    for kind, name in names:
        path = folder / "2d" / kind / f"{name}.txt"
        if path.exists():
            n, wide, high, *rest = numbers(path)
            w, h = columns[kind]
            yield name, (wide, high), [(rest[3 * i + w], rest[3 * i + h]) for i in range(n)]


def read_1d(folder: Path) -> Iterator[tuple[str, int, list[tuple[int, int]]]]:
    """Name, bar and lengths with their demand of each instance: m, c, then size, demand."""
    for path in sorted((folder / "1d").glob("*/*.txt")):
        m, bar, *rest = numbers(path)
        yield (
            f"{path.parent.name} {path.stem}",
            bar,
            [(rest[2 * i], rest[2 * i + 1]) for i in range(m)],
        )


PANELS = (
    (600, 1900, 300, 600),
    (350, 1100, 250, 580),
    (300, 900, 120, 400),
    (500, 1200, 400, 900),
)
"""Lengths from and to, widths from and to (mm)."""
TURNED = 0.5
"""The share of parts whose grain does not matter."""


def shop_jobs(seed: int = 1, many: int = 18) -> Iterator[Task]:
    """Jobs like a shop's: panels out of 2440 x 1220 less 10 a side, kerf 3, half of them locked.

    Sizes in tenths of a millimetre: case sides, shelves, fronts, backs, rails, several of each.
    """
    for job in range(many):
        chance = random.Random(seed * 1000 + job)  # noqa: S311 - sizes, no secrets
        items: list[Item] = []
        while len(items) < 20 + job * 60 // max(1, many - 1):
            low_l, high_l, low_w, high_w = chance.choice(PANELS)
            size = (chance.randint(low_l, high_l) * 10, chance.randint(low_w, high_w) * 10)
            item = Item(w=size[0], h=size[1], turns=chance.random() < TURNED)
            items += [item] * chance.choice((1, 1, 2, 2, 4))
        share = KEEP.area / (2420 * 1200)
        yield Task(
            items=tuple(items),
            new=Zone(w=24200, h=12000),
            kerf=30,
            levels=3,
            keep_side=int(KEEP.side * 10),
            keep_share=share,
        )


# ---- the baseline

FITS = ("GuillotineBaf", "GuillotineBlsf", "GuillotineBssf")
SPLITS = ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
"""Names of rectpack's ways: which free rectangle is taken, and how the rest of it is split."""


def settings() -> Iterator[tuple[type, object, object]]:
    """Every guillotine way of rectpack, with and without merging, by every order and bin rule."""
    ways = [
        getattr(guillotine, name)
        for name in dir(guillotine)
        if name.startswith(FITS) and name.endswith(SPLITS)
    ]  # fmt: skip
    orders = [getattr(rectpack, name) for name in dir(rectpack) if name.startswith("SORT_")]
    rules = [rectpack.PackingBin.BNF, rectpack.PackingBin.BFF, rectpack.PackingBin.BBF]
    for way in ways:
        for one in (way, unmerged(way)):
            for order in orders:
                for rule in rules:
                    yield one, order, rule


def unmerged(way: type) -> type:
    """The same way without merging free rectangles: whatever it lays out can be cut."""

    class Unmerged(way):  # type: ignore[misc, valid-type]
        def __init__(self, width: int, height: int, rot: bool = True, *args: object) -> None:  # noqa: FBT001, FBT002
            super().__init__(width, height, rot, False)  # noqa: FBT003
            del args

    return Unmerged


def baseline(task: Task, *, turning: bool) -> int:
    """The fewest sheets of all settings whose layout can be cut from edge to edge."""
    zone, k = task.new, task.kerf
    assert zone is not None
    best = len(task.items)
    for way, order, rule in settings():
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rule,
            pack_algo=way,
            sort_algo=order,
            rotation=turning,
        )
        for name, item in enumerate(task.items):
            packer.add_rect(item.w + k, item.h + k, rid=name)
        packer.add_bin(zone.w + k, zone.h + k, count=float("inf"))
        packer.pack()
        sheets = [[(r.x, r.y, r.width, r.height) for r in sheet] for sheet in packer]
        whole = sum(map(len, sheets)) == len(task.items)
        if whole and len(sheets) < best and all(map(can_be_cut, sheets)):
            best = len(sheets)
    return best


def can_be_cut(rects: Sequence[Rect]) -> bool:
    """Tell whether some row of cuts from edge to edge parts the rectangles."""
    if len(rects) <= 1:
        return True
    for axis in (0, 1):
        ordered = sorted(rects, key=lambda rect: rect[axis])
        end = ordered[0][axis] + ordered[0][axis + 2]
        for i, rect in enumerate(ordered[1:], 1):
            if rect[axis] >= end:
                return can_be_cut(ordered[:i]) and can_be_cut(ordered[i:])
            end = max(end, rect[axis] + rect[axis + 2])
    return False


# ---- our side


@dataclass(slots=True)
class Clock:
    """Processor time, and what was found when."""

    limit: float
    start: float = 0.0
    events: tuple[tuple[float, int], ...] = ()

    def begin(self) -> "Clock":
        """Start it."""
        self.start = time.process_time()
        return self

    def over(self) -> bool:
        """Tell whether the time is up."""
        return time.process_time() - self.start > self.limit

    def note(self, sheets: int) -> None:
        """Note a better plan."""
        self.events += ((time.process_time() - self.start, sheets),)

    def after(self, seconds: float) -> int:
        """The fewest sheets by then; the first plan, where there was none yet."""
        return min((n for t, n in self.events if t <= seconds), default=self.events[0][1])


ENDLESS = 10**9
PROOF, LONG_PROOF = 400, 2000
"""Rounds for whole sheets: in a plan, and in the bound beforehand."""
BOUNDING = 60.0
"""The costly bound has so long an instance (processor seconds); what it has by then holds."""


def bounded(task: Task) -> int:
    """The best bound; the costly one only where a short search does not meet the others."""
    bound = lower_bound(task, bars=True)
    short = Effort(starts=120, rounds=20_000, tidy=0, proof=0)
    found = solve(task, short, bound, fast() if can_compile() else None)
    if len(found.new) == bound:
        return bound
    return sheet_bound(task, bound, rounds=LONG_PROOF, over=Clock(BOUNDING).begin().over)


def plan(task: Task, bound: int, seconds: float, *, tidy: int = 0) -> tuple[Found, Clock]:
    """Plan against the clock."""
    clock = Clock(seconds).begin()
    effort = Effort(starts=120, rounds=ENDLESS, tidy=tidy, proof=PROOF, chunk=500)
    timed = replace(effort, over=clock.over, found=clock.note)
    found = solve(task, timed, bound, fast() if can_compile() else None)
    assert checked(task, found)
    return found, clock


def checked(task: Task, found: Found) -> bool:
    """Every item once, its own size, pieces and kerfs within what they are cut from."""
    seen: list[int] = []

    def fits(cell: Cell) -> bool:
        if cell.item is not None:
            item = task.items[cell.item]
            seen.append(cell.item)
            straight, turned = (cell.w, cell.h) == (item.w, item.h), (cell.h, cell.w)
            return straight or (item.turns and turned == (item.w, item.h))
        if cell.axis is None:
            return True
        sizes = [(c.w, c.h) for c in cell.children]
        along = sum(size[cell.axis] for size in sizes) + task.kerf * (len(sizes) - 1)
        across = all(size[1 - cell.axis] == (cell.w, cell.h)[1 - cell.axis] for size in sizes)
        room = (cell.w, cell.h)[cell.axis]
        return along <= room + task.kerf and across and all(map(fits, cell.children))

    return all(map(fits, found.new)) and sorted(seen) == list(range(len(task.items)))


def fences(task: Task, found: Found) -> int:
    """Fence settings of every sheet's saw list."""

    def load(item: int, cell: Cell) -> Bit:
        placed = Placed(label=str(item), name="", copy=str(item))
        return Bit(size=(cell.w, cell.h, 1), kind=NodeKind.PART, placed=placed)

    bits = [of_cell(cell, 1, task.kerf, load) for cell in found.new]
    return sum(fence_settings(saw_list(tree(bit, KEEP))) for bit in bits)


# ---- the table


Row = tuple[str, str, str, str, str, str, str]
HEAD: Row = ("what", "ours", "rectpack", "bound", "ours/rectpack", "ours/bound", "notes")


def row(what: str, ours: int, base: int | None, bound: int, notes: str) -> Row:
    """One line of the table."""
    ratio = "" if base is None else f"{ours / base:.4f}"
    return (what, str(ours), str(base or ""), str(bound), ratio, f"{ours / bound:.4f}", notes)


def say(what: str) -> None:
    """Say on the side what is in hand."""
    sys.stderr.write(f"\r{what:<60}")
    sys.stderr.flush()


def academic(folder: Path, times: Sequence[float], *, turning: bool) -> list[Row]:
    """The sixty instances, with snapshots of one run at each of ``times`` (s)."""
    ours = dict.fromkeys(times, 0)
    base = bounds = proved = better = worse = rounds = 0
    spent = 0.0
    for name, (wide, high), sizes in read_2d(folder):
        say(f"2D {'turning' if turning else 'fixed'}: {name}")
        items = tuple(Item(w=w, h=h, turns=turning) for w, h in sizes)
        task = Task(items=items, new=Zone(w=wide, h=high))
        bound = bounded(task)
        found, clock = plan(task, bound, max(times))
        mine = baseline(task, turning=turning)
        base, bounds = base + mine, bounds + bound
        rounds, spent = rounds + found.rounds, spent + time.process_time() - clock.start
        proved += len(found.new) == bound
        first = clock.after(min(times))
        better, worse = better + (first < mine), worse + (first > mine)
        for seconds in times:
            ours[seconds] += clock.after(seconds)
    kind = "turning" if turning else "grain fixed"
    notes = f"better on {better}, worse on {worse}"
    lines = [row(f"2D, {kind}, {s:g} s", ours[s], base, bounds, notes) for s in times]
    last = f"{proved} proved, {rounds} rounds, {spent:.0f} s"
    return [*lines[:-1], (*lines[-1][:6], last if len(times) > 1 else f"{notes}, {last}")]


def shop(seconds: float) -> list[Row]:
    """Jobs like a shop's, and their fence settings with and without looking at them."""
    ours = base = bounds = plain = tidied = rounds = 0
    for place, task in enumerate(shop_jobs(), 1):
        say(f"shop jobs: {place}")
        bound = lower_bound(task)
        found, _ = plan(task, bound, seconds)
        ours, bounds, rounds = ours + len(found.new), bounds + bound, rounds + found.rounds
        plain += fences(task, found)
        tidied += fences(task, tidied_up(task, len(found.new)))
        # rectpack turns all items or none: here all stay as they lie
        base += baseline(task, turning=False)
    saved = f"{1 - tidied / plain:.1%} fewer fence settings ({plain} to {tidied}), {rounds} rounds"
    return [row(f"shop jobs, 3 levels, {seconds:g} s", ours, base, bounds, saved)]


def tidied_up(task: Task, sheets: int) -> Found:
    """The plan that a build would make, given rounds enough, on so many sheets."""
    effort = Effort(starts=120, rounds=200_000, tidy=60_000)
    found = solve(task, effort, sheets, fast() if can_compile() else None)
    assert checked(task, found)
    return found


def bars(folder: Path, seconds: float) -> list[Row]:
    """Lengths out of bars."""
    groups: dict[str, list[tuple[int, int, int]]] = {}
    for name, bar, lengths in read_1d(folder):
        say(f"1D: {name}")
        clock = Clock(seconds).begin()
        found = fewest_bars(bar, lengths, dives=ENDLESS, over=clock.over)
        groups.setdefault(name.split()[0], []).append(
            (len(found.patterns), found.least, found.dives)
        )
    groups["all"] = [one for group in groups.values() for one in group]
    return [
        row(
            f"1D, {name}, {seconds:g} s",
            sum(used for used, _, _ in group),
            None,
            sum(least for _, least, _ in group),
            f"{sum(u == b for u, b, _ in group)} of {len(group)} proved,"
            f" {sum(d for _, _, d in group)} dives",
        )
        for name, group in groups.items()
    ]


def main() -> int:
    """Measure and print one table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seconds", type=float, default=5.0)
    parser.add_argument("--long", type=float, default=30.0)
    parser.add_argument("--only", nargs="*", default=["fixed", "turning", "shop", "bars"])
    asked = parser.parse_args()
    sections: dict[str, Callable[[], list[Row]]] = {
        "fixed": lambda: academic(asked.folder, (asked.seconds, asked.long), turning=False),
        "turning": lambda: academic(asked.folder, (asked.seconds,), turning=True),
        "shop": lambda: shop(asked.seconds),
        "bars": lambda: bars(asked.folder, asked.long),
    }
    warm = Task(items=(Item(w=1, h=1), Item(w=2, h=1)), new=Zone(w=2, h=1))
    solve(warm, replace(Effort(), rounds=1, tidy=1), 0, fast() if can_compile() else None)
    sheet_bound(warm, 0, rounds=1)
    rows: list[Row] = [HEAD]
    for name in asked.only:
        rows += sections[name]()
    say("")
    widths = [max(len(line[column]) for line in rows) for column in range(len(HEAD))]
    print()
    for line in rows:
        print(
            "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
