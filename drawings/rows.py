"""Rows and places for text so that no line of it meets another: simple, left to right."""

from collections.abc import Sequence


def spread(wanted: Sequence[float], apart: float) -> list[float]:
    """Places as near to the ``wanted`` ones as they get at least ``apart`` from each other.

    The order is kept; runs that are too tight are shifted about their common middle.
    """
    order = sorted(range(len(wanted)), key=lambda place: wanted[place])
    runs: list[tuple[float, list[int]]] = []  # (first place, members)
    for member in order:
        first, members = wanted[member], [member]
        while runs and runs[-1][0] + len(runs[-1][1]) * apart > first:
            _, before = runs.pop()
            members = before + members
            middle = sum(wanted[m] - place * apart for place, m in enumerate(members))
            first = middle / len(members)
        runs.append((first, members))
    places = [0.0] * len(wanted)
    for first, members in runs:
        for place, member in enumerate(members):
            places[member] = first + place * apart
    return places


def stacked(starts: Sequence[float], widths: Sequence[float], clear: float) -> list[int]:
    """The row of each text that starts at ``starts``: 0 is the lowest, nearest to the view.

    Each text hangs on a leader that drops at its start: a text goes above every text whose leader
    stands in its way, so that neither texts nor leaders cross.
    """
    rows = [0] * len(starts)
    order = sorted(range(len(starts)), key=lambda place: -starts[place])
    for position, member in enumerate(order):
        reach = starts[member] + widths[member] + clear
        inside = [rows[other] for other in order[:position] if starts[other] < reach]
        rows[member] = max(inside, default=-1) + 1
    return rows
