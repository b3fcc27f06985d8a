"""The closed piece as line views: what a drawing of the assembly shows."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

import cadquery as cq

from ground.errors import BuildError
from models.parts.assembly import Copy
from models.parts.views import LineView
from models.solids.clash import moved
from models.solids.kernel import KERNEL_FAILURES
from models.solids.views import line_view

PIECE = "the piece"
NAMES = ("front", "right", "top")


def piece_views(
    copies: Iterable[Copy], solids: Mapping[str, cq.Solid], names: Iterable[str] = NAMES
) -> tuple[LineView, ...]:
    """What is seen of the closed piece from each side in ``names``; nothing hidden is drawn.

    Copies without a solid are left out.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    standing = [
        cq.Shape.cast(moved(solids[copy.label].wrapped, copy.placement))
        for copy in copies
        if copy.label in solids
    ]
    whole = cq.Compound.makeCompound(standing)
    try:
        return tuple(replace(line_view(whole, name), hidden=()) for name in names)
    except KERNEL_FAILURES as failure:
        raise BuildError(PIECE, "views", str(failure)) from failure
