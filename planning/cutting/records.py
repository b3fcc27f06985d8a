"""Cut plans as plain records: stock, the tree of its cuts, the order of work, what is bought.

Lengths in mm. On a sheet or board x runs along its length and y along its width, from the corner
that lies at the origin.
"""

import math
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from ground.findings import Finding
from ground.vectors import Vec
from models.parts.blank import Grain


class Saw(StrEnum):
    """Which way a cut goes."""

    ALONG = "along"
    """With the length: it divides the width."""
    ACROSS = "across"
    """It divides the length."""
    RESAW = "resaw"
    """It divides the thickness."""


class NodeKind(StrEnum):
    """What a piece in the tree of cuts is."""

    CUT = "cut"
    PART = "part"
    SPARE = "spare"
    OFFCUT = "offcut"
    """Worth keeping."""
    WASTE = "waste"


class StockKind(StrEnum):
    """What is cut from."""

    SHEET = "sheet"
    BOARD = "board"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """The one piece of a part that lies somewhere: its copy, layer and stave, counted from 1.

    ``turned``: its length lies along the width of the stock.
    """

    label: str
    name: str
    copy: str
    layer: int = 1
    stave: int = 1
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A piece of stock: a corner and a size, then what it is or how it is cut.

    A cut takes the first of ``children`` off, ``at`` long or wide, then ``kerf`` as sawdust; the
    second is what remains, and is missing where the blade takes it all. ``id`` is the way to the
    piece: ``1.2`` is the second of the first. ``tilt`` is the blade's, from square (degrees).
    """

    id: str
    x: float
    y: float
    l: float  # noqa: E741 - length, as the record names it
    w: float
    kind: NodeKind
    cut: Saw | None = None
    at: float = 0.0
    kerf: float = 0.0
    tilt: float = 0.0
    stage: int = 0
    children: tuple["Node", ...] = ()
    placed: Placed | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One cut of the saw list: ``setting`` is the distance from the fence to the blade (mm).

    ``piece`` is the node that is cut, ``of`` what it is called, ``gives`` what comes off it.
    """

    number: int
    stage: int
    saw: Saw
    setting: float
    tilt: float
    piece: str
    of: str
    gives: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One sheet or board, cut up. ``new`` stock is bought; other stock lies in the rack.

    ``keep_out`` are the rectangles that no part may lie on: x, y, length, width.
    """

    id: str
    material: str
    kind: StockKind
    size: Vec
    grain: Grain
    new: bool
    root: Node
    steps: tuple[Step, ...] = ()
    price: Decimal | None = None
    keep_out: tuple[tuple[float, float, float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """How good a plan for one material is: new ``kind`` used, and a number none can be under.

    ``of`` says for which of them the number holds, where others are sold as well.
    """

    material: str
    used: int
    least: int
    rounds: int
    settings: int
    cuts: int
    kind: StockKind = StockKind.SHEET
    of: str = ""

    @property
    def proved(self) -> bool:
        """Tell whether no plan uses fewer."""
        return self.used == self.least


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """One line of the buying list; ``price`` is of one ``unit``."""

    item: str
    material: str
    size: str
    quantity: Decimal
    unit: str
    price: Decimal | None = None
    note: str = ""

    @property
    def total(self) -> Decimal | None:
        """What the line costs."""
        return None if self.price is None else self.price * self.quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Unmade:
    """A part that no stock is large enough for, and why."""

    label: str
    copies: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """How every part comes out of sheets and boards, and what there is to say about it."""

    stock: tuple[Stock, ...]
    bounds: tuple[Bound, ...]
    purchases: tuple[Purchase, ...]
    unmade: tuple[Unmade, ...]
    findings: tuple[Finding, ...]


def walk(node: Node) -> tuple[Node, ...]:
    """The node and everything below it, as they lie."""
    return (node, *(inner for child in node.children for inner in walk(child)))


def leaves(node: Node) -> tuple[Node, ...]:
    """The pieces that are left when every cut is made."""
    return tuple(found for found in walk(node) if found.kind is not NodeKind.CUT)


def yielded(stock: Stock) -> float:
    """The share of the stock that becomes parts as they leave the saw, before any milling.

    By volume: what is resawn lies over one another on the same face.
    """
    length, width, thickness = stock.size
    return _made(stock.root, thickness) / (length * width * thickness)


def _made(node: Node, thickness: float) -> float:
    """The volume of the parts in a piece of this thickness (mm3)."""
    if node.cut is None:
        return node.l * node.w * thickness if node.kind is NodeKind.PART else 0.0
    thick = [thickness] * len(node.children)
    if node.cut is Saw.RESAW:
        off = [node.at] if node.at > 0.0 else []
        thick = [*off, thickness - node.at - node.kerf]
    return math.fsum(_made(child, t) for child, t in zip(node.children, thick, strict=False))
