"""Boards and slabs cut from a material of the spec: what drawers, doors and shelves are made of."""

import math
from dataclasses import dataclass, replace
from typing import assert_never

from ground.vectors import Plane, Vec, add, cross, neg, scale
from models.parts.blank import Grain
from models.parts.features import Trim, TrimKind
from models.parts.part import PartKind, Stage
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, Draft, blank, lying
from models.setting_out.edging import Strip, edge
from specs.edging import EdgingCorners, SolidEdging, TapeEdging
from specs.materials import Lumber, Sheet, SheetGrain
from specs.spec import Spec

FITTED = 2.0
"""Left on length and width of a lumber front or door, to be planed to its opening (mm): 1 on each
edge. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What is common to the boards of one group: where they belong, and what carries them."""

    letter: str
    group: tuple[str, ...]
    mover: str | None = None
    stage: Stage = Stage.NOW


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A board that fills ``box``: ``length`` is the way of its grain, ``up`` of its upper face.

    ``over`` is left on length, width and thickness, to be trimmed or fitted later (mm).
    """

    key: str
    name: str
    material: str
    box: Box
    length: Vec
    up: Vec
    show: str | None = None
    layers: int = 1
    over: Vec = (0.0, 0.0, 0.0)
    note: str = ""


def thickness(spec: Spec, material: str, asked: float | None) -> float:
    """Thickness worked from: of a sheet as measured, of lumber as ``asked`` (mm)."""
    found = spec.materials[material]
    match found:
        case Sheet():
            return found.thickness_used
        case Lumber():
            return asked or 0.0
    assert_never(found)


def is_lumber(spec: Spec, material: str) -> bool:
    """Tell whether ``material`` is solid wood."""
    return isinstance(spec.materials[material], Lumber)


def board(spec: Spec, stock: Stock, it: Board) -> Draft:
    """Draft a board; it is not on the bench yet."""
    found = spec.materials[it.material]
    plain = isinstance(found, Sheet) and found.grain is SheetGrain.NONE
    size, frame = lying(it.box, length=it.length, up=it.up)
    return Draft(
        key=it.key,
        letter=stock.letter,
        name=it.name,
        group=stock.group,
        kind=PartKind.LUMBER if isinstance(found, Lumber) else PartKind.SHEET,
        material=it.material,
        blank=blank(size, grain=Grain.NONE if plain else Grain.LENGTH, layers=it.layers),
        frame=frame,
        show=it.show,
        over=it.over,
        stage=stock.stage,
        note=it.note,
        mover=stock.mover,
    )


def lay_slab(
    bench: Bench, spec: Spec, stock: Stock, it: Board, edging: SolidEdging | TapeEdging | None
) -> Draft:
    """Lay a front or a door that fills ``it.box`` with its edging on; each strip is a part.

    Strips along the board's length run over the ends of the others, or all are mitred.
    """
    if edging is None:
        return bench.put(board(spec, stock, it))
    t = edging.thickness
    width = cross(it.up, it.length)
    core = _shrunk(_shrunk(it.box, it.length, t), width, t)
    slab = bench.put(board(spec, stock, replace(it, box=core)))
    mitred = isinstance(edging, SolidEdging) and edging.corners is EdgingCorners.MITRE
    for out, along_it in ((width, it.length), (it.length, width)):
        reach = it.box if mitred or out == width else core
        for way in (neg(out), out):
            strip = Strip(
                box=_rim(it.box, reach, way, t),
                length=along_it,
                outward=way,
                trims=_mitres(it.box, way, along_it) if mitred else (),
            )
            edge(bench, slab, edging, strip)
    return slab


def _axis(way: Vec) -> int:
    return next(i for i in range(3) if abs(way[i]) > 0.5)  # noqa: PLR2004 - a unit axis


def _shrunk(box: Box, way: Vec, by: float) -> Box:
    """The box less ``by`` at both ends along ``way``."""
    step = scale((abs(way[0]), abs(way[1]), abs(way[2])), by)
    return Box(add(box.lo, step), add(box.hi, neg(step)))


def _rim(whole: Box, reach: Box, out: Vec, by: float) -> Box:
    """The outermost ``by`` of ``whole`` on the side ``out``, as long as ``reach`` is."""
    axis = _axis(out)
    lo, hi = list(reach.lo), list(reach.hi)
    if out[axis] > 0:
        lo[axis], hi[axis] = whole.hi[axis] - by, whole.hi[axis]
    else:
        lo[axis], hi[axis] = whole.lo[axis], whole.lo[axis] + by
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def _mitres(box: Box, out: Vec, along_it: Vec) -> tuple[Trim, ...]:
    """Cut both ends of the strip on the side ``out`` at 45 degrees through the outer corners."""
    half = math.sqrt(0.5)
    trims: list[Trim] = []
    for end in (neg(along_it), along_it):
        corner = list(box.lo)
        for way in (out, end):
            axis = _axis(way)
            corner[axis] = box.hi[axis] if way[axis] > 0 else box.lo[axis]
        normal = add(scale(end, half), scale(out, -half))
        plane = Plane.through((corner[0], corner[1], corner[2]), normal)
        trims.append(Trim(kind=TrimKind.MITRE, plane=plane, made_by="edging corners"))
    return tuple(trims)
