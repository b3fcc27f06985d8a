"""A closed triangle mesh as plain arrays, so that writers of meshes never meet the CAD kernel."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ground.vectors import Vec

Points = NDArray[np.float64]
Triangles = NDArray[np.int32]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """``points`` (n, 3) in mm, ``triangles`` (m, 3) counter-clockwise as seen from outside."""

    points: Points
    triangles: Triangles

    def volume(self) -> float:
        """What the mesh encloses (mm3): positive where the normals point out."""
        a, b, c = (self.points[self.triangles[:, corner]] for corner in range(3))
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)

    def box(self) -> tuple[Vec, Vec]:
        """The lowest and the highest corner of the box around it."""
        low, high = self.points.min(axis=0), self.points.max(axis=0)
        return (
            (float(low[0]), float(low[1]), float(low[2])),
            (float(high[0]), float(high[1]), float(high[2])),
        )
