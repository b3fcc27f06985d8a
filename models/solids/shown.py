"""What a picture needs of a part, and nothing that only a package needs."""

from dataclasses import dataclass

import cadquery as cq
import numpy as np

from ground.errors import BuildError
from ground.vectors import Frame
from models.parts.part import Part
from models.solids.base import spoken, vec
from models.solids.clash import moved
from models.solids.faceted import faceted
from models.solids.kernel import KERNEL_FAILURES, KernelTrouble
from models.solids.measure import exact_box, measure
from models.solids.mesh import picture_mesh
from models.solids.mesh_record import Mesh
from models.solids.records import Box, Measured
from models.solids.solid import forget, solid


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shown:
    """A part for a picture; ``body`` is its solid, None where only its facets were made."""

    measured: Measured
    mesh: Mesh
    body: cq.Solid | None


def sketched(part: Part) -> Shown | None:
    """Make ``part`` for a picture quickly, of facets; None where only the solid will do.

    Raises:
        BuildError: nothing is left of the part's base.
    """
    found = faceted(part)
    if found is None:
        return None
    return Shown(measured=found.measured, mesh=found.mesh, body=None)


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


def picture_of(part: Part, body: cq.Solid, made: Measured) -> Mesh:
    """The coarser mesh of a part whose solid is made: of its facets, or of the solid itself.

    Raises:
        BuildError: it is not closed; names the part.
    """
    found = faceted(part)
    if found is not None and found.measured.agrees_with(made):
        return found.mesh
    try:
        return picture_mesh(body)
    except KernelTrouble as trouble:
        raise BuildError(spoken(part), "picture", trouble.reason) from trouble


def box(one: Shown, turned: Frame) -> Box:
    """The box of a part that is ``turned`` and stands at the origin (mm), of a solid the exact one.

    A quarter turn only swaps the sides of the box that was measured. Facets reach as far as the
    solid does but for a hair where its outermost place is round.
    """
    axes = np.array((turned.x, turned.y, turned.z))
    quarter = np.all((axes == 0.0) | (np.abs(axes) == 1.0))
    if quarter or one.body is None:
        corners = (np.array(one.measured.box) if quarter else one.mesh.points) @ axes + 0.0
        return (vec(corners.min(axis=0)), vec(corners.max(axis=0)))
    low, high = exact_box(moved(one.body.wrapped, turned))
    return (low, high)


def let_go() -> None:
    """Let go of the solids that are kept for a build."""
    forget()
