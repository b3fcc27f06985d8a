"""What a part of a piece, or a material of its spec, weighs by volume."""

from collections.abc import Mapping
from typing import assert_never

from ground import sheet_goods, wood
from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC
from ground.published import Density
from models.parts.part import Part, PartKind
from specs.materials import Lumber, Sheet

BEECH = "European beech"
"""Dowels, loose tenons and splines of which the spec says nothing. Common practice, no source."""
OF_BEECH = ("dowel", "loose tenon", "spline", "plug")
"""First words of the names of what is bought ready made."""


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


def part_density(part: Part, materials: Mapping[str, Lumber | Sheet]) -> Density | None:
    """Mass by volume of a part: of its material, of the wood that it is named for, or as beech.

    None for hardware, and for woods and cores of which nothing is known.
    """
    if part.material is not None:
        return density(materials[part.material])
    match part.kind:
        case PartKind.HARDWARE:
            return None
        case PartKind.EDGING:
            return _beech("veneer tape counts as")
        case PartKind.LOOSE | PartKind.LUMBER | PartKind.SHEET:
            if part.name.startswith(OF_BEECH):
                return _beech("taken to be")
            # Bars, pins and plugs are called after their wood: black walnut pin.
            return wood.density(part.name.rpartition(" ")[0])
    assert_never(part.kind)


def _beech(words: str) -> Density | None:
    known = wood.density(BEECH)
    if known is None:
        return None
    source = f"{words} {BEECH}, {COMMON_PRACTICE}; {known.source}"
    return Density(kg_m3=known.kg_m3, source=source)
