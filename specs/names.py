"""What the reader of one value must know of the whole spec: its units and the names it defines."""

from collections.abc import Mapping
from dataclasses import dataclass

from pydantic import ValidationInfo

from ground.quantities import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """A spec's units, and its materials and hardware by name with the kind of each.

    None for the names: nothing is known of them, so any name will do (a record made in code). A
    kind is the text as written, empty where it is missing or no text.
    """

    units: Units = Units.MM
    materials: Mapping[str, str] | None = None
    hardware: Mapping[str, str] | None = None


_NOTHING_KNOWN = Names()


def _kinds(section: object) -> dict[str, str]:
    if not isinstance(section, dict):
        return {}
    return {
        name: kind if isinstance(kind := thing.get("kind"), str) else ""
        for name, thing in section.items()
        if isinstance(thing, dict)
    }


def names_in(tree: object) -> Names:
    """Look up units and names in a spec that is read as text but not checked yet."""
    root = tree if isinstance(tree, dict) else {}
    units = root.get("units")
    return Names(
        units=Units(units) if units in set(Units) else Units.MM,
        materials=_kinds(root.get("materials")),
        hardware=_kinds(root.get("hardware")),
    )


def known(info: ValidationInfo) -> Names:
    """The names of the spec that is being read."""
    return info.context if isinstance(info.context, Names) else _NOTHING_KNOWN
