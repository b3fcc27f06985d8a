"""From cells of the search to the tree of cuts as a maker makes them, one cut after the other.

Whole numbers of ``UNIT`` go in, millimetres come out, exactly: the pieces and the sawdust of every
cut add up to what was cut.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from planning.cutting.records import Node, NodeKind, Placed, Saw
from planning.cutting.task import Cell

UNIT: Final = 1_000_000
"""Whole numbers in a millimetre: the record's own fineness."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Keep:
    """An offcut is worth keeping from this side (mm) and face (mm2) on."""

    side: float
    area: float


KEEP_SHEET: Final = Keep(side=150.0, area=60_000.0)
KEEP_BOARD: Final = Keep(side=50.0, area=25_000.0)
"""What is kept of sheets and of boards. Common practice, no source."""

SAWS = (Saw.ACROSS, Saw.ALONG)
"""What the axes of the search are called: the first divides the length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """A piece, whole numbers: ``size`` is length, width, thickness.

    It is a leaf (``placed``, or free), or cut with ``saw`` into ``children``; ``gaps`` are what
    the blade takes after each. ``ordered`` children are sawn as they stand, others largest first.
    """

    size: tuple[int, int, int]
    kind: NodeKind = NodeKind.WASTE
    saw: Saw | None = None
    children: tuple["Bit", ...] = ()
    gaps: tuple[int, ...] = ()
    tilt: float = 0.0
    ordered: bool = False
    placed: Placed | None = None
    note: str = ""


def whole(mm: float) -> int:
    """A length in whole numbers."""
    return round(mm * UNIT)


def mm(value: int) -> float:
    """A whole number in millimetres."""
    return value / UNIT


AXIS_OF = {Saw.ACROSS: 0, Saw.ALONG: 1, Saw.RESAW: 2}
"""The axis of a size that a cut divides."""


def free(size: tuple[int, int, int]) -> Bit:
    """A piece that nothing is cut from."""
    return Bit(size=size)


def of_cell(cell: Cell, thickness: int, kerf: int, loads: Callable[[int, Cell], Bit]) -> Bit:
    """The piece that a cell of the search is; ``loads`` says what an item is."""
    size = (cell.w, cell.h, thickness)
    if cell.item is not None:
        return loads(cell.item, cell)
    if cell.axis is None:
        return free(size)
    bits = [of_cell(child, thickness, kerf, loads) for child in cell.children]
    real = [bit for bit in bits if min(bit.size) > 0]
    saw = SAWS[cell.axis]
    parts = [bit for bit in real if not is_free(bit)]
    parts.sort(key=lambda bit: -bit.size[cell.axis or 0])
    rest = [bit for bit in real if is_free(bit)]
    return Bit(
        size=size, saw=saw, children=(*parts, *rest), gaps=(kerf,) * len(real), kind=NodeKind.CUT
    )


def is_free(bit: Bit) -> bool:
    """Tell whether nothing is cut from a piece."""
    return bit.saw is None and bit.placed is None and bit.kind is not NodeKind.SPARE


def row(
    size: tuple[int, int, int], saw: Saw, bits: Sequence[Bit], gaps: Sequence[int], tilt: float = 0
) -> Bit:
    """Pieces one after the other in their order."""
    return Bit(
        size=size,
        kind=NodeKind.CUT,
        saw=saw,
        children=tuple(bits),
        gaps=tuple(gaps),
        tilt=tilt,
        ordered=True,
    )


def turned(bit: Bit) -> Bit:
    """The piece turned by 90 degrees, with all that is cut from it."""
    length, width, thickness = bit.size
    swap = {Saw.ACROSS: Saw.ALONG, Saw.ALONG: Saw.ACROSS, Saw.RESAW: Saw.RESAW, None: None}
    placed = bit.placed
    return replace(
        bit,
        size=(width, length, thickness),
        saw=swap[bit.saw],
        children=tuple(turned(child) for child in bit.children),
        placed=None if placed is None else replace(placed, turned=not placed.turned),
    )


def trimmed(inner: Bit, trim: int, kerf: int) -> Bit:
    """The whole sheet that ``inner`` is the trimmed part of.

    ``trim`` comes off every edge, sawdust counted. The last edges trimmed are those that the
    first cut of ``inner`` is parallel to.
    """
    if trim == 0:
        return inner
    order = (Saw.ALONG, Saw.ACROSS) if inner.saw is Saw.ALONG else (Saw.ACROSS, Saw.ALONG)
    sheet = inner
    for saw in order:
        axis = AXIS_OF[saw]
        strip_size = list(sheet.size)
        strip_size[axis] = max(0, trim - kerf)
        strip = Bit(size=_three(strip_size), note="trim")
        size = list(sheet.size)
        size[axis] += 2 * trim
        gap = min(kerf, trim)
        sheet = row(_three(size), saw, (strip, sheet, strip), (gap, gap))
    return sheet


def _three(size: Sequence[int]) -> tuple[int, int, int]:
    return (size[0], size[1], size[2])


# ---- one cut after the other


def tree(bit: Bit, keep: Keep) -> Node:
    """The cuts of a piece of stock that lies at the origin; ``keep`` says what offcuts are kept."""
    return _kept(_node(bit, (0, 0), "1", 0), keep)


def _kept(node: Node, keep: Keep) -> Node:
    """Tell offcuts from waste; what is trimmed off and defects are waste, whatever their size."""
    if node.children:
        return replace(node, children=tuple(_kept(child, keep) for child in node.children))
    large = min(node.l, node.w) >= keep.side and node.l * node.w >= keep.area
    if node.kind is NodeKind.WASTE and large and not node.note:
        return replace(node, kind=NodeKind.OFFCUT)
    return node


def _node(bit: Bit, at: tuple[int, int], name: str, stage: int) -> Node:
    if bit.saw is None:
        return _plain(bit, at, name, stage)
    return _chain(bit, list(zip(bit.children, (*bit.gaps, 0), strict=False)), at, name, stage + 1)


def _plain(bit: Bit, at: tuple[int, int], name: str, stage: int) -> Node:
    return Node(
        id=name,
        x=mm(at[0]),
        y=mm(at[1]),
        l=mm(bit.size[0]),
        w=mm(bit.size[1]),
        kind=bit.kind,
        stage=stage,
        placed=bit.placed,
        note=bit.note,
    )


def _chain(
    bit: Bit, left: list[tuple[Bit, int]], at: tuple[int, int], name: str, stage: int
) -> Node:
    """Cut the first of the pieces ``left`` off; what remains is cut further."""
    if bit.saw is None:
        message = "a piece without cuts has no chain of them"
        raise ValueError(message)
    axis = AXIS_OF[bit.saw]
    (piece, gap), rest = left[0], left[1:]
    here, size = bit.size[axis], piece.size[axis]
    if size == here:
        return _node(piece, at, name, stage)
    kerf = min(gap, here - size)
    children = [_node(piece, at, f"{name}.1", stage)] if size else []
    if here - size - kerf > 0:
        moved = list(at)
        remains = list(bit.size)
        remains[axis] = here - size - kerf
        if axis < len(moved):
            moved[axis] += size + kerf
        after, place = replace(bit, size=_three(remains)), (moved[0], moved[1])
        if rest:
            children.append(_chain(after, rest, place, f"{name}.2", stage))
        else:
            children.append(_node(free(after.size), place, f"{name}.2", stage))
    return replace(
        _plain(replace(bit, kind=NodeKind.CUT), at, name, stage),
        cut=bit.saw,
        at=mm(size),
        kerf=mm(kerf),
        tilt=bit.tilt,
        children=tuple(children),
        note="in order" if bit.ordered else "",
    )
