"""One part on its way through the saws: its blank, the planes wanted, the shop."""

from dataclasses import dataclass, field
from functools import cached_property

from ground.vectors import Plane, Vec, add, along, neg
from models.parts.blank import FACES, Section
from models.parts.features import Channel, Hole, Mortise, Trim
from models.parts.part import Part, PartKind, Stage
from planning.saw.lie import Lie
from planning.saw.settings import Setting, setting
from planning.saw.workpiece import Workpiece, block
from specs.machines import Machines
from specs.shop import Milling, Shop

STOCK = "stock."
"""Before the name of a blank's face that the finished part no longer has."""

THIN = 2.0
"""Edging thinner than this is trimmed by hand (mm). Common practice, no source."""

NOTHING = 1e-3
"""A cut that takes less than this off leaves the blank as it is (mm)."""


@dataclass(frozen=True, kw_only=True)
class Job:
    """A part and the machines that make it; ``kerf`` in mm.

    ``left_rough`` is what rough lumber has over the blank.
    """

    part: Part
    machines: Machines
    kerf: float = 3.2
    left_rough: Milling = field(default_factory=Milling)
    _settings: dict[tuple[str, str, str, str | None], Setting | None] = field(
        default_factory=dict, compare=False
    )
    _lies: dict[tuple[str, str, str | None], Lie] = field(default_factory=dict, compare=False)

    @classmethod
    def of(cls, part: Part, shop: Shop) -> "Job":
        """A part in a shop."""
        return cls(part=part, machines=shop.machines, kerf=shop.kerf, left_rough=shop.milling)

    @cached_property
    def blank(self) -> Workpiece:
        """The squared blank; only squared stock is sawn to planes."""
        return block({name: self.flat(name) for name in FACES}, self.part.blank.size)

    def flat(self, name: str) -> Plane:
        """The plane of a blank's face, of round stock its box's."""
        far = {
            "top": self.part.blank.thickness,
            "back": self.part.blank.width,
            "right": self.part.blank.length,
        }
        return Plane(FACES[name], far.get(name, 0.0))

    @cached_property
    def planes(self) -> dict[str, Plane]:
        """The blank's faces and the planes of the cuts by name."""
        found = {name: self.flat(name) for name in FACES}
        found |= {trim.id: trim.plane for trim in self.trims}
        return found

    @cached_property
    def floors(self) -> dict[str, Plane]:
        """The floors of all that is sunk, by the record's names: some things start on them."""
        found = {}
        for feature in self.part.features:
            if isinstance(feature, Channel | Mortise | Hole) and feature.depth:
                seat = feature.seat
                bottom = along(seat.origin, seat.into, feature.depth)
                found[f"{feature.id}.floor"] = Plane.through(bottom, neg(seat.into))
        return found

    @cached_property
    def trims(self) -> tuple[Trim, ...]:
        """The planar cuts that take something off."""
        return tuple(
            feature
            for feature in self.part.features
            if isinstance(feature, Trim)
            and max(feature.plane.height(corner) for corner in self.blank.corners) > NOTHING
        )

    @property
    def cuts(self) -> tuple[str, ...]:
        """The names of the planar cuts that leave a face on the finished piece."""
        return tuple(trim.id for trim in self.trims if trim.id in self.finished.by_name)

    @cached_property
    def unready(self) -> frozenset[str]:
        """Faces of the blank that come last, once the part is glued up or fitted."""
        if self.part.stage not in {Stage.AFTER_GLUE_UP, Stage.TO_FIT}:
            return frozenset()
        far = zip(("right", "back", "top"), self.part.over, strict=True)
        return frozenset(name for name, over in far if over > 0)

    @property
    def thin(self) -> bool:
        """Tell whether it is veneer tape, cut with the panel it is on."""
        return self.part.kind is PartKind.EDGING and self.part.blank.thickness < THIN

    @cached_property
    def finished(self) -> Workpiece:
        """The piece after every planar cut."""
        piece = self.blank
        for trim in self.trims:
            piece = piece.cut(trim.id, trim.plane)
        return piece

    @property
    def sheet(self) -> bool:
        """Tell whether it is cut from a sheet."""
        return self.part.kind is PartKind.SHEET

    @property
    def squared(self) -> bool:
        """Tell whether the stock has four flat sides."""
        return self.part.blank.section is Section.SQUARED

    @property
    def milled(self) -> Vec:
        """The size that milling leaves, what is trimmed off later still on."""
        return add(self.part.blank.size, self.part.over)

    def spoken(self, name: str) -> str:
        """A face as the record names it: ``stock.front`` where the finished part has it no more."""
        return STOCK + name if name in FACES and name not in self.finished.by_name else name

    def plane(self, name: str) -> Plane:
        """The plane of a face by the record's name for it."""
        return self.planes[name.removeprefix(STOCK)]

    def lie(self, table: str, reference: str, stop: str | None) -> Lie:
        """How the piece lies by the names of its faces."""
        key = (table, reference, stop)
        if key not in self._lies:
            self._lies[key] = Lie(
                table=self.plane(table),
                reference=self.plane(reference),
                stop=None if stop is None else self.plane(stop),
            )
        return self._lies[key]

    def setting(self, cut: str, table: str, reference: str, stop: str | None) -> Setting | None:
        """The settings of a cut, worked once; None where the faces give none."""
        key = (cut, table, reference, stop)
        if key not in self._settings:
            try:
                found = setting(self.planes[cut], self.lie(table, reference, stop), self.kerf)
            except ZeroDivisionError:
                found = None
            self._settings[key] = found
        return self._settings[key]
