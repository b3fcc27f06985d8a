"""What is known of a species of wood, from published tables."""

from ground.published import Density, densities, plain


def density(species: str) -> Density | None:
    """Mass by volume at 12 % moisture; None where no published value is at hand."""
    return densities("wood", "species").get(plain(species))
