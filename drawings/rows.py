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


def clear_of(starts: list[float], long: float, side: int) -> list[float]:
    """Places moved together off the side, 1 or -1, on which other numbers stand."""
    shift = min(0.0, long - max(starts)) if side > 0 else max(0.0, 0.0 - min(starts))
    return [start + shift for start in starts]


def kept_between(places: Sequence[float], apart: float, ends: tuple[float, float]) -> list[float]:
    """Places in order moved no more than it takes to keep them between two ends, still apart.

    Where there is no room for all of them they run past the lower end.
    """
    kept: list[float] = []
    for place in places:
        kept.append(max(place, kept[-1] + apart if kept else ends[0]))
    limit = ends[1]
    for index in range(len(kept) - 1, -1, -1):
        kept[index] = min(kept[index], limit)
        limit = kept[index] - apart
    return kept
