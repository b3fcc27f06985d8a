"""The squared size that the saw leaves, before a feature is cut."""

import math
from dataclasses import dataclass
from enum import StrEnum

from ground.vectors import Plane, Vec


class Grain(StrEnum):
    """Which way the grain runs in a blank."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"


class Section(StrEnum):
    """The shape of the stock seen along its length."""

    SQUARED = "squared"
    ROUND = "round"
    """Rod: width and thickness are both the diameter (dowels, plugs, pins)."""
    ROUND_EDGED = "round-edged"
    """Both long edges fully rounded: loose-tenon stock."""


FACES: dict[str, Vec] = {
    "bottom": (0.0, 0.0, -1.0),
    "top": (0.0, 0.0, 1.0),
    "front": (0.0, -1.0, 0.0),
    "back": (0.0, 1.0, 0.0),
    "left": (-1.0, 0.0, 0.0),
    "right": (1.0, 0.0, 0.0),
}
"""The outward normals of a blank's six faces, in part axes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A board ``length`` x ``width`` x ``thickness`` (mm) with a corner at the origin.

    ``layers`` and ``staves`` are 1 unless it is glued up: layers face to face, staves edge to edge.
    """

    length: float
    width: float
    thickness: float
    grain: Grain = Grain.LENGTH
    section: Section = Section.SQUARED
    layers: int = 1
    staves: int = 1

    @property
    def size(self) -> Vec:
        """Length, width, thickness."""
        return (self.length, self.width, self.thickness)

    @property
    def centre(self) -> Vec:
        """The middle of the blank."""
        return (self.length / 2, self.width / 2, self.thickness / 2)

    @property
    def diagonal(self) -> float:
        """From corner to corner: nothing in the blank is longer."""
        return math.sqrt(self.length**2 + self.width**2 + self.thickness**2)

    @property
    def volume(self) -> float:
        """What the stock holds before it is cut (mm3)."""
        match self.section:
            case Section.SQUARED:
                area = self.width * self.thickness
            case Section.ROUND:
                area = math.pi * self.width**2 / 4
            case Section.ROUND_EDGED:
                area = (self.width - self.thickness) * self.thickness
                area += math.pi * self.thickness**2 / 4
        return area * self.length

    def planes(self) -> dict[str, Plane]:
        """The blank's planar faces by name; rod has only its two ends."""
        far = {"top": self.thickness, "back": self.width, "right": self.length}
        flat = {
            Section.SQUARED: tuple(FACES),
            Section.ROUND: ("left", "right"),
            Section.ROUND_EDGED: ("left", "right", "bottom", "top"),
        }[self.section]
        return {name: Plane(FACES[name], far.get(name, 0.0)) for name in flat}
