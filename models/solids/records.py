"""What is known of a made part, as plain records: nothing here meets the CAD kernel.

So the process that writes files can take a ``Made`` from the process that made it.
"""

from dataclasses import dataclass

from ground.vectors import Plane, Vec
from models.parts.views import LineView
from models.solids.mesh_record import Mesh

Box = tuple[Vec, Vec]
"""The lowest and the highest corner (mm)."""

SAME_VOLUME = 1.0
"""Facets may be off a solid's volume by this, where round walls cross or run out (mm3): a third of
what a hole of 2 mm takes that is one deep."""

SAME_BOX = 1e-6
"""And by this much off its box (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaneFace:
    """One plane and outward normal that the part shows, in part axes.

    ``name`` is a face of the blank, a trim's id, or ``FEATURE.wall-a``, ``FEATURE.floor`` and the
    like. ``made_by`` is the feature's own; None for what is left of the blank.
    """

    name: str
    plane: Plane
    made_by: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What the solid itself says: ``volume`` in mm3, its exact ``box``, its planar ``faces``."""

    volume: float
    box: Box
    faces: tuple[PlaneFace, ...]

    @property
    def size(self) -> Vec:
        """Length, width and thickness of the box."""
        low, high = self.box
        return (high[0] - low[0], high[1] - low[1], high[2] - low[2])

    def agrees_with(self, solid: "Measured") -> bool:
        """Tell whether facets, which this measures, say the same as the exact ``solid``."""
        corners = zip((*self.box[0], *self.box[1]), (*solid.box[0], *solid.box[1]), strict=True)
        return (
            abs(self.volume - solid.volume) <= SAME_VOLUME
            and all(abs(own - other) <= SAME_BOX for own, other in corners)
            and [face.name for face in self.faces] == [face.name for face in solid.faces]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Two copies (by id) that share ``volume`` (mm3) of the piece."""

    first: str
    second: str
    volume: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Made:
    """A part, made: ``brep`` is its exact solid, to be read by ``models.solids.made.solid_of``.

    ``mesh`` is good to 0.4 % of the volume.
    """

    label: str
    brep: bytes
    measured: Measured
    mesh: Mesh
    views: tuple[LineView, ...]
