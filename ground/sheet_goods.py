"""What is known of sheet goods by their core, from published tables."""

from ground.published import Density, densities, plain


def density(core: str) -> Density | None:
    """Mass by volume as delivered; None where no published value is at hand."""
    return densities("sheet_goods", "core").get(plain(core))
