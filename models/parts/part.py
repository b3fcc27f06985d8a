"""A part: a blank and what is taken out of it."""

from collections import Counter
from dataclasses import dataclass, replace
from enum import StrEnum

from ground.vectors import Plane, Vec
from models.parts.blank import Blank
from models.parts.cuts import Cut
from models.parts.features import Feature, Trim
from models.parts.lowering import lower


class PartKind(StrEnum):
    """What sort of thing a part is made of."""

    LUMBER = "lumber"
    SHEET = "sheet"
    EDGING = "edging"
    LOOSE = "loose"
    """Splines, loose tenons, dowels, pins, plugs: they hold two parts together."""
    HARDWARE = "hardware"


class Stage(StrEnum):
    """When a part is cut to its final size."""

    NOW = "now"
    AFTER_GLUE_UP = "after glue-up"
    TO_FIT = "to fit"
    FROM_HARDWARE = "from the hardware in hand"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One distinct part; lengths in mm, in its own axes.

    ``show`` names the blank face on view, None where it has none. ``banded`` names the blank's
    faces that carry an edging of their own. ``edged`` is the size with that edging on, None where
    it has none. ``over`` is what is left on length, width and thickness at milling, to be trimmed
    flush or fitted later. ``made`` is False for what is bought.
    """

    label: str
    name: str
    kind: PartKind
    material: str | None
    blank: Blank
    features: tuple[Feature, ...] = ()
    show: str | None = None
    banded: tuple[str, ...] = ()
    edged: Vec | None = None
    over: Vec = (0.0, 0.0, 0.0)
    made: bool = True
    stage: Stage = Stage.NOW
    note: str = ""

    @property
    def shape(self) -> tuple[Blank, tuple[Feature, ...]]:
        """All that the solid depends on."""
        return (self.blank, self.features)

    def cuts(self) -> tuple[tuple[Feature, Cut], ...]:
        """Every cut beside the feature that asks for it."""
        return cuts_of(self.blank, self.features)

    def base_planes(self) -> dict[str, Plane]:
        """The planes of the convex base by name: the blank's own, and each trim's."""
        return base_planes(self.blank, self.features)


def cuts_of(blank: Blank, features: tuple[Feature, ...]) -> tuple[tuple[Feature, Cut], ...]:
    """Every cut into a blank beside the feature that asks for it."""
    return tuple((feature, cut) for feature in features for cut in lower(feature, blank))


def base_planes(blank: Blank, features: tuple[Feature, ...]) -> dict[str, Plane]:
    """The planes of the convex base by name: the blank's own, and each trim's."""
    return blank.planes() | {f.id: f.plane for f in features if isinstance(f, Trim)}


def numbered(features: tuple[Feature, ...]) -> tuple[Feature, ...]:
    """Give an id (``groove-1``) to every feature that has none; given ids are kept."""
    seen: Counter[str] = Counter()
    named: list[Feature] = []
    for feature in features:
        if feature.id:
            named.append(feature)
            continue
        stem = str(feature.kind).replace(" ", "-")
        seen[stem] += 1
        named.append(replace(feature, id=f"{stem}-{seen[stem]}"))
    return tuple(named)
