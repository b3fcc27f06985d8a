"""Set-ups replayed from the blank: nothing of the planner is used but the record's own format.

Coordinates are numpy arrays in part axes. Each set-up is read as a maker would: which face is down,
which edge is at the fence, the angles, the distance. What comes out is a plane a face.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Plane = tuple[Array, float]
Entry = dict[str, Any]

BLANK = {
    "bottom": (0, 0, -1), "top": (0, 0, 1), "front": (0, -1, 0),
    "back": (0, 1, 0), "left": (-1, 0, 0), "right": (1, 0, 0),
}  # fmt: skip


def normed(v: Array) -> Array:
    found: Array = v / np.linalg.norm(v)
    return found


class Bench:
    """The planes that have been made so far, by the record's names."""

    def __init__(self, cut: tuple[float, float, float]) -> None:
        self.planes: dict[str, Plane] = {}
        far = {"top": cut[2], "back": cut[1], "right": cut[0]}
        for name, normal in BLANK.items():
            self.planes[name] = (np.array(normal, float), far.get(name, 0.0))

    def plane(self, name: str) -> Plane:
        return self.planes[name.removeprefix("stock.")]

    def corner(self, names: list[str | None], extra: Array) -> Array:
        rows, sides = [], []
        for name in names:
            if name is not None:
                normal, offset = self.plane(name)
                rows.append(normal)
                sides.append(offset)
        if len(rows) == 2:
            rows.append(extra)
            sides.append(0.0)
        found: Array = np.linalg.solve(np.array(rows), np.array(sides))
        return found

    def axes(self, entry: Entry, table: str) -> tuple[Array, Array, Array, Array, float]:
        """Across, along, up, the corner, and 1 or -1: which way along leads off the stop."""
        down, _ = self.plane(table)
        fence, _ = self.plane(entry["reference_edge"])
        up = -down
        across = normed(-fence - np.dot(-fence, up) * up)
        along = np.cross(across, up)
        corner = self.corner([table, entry["reference_edge"], entry["stop"]], along)
        inward = 1.0
        if entry["stop"] is not None and np.dot(self.plane(entry["stop"])[0], along) > 0:
            inward = -1.0
        return across, along, up, corner, inward

    def on_wedge(self, entry: Entry, axes: tuple[Array, Array, Array, Array, float]):
        """Turn the table about the thin end of a wedge that lies under the table face."""
        across, along, up, corner, inward = axes
        wedge = entry["wedge"]
        off_stop = along * inward
        forward = normed(off_stop * wedge["length"] - up * wedge["rise"])
        level = normed(np.cross(forward, across))
        level = level if np.dot(level, up) > 0 else -level
        return across, np.cross(across, level), level, corner, inward

    def saw(self, entry: Entry) -> Plane:
        """The plane that a planar cut leaves, its normal out of the wood that is kept."""
        axes = self.axes(entry, entry["table_face"])
        wedge = entry["wedge"]
        if wedge is not None and wedge["restores"] is None:
            axes = self.on_wedge(entry, axes)
        across, along, up, corner, inward = axes
        turn, lean = np.radians(entry["mitre"]), np.radians(entry["tilt"])
        side = -1.0 if entry["mitre_to"] == "left" else 1.0
        trace = across * np.cos(turn) + along * side * np.sin(turn)
        way = across if entry["measured"] == "square to the edge" else along * inward
        level = normed(way - np.dot(way, trace) * trace)
        # the cut rises as it leans: toward what the distance is measured from, or away
        rising = up * np.cos(lean) + level * np.sin(lean) * (
            -1.0 if entry["tilt_to"] == "toward" else 1.0
        )
        normal: Array = normed(np.cross(trace, rising))
        normal = normal if np.dot(normal, level) > 0 else -normal
        point = corner + way * entry["distance"]
        offset = float(np.dot(normal, point))
        if entry["keeps"] == "near":
            return normal, offset
        return -normal, -(offset + entry["kerf"])

    def run(self, entry: Entry) -> dict[str, Plane]:
        """The planes that a cutter or a bit leaves, normals out of the wood that is kept."""
        done = entry["pass"]
        across, along, up, corner, inward = self.axes(entry, done["enters"])
        off_stop = along * inward
        s, d, h = done["at"]
        start = corner + off_stop * s + across * d + up * h

        def heading(degrees: float) -> Array:
            turn = np.radians(degrees)
            found: Array = across * np.cos(turn) + off_stop * np.sin(turn)
            return found

        lean = np.radians(done["lean"])
        into = up * np.cos(lean) + heading(done["lean_to"]) * np.sin(lean)
        flat = heading(done["run"])
        run = normed(flat - up * np.dot(flat, into) / np.dot(up, into))
        side = np.cross(into, run)
        found: dict[str, Plane] = {}
        if done["depth"] is not None:
            found["floor"] = facing(start + into * done["depth"], -into)
        if done["width"] is not None:
            half = done["width"] / 2
            found["wall-a"] = facing(start - side * half, side)
            found["wall-b"] = facing(start + side * half, -side)
        if done["ends"] == "square":
            found["end-a"] = facing(start, run)
            found["end-b"] = facing(start + run * done["length"], -run)
        return found

    def do(self, entry: Entry) -> None:
        """One set-up: what it and the cuts alike make is there from now on."""
        for cut in (entry, *({**entry, **alike} for alike in entry["alike"])):
            self.cut(cut)

    def cut(self, entry: Entry) -> None:
        made = entry["makes_face"]
        if entry["pass"] is not None:
            stem = entry["pass"]["makes"]
            for name, plane in self.run(entry).items():
                own = [full for full in stem if full.endswith(f".{name}")]
                for full in own:
                    self.planes[full] = plane
        elif made is not None and entry["table_face"] is not None:
            self.planes[made] = self.saw(entry)


def facing(point: Array, normal: Array) -> Plane:
    return normal, float(np.dot(normal, point))


def replay(cut: tuple[float, float, float], entries: list[Entry]) -> dict[str, Plane]:
    """Every plane that the blank and its set-ups leave, by name."""
    bench = Bench(cut)
    for entry in sorted(entries, key=lambda one: one["order"]):
        bench.do(entry)
    return bench.planes


def off(name: str, wanted: Plane, planes: dict[str, Plane], place: Array) -> tuple[float, float]:
    """How far the plane made is from the one wanted: degrees, and mm at ``place``.

    A face that no set-up names (two cuts leave it at once) may be any of the planes.
    """
    best = (180.0, float("inf"))
    for normal, offset in [planes[name]] if name in planes else planes.values():
        turned = float(np.degrees(np.arctan2(
            np.linalg.norm(np.cross(normal, wanted[0])), np.dot(normal, wanted[0])
        )))  # fmt: skip
        away = abs(float(np.dot(normal, place)) - offset)
        if (turned < 0.01 or name in planes) and away < best[1]:
            best = (turned, away)
    return best
