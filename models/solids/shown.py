"""What a picture needs of a part, and nothing that only a package needs."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import cadquery as cq
import numpy as np

from ground.errors import BuildError
from ground.vectors import Frame
from models.parts.assembly import Copy
from models.parts.part import Part
from models.solids.base import spoken, vec
from models.solids.clash import Array, moved
from models.solids.kernel import KERNEL_FAILURES, KernelTrouble
from models.solids.measure import exact_box, measure
from models.solids.mesh import picture_mesh
from models.solids.mesh_record import Mesh
from models.solids.records import Box, Measured
from models.solids.solid import forget as forget_solids
from models.solids.solid import solid

ROUGH = 1.0
"""A mesh's box is nearer than this to that of its solid (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shown:
    """A part for a picture; ``boxes`` are those of its turned solid that were asked for so far."""

    body: cq.Solid
    measured: Measured
    mesh: Mesh
    boxes: dict[Frame, Array] = field(default_factory=dict)
    rough: dict[Frame, Array] = field(default_factory=dict)

    def box(self, placement: Frame) -> Array:
        """The exact box of the part in its place (mm)."""
        turned = Frame(placement.x, placement.y)
        if turned not in self.boxes:
            self.boxes[turned] = np.array(exact_box(moved(self.body.wrapped, turned)))
        found: Array = self.boxes[turned] + placement.origin
        return found

    def rough_box(self, placement: Frame) -> Array:
        """The box of its mesh in its place: the exact one within ``ROUGH``."""
        turned = Frame(placement.x, placement.y)
        if turned not in self.rough:
            there = self.mesh.points @ np.array((turned.x, turned.y, turned.z))
            self.rough[turned] = np.array((there.min(axis=0), there.max(axis=0)))
        found: Array = self.rough[turned] + placement.origin
        return found


def shown(part: Part) -> Shown:
    """Make ``part`` for a picture: its solid, what that measures, its coarse mesh.

    Raises:
        BuildError: it cannot be made; names the part and the cut.
    """
    body = solid(part)
    try:
        return Shown(body=body, measured=measure(body, part), mesh=picture_mesh(body))
    except KernelTrouble as trouble:
        raise BuildError(spoken(part), "mesh", trouble.reason) from trouble
    except KERNEL_FAILURES as failure:
        raise BuildError(spoken(part), "mesh", str(failure)) from failure


def bounds(copies: Iterable[Copy], known: Mapping[str, Shown]) -> Box | None:
    """The exact box around placed copies (piece axes); None where none of them was made.

    Only copies whose mesh comes near the outside are measured.
    """
    made = [copy for copy in copies if copy.label in known]
    if not made:
        return None
    rough = np.array([known[copy.label].rough_box(copy.placement) for copy in made])
    low, high = rough[:, 0].min(axis=0) + ROUGH, rough[:, 1].max(axis=0) - ROUGH
    outside = np.any((rough[:, 0] < low) | (rough[:, 1] > high), axis=1)
    boxes = [
        known[made[place].label].box(made[place].placement)
        for place in np.flatnonzero(outside).tolist()
    ]
    return (vec(np.min(boxes, axis=0)[0]), vec(np.max(boxes, axis=0)[1]))


def let_go() -> None:
    """Let go of the solids that are kept for a build, where whoever asks keeps its own."""
    forget_solids()
