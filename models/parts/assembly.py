"""The piece as plain records: parts, where their copies stand, how they move and how they meet."""

from dataclasses import dataclass
from enum import StrEnum

from ground.findings import Finding
from ground.vectors import Frame, Vec
from models.parts.part import Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """One part in its place: ``placement`` carries part axes to piece axes in the closed piece.

    ``group`` is the path in the tree of groups, outermost first: ``("drawers", "drawer 2/1")``.
    ``mover`` is the id of the mover that carries it, None for what stands still.
    """

    id: str
    label: str
    group: tuple[str, ...]
    placement: Frame
    mover: str | None = None


class Motion(StrEnum):
    """How a mover moves."""

    SLIDES = "slides"
    TURNS = "turns"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mover:
    """A drawer or a door: ``axis`` is the way it slides, or the line it turns about (right hand).

    ``limit`` is its travel in mm, or its swing in degrees; ``origin`` is a point on the axis.
    """

    id: str
    kind: Motion
    axis: Vec
    origin: Vec
    limit: float
    copies: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Two or more parts that meet, and the loose pieces between them.

    ``closes`` is the way that the last of ``parts`` moves home (unit vector, piece axes), or the
    name of the group that closes together. ``each`` then gives a direction for each of ``parts``.
    """

    id: str
    kind: str
    parts: tuple[str, ...]
    loose: tuple[str, ...] = ()
    closes: Vec | str
    each: tuple[Vec, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A clear space in the case: lower front left corner, width (x), height (z), depth (y)."""

    id: str
    kind: str
    corner: Vec
    width: float
    height: float
    depth: float
    contents: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareLine:
    """Something to buy: ``size`` and ``note`` in plain words, ``for_what`` the places it goes."""

    name: str
    quantity: int
    size: str = ""
    for_what: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """A sum that a maker can check on paper: signed ``terms`` (what, mm) and their total."""

    subject: str
    what: str
    terms: tuple[tuple[str, float], ...]

    @property
    def total(self) -> float:
        """What the terms come to (mm)."""
        return sum(value for _, value in self.terms)


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """Everything that is known of the piece once it is set out; lists are in natural order."""

    name: str
    parts: tuple[Part, ...]
    copies: tuple[Copy, ...]
    movers: tuple[Mover, ...] = ()
    joints: tuple[Joint, ...] = ()
    openings: tuple[Opening, ...] = ()
    hardware: tuple[HardwareLine, ...] = ()
    sums: tuple[Sum, ...] = ()
    findings: tuple[Finding, ...] = ()

    def part(self, label: str) -> Part:
        """The part with ``label``.

        Raises:
            KeyError: there is none.
        """
        for part in self.parts:
            if part.label == label:
                return part
        raise KeyError(label)

    def copies_of(self, label: str) -> tuple[Copy, ...]:
        """Every copy of the part with ``label``."""
        return tuple(copy for copy in self.copies if copy.label == label)
