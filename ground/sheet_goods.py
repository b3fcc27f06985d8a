"""What is known of sheet goods by their core, from published tables."""

from dataclasses import dataclass

from ground.published import Density, Sourced, by_name, densities, plain, rows


@dataclass(frozen=True, slots=True, kw_only=True)
class Stiffness:
    """Modulus of elasticity in bending (MPa) along and across the face grain."""

    along: Sourced
    across: Sourced


def density(core: str) -> Density | None:
    """Mass by volume as delivered; None where no published value is at hand."""
    return densities("sheet_goods", "core").get(plain(core))


def stiffness(core: str, thickness: float, *, hardwood_faces: bool) -> Stiffness | None:
    """How stiff a sheet of ``thickness`` mm is; None where no value is at hand.

    The standards' values for wood-based panels are requirements on the product, not values for
    design (EN 622-5, scope).
    """
    faced = "yes" if hardwood_faces else "no"
    for row in rows("sheet_stiffness"):
        fits = float(row["over_mm"]) < thickness <= float(row["to_mm"])
        if plain(row["core"]) == plain(core) and row["faced"] in ("", faced) and fits:
            return Stiffness(
                along=Sourced(value=float(row["along_mpa"]), source=row["along_source"]),
                across=Sourced(value=float(row["across_mpa"]), source=row["across_source"]),
            )
    return None


def creep(material: str) -> Sourced | None:
    """Creep factor k_def of a core, or of ``lumber``: the final sag is 1 + k_def times the first.

    None where no value is at hand.
    """
    row = by_name("creep", "material").get(plain(material))
    return None if row is None else Sourced(value=float(row["k_def"]), source=row["source"])
