"""A view before it is placed: what it shows, and what is to be said of it."""

from dataclasses import dataclass, replace

from drawings.fixing import Extent
from drawings.records import Axis
from ground.quantities import Units
from models.parts.views import LineView

ONE_NUMBER = 0.1
"""Distances nearer than this print as one number and are given once (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place to dimension along one axis (view mm), and the features that it fixes."""

    at: float
    states: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """A note and the box of what it speaks of (view mm): its leader ends where it is nearest."""

    text: str
    spot: Extent
    states: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacing:
    """What numbers are written in, and how far notes may run past their view (paper mm).

    Lines of notes are broken at ``wrap``, None: not at all; or shorter where ``straight`` leaders
    are worth more rows.
    """

    units: Units
    overhang: float = 0.0
    wrap: float | None = None
    straight: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A view before it is placed: what it shows, and what is to be said of it.

    ``up`` and ``side`` are 1 or -1: where the distances along u (above, below) and along v
    (right, left) stand; notes go to the other side of ``up``. ``overall`` lists the axes along
    which the whole size is given, ``from_high`` those along which distances count from the
    far end of the axis. ``ends`` are the cuts square to an axis: its whole size fixes them.
    """

    view: LineView
    extent: Extent
    us: tuple[Place, ...] = ()
    vs: tuple[Place, ...] = ()
    remarks: tuple[Remark, ...] = ()
    overall: tuple[Axis, ...] = ()
    from_high: tuple[Axis, ...] = ()
    ends: tuple[tuple[Axis, str], ...] = ()
    up: int = -1
    side: int = -1


def places(values: list[tuple[float, str]]) -> tuple[Place, ...]:
    """Distances in order, those that fall on one line given once for all their features."""
    found: list[Place] = []
    for at, feature in sorted(values):
        if found and at - found[-1].at < ONE_NUMBER - 1e-6:
            last = found[-1]
            found[-1] = replace(last, states=tuple(dict.fromkeys((*last.states, feature))))
        else:
            found.append(Place(at=at, states=(feature,)))
    return tuple(found)
