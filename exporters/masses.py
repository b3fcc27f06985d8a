"""What parts weigh, and which of them nobody can say it of."""

from collections.abc import Iterator, Mapping

from ground.findings import Finding, Severity
from models.parts.assembly import Assembly
from models.parts.part import Part
from models.setting_out.densities import part_density
from specs.materials import Lumber, Sheet

MM3_PER_M3 = 1e9

Materials = Mapping[str, Lumber | Sheet]


def mass(part: Part, volume: float, materials: Materials) -> float | None:
    """Kilograms of one copy, ``volume`` in mm3; None where its density is not known."""
    found = part_density(part, materials)
    return None if found is None else volume / MM3_PER_M3 * found.kg_m3


def findings(assembly: Assembly, materials: Materials) -> Iterator[Finding]:
    """Say which parts are not counted in any mass, one finding a material."""
    missing: dict[str | None, list[Part]] = {}
    for part in assembly.parts:
        if part_density(part, materials) is None:
            missing.setdefault(part.material, []).append(part)
    for material, parts in missing.items():
        copies = tuple(copy.id for part in parts for copy in assembly.copies_of(part.label))
        named = ", ".join(dict.fromkeys(part.name for part in parts))
        if material is None:
            message = f"no mass is known of the {named}; the total is without them"
        else:
            message = (
                f"no density is known of {material} ({surface(materials[material])}); write"
                f" density in kg a cubic metre, or the total is without the {named}"
            )
        yield Finding(
            code="mass.unknown",
            severity=Severity.NOTE,
            subject=material or "hardware",
            message=message,
            copies=copies,
        )


def surface(material: Lumber | Sheet) -> str:
    """What is seen of a material: its species, or its face, else its core."""
    match material:
        case Lumber(species=species):
            return species
        case Sheet(face=face, core=core):
            return face or core.value
