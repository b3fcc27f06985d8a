"""Holes and mortises that stand free: square to a face of the base, clear of every other cut.

Such a one needs no boolean: its walls are let into the face as they are. Whether it stands free is
told by numbers alone, and in doubt it does not.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, Vec, along, cross, dot
from models.parts.cuts import Bore, Cone, Slot
from models.solids.base import SAME_NORMAL, Polyhedron
from models.solids.hulls import APART, UPRIGHT, Array, Hull, apart


@dataclass(frozen=True, slots=True, kw_only=True)
class Pocket:
    """A round or round-ended prism from ``start`` on the face ``mouth``, ``into`` the wood.

    ``half`` is half its straight length along ``run`` (0 for a hole). ``out`` names the face that
    it comes out of; None where it ends in the wood.
    """

    start: Vec
    into: Vec
    run: Vec
    half: float
    radius: float
    depth: float
    mouth: str
    out: str | None

    def hull(self) -> Hull:
        """The box around it."""
        axes = np.array((self.into, self.run, cross(self.into, self.run)))
        reach = np.array((self.half + self.radius, self.radius))
        signs = np.array(((-1, -1), (-1, 1), (1, 1), (1, -1)))
        ring = np.array(self.start) + (signs * reach) @ axes[1:]
        return Hull(corners=np.vstack((ring, ring + self.depth * axes[0])), axes=axes)


def pocket_of(cut: Bore | Slot, body: Polyhedron) -> Pocket | None:
    """See a hole or a mortise as a pocket; None where it is not square in one face of the base."""
    mouth = next((name for name, face in body.planes.items() if opens(cut, face)), None)
    half = (cut.length - cut.width) / 2 if isinstance(cut, Slot) else 0.0
    radius = (cut.width if isinstance(cut, Slot) else cut.diameter) / 2
    if mouth is None or half < 0 or radius <= 0 or cut.depth <= 0:
        return None
    run = cut.along if isinstance(cut, Slot) else square_to(cut.into)
    beyond = [
        (face.offset - dot(face.normal, cut.start), name)
        for name, face in body.planes.items()
        if dot(face.normal, cut.into) >= 1 - SAME_NORMAL
    ]
    thick, far = min(beyond) if beyond else (math.inf, None)
    through = cut.depth >= thick - LENGTH_EPS
    found = Pocket(
        start=cut.start,
        into=cut.into,
        run=run,
        half=half,
        radius=radius,
        depth=thick if through else cut.depth,
        mouth=mouth,
        out=far if through else None,
    )
    return found if inside(found, body) else None


def opens(cut: Bore | Slot, face: Plane) -> bool:
    """Tell whether a cut stands square on a face."""
    return (
        dot(face.normal, cut.into) <= SAME_NORMAL - 1
        and abs(dot(face.normal, cut.start) - face.offset) <= LENGTH_EPS
    )


def square_to(direction: Vec) -> Vec:
    """A unit vector square to another."""
    least = min(range(3), key=lambda axis: abs(direction[axis]))
    helper: Vec = tuple(float(axis == least) for axis in range(3))  # type: ignore[assignment]
    side = cross(direction, helper)
    length = math.sqrt(dot(side, side))
    return (side[0] / length, side[1] / length, side[2] / length)


def inside(pocket: Pocket, body: Polyhedron) -> bool:
    """Tell whether a pocket keeps clear of every face but its own mouth and where it comes out."""
    floor = along(pocket.start, pocket.into, pocket.depth)
    for name, face in body.planes.items():
        if name in {pocket.mouth, pocket.out}:
            continue
        reach = width_along(pocket, face.normal)
        highest = max(face.height(pocket.start), face.height(floor)) + reach
        if highest > -APART:
            return False
    return pocket.out is not None or pocket.depth > APART


def width_along(pocket: Pocket, axis: Vec) -> float:
    """How far a pocket's outline reaches to one side of its axis, seen along ``axis``."""
    tilt = dot(axis, pocket.into)
    round_part = pocket.radius * math.sqrt(max(1 - tilt * tilt, 0.0))
    return pocket.half * abs(dot(axis, pocket.run)) + round_part


