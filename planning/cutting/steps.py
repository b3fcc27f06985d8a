"""The saw list of a sheet or board: every cut in an order that works, equal settings together."""

from itertools import pairwise

from ground.order import natural
from planning.cutting.layout import AXIS_OF
from planning.cutting.records import Node, NodeKind, Step, walk

Key = tuple[int, int, int, float, list[object]]


def saw_list(root: Node) -> tuple[Step, ...]:
    """Number the cuts: stage by stage, and in each stage the widest setting first.

    The pieces of one stage do not depend on one another, and of one piece the largest is cut off
    first, so that equal settings may be sawn together. Pieces that must keep their order (a strip
    of matched grain, trimmed edges) are sawn one after the other.
    """
    cuts = sorted((node for node in walk(root) if node.cut is not None), key=_key)
    return tuple(_step(number, node) for number, node in enumerate(cuts, 1))


def _key(node: Node) -> "tuple[int, int, int, float, object]":
    ordered = node.note == "in order"
    axis = 0 if node.cut is None else AXIS_OF[node.cut]
    setting = 0.0 if ordered else -node.at
    return (node.stage, int(ordered), axis, setting, natural(node.id))


def _step(number: int, node: Node) -> Step:
    if node.cut is None:
        message = f"{node.id} is not cut"
        raise ValueError(message)
    first = node.children[0] if node.at > 0.0 and node.children else None
    return Step(
        number=number,
        stage=node.stage,
        saw=node.cut,
        setting=node.at,
        tilt=node.tilt,
        piece=node.id,
        gives="" if first is None else name_of(first),
    )


def name_of(node: Node) -> str:
    """What a piece is called at the saw: a part's label and copy, or its number."""
    if node.placed is not None:
        spare = "spare " if node.kind is NodeKind.SPARE else ""
        return f"{spare}{node.placed.copy or node.placed.label}"
    if node.note and node.kind is not NodeKind.CUT:
        return node.note
    if node.kind in (NodeKind.OFFCUT, NodeKind.WASTE):
        return f"{node.kind.value} {node.id}"
    return f"piece {node.id}"


def fence_settings(steps: tuple[Step, ...]) -> int:
    """How often the fence is set: steps in a row with one setting need it once."""
    changes = sum(_setting(a) != _setting(b) for a, b in pairwise(steps))
    return changes + 1 if steps else 0


def _setting(step: Step) -> tuple[str, float, float]:
    return (step.saw.value, step.setting, step.tilt)
