"""What a block behind a door can be fixed to: the panel over the opening, or the one under it."""

from dataclasses import dataclass

from ground.vectors import Vec, Z, neg
from models.parts.part import PartKind
from models.setting_out.bench import Bench
from models.setting_out.draft import Box
from models.setting_out.numbers import Leaf
from models.setting_out.openings import box_of
from specs.materials import Lumber
from specs.spec import Spec


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing:
    """A level face inside an opening: ``panel`` is its part, ``z`` its height, ``into`` its wood.

    ``thick`` is the panel's thickness (mm).
    """

    panel: str
    z: float
    into: Vec
    thick: float

    def span(self, height: float) -> tuple[float, float]:
        """The heights of a block ``height`` tall that stands or hangs on it."""
        return (self.z - height, self.z) if self.into == Z else (self.z, self.z + height)


def bearing(bench: Bench, leaf: Leaf, span: tuple[float, float]) -> Bearing:
    """The panel above, if it reaches over ``span`` in Y; a rail does not, so else the one below."""
    over = box_of(bench, leaf.above)
    if over.lo[1] <= span[0] and span[1] <= over.hi[1]:
        return Bearing(panel=leaf.above, z=leaf.box.hi[2], into=Z, thick=over.size[2])
    under = box_of(bench, leaf.below)
    return Bearing(panel=leaf.below, z=leaf.box.lo[2], into=neg(Z), thick=under.size[2])


def block_lumber(bench: Bench, spec: Spec, leaf: Leaf) -> str:
    """Lumber for a small block: what edges the panels around the opening, else the first there is.

    Where the spec has no lumber an offcut of its first material will do.
    """
    around = (leaf.left, leaf.right, leaf.above, leaf.below)
    for panel in around:
        for key, draft in bench.drafts.items():
            edges = draft.kind is PartKind.EDGING and key.startswith(f"{panel}/edging")
            if edges and draft.material is not None:
                return draft.material
    lumber = (name for name, it in spec.materials.items() if isinstance(it, Lumber))
    return next(lumber, next(iter(spec.materials)))


def apart(one: Box, other: Box, room: float) -> bool:
    """Tell whether two boxes stand ``room`` apart at least along some axis (mm)."""
    return any(
        one.hi[axis] + room <= other.lo[axis] or other.hi[axis] + room <= one.lo[axis]
        for axis in range(3)
    )
