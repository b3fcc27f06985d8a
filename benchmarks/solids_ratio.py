"""How long solids take against cutting feature after feature with the CAD library in the plain way.

Both ways make the same parts with the same cutters. The plain way starts from the blank's box and
takes one feature after the other off it: ``body.cut(...).clean()``, as the library's own work plane
does. It is timed twice: a row of holes as one feature, and hole by hole as a loop would. Ours is
what the build runs, checks included: one sound solid, every cut made, every plane known.

    python -P benchmarks/solids_ratio.py [SPEC ...]

Without a spec: parts made by hand and the demo's, where it can be set out. Exit status 1 where ours
takes more than a third of the plain way's time over all parts.
"""

import argparse
import sys
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

import cadquery as cq

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from models.parts.blank import Section  # noqa: E402
from models.parts.cuts import Cut, Edge  # noqa: E402  the checkout comes first
from models.parts.features import Feature, Trim  # noqa: E402
from models.parts.part import Part  # noqa: E402
from models.solids.cutters import sawn_off  # noqa: E402
from models.solids.edges import edge_tool  # noqa: E402
from models.solids.measure import faces  # noqa: E402
from models.solids.solid import at_once  # noqa: E402
from models.solids.tools import Bench, bench, tool  # noqa: E402
from models.solids.wires import obround, prism, rod  # noqa: E402

TARGET = 1 / 3
ROUNDS = 3
SAME = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """Seconds that one part takes (the best of a few rounds): each way, and its cuts."""

    part: Part
    cuts: int
    ours: float
    by_feature: float
    by_hole: float


def main() -> int:
    """Time every part both ways and print the table."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("specs", nargs="*", type=Path, metavar="SPEC")
    asked = parser.parse_args().specs
    rows: list[Timed] = []
    for title, parts in wanted(asked):
        print(f"\n{title}")
        print(f"{'part':34}{'cuts':>6}{'ours':>10}{'features':>10}{'holes':>10}{'ratio':>8}")
        timed = [time_part(part) for part in parts]
        for row in sorted(timed, key=lambda row: -row.by_feature):
            print(line(f"{row.part.label} {row.part.name}", [row]))
        print(line(f"all {len(timed)} parts", timed))
        rows += timed
    print("\nseconds, best of", ROUNDS, "rounds; ratio: ours over feature after feature")
    print(line("everything", rows))
    worst = sum(row.ours for row in rows) / sum(row.by_feature for row in rows)
    print(f"ratio {worst:.3f}, wanted below {TARGET:.3f}")
    return 0 if worst < TARGET else 1


def line(what: str, rows: Iterable[Timed]) -> str:
    """One line of the table, summed over ``rows``."""
    rows = tuple(rows)
    ours, features, holes = (
        sum(getattr(row, name) for row in rows) for name in ("ours", "by_feature", "by_hole")
    )
    cuts = sum(row.cuts for row in rows)
    return f"{what[:33]:34}{cuts:6d}{ours:10.4f}{features:10.4f}{holes:10.4f}{ours / features:8.3f}"


def wanted(asked: list[Path]) -> list[tuple[str, tuple[Part, ...]]]:
    """The parts to time, by where they come from."""
    from specs.reading import load
    from tests.helpers.hand_made_parts import bench_parts

    try:
        from models.setting_out.piece import set_out
    except ImportError as missing:
        print(f"no piece can be set out here ({missing}): parts made by hand only")
        return [("made by hand", bench_parts())]
    files = asked or [ROOT / "examples" / "reading-room-cabinet.yaml"]
    pieces = [(file.stem, set_out(load(file).spec).parts) for file in files]
    return [*pieces] if asked else [("made by hand", bench_parts()), *pieces]


def time_part(part: Part) -> Timed:
    """Time one part each way, and see that both ways make the same solid."""
    mine = ours(part)
    for plain in (by_feature(part), by_hole(part)):
        assert abs(plain.Volume() / mine.Volume() - 1) < SAME, f"{part.label}: not the same solid"
    return Timed(
        part=part,
        cuts=len(part.cuts()),
        ours=best(ours, part),
        by_feature=best(by_feature, part),
        by_hole=best(by_hole, part),
    )


def best(way: Callable[[Part], cq.Solid], part: Part) -> float:
    """The shortest time of a few rounds (s)."""
    times: list[float] = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        way(part)
        times.append(time.perf_counter() - start)
    return min(times)


def ours(part: Part) -> cq.Solid:
    """What the build does, without its memory for equal shapes; planes are checked too."""
    body = at_once(part)
    faces(body, part)
    return body


def by_feature(part: Part) -> cq.Solid:
    """One cut a feature; a row of holes is one feature."""
    on = bench(part)
    body: cq.Shape = stock(part)
    for feature in part.features:
        tools = [cutter(feature, cut, on) for owner, cut in part.cuts() if owner is feature]
        body = body.cut(*(one for one in tools if one is not None)).clean()
    return only(body)


def by_hole(part: Part) -> cq.Solid:
    """One cut a hole."""
    on = bench(part)
    body: cq.Shape = stock(part)
    for feature, cut in part.cuts():
        one = cutter(feature, cut, on)
        if one is not None:
            body = body.cut(one).clean()
    return only(body)


def stock(part: Part) -> cq.Shape:
    """The blank before anything is cut."""
    length, width, thickness = part.blank.size
    match part.blank.section:
        case Section.SQUARED:
            return cq.Solid.makeBox(length, width, thickness)
        case Section.ROUND:
            return cq.Shape.cast(rod((0.0, width / 2, width / 2), (1.0, 0.0, 0.0), width, length))
        case Section.ROUND_EDGED:
            ring = obround(
                (0.0, width / 2, thickness / 2), (0, 1, 0), (0, 0, 1), (width, thickness)
            )
            return cq.Shape.cast(prism(ring, (length, 0.0, 0.0)))


def cutter(feature: Feature, cut: Cut, on: Bench) -> cq.Shape | None:
    """The same cutter that the build uses."""
    if isinstance(cut, Edge) and on.body is not None:
        return cq.Shape.cast(edge_tool(cut, on.body, on.overcut).solid)
    made = tool(sawn_off(feature) if isinstance(feature, Trim) else cut, on)
    return None if made is None else cq.Shape.cast(made)


def only(body: cq.Shape) -> cq.Solid:
    """The one solid that is left."""
    (solid,) = body.Solids()
    return solid


if __name__ == "__main__":
    raise SystemExit(main())
