"""What has to come out of the stock: each layer of each stave of each copy, with its rough size."""

from collections.abc import Iterator
from dataclasses import dataclass

from models.parts.assembly import Assembly
from models.parts.blank import Grain
from models.parts.part import Part
from planning.cutting.cut_sizes import cut_sizes
from planning.cutting.records import Placed
from specs.materials import Sheet
from specs.spec import Spec


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """One piece to saw out of a sheet: its rough size (mm) and how its grain runs in it.

    ``length`` runs along the part's length. ``fine`` is the size without what is left on for
    edging, as it is taken in a strip of matched grain.
    """

    placed: Placed
    length: float
    width: float
    fine: tuple[float, float]
    grain: Grain


def sheet_needs(spec: Spec, assembly: Assembly, material: str) -> tuple[Need, ...]:
    """Everything to saw out of sheets of ``material``, in the assembly's order."""
    return tuple(
        need
        for part in assembly.parts
        if part.made and part.material == material
        for need in _of_part(spec, assembly, part)
    )


def sheet_materials(spec: Spec) -> tuple[str, ...]:
    """The sheet materials of a spec, in its order."""
    return tuple(key for key, found in spec.materials.items() if isinstance(found, Sheet))


def _of_part(spec: Spec, assembly: Assembly, part: Part) -> Iterator[Need]:
    material = None if part.material is None else spec.materials[part.material]
    sizes = cut_sizes(part, material, spec.shop, None)
    blank = part.blank
    for copy in assembly.copies_of(part.label):
        for layer in range(1, blank.layers + 1):
            for stave in range(1, blank.staves + 1):
                yield Need(
                    placed=Placed(
                        label=part.label, name=part.name, copy=copy.id, layer=layer, stave=stave
                    ),
                    length=sizes.rough[0],
                    width=sizes.rough[1],
                    fine=(sizes.milled[0], sizes.milled[1] / blank.staves),
                    grain=blank.grain,
                )
