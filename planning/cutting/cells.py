"""Between the search's arrays and the cells that a plan is told in."""

from dataclasses import replace

from planning.cutting.task import Cell
from planning.cutting.tree_arrays import CUT, FREE, NONE, PART, State, take


def cell_at(s: State, x: int, kerf: int) -> Cell:
    """The piece ``x`` with all that it is cut into."""
    size = Cell(w=max(0, int(s.w[x]) - kerf), h=max(0, int(s.h[x]) - kerf))
    if s.kind[x] == PART:
        return replace(size, item=int(s.item[x]))
    if s.kind[x] == FREE:
        return size
    children = []
    child = s.first[x]
    while child >= 0:
        children.append(cell_at(s, child, kerf))
        child = s.next[child]
    return replace(size, axis=int(s.axis[x]), children=tuple(children))


def items_in(cell: Cell) -> list[int]:
    """The items that a piece is cut into."""
    if cell.item is not None:
        return [cell.item]
    return [item for child in cell.children for item in items_in(child)]


def put_cell(s: State, x: int, cell: Cell, kerf: int) -> None:
    """Make the piece ``x``, which has its size, its zone and its level, what ``cell`` says."""
    s.first[x] = s.item[x] = NONE
    s.axis[x] = NONE
    if cell.item is not None:
        s.kind[x], s.item[x] = PART, cell.item
        return
    if cell.axis is None:
        s.kind[x] = FREE
        return
    s.kind[x], s.axis[x] = CUT, cell.axis
    left = s.w[x] if cell.axis == 0 else s.h[x]
    for place, inner in enumerate(cell.children):
        child = take(s)
        # sizes of what is less than a kerf are not told: the last piece has what is left
        size = left if place + 1 == len(cell.children) else (inner.w, inner.h)[cell.axis] + kerf
        left -= size
        s.w[child] = size if cell.axis == 0 else s.w[x]
        s.h[child] = s.h[x] if cell.axis == 0 else size
        s.zone[child], s.parent[child], s.level[child] = s.zone[x], x, s.level[x] + 1
        s.next[child] = s.first[x]
        s.first[x] = child
        put_cell(s, child, inner, kerf)
