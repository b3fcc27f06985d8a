"""Plane frames: straight members between stiff joints, solved by displacements.

x to the right, z up, angles counter-clockwise; lengths in mm, forces in N, moments in N mm.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

Node = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A member between two nodes: ``axial`` is E A (N), ``bending`` E I (N mm2)."""

    start: int
    end: int
    axial: float
    bending: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Forces:
    """What a bar carries: axial force (N, pull positive) and the moments at its two ends."""

    axial: float
    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Nodes, bars, and which nodes the floor holds (both ways, free to turn)."""

    nodes: tuple[Node, ...]
    bars: tuple[Bar, ...]
    pinned: tuple[int, ...]

    def solved(self, loads: Mapping[int, Node]) -> "Solved":
        """Displacements and forces under forces (x, z) at nodes.

        Raises:
            ZeroDivisionError: the frame can move freely.
        """
        size = 3 * len(self.nodes)
        matrix = [[0.0] * size for _ in range(size)]
        for bar in self.bars:
            stiff = _global(self.nodes[bar.start], self.nodes[bar.end], bar)
            places = _places(bar)
            for row, place in enumerate(places):
                for column, other in enumerate(places):
                    matrix[place][other] += stiff[row][column]
        right = [0.0] * size
        for node, (x, z) in loads.items():
            right[3 * node], right[3 * node + 1] = x, z
        for node in self.pinned:
            for place in (3 * node, 3 * node + 1):
                for other in range(size):
                    matrix[place][other] = matrix[other][place] = 0.0
                matrix[place][place], right[place] = 1.0, 0.0
        moved = _solve(matrix, right)
        return Solved(
            moved=tuple(moved), forces=tuple(_forces(self.nodes, bar, moved) for bar in self.bars)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """Displacements (x, z, turn by node) and what each bar carries."""

    moved: tuple[float, ...]
    forces: tuple[Forces, ...]

    def at(self, node: int) -> Node:
        """How far a node moved."""
        return (self.moved[3 * node], self.moved[3 * node + 1])


def _places(bar: Bar) -> tuple[int, ...]:
    a, b = 3 * bar.start, 3 * bar.end
    return (a, a + 1, a + 2, b, b + 1, b + 2)


def _local(long: float, bar: Bar) -> list[list[float]]:
    """Stiffness of a bar in its own axes (Euler and Bernoulli)."""
    a = bar.axial / long
    b, c, d = bar.bending / long**3 * 12, bar.bending / long**2 * 6, bar.bending / long
    return [
        [a, 0, 0, -a, 0, 0],
        [0, b, c, 0, -b, c],
        [0, c, 4 * d, 0, -c, 2 * d],
        [-a, 0, 0, a, 0, 0],
        [0, -b, -c, 0, b, -c],
        [0, c, 2 * d, 0, -c, 4 * d],
    ]


def _turn(start: Node, end: Node) -> tuple[float, list[list[float]]]:
    """Length of a bar, and what carries piece axes to its own."""
    long = math.dist(start, end)
    cos, sin = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    turn = [[0.0] * 6 for _ in range(6)]
    for at in (0, 3):
        turn[at][at], turn[at][at + 1] = cos, sin
        turn[at + 1][at], turn[at + 1][at + 1] = -sin, cos
        turn[at + 2][at + 2] = 1.0
    return long, turn


def _global(start: Node, end: Node, bar: Bar) -> list[list[float]]:
    long, turn = _turn(start, end)
    back = [list(row) for row in zip(*turn, strict=True)]
    return _times(back, _times(_local(long, bar), turn))


def _forces(nodes: Sequence[Node], bar: Bar, moved: Sequence[float]) -> Forces:
    long, turn = _turn(nodes[bar.start], nodes[bar.end])
    mine = [[moved[place]] for place in _places(bar)]
    ends = _times(_local(long, bar), _times(turn, mine))
    return Forces(axial=ends[3][0], start=ends[2][0], end=ends[5][0])


def _times(a: list[list[float]], b: list[list[float]]) -> list[list[float]]:
    columns = list(zip(*b, strict=True))
    return [[sum(x * y for x, y in zip(row, col, strict=True)) for col in columns] for row in a]


def _solve(matrix: list[list[float]], right: list[float]) -> list[float]:
    """Gauss with the largest pivot; ``matrix`` is used up."""
    size = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for at in range(size):
        best = max(range(at, size), key=lambda row: abs(rows[row][at]))
        rows[at], rows[best] = rows[best], rows[at]
        for below in range(at + 1, size):
            factor = rows[below][at] / rows[at][at]
            if factor:
                rows[below] = [x - factor * y for x, y in zip(rows[below], rows[at], strict=True)]
    found = [0.0] * size
    for at in reversed(range(size)):
        known = sum(rows[at][other] * found[other] for other in range(at + 1, size))
        found[at] = (rows[at][size] - known) / rows[at][at]
    return found
