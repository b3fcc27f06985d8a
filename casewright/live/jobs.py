"""What the live view has done by its workers, which hold the kernel: shapes, and drawings."""

import gc
import os
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from ground.errors import BuildError
from ground.vectors import Frame, Vec
from models.parts.assembly import Assembly
from models.parts.part import Part
from specs.spec import Spec

if TYPE_CHECKING:
    from models.solids.records import Measured
    from models.solids.shown import Shown

Box = tuple[Vec, Vec]

GIVE_WAY = 5
"""How much lower the workers' priority is: findings are told before the picture is there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A part to be made, and the ways in which its copies are turned (frames without a place).

    ``exact``: facets were not enough the last time.
    """

    part: Part
    turned: frozenset[Frame]
    exact: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A part that was made: what it measures, its mesh as a browser gets it, its turned boxes.

    ``proved``: its exact solid was made too, and says the same, or is what is shown.
    """

    measured: "Measured"
    name: str
    content: bytes
    boxes: Mapping[Frame, Box]
    proved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Unmade:
    """A part that could not be made: at which cut, and why."""

    cut: str
    reason: str


def prepare() -> None:
    """Load the kernel and what works with it, and give way to whoever finds and shows.

    Raises:
        ImportError: it cannot be loaded here.
    """
    for module in ("models.solids.shown", "exporters.packed_mesh"):
        import_module(module)
    import_module("models.solids.faceted").stay_on_one_core()
    if hasattr(os, "nice"):
        os.nice(GIVE_WAY)
    gc.freeze()


def seen(asked: Asked) -> Seen | Unmade:
    """Make one part for the picture: of facets where that will do, and nothing of it is kept."""
    from models.solids.shown import sketched

    try:
        sketch = None if asked.exact else sketched(asked.part)
        if sketch is not None:
            return packed(asked, sketch, proved=False)
    except BuildError:
        pass  # the solid says better what is wrong
    return proved(asked)


def proved(asked: Asked) -> Seen | Unmade:
    """Make the exact solid of one part, which has the last word."""
    from models.solids.shown import let_go, shown

    try:
        return packed(asked, shown(asked.part), proved=True)
    except BuildError as trouble:
        return Unmade(cut=trouble.cut, reason=trouble.reason)
    finally:
        let_go()


def packed(asked: Asked, one: "Shown", *, proved: bool) -> Seen:
    """A part as the windows get it.

    Raises:
        BuildError: its mesh is not closed.
    """
    from exporters.packed_mesh import mesh_name, packed_mesh
    from models.solids.shown import box

    content = packed_mesh(one.mesh, f"{asked.part.label} {asked.part.name}")
    return Seen(
        measured=one.measured,
        name=mesh_name(content),
        content=content,
        boxes={turned: box(one, turned) for turned in asked.turned},
        proved=proved,
    )


def sheet(number: int, spec: Spec, assembly: Assembly, path: str) -> bytes:
    """One drawing of piece ``number`` as SVG.

    Raises:
        BuildError: the kernel cannot draw it.
    """
    from casewright.live.sheets import sheet_svg

    return sheet_svg(number, spec, assembly, path)
