"""The records of the steps of assembly: what goes where, which way, clamped and measured how."""

from dataclasses import dataclass

from ground.vectors import Vec


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A copy that goes home along ``way`` (unit vector, piece axes; None: it stands and waits).

    ``enters`` is the way by which it is brought in before that, where it is another.
    """

    copy: str
    way: Vec | None
    enters: Vec | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Clamp:
    """Clamps of one setting: ``count`` of them that open to ``opens`` mm, laid ``along``.

    ``wedge`` is the angle of the cauls that bring the jaws square to the joint (degrees), 0 where
    flat cauls do. ``sets`` is how often the setting is needed where several things are alike.
    """

    count: int
    opens: float
    along: str
    caul: str
    wedge: float = 0.0
    sets: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """What to measure: its true ``value`` (mm), and how far it may be off (mm)."""

    what: str
    value: float
    within: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step. ``moves`` are the copies handled, in the order that they are taken up.

    ``standing`` copies are there already. ``group`` is the name of what closes together, None
    where parts go in one by one. ``swept`` is False where no clear way was found.
    """

    order: int
    title: str
    does: str
    moves: tuple[Move, ...]
    standing: tuple[str, ...] = ()
    group: str | None = None
    glued: bool = False
    clamps: tuple[Clamp, ...] = ()
    measures: tuple[Measure, ...] = ()
    note: str = ""
    turned: bool = False
    swept: bool = True
    joints: tuple[str, ...] = ()

    @property
    def copies(self) -> tuple[str, ...]:
        """Every copy handled."""
        return tuple(move.copy for move in self.moves)
