"""What is known of a species of wood, from published tables."""

from dataclasses import dataclass

from ground.published import Density, Sourced, by_name, densities, plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """Change of size across the grain, a share for each percent of moisture (6 to 14 %)."""

    radial: float
    """Square to the growth rings: the width of a quartered board."""
    tangential: float
    """Along the growth rings: the width of a flat-sawn board."""
    source: str

    @property
    def remembered(self) -> bool:
        """Whether nobody had the page open."""
        return "from memory" in self.source


def density(species: str) -> Density | None:
    """Mass by volume at 12 % moisture; None where no published value is at hand."""
    return densities("wood", "species").get(plain(species))


def movement(species: str) -> Movement | None:
    """How much a species moves across the grain; None where no value is at hand."""
    row = by_name("wood", "species").get(plain(species))
    if row is None:
        return None
    return Movement(
        radial=float(row["radial"]),
        tangential=float(row["tangential"]),
        source=row["movement_source"],
    )


def stiffness(species: str) -> Sourced | None:
    """Modulus of elasticity along the grain at 12 % (MPa), as printed: not raised for shear."""
    return _mechanics(species, "stiffness_mpa")


def strength(species: str) -> Sourced | None:
    """Modulus of rupture of clear wood at 12 % (MPa): an average of tests, no design value."""
    return _mechanics(species, "strength_mpa")


def gravity(species: str) -> Sourced | None:
    """Specific gravity: oven-dry mass on volume at 12 %."""
    return _mechanics(species, "gravity_12")


def _mechanics(species: str, column: str) -> Sourced | None:
    row = by_name("wood", "species").get(plain(species))
    return (
        None if row is None else Sourced(value=float(row[column]), source=row["mechanics_source"])
    )
