"""What every joint gives back: the features of both halves, the loose pieces, how it closes."""

from dataclasses import dataclass

from ground.vectors import Frame, Vec
from models.parts.assembly import HardwareLine
from models.parts.blank import Blank
from models.parts.features import Feature
from models.parts.part import PartKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Loose:
    """A piece that belongs to a joint: where it stands (``frame`` to piece axes), what it is.

    ``features`` are in its own axes. ``material`` None: dowel rod, tenon stock and the like.
    """

    name: str
    blank: Blank
    frame: Frame
    material: str | None = None
    features: tuple[Feature, ...] = ()
    kind: PartKind = PartKind.LOOSE
    made: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Halves:
    """A joint, made: features in piece axes for the first and the second part.

    ``closes`` is the way the second part moves home against the first (unit vector, piece axes),
    or the name of a group that closes together; ``each`` then says the way of both parts.
    """

    kind: str
    first: tuple[Feature, ...]
    second: tuple[Feature, ...]
    closes: Vec | str
    each: tuple[Vec, ...] = ()
    loose: tuple[Loose, ...] = ()
    hardware: tuple[HardwareLine, ...] = ()
