"""JSON that a person can read and that comes out the same every time."""

import json
from typing import Any

from ground.vectors import Plane, Vec

LENGTH_PLACES = 6
"""Lengths are rounded to 1e-6 mm, volumes and masses with them."""

DIRECTION_PLACES = 12
"""Entries of unit vectors and rotations are rounded to 1e-12."""


def number(value: float) -> float:
    """A length, volume or mass, rounded; never a negative zero."""
    return round(value, LENGTH_PLACES) + 0.0


def ratio(value: float) -> float:
    """An entry of a unit vector, rounded; never a negative zero."""
    return round(value, DIRECTION_PLACES) + 0.0


def point(place: Vec) -> list[float]:
    """A point or a size."""
    return [number(value) for value in place]


def direction(way: Vec) -> list[float]:
    """A unit vector."""
    return [ratio(value) for value in way]


def flat(plane: Plane) -> dict[str, Any]:
    """A plane: its normal and its offset along it."""
    return {"normal": direction(plane.normal), "offset": number(plane.offset)}


def text(content: Any) -> str:
    """Lay ``content`` out: one entry a line, rows of plain values on one line."""
    return "".join(_pieces(content, "\n")) + "\n"


def _pieces(content: Any, line: str) -> list[str]:
    if _plain(content) or (isinstance(content, list) and all(map(_row, content))):
        return [json.dumps(content, ensure_ascii=False, allow_nan=False)]
    inner = line + " "
    pieces: list[str] = []
    if isinstance(content, dict):
        for key, value in content.items():
            start = f"{inner}{json.dumps(key, ensure_ascii=False)}: "
            pieces += [",", start, *_pieces(value, inner)]
        return ["{", *pieces[1:], line, "}"]
    for value in content:
        pieces += [",", inner, *_pieces(value, inner)]
    return ["[", *pieces[1:], line, "]"]


def _plain(content: Any) -> bool:
    return not content or not isinstance(content, (dict, list))


def _row(content: Any) -> bool:
    return _plain(content) or (isinstance(content, list) and all(map(_plain, content)))
