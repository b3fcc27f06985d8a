"""What a rule can measure after a cut: lines across one face at both ends, and the new arris."""

from planning.saw.job import Job
from planning.saw.records import Expect
from planning.saw.workpiece import Workpiece

SHORT = 5.0
"""A line shorter than this tells little (mm)."""


def expects(job: Job, before: Workpiece, cut: str, table: str | None) -> tuple[Expect, ...]:
    """The lines at both ends of the cut's trace on one face, and the longest line of its own."""
    after = before.cut(cut, job.planes[cut])
    if cut not in after.by_name:
        return ()
    pairs: list[tuple[str, str]] = []
    for face in faces_beside(after, cut, table):
        pairs = [(face, end) for end in after.ends(face, cut)]
        if len(pairs) > 1 and all((after.length(*pair) or 0.0) >= SHORT for pair in pairs):
            break
    shown = [pair for pair in pairs if after.length(*pair) is not None]
    return tuple(line(job, after, pair) for pair in (*shown[:2], *own_lines(after, cut)[:1]))


def faces_beside(after: Workpiece, cut: str, table: str | None) -> list[str]:
    """The faces that the cut runs out on: the one on the table first, then the longest traces."""
    beside = [name for name in after.neighbours(cut) if name != table]
    beside.sort(key=lambda name: (-(after.length(cut, name) or 0.0), name))
    return [table, *beside] if table is not None and table in after.neighbours(cut) else beside


def own_lines(after: Workpiece, cut: str) -> list[tuple[str, str]]:
    """The edges of the new face, longest first."""
    pairs = [(cut, name) for name in after.neighbours(cut)]
    return sorted(pairs, key=lambda pair: (-(after.length(*pair) or 0.0), pair))


def line(job: Job, after: Workpiece, pair: tuple[str, str]) -> Expect:
    """One edge as something to measure."""
    one, other = (job.spoken(name) for name in pair)
    return Expect(what="edge", at=f"{one} / {other}", value=after.length(*pair) or 0.0)
