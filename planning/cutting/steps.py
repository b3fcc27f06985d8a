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
    called = names(root, {node.id: number for number, node in enumerate(cuts, 1)})
    return tuple(_step(number, node, called) for number, node in enumerate(cuts, 1))


def _key(node: Node) -> "tuple[int, int, int, float, object]":
    ordered = node.note == "in order"
    axis = 0 if node.cut is None else AXIS_OF[node.cut]
    setting = 0.0 if ordered else -node.at
    return (node.stage, int(ordered), axis, setting, natural(node.id))


def _step(number: int, node: Node, called: dict[str, str]) -> Step:
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
        of=called[node.id],
        gives="" if first is None else called[first.id],
    )


def names(root: Node, numbers: dict[str, int]) -> dict[str, str]:
    """What every piece is called at the saw, by id; ``numbers`` are those of the cuts.

    A part goes by its copy. What comes off in step 5 is piece 5, and what remains keeps its name;
    offcuts are numbered as they lie.
    """
    found = {root.id: "the whole"}
    offcuts = 0
    for node in walk(root):
        for child in node.children:
            off = child.id == f"{node.id}.1"
            found[child.id] = f"piece {numbers[node.id]}" if off else found[node.id]
    for node in walk(root):
        if node.kind is NodeKind.OFFCUT:
            offcuts += 1
            found[node.id] = f"offcut {offcuts}"
        elif node.kind is NodeKind.WASTE:
            found[node.id] = node.note or "waste"
        elif node.placed is not None:
            found[node.id] = node.placed.copy
    return found


def fence_settings(steps: tuple[Step, ...]) -> int:
    """How often the fence is set: steps in a row with one setting need it once."""
    changes = sum(_setting(a) != _setting(b) for a, b in pairwise(steps))
    return changes + 1 if steps else 0


def _setting(step: Step) -> tuple[str, float, float]:
    return (step.saw.value, step.setting, step.tilt)
