"""What a rule can measure after a cut: lines across one face at both ends, and the new arris."""

from planning.saw.job import Job
from planning.saw.records import Expect
from planning.saw.workpiece import Workpiece

SHORT = 5.0
"""A line shorter than this tells little (mm)."""

MOST = 3
"""More than this nobody measures."""


def expects(job: Job, before: Workpiece, cut: str, table: str | None) -> tuple[Expect, ...]:
    """The lines that ``cut`` has shortened on one face, and the longest of its own."""
    after = before.cut(cut, job.planes[cut])
    if cut not in after.by_name:
        return ()
    across = shortened(before, after, cut)
    across = [pair for pair in across if (after.length(*pair) or 0.0) >= SHORT] or across
    face = best_face(across, table)
    found = [line(job, after, pair) for pair in across if face in pair]
    found += [line(job, after, pair) for pair in across if face not in pair]
    own = own_lines(after, cut)
    chosen = [*found[:2], *(line(job, after, pair) for pair in own)]
    if len(chosen) < 2:  # noqa: PLR2004 - one check is none
        chosen += found[2:]
    return tuple(chosen[:MOST])


def shortened(before: Workpiece, after: Workpiece, cut: str) -> list[tuple[str, str]]:
    """The pairs of faces whose common edge the cut has shortened, longest first."""
    beside = set(after.neighbours(cut))
    pairs: list[tuple[str, str]] = []
    for edge in before.edges:
        one, other = sorted(edge)
        left = after.length(one, other)
        if left is None or not edge & beside:
            continue
        if abs(left - (before.length(one, other) or 0.0)) > 1e-6:  # noqa: PLR2004 - mm, the same
            pairs.append((one, other))
    return sorted(pairs, key=lambda pair: (-(after.length(*pair) or 0.0), pair))


def best_face(pairs: list[tuple[str, str]], table: str | None) -> str | None:
    """The face that most of the lines lie on; the one on the table where several would do."""
    counts: dict[str, int] = {}
    for pair in pairs:
        for name in pair:
            counts[name] = counts.get(name, 0) + 1
    if not counts:
        return None
    return max(sorted(counts), key=lambda name: (counts[name], name == table))


def own_lines(after: Workpiece, cut: str) -> list[tuple[str, str]]:
    """The edges of the new face, longest first."""
    pairs = [(cut, name) for name in after.neighbours(cut)]
    return sorted(pairs, key=lambda pair: (-(after.length(*pair) or 0.0), pair))


def line(job: Job, after: Workpiece, pair: tuple[str, str]) -> Expect:
    """One edge as something to measure."""
    one, other = (job.spoken(name) for name in pair)
    return Expect(what="edge", at=f"{one} / {other}", value=after.length(*pair) or 0.0)
