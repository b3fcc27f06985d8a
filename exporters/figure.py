"""Where the figure of the wood runs on from one part into the next: one map for a matched run.

Figure axes: s along the grain, t across it, u through the board (mm).
"""

from collections.abc import Iterable
from dataclasses import dataclass

from ground.vectors import Vec, dot, neg, sub
from models.parts.assembly import Assembly, Copy
from models.parts.blank import Grain
from models.parts.part import Part
from planning.cutting.matching import Match, Run

ALIGNED = 0.9
"""Cosine: grain that points the same way from here on."""

Row = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figured:
    """Part axes to figure axes of one copy: three rows of four; ``run`` names its board."""

    run: str
    rows: tuple[Row, Row, Row]

    def point(self, p: Vec) -> Vec:
        """Where a point of the part (mm) lies in the figure."""
        s, t, u = (row[0] * p[0] + row[1] * p[1] + row[2] * p[2] + row[3] for row in self.rows)
        return (s, t, u)


def figures(assembly: Assembly, matches: Iterable[Match]) -> dict[str, Figured]:
    """The map of every copy whose grain is matched, by id."""
    found: dict[str, Figured] = {}
    copies = {copy.id: copy for copy in assembly.copies}
    for match in matches:
        run = [(copies[id_], assembly.part(copies[id_].label)) for id_ in match.copies]
        folded = match.run is Run.END_TO_END and not _parallel(run)
        maps = _folded(run) if folded else _straight(run)
        for copy, rows in maps.items():
            found.setdefault(copy, Figured(run=match.copies[0], rows=rows))
    return found


def _grain(copy: Copy, part: Part) -> Vec:
    """The way of the grain in the piece."""
    return copy.placement.y if part.blank.grain is Grain.WIDTH else copy.placement.x


def _across(copy: Copy, part: Part) -> Vec:
    return copy.placement.x if part.blank.grain is Grain.WIDTH else copy.placement.y


def _parallel(run: list[tuple[Copy, Part]]) -> bool:
    first = _grain(*run[0])
    return all(abs(dot(first, _grain(*one))) > ALIGNED for one in run)


def _along(copy: Copy, way: Vec, start: float = 0.0) -> Row:
    """How far a point of the part lies along ``way`` of the piece."""
    frame = copy.placement
    x, y, z = dot(frame.x, way), dot(frame.y, way), dot(frame.z, way)
    return (x, y, z, dot(frame.origin, way) + start)


def _straight(run: list[tuple[Copy, Part]]) -> dict[str, tuple[Row, Row, Row]]:
    """Neighbours in one plane: the figure lies in the piece as in one wide board."""
    first = run[0]
    ways = (_grain(*first), _across(*first), first[0].placement.z)
    return {
        copy.id: (_along(copy, ways[0]), _along(copy, ways[1]), _along(copy, ways[2]))
        for copy, _ in run
    }


def _folded(run: list[tuple[Copy, Part]]) -> dict[str, tuple[Row, Row, Row]]:
    """A strip that turns corners: each part begins where the one before it ends."""
    middles = [copy.placement.point(part.blank.centre) for copy, part in run]
    across = _across(*run[0])
    found: dict[str, tuple[Row, Row, Row]] = {}
    gone = 0.0
    for place, (copy, part) in enumerate(run):
        before, after = max(place - 1, 0), min(place + 1, len(run) - 1)
        onward = sub(middles[after], middles[place])
        if place == after:
            onward = sub(middles[place], middles[before])
        grain = _grain(copy, part)
        way = grain if dot(grain, onward) > 0 else neg(grain)
        long = part.blank.width if part.blank.grain is Grain.WIDTH else part.blank.length
        start = gone - dot(copy.placement.origin, way) + (0.0 if way == grain else long)
        through = (0.0, 0.0, 1.0, 0.0)
        found[copy.id] = (_along(copy, way, start), _along(copy, across), through)
        gone += long
    return found
