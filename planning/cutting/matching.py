"""Parts whose grain runs on: the case's strip, stacks of fronts, pairs of doors."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from ground.vectors import Vec, X, Z
from models.parts.assembly import Assembly, Copy
from models.parts.blank import Grain
from models.parts.part import Part, PartKind
from specs.case import CaseGrain, CornerKind, Side
from specs.materials import Lumber, Sheet, SheetGrain
from specs.spec import Spec

MITRE_ANGLE = 45.0
PARALLEL = 0.9
"""Cosine: the grain runs along a direction from here on."""
TOP, SIDE, FRONT, DOOR = "top", "side", "drawer front", "door"
"""First words of the names of the parts whose grain is matched."""

BOARDS = (PartKind.SHEET, PartKind.LUMBER)
"""Fronts and doors themselves, not what edges them."""


class Run(StrEnum):
    """How matched parts lie in the sheet."""

    END_TO_END = "end to end"
    SIDE_BY_SIDE = "side by side"


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """Copies in the order that their grain runs on; ``tilt`` of the blade between them.

    ``keep`` is the copy that keeps its match where a strip of three must be broken.
    """

    what: str
    material: str
    copies: tuple[str, ...]
    run: Run
    tilt: float = 0.0
    keep: str | None = None

    def gap(self, kerf: float) -> float:
        """What a cut between two of them takes off the face (mm): more for a tilted blade."""
        return kerf / math.cos(math.radians(self.tilt))


def matches(spec: Spec, assembly: Assembly) -> tuple[Match, ...]:
    """Every run of parts with matched grain."""
    parts = {part.label: part for part in assembly.parts}
    found = [*_strip(spec, assembly, parts), *_fronts(assembly, parts)]
    return tuple(match for match in found if _has_grain(spec.materials[match.material]))


def _has_grain(material: Lumber | Sheet) -> bool:
    return isinstance(material, Lumber) or material.grain is not SheetGrain.NONE


def _strip(spec: Spec, assembly: Assembly, parts: dict[str, Part]) -> Iterator[Match]:
    """Side, top, side: up the left, over the top, down the right."""
    if spec.case.grain is not CaseGrain.CONTINUOUS:
        return
    panels = [
        copy
        for copy in assembly.copies
        if copy.group[:1] == ("case",) and parts[copy.label].kind is PartKind.SHEET
    ]
    sides = [copy for copy in panels if parts[copy.label].name.split()[0] == SIDE]
    tops = [copy for copy in panels if parts[copy.label].name == TOP]
    if len(sides) != 2 or len(tops) != 1:  # noqa: PLR2004 - a left and a right
        return
    left, right = sorted(sides, key=lambda copy: _middle(copy, parts)[0])
    mitred = spec.case.corners.top.kind is CornerKind.MITRE
    kept = right if spec.case.show is Side.RIGHT else left
    yield Match(
        what="side, top and side of the case",
        material=spec.case.material,
        copies=(left.id, tops[0].id, right.id),
        run=Run.END_TO_END,
        tilt=MITRE_ANGLE if mitred else 0.0,
        keep=kept.id,
    )


def _fronts(assembly: Assembly, parts: dict[str, Part]) -> Iterator[Match]:
    """A stack of fronts from the top down, a pair of doors from the left."""
    for opening in assembly.openings:
        inside = [copy for copy in assembly.copies if copy.id in opening.contents]
        for name, way in ((FRONT, Z), (DOOR, X)):
            same = [copy for copy in inside if parts[copy.label].name.startswith(name)]
            same = [copy for copy in same if parts[copy.label].kind in BOARDS]
            if len({parts[copy.label].material for copy in same}) != 1 or len(same) < 2:  # noqa: PLR2004
                continue
            down = -1.0 if way is Z else 1.0
            same.sort(key=lambda copy: down * _along(_middle(copy, parts), way))
            grain = _grain_way(same[0], parts[same[0].label])
            ends = abs(_along(grain, way)) > PARALLEL
            yield Match(
                what=f"{name}s of opening {opening.id}",
                material=parts[same[0].label].material or "",
                copies=tuple(copy.id for copy in same),
                run=Run.END_TO_END if ends else Run.SIDE_BY_SIDE,
            )


def _middle(copy: Copy, parts: dict[str, Part]) -> Vec:
    return copy.placement.point(parts[copy.label].blank.centre)


def _grain_way(copy: Copy, part: Part) -> Vec:
    axis = 1 if part.blank.grain is Grain.WIDTH else 0
    rows = copy.placement.matrix()
    return (rows[0][axis], rows[1][axis], rows[2][axis])


def _along(v: Vec, way: Vec) -> float:
    return v[0] * way[0] + v[1] * way[1] + v[2] * way[2]
