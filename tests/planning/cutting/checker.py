"""A checker of cut plans that shares no code with the planner: it reads records and nothing else.

It saws: the steps are done one after the other on plain rectangles, by their fence settings, and
what lies on the floor in the end must be what the plan says.
"""

import math
from collections import Counter
from dataclasses import dataclass, field
from itertools import pairwise

from planning.cutting.records import Node, NodeKind, Saw, Stock

CLOSE = 1e-6
"""mm: the record's own fineness."""

Key = tuple[str, int, int]


@dataclass(kw_only=True)
class Wanted:
    """One piece that must come out: sizes as it lies with its length along the grain's way."""

    length: float
    width: float
    locked: bool
    """Its length must lie along the grain of the stock."""
    across: bool = False
    """Its width must lie along the grain instead."""
    thick: float = 0.0
    """It must be no thinner."""


@dataclass(kw_only=True)
class Rules:
    """What holds in the shop."""

    kerf: float
    trim: float = 0.0
    levels: int = 3
    wanted: dict[Key, Wanted] = field(default_factory=dict)
    rows: list[tuple[str, ...]] = field(default_factory=list)
    """Copies that lie one after the other in this order, nothing but a kerf between."""


def near(a: float, b: float) -> bool:
    return abs(a - b) <= CLOSE


def nodes(node: Node) -> list[Node]:
    return [node, *(inner for child in node.children for inner in nodes(child))]


def ends(stock: Stock) -> list[Node]:
    return [node for node in nodes(stock.root) if node.cut is None]


def check(stock: tuple[Stock, ...], rules: Rules) -> None:
    """Fail unless every sheet and board can be sawn so, and all that is wanted comes out once."""
    assert len({piece.id for piece in stock}) == len(stock)
    found: Counter[Key] = Counter()
    for piece in stock:
        whole(piece)
        adds_up(piece.root, rules)
        apart(piece, rules)
        saw(piece, rules)
        assert levels(piece, rules) <= rules.levels
        found += Counter(keys(piece))
        for leaf in ends(piece):
            if leaf.kind is NodeKind.PART:
                sized(leaf, piece, rules)
    assert found == Counter(dict.fromkeys(rules.wanted, 1))
    for row in rules.rows:
        runs_on(stock, row, rules)


def keys(piece: Stock) -> list[Key]:
    return [
        (leaf.placed.copy, leaf.placed.layer, leaf.placed.stave)
        for leaf in ends(piece)
        if leaf.kind is NodeKind.PART and leaf.placed is not None
    ]


def whole(piece: Stock) -> None:
    root = piece.root
    assert (root.x, root.y) == (0.0, 0.0)
    assert near(root.l, piece.size[0])
    assert near(root.w, piece.size[1])


def adds_up(node: Node, rules: Rules) -> None:
    """Children and sawdust add up to the piece along the cut, and are as large across it."""
    if node.cut is None:
        assert not node.children
        return
    along = node.cut is Saw.ACROSS
    size = node.l if along else node.w
    if node.cut is not Saw.RESAW:
        total = sum(child.l if along else child.w for child in node.children) + node.kerf
        assert near(total, size), node.id
        for child in node.children:
            assert near(child.w if along else child.l, node.w if along else node.l)
    if len(node.children) > 1 and not any(child.note == "trim" for child in node.children):
        assert node.kerf >= rules.kerf - CLOSE
    assert node.kerf <= rules.kerf / math.cos(math.radians(node.tilt)) + CLOSE
    for child in node.children:
        adds_up(child, rules)


def apart(piece: Stock, rules: Rules) -> None:
    """Parts lie inside the trimmed sheet, a kerf apart, and on nothing that is to be kept out."""
    trim = rules.trim if piece.new else 0.0
    parts = [leaf for leaf in ends(piece) if leaf.kind is NodeKind.PART]
    for leaf in parts:
        assert leaf.x >= trim - CLOSE
        assert leaf.y >= trim - CLOSE
        assert leaf.x + leaf.l <= piece.size[0] - trim + CLOSE
        assert leaf.y + leaf.w <= piece.size[1] - trim + CLOSE
        for x, y, length, width in piece.keep_out:
            assert gap(leaf.x, leaf.l, x, length) >= 0 or gap(leaf.y, leaf.w, y, width) >= 0
    for place, one in enumerate(parts):
        for other in parts[:place]:
            if (one.x, one.y, one.l, one.w) == (other.x, other.y, other.l, other.w):
                assert resawn(piece.root, one, other)
                continue
            across = gap(one.x, one.l, other.x, other.l)
            along = gap(one.y, one.w, other.y, other.w)
            assert max(across, along) >= rules.kerf - CLOSE