def around(cut: Bore | Cone | Slot, back: float, depth: float) -> Hull:
    """The box around any hole, from ``back`` behind its mouth to ``depth``."""
    if isinstance(cut, Cone):  # it goes on widening behind its mouth
        widening = (cut.diameter - cut.tip_diameter) / cut.depth
        cut = replace(cut, diameter=cut.diameter + widening * back)
    run = cut.along if isinstance(cut, Slot) else square_to(cut.into)
    if isinstance(cut, Slot):
        half, radius = (cut.length - cut.width) / 2, cut.width / 2
    else:
        half, radius = 0.0, cut.diameter / 2
    return Pocket(
        start=along(cut.start, cut.into, -back),
        into=cut.into,
        run=run,
        half=half,
        radius=radius,
        depth=back + depth,
        mouth="",
        out=None,
    ).hull()


def standing_free(pockets: Sequence[Pocket], others: Sequence[Hull]) -> list[bool]:
    """Tell of each pocket whether it keeps clear of all other pockets and of all ``others``."""
    if not pockets:
        return []
    starts = np.array([pocket.start for pocket in pockets])
    intos = np.array([pocket.into for pocket in pockets])
    ends = starts + intos * np.array([pocket.depth for pocket in pockets])[:, None]
    free = clear_of_each_other(pockets, starts, ends)
    for hull in others:
        axes = np.vstack((hull.axes, UPRIGHT))
        wide = widths(pockets, axes)
        low, high = (
            np.minimum(starts @ axes.T, ends @ axes.T),
            np.maximum(starts @ axes.T, ends @ axes.T),
        )
        spread = hull.corners @ axes.T
        gaps = np.maximum(low - wide - spread.max(axis=0), spread.min(axis=0) - high - wide)
        free &= gaps.max(axis=1) > APART
    return [bool(one) for one in free]


def clear_of_each_other(pockets: Sequence[Pocket], starts: Array, ends: Array) -> NDArray[np.bool_]:
    """Tell of each pocket whether it is clear of all others: by boxes, or side by side."""
    wide = widths(pockets, UPRIGHT)
    low, high = np.minimum(starts, ends) - wide, np.maximum(starts, ends) + wide
    boxes = np.maximum(low[:, None] - high[None], low[None] - high[:, None]).max(axis=2)
    intos = np.array([pocket.into for pocket in pockets])
    reach = np.array([pocket.half + pocket.radius for pocket in pockets])
    arms = starts[None] - starts[:, None]
    lifted = np.einsum("ijk,ik->ij", arms, intos)
    beside = np.sqrt(np.maximum(np.einsum("ijk,ijk->ij", arms, arms) - lifted**2, 0.0))
    parallel = np.abs(intos @ intos.T) >= 1 - SAME_NORMAL
    clear = (boxes > APART) | (parallel & (beside - reach[:, None] - reach[None] > APART))
    np.fill_diagonal(clear, val=True)
    for i, j in np.argwhere(np.triu(~clear)).tolist():
        clear[i, j] = clear[j, i] = apart(pockets[i].hull(), pockets[j].hull())
    result: NDArray[np.bool_] = clear.all(axis=1)
    return result


def widths(pockets: Sequence[Pocket], axes: Array) -> Array:
    """How far each pocket reaches to either side of its own axis, seen along each of ``axes``."""
    intos = np.array([pocket.into for pocket in pockets])
    runs = np.array([pocket.run for pocket in pockets])
    halves = np.array([pocket.half for pocket in pockets])[:, None]
    radii = np.array([pocket.radius for pocket in pockets])[:, None]
    flat = np.sqrt(np.maximum(1 - (intos @ axes.T) ** 2, 0.0))
    result: Array = halves * np.abs(runs @ axes.T) + radii * flat
    return result
