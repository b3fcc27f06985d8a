"""Which woods are soft: conifers, whatever their hardness."""

from ground.published import plain
from specs.materials import Lumber
from specs.spec import Spec

CONIFERS = (
    "cedar",
    "cypress",
    "fir",
    "hemlock",
    "juniper",
    "larch",
    "pine",
    "redwood",
    "softwood",
    "spruce",
    "yew",
)
"""Words in the common names of softwoods (from memory: Wood Handbook FPL-GTR-282, chapter 2)."""


def is_softwood(species: str) -> bool:
    """Tell whether the common name of a wood is a conifer's: Douglas-fir, ponderosa pine."""
    return any(word in CONIFERS for word in plain(species).split())


def is_hard(spec: Spec, material: str) -> bool:
    """Tell whether screws find hard wood in ``material``.

    Sheet goods count as hard: edge screws want 85 to 90 % of their root (check values 3).
    """
    found = spec.materials[material]
    return not (isinstance(found, Lumber) and is_softwood(found.species))