def gap(a: float, size_a: float, b: float, size_b: float) -> float:
    return max(b - (a + size_a), a - (b + size_b)) + CLOSE


def resawn(root: Node, one: Node, other: Node) -> bool:
    """Whether two pieces that lie at one place were parted through the thickness."""
    for node in nodes(root):
        if node.cut is Saw.RESAW:
            below = [{leaf.id for leaf in nodes(child)} for child in node.children]
            if any(one.id in a and other.id in b for a in below for b in below if a is not b):
                return True
    return False


def sized(leaf: Node, piece: Stock, rules: Rules) -> None:
    """A part has its size, and its grain runs as it must."""
    placed = leaf.placed
    assert placed is not None
    want = rules.wanted[placed.copy, placed.layer, placed.stave]
    lying = (leaf.w, leaf.l) if placed.turned else (leaf.l, leaf.w)
    assert near(lying[0], want.length), placed
    assert near(lying[1], want.width), placed
    if want.locked and piece.grain.value != "none":
        length_along = placed.turned is (piece.grain.value == "width")
        assert length_along is not want.across, placed


def saw(piece: Stock, rules: Rules) -> None:
    """Do the steps on blocks: each piece is there when it is cut, and cut where it says."""
    floor: dict[str, tuple[float, float, float, float]] = {
        piece.root.id: (0.0, 0.0, piece.size[0], piece.size[1])
    }
    thick = {piece.root.id: piece.size[2]}
    assert [step.number for step in piece.steps] == list(range(1, len(piece.steps) + 1))
    for step in piece.steps:
        x, y, length, width = floor.pop(step.piece)
        across = step.saw is Saw.ACROSS
        thick[f"{step.piece}.1"] = thick[f"{step.piece}.2"] = thick[step.piece]
        if step.saw is Saw.RESAW:
            floor[f"{step.piece}.1"] = floor[f"{step.piece}.2"] = (x, y, length, width)
            thick[f"{step.piece}.1"] = step.setting
            thick[f"{step.piece}.2"] -= step.setting + rules.kerf
            continue
        kerf = rules.kerf / math.cos(math.radians(step.tilt))
        size = length if across else width
        assert -CLOSE <= step.setting < size
        if step.setting > CLOSE:
            cut = (x, y, step.setting, width) if across else (x, y, length, step.setting)
            floor[f"{step.piece}.1"] = cut
        else:
            kerf = min(kerf, rules.trim)
        done = step.setting + kerf
        if size - done > CLOSE:
            rest = (
                (x + done, y, size - done, width) if across else (x, y + done, length, size - done)
            )
            floor[f"{step.piece}.2"] = rest
    assert set(floor) == {leaf.id for leaf in ends(piece)}
    for leaf in ends(piece):
        for is_, says in zip(floor[leaf.id], (leaf.x, leaf.y, leaf.l, leaf.w), strict=True):
            assert near(is_, says), leaf.id
        if leaf.kind is NodeKind.PART and leaf.placed is not None:
            want = rules.wanted[leaf.placed.copy, leaf.placed.layer, leaf.placed.stave]
            assert thick[leaf.id] >= want.thick - CLOSE, leaf.placed


def levels(piece: Stock, rules: Rules) -> int:
    """How often the pieces of the trimmed sheet are turned at the saw."""
    inner = piece.root
    trim = 2 * rules.trim if piece.new else 0.0
    while not (near(inner.l, piece.size[0] - trim) and near(inner.w, piece.size[1] - trim)):
        inner = max(inner.children, key=lambda child: child.l * child.w)
    return turns(inner, None)


def turns(node: Node, last: Saw | None) -> int:
    if node.cut is None:
        return 0
    more = int(node.cut is not last)
    return more + max((turns(child, node.cut) for child in node.children), default=0)


def runs_on(stock: tuple[Stock, ...], row: tuple[str, ...], rules: Rules) -> None:
    """The pieces of a row follow one another with one cut between each two."""
    where = {
        leaf.placed.copy: (piece.id, leaf)
        for piece in stock
        for leaf in ends(piece)
        if leaf.placed is not None and leaf.kind is NodeKind.PART
    }
    assert len({where[copy][0] for copy in row}) == 1
    cuts = {piece.id: nodes(piece.root) for piece in stock}
    for a, b in pairwise(row):
        id_, one = where[a]
        two = where[b][1]
        mine = [n for n in cuts[id_] if any(child.id == one.id for child in n.children)]
        between = rules.kerf / math.cos(math.radians(mine[0].tilt))
        end_to_end = near(one.x + one.l + between, two.x) and near(one.y, two.y)
        beside = near(one.y + one.w + between, two.y) and near(one.x, two.x)
        assert end_to_end or beside, (a, b)
