"""Lumber parts as the sticks that leave the board: staves, gangs of short parts, layers.

A stick lies with its grain along its length. Whole numbers are left to ``layout.py``: here all is
in millimetres.
"""

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from models.parts.assembly import Assembly
from models.parts.blank import Grain
from models.parts.part import Part, PartKind
from planning.cutting.records import Placed
from specs.materials import Figure, Lumber
from specs.shop import Shop
from specs.spec import Spec

STAVE_WIDEST: Final = 120.0
"""Staves of a glued-up part are no wider than this (mm). Common practice, no source."""

STRAIGHT_PARTS: Final = ("leg",)
"""Parts that want straight grain, by the first word of their names."""

MAY_STAND: Final = (PartKind.EDGING, PartKind.LOOSE)
"""Parts that may be sawn off the edge of a board: nobody reads the figure on them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """One piece as it is milled: ``grain`` long, ``across`` wide, ``thick`` (mm)."""

    placed: Placed
    grain: float
    across: float
    thick: float
    kind: PartKind
    wants: Figure | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """What is sawn out of a board and milled as one: its blanks lie end to end in it.

    ``length``, ``width`` and ``thick`` are rough (mm); ``fine`` is the milled width and thickness.
    ``stands``: the blanks' width is the stick's thickness.
    """

    blanks: tuple[Blank, ...]
    length: float
    width: float
    thick: float
    fine: tuple[float, float]
    stands: bool = False

    @property
    def wants(self) -> Figure | None:
        """The figure it should be cut from."""
        return self.blanks[0].wants

    @property
    def size(self) -> tuple[float, float, float]:
        """Rough length, width and thickness."""
        return (self.length, self.width, self.thick)


Widest = Callable[[float], float]
"""The widest board (mm) that is thick enough for a rough thickness (mm)."""


def blanks(spec: Spec, assembly: Assembly, material: str, widest: Widest) -> tuple[Blank, ...]:
    """Every piece of ``material`` to mill; parts wider than a board are glued up from staves."""
    found = spec.materials[material]
    if not isinstance(found, Lumber):
        return ()
    return tuple(
        blank
        for part in assembly.parts
        if part.made and part.material == material
        for blank in _of_part(part, assembly, spec.shop, widest)
    )


def _of_part(part: Part, assembly: Assembly, shop: Shop, widest: Widest) -> Iterator[Blank]:
    size = (
        part.blank.length + part.over[0],
        part.blank.width + part.over[1],
        (part.blank.thickness + part.over[2]) / part.blank.layers,
    )
    across_it = part.blank.grain is Grain.WIDTH
    grain, across = (size[1], size[0]) if across_it else (size[0], size[1])
    room = widest(size[2] + shop.milling.thickness)
    loose = part.kind is PartKind.LOOSE
    staves = max(part.blank.staves, staves_for(across, room, room if loose else STAVE_WIDEST))
    wants = Figure.STRAIGHT if part.name.split()[0] in STRAIGHT_PARTS else None
    for copy in assembly.copies_of(part.label):
        for layer in range(1, part.blank.layers + 1):
            for stave in range(1, staves + 1):
                placed = Placed(
                    label=part.label,
                    name=part.name,
                    copy=copy.id,
                    layer=layer,
                    stave=stave,
                    turned=across_it,
                )
                yield Blank(
                    placed=placed,
                    grain=grain,
                    across=across / staves,
                    thick=size[2],
                    kind=part.kind,
                    wants=wants,
                )


def staves_for(across: float, widest: float, stave: float) -> int:
    """How many pieces a part of this width takes: one, where a board is wide enough."""
    if across <= widest or widest <= 0.0:
        return 1
    return math.ceil(across / min(stave, widest))


def sticks(found: Sequence[Blank], shop: Shop, longest: float, widest: Widest) -> tuple[Stick, ...]:
    """Blanks as sticks: long ones alone, short ones of one section end to end."""
    alone = [blank for blank in found if blank.grain >= shop.shortest]
    gangs: dict[tuple[float, float, bool, Figure | None], list[Blank]] = defaultdict(list)
    for blank in found:
        if blank.grain < shop.shortest:
            stands = blank.kind in MAY_STAND
            section = (round(blank.across, 3), round(blank.thick, 3), stands, blank.wants)
            gangs[section].append(blank)
    made = [_stick((blank,), shop, widest) for blank in alone]
    for gang in gangs.values():
        made += [_stick(part, shop, widest) for part in _parted(gang, shop, longest)]
    return tuple(made)


def _parted(gang: list[Blank], shop: Shop, longest: float) -> Iterator[tuple[Blank, ...]]:
    """A gang in as few sticks as boards are long enough for, all about as long."""
    total = gang_length(gang, shop)
    number = max(1, math.ceil(total / longest)) if longest > 0 else 1
    size = math.ceil(len(gang) / number)
    ordered = sorted(gang, key=lambda blank: -blank.grain)
    for start in range(0, len(ordered), size):
        yield tuple(ordered[start : start + size])


def gang_length(gang: Sequence[Blank], shop: Shop) -> float:
    """Rough length of short parts end to end: four of 206 and three kerfs, and one allowance.

    4 x 206 + 3 x 3.2 = 833.6, with 30 over 863.6; never under the shortest that can be milled.
    """
    parts = sum(blank.grain for blank in gang) + (len(gang) - 1) * shop.kerf
    return max(parts + shop.milling.length, shop.shortest)


def _stick(gang: tuple[Blank, ...], shop: Shop, widest: Widest) -> Stick:
    """A stick; where no board has the whole allowance, it is as wide as the widest."""
    first = gang[0]
    left = shop.milling
    width = first.across + left.width
    room = widest(first.thick + left.thickness)
    if width > room >= first.across:
        width = room
    return Stick(
        blanks=gang,
        length=gang_length(gang, shop),
        width=width,
        thick=first.thick + left.thickness,
        fine=(first.across, first.thick),
    )


def standing(stick: Stick, shop: Shop) -> Stick | None:
    """The stick sawn off a board's edge, so that its width is the board's thickness."""
    if any(blank.kind not in MAY_STAND for blank in stick.blanks):
        return None
    width, thick = stick.fine
    return Stick(
        blanks=stick.blanks,
        length=stick.length,
        width=thick + shop.milling.width,
        thick=width + shop.milling.thickness,
        fine=(thick, width),
        stands=True,
    )
