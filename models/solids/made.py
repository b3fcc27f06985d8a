"""Everything that is made of one part, in a record that can leave the process with the kernel."""

import io
from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

import cadquery as cq
from OCP.BinTools import BinTools, BinTools_FormatVersion
from OCP.TopoDS import TopoDS_Shape

from ground.errors import BuildError
from models.parts.blank import Blank
from models.parts.features import Feature
from models.parts.part import Part, PartKind
from models.parts.views import SectionCut
from models.solids.base import spoken
from models.solids.cutters import cuts_at
from models.solids.kernel import KERNEL_FAILURES, KernelTrouble
from models.solids.measure import measure
from models.solids.mesh import mesh
from models.solids.records import Made
from models.solids.sections import sections
from models.solids.solid import solid
from models.solids.views import USUAL, line_views


def make(
    part: Part,
    *,
    views: Iterable[str] = USUAL,
    cuts: Iterable[SectionCut] = (),
) -> Made:
    """Make ``part``: its solid, what that measures, its mesh, and a line view a face in ``views``.

    Parts of the same shape are made once. ``cuts`` asks for sections beside the views.

    Raises:
        BuildError: it cannot be made; names the part and the cut.
    """
    try:
        found = _of_shape(part.shape, tuple(views), tuple(cuts))
        return replace(found, label=part.label)
    except BuildError as trouble:
        raise BuildError(spoken(part), trouble.cut, trouble.reason) from trouble


@lru_cache(maxsize=512)
def _of_shape(
    shape: tuple[Blank, tuple[Feature, ...]],
    views: tuple[str, ...],
    cuts: tuple[SectionCut, ...],
) -> Made:
    """Make a part that has no name yet."""
    blank, features = shape
    part = Part(
        label="", name="", kind=PartKind.LUMBER, material=None, blank=blank, features=features
    )
    body = solid(part)
    try:
        return Made(
            label="",
            brep=written(body.wrapped),
            measured=measure(body, part),
            mesh=mesh(body),
            views=(*line_views(body, views), *sections(body, cuts)),
        )
    except KernelTrouble as trouble:
        met = cuts_at(part, trouble.at) if trouble.at else ()
        raise BuildError(spoken(part), " and ".join(met) or "mesh", trouble.reason) from trouble
    except KERNEL_FAILURES as failure:
        raise BuildError(spoken(part), "views", str(failure)) from failure


def solid_of(made: Made) -> cq.Solid:
    """Read the exact solid of a made part back.

    Raises:
        BuildError: the bytes hold no solid.
    """
    shape = TopoDS_Shape()
    BinTools.Read_s(shape, io.BytesIO(made.brep))
    if shape.IsNull():
        reason = "its bytes hold no solid"
        raise BuildError(made.label, "solid", reason)
    return cq.Solid(shape)


def written(shape: TopoDS_Shape) -> bytes:
    """A shape as bytes, exact, without any mesh."""
    stream = io.BytesIO()
    version = BinTools_FormatVersion.BinTools_FormatVersion_CURRENT
    BinTools.Write_s(shape, stream, False, False, version)
    return stream.getvalue()
