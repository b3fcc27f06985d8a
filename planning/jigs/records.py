"""The records of jigs: what each is made by (mm, degrees), and the work that asks for it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """Where a jig is wanted: the label of a part and its set-ups (none: the whole part)."""

    part: str
    orders: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LevellingWedge:
    """A wedge under a workpiece: ``rise`` over ``length``, as ``wide`` as the face on it."""

    rise: float
    length: float
    wide: float
    made_from: str
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SledSetting:
    """One setting of the cleat: ``near`` from the bed's edge at the stop, ``far`` further on.

    ``angle`` is between cleat and edge, ``tilt`` the blade's.
    """

    near: float
    far: float
    angle: float
    tilt: float
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TaperSled:
    """A bed that runs along the fence; its edge at the blade is the cut, a cleat holds the piece.

    ``piece`` is the longest that lies on it. ``over`` is how far from the stop ``far`` is measured.
    """

    piece: float
    over: float
    settings: tuple[SledSetting, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """One bit that goes through a guide: what for, its diameter, how deep (None: through)."""

    kind: str
    diameter: float
    depth: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A line of holes in a part: on which face, which edge the strip is set to, where it lies.

    The line is ``aside`` from the edge ``beside``. ``times`` counts every copy of the part.
    """

    part: str
    face: str
    edge: str
    aside: float
    beside: str
    times: int


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleStrip:
    """A strip with holes in one line, ``places`` from the edge that it is set to (mm)."""

    places: tuple[float, ...]
    bits: tuple[Bit, ...]
    rows: tuple[Row, ...]

    @property
    def times(self) -> int:
        """How often it is laid on."""
        return sum(row.times for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideBlock:
    """A block with a guide hole at a slant: ``lean`` from square to the face it is clamped to."""

    lean: float
    bits: tuple[Bit, ...]
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClampWedge:
    """Cauls of ``angle`` that bring the jaws square to a joint: ``count``, for these steps."""

    angle: float
    count: int
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MitreCaul:
    """Strips with a 45-degree face along both sides of a mitre ``length`` long, for these steps."""

    length: float
    count: int
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacer:
    """Sticks as thick as the gaps around fronts: ``count``, for ``what``."""

    thickness: float
    count: int
    what: str


Jig = LevellingWedge | TaperSled | HoleStrip | GuideBlock | ClampWedge | MitreCaul | Spacer
