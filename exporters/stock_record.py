"""The cut plan in build.json: every sheet and board with the tree of its cuts."""

from typing import Any

from exporters.json_text import number, point
from ground.order import natural
from planning.cutting.records import CutPlan, Node, NodeKind, Stock, StockKind, leaves, yielded


def stock_entries(plan: CutPlan) -> list[dict[str, Any]]:
    """Every sheet and board in natural order of its id."""
    return [stock_entry(piece) for piece in sorted(plan.stock, key=lambda it: natural(it.id))]


def stock_entry(piece: Stock) -> dict[str, Any]:
    """A sheet or board: its cuts from the whole of it down, what lies in it, what is left."""
    ends = leaves(piece.root)
    offcuts = [leaf for leaf in ends if leaf.kind is NodeKind.OFFCUT]
    return {
        "id": piece.id,
        "material": piece.material,
        "kind": piece.kind.value,
        "size": point(piece.size),
        "grain": piece.grain.value,
        "new": piece.new,
        "cuts": tree(piece.root),
        "yield": number(yielded(piece)),
        "parts": [placed_entry(leaf) for leaf in ends if leaf.kind is NodeKind.PART],
        "offcuts": [rectangle(leaf) for leaf in offcuts],
    }


def rectangle(node: Node) -> list[float]:
    """Corner and size of a piece, as it lies."""
    return [number(value) for value in (node.x, node.y, node.l, node.w)]


def tree(node: Node) -> dict[str, Any]:
    """A piece, and the cut that parts it: ``at`` from its corner, then the kerf."""
    lies = dict(zip("xylw", rectangle(node), strict=True))
    if node.cut is None:
        placed = node.placed if node.kind is NodeKind.PART else None
        return lies | {"part": None if placed is None else placed.label}
    return lies | {
        "cut": node.cut.value,
        "at": number(node.at),
        "kerf": number(node.kerf),
        "children": [tree(child) for child in node.children],
    }


def placed_entry(leaf: Node) -> dict[str, Any]:
    """A part in its place."""
    placed = leaf.placed
    if placed is None:
        message = f"nothing is placed at {leaf.id}"
        raise ValueError(message)
    x, y, length, width = rectangle(leaf)
    return {
        "label": placed.label,
        "copy": placed.copy,
        "layer": placed.layer,
        "stave": placed.stave,
        "x": x,
        "y": y,
        "l": length,
        "w": width,
        "turned": placed.turned,
    }


def stock_totals(plan: CutPlan) -> dict[str, Any]:
    """Sheets and lumber (mm3) to buy and what the buying list comes to; null without a price."""
    bought = [piece for piece in plan.stock if piece.new]
    boards = [piece for piece in bought if piece.kind is StockKind.BOARD]
    prices = [line.total for line in plan.purchases if line.total is not None]
    return {
        "sheets": sum(piece.kind is StockKind.SHEET for piece in bought),
        "lumber_volume": number(sum(it.size[0] * it.size[1] * it.size[2] for it in boards)),
        "cost": number(float(sum(prices))) if prices else None,
    }


def staves(plan: CutPlan) -> dict[str, int]:
    """How many staves each part is glued up from, by label, where it is more than one."""
    most: dict[str, int] = {}
    for piece in plan.stock:
        for leaf in leaves(piece.root):
            if leaf.placed is not None:
                label = leaf.placed.label
                most[label] = max(most.get(label, 1), leaf.placed.stave)
    return {label: number for label, number in most.items() if number > 1}


def stock_ids(plan: CutPlan) -> dict[str, tuple[str, ...]]:
    """The sheets and boards that each part comes out of, by label."""
    found: dict[str, list[str]] = {}
    for piece in plan.stock:
        for leaf in leaves(piece.root):
            if leaf.placed is not None:
                found.setdefault(leaf.placed.label, []).append(piece.id)
    return {label: tuple(dict.fromkeys(sorted(ids, key=natural))) for label, ids in found.items()}
