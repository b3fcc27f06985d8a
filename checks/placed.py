"""The piece as checks look at it: every copy in its place, with its box and its mass."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from checks.solid_geometry import corners
from checks.volumes import body_of, lump_of
from ground.vectors import Vec, dot
from models.parts.assembly import Assembly, Copy, Mover
from models.parts.blank import Grain
from models.parts.part import Part, PartKind
from models.setting_out.densities import part_density
from specs.materials import Lumber, Sheet
from specs.spec import Spec

WOOD = (PartKind.LUMBER, PartKind.SHEET)
GRAVITY = 9.80665
"""Standard acceleration of free fall (m/s2; ISO 80000-3)."""


@dataclass(frozen=True, kw_only=True)
class Placed:
    """One copy in piece axes: ``lo`` and ``hi`` are its box (mm)."""

    copy: Copy
    part: Part
    lo: Vec
    hi: Vec

    @property
    def id(self) -> str:
        """The copy's id."""
        return self.copy.id

    @property
    def name(self) -> str:
        """The part's name."""
        return self.part.name

    def kind_of(self, name: str) -> bool:
        """Whether its name is ``name``, or that of a left or right hand."""
        return self.name.removesuffix(" left").removesuffix(" right") == name

    @property
    def spoken(self) -> str:
        """How a finding speaks of it."""
        return f"{self.copy.id} {self.part.name}"

    @property
    def size(self) -> Vec:
        """Along X, Y and Z."""
        return (self.hi[0] - self.lo[0], self.hi[1] - self.lo[1], self.hi[2] - self.lo[2])

    @property
    def middle(self) -> Vec:
        """The middle of its box."""
        return (
            (self.hi[0] + self.lo[0]) / 2,
            (self.hi[1] + self.lo[1]) / 2,
            (self.hi[2] + self.lo[2]) / 2,
        )

    @property
    def wood(self) -> bool:
        """Whether it is a board or a panel."""
        return self.part.kind in WOOD

    @property
    def fixed(self) -> bool:
        """Whether it stands still."""
        return self.copy.mover is None

    def grain_along(self, way: Vec) -> bool:
        """Whether the grain runs along ``way``; a part without grain runs along every way."""
        frame = self.copy.placement
        match self.part.blank.grain:
            case Grain.NONE:
                return True
            case Grain.LENGTH:
                return abs(dot(frame.x, way)) > 0.7  # noqa: PLR2004 - nearer along than across
            case Grain.WIDTH:
                return abs(dot(frame.y, way)) > 0.7  # noqa: PLR2004 - as above

    def thin_along(self, axis: int) -> bool:
        """Whether its thickness lies along an axis of the piece."""
        return abs(self.copy.placement.z[axis]) > 0.9  # noqa: PLR2004 - nearly square to it


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """A mass (kg) and its middle in piece axes (mm)."""

    kg: float
    at: Vec
    mover: str | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class Piece:
    """A spec and its assembly, read once for all checks; each is itself and like no other."""

    spec: Spec
    assembly: Assembly
    placed: tuple[Placed, ...]

    @cached_property
    def by_id(self) -> dict[str, Placed]:
        """Copies by id."""
        return {one.id: one for one in self.placed}

    @cached_property
    def movers(self) -> dict[str, Mover]:
        """Movers by id."""
        return {mover.id: mover for mover in self.assembly.movers}

    def named(self, *names: str) -> tuple[Placed, ...]:
        """Copies whose name begins with one of ``names``."""
        return tuple(one for one in self.placed if one.name.startswith(names))

    def on(self, mover: str) -> tuple[Placed, ...]:
        """Copies that ``mover`` carries."""
        return tuple(one for one in self.placed if one.copy.mover == mover)

    def material(self, one: Placed) -> Lumber | Sheet | None:
        """What a copy is cut from; None where the spec does not say."""
        key = one.part.material
        return None if key is None else self.spec.materials.get(key)

    @cached_property
    def masses(self) -> dict[str, Weight]:
        """What every copy weighs by its id; copies of which no mass is known are left out."""
        found: dict[str, Weight] = {}
        for one in self.placed:
            known = part_density(one.part, self.spec.materials)
            if known is None:
                continue
            lump = lump_of(one.part)
            found[one.id] = Weight(
                kg=lump.volume * known.kg_m3 / 1e9,
                at=one.copy.placement.point(lump.centre),
                mover=one.copy.mover,
            )
        return found

    @cached_property
    def kg(self) -> float:
        """What the piece weighs, hardware left out."""
        return sum(weight.kg for weight in self.masses.values())

    @cached_property
    def centre(self) -> Vec:
        """Centre of gravity of the closed piece, hardware left out; its middle without masses."""
        if not self.kg:
            (a, b, c), (d, e, f) = self.lo, self.hi
            return ((a + d) / 2, (b + e) / 2, (c + f) / 2)
        weights = self.masses.values()
        x, y, z = (sum(one.kg * one.at[axis] for one in weights) / self.kg for axis in range(3))
        return (x, y, z)

    @cached_property
    def lo(self) -> Vec:
        """Lower front left corner of the closed piece."""
        return _corner(tuple(one.lo for one in self.placed), min)

    @cached_property
    def hi(self) -> Vec:
        """Upper back right corner of the closed piece."""
        return _corner(tuple(one.hi for one in self.placed), max)


def read(assembly: Assembly, spec: Spec) -> Piece:
    """Put every copy in its place."""
    parts = {part.label: part for part in assembly.parts}
    placed = tuple(_placed(copy, parts[copy.label]) for copy in assembly.copies)
    return Piece(spec=spec, assembly=assembly, placed=placed)


def _placed(copy: Copy, part: Part) -> Placed:
    points = tuple(copy.placement.point(corner) for corner in corners(body_of(part)))
    return Placed(copy=copy, part=part, lo=_corner(points, min), hi=_corner(points, max))


def _corner(points: tuple[Vec, ...], pick: Callable[[Iterator[float]], float]) -> Vec:
    return (pick(p[0] for p in points), pick(p[1] for p in points), pick(p[2] for p in points))
