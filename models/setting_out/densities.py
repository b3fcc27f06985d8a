"""What a material of a spec weighs by volume."""

from typing import assert_never

from ground import sheet_goods, wood
from ground.findings import FROM_THE_SPEC
from ground.published import Density
from specs.materials import Lumber, Sheet


def density(material: Lumber | Sheet) -> Density | None:
    """Mass by volume: as written in the spec, else as published; None where neither is there."""
    if material.density is not None:
        return Density(kg_m3=material.density, source=FROM_THE_SPEC)
    match material:
        case Lumber(species=species):
            return wood.density(species)
        case Sheet(core=core):
            return sheet_goods.density(core)
    assert_never(material)
