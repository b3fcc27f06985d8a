"""What works on a piece, what it is called at the bench, and how far it reaches."""

from dataclasses import dataclass
from enum import StrEnum

from specs.machines import BandSaw, MitreSaw, TableSaw, TrackSaw


class Tool(StrEnum):
    """A machine or a hand tool, as a set-up names it."""

    PLANER = "jointer and planer"
    TABLE_SAW = "table saw"
    GAUGE = "table saw, mitre gauge"
    SLED = "table saw, taper sled"
    DADO = "table saw, dado stack"
    TRACK_SAW = "track saw"
    MITRE_SAW = "mitre saw"
    BAND_SAW = "band saw"
    ROUTER_TABLE = "router table"
    ROUTER = "router, guided"
    DRILL_PRESS = "drill press"
    DRILL = "hand drill with a guide"
    MORTISER = "loose-tenon mortiser"
    HAND_SAW = "hand saw and chisel"
    HAND_PLANE = "hand plane"
    BENCH = "bench"


SAWN = frozenset(
    {
        Tool.TABLE_SAW,
        Tool.GAUGE,
        Tool.SLED,
        Tool.DADO,
        Tool.TRACK_SAW,
        Tool.MITRE_SAW,
        Tool.BAND_SAW,
    }
)
"""What cuts with a saw blade."""

BY_HAND = frozenset({Tool.HAND_SAW, Tool.HAND_PLANE, Tool.BENCH})
"""What no machine does."""

HALF = 45.0
"""The tilt that a saw's second height is given for (degrees)."""

Blade = TableSaw | TrackSaw | MitreSaw
"""Saws whose height of cut falls as the blade leans."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit of one machine that something goes over or under, and what that asks."""

    machine: str
    what: str
    asked: float
    limit: float
    unit: str

    def spoken(self) -> str:
        """Say it: ``table saw: the blade tilts to 45, this asks 52.3``."""
        return (
            f"{self.machine}: {self.what} {self.limit:.4g} {self.unit}, this asks {self.asked:.4g}"
        )


SLACK = 1e-6
"""A limit is kept that is passed by no more (mm or degrees)."""


def reach(saw: Blade, tilt: float) -> float:
    """How high above the table ``saw`` cuts at ``tilt`` degrees (mm): even between its two heights.

    Beyond 45 degrees it falls on at the same rate.
    """
    fallen = (saw.height - saw.height_tilted) * tilt / HALF
    return max(0.0, saw.height - fallen)


def over(
    machine: str, what: str, asked: float, limit: float, unit: str = "mm"
) -> tuple[Limit, ...]:
    """A limit that may not be gone over, where it is: nothing where it is kept."""
    if asked <= limit + SLACK:
        return ()
    return (Limit(machine=machine, what=what, asked=asked, limit=limit, unit=unit),)


def under(machine: str, what: str, asked: float, limit: float) -> tuple[Limit, ...]:
    """A limit that may not be gone under (mm), where it is: nothing where it is kept."""
    if asked >= limit - SLACK:
        return ()
    return (Limit(machine=machine, what=what, asked=asked, limit=limit, unit="mm"),)


def heights(machine: str, saw: Blade | BandSaw, tilt: float, high: float) -> tuple[Limit, ...]:
    """The two limits of every saw: how far the blade (or table) tilts, how high it cuts."""
    tallest = saw.height if isinstance(saw, BandSaw) else reach(saw, tilt)
    return (
        *over(machine, "tilts to", tilt, saw.tilt, "degrees"),
        *over(machine, f"at {tilt:.1f} degrees cuts as high as", high, tallest),
    )
