"""What is put together by itself: the base, the carcass, every drawer, every door."""

from collections.abc import Iterable
from dataclasses import dataclass

from ground.order import natural
from models.parts.assembly import Assembly, Copy, Joint
from models.parts.directions import Parts
from models.parts.part import Part, PartKind, Stage

FRONT = "applied front"
"""The joint of a show front to its box: closed last of all."""
HINGES = frozenset({"cup hinge", "butt hinge"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """The assembly with what is asked of it again and again."""

    assembly: Assembly
    parts: dict[str, Part]
    copies: dict[str, Copy]

    @classmethod
    def of(cls, assembly: Assembly) -> "Piece":
        """Look everything up once."""
        parts = {part.label: part for part in assembly.parts}
        return cls(
            assembly=assembly, parts=parts, copies={copy.id: copy for copy in assembly.copies}
        )

    def part(self, copy: str) -> Part:
        """The part that a copy is of."""
        return self.parts[self.copies[copy].label]

    @property
    def names(self) -> dict[str, str]:
        """The name of every copy's part."""
        return {copy: self.part(copy).name for copy in self.copies}

    @property
    def volumes(self) -> dict[str, float]:
        """The wood in every copy's blank (mm3)."""
        return {copy: self.part(copy).blank.volume for copy in self.copies}

    def joined(self) -> Parts:
        """Every copy that a joint names as a part."""
        return frozenset(part for joint in self.assembly.joints for part in joint.parts)

    def fronts(self) -> Parts:
        """The show fronts of drawers."""
        return frozenset(j.parts[-1] for j in self.assembly.joints if j.kind == FRONT)

    def movers(self, group: str) -> tuple[tuple[str, Parts], ...]:
        """The movers of a group (``drawers``) with their copies, in natural order."""
        found = {
            mover.id: frozenset(mover.copies)
            for mover in self.assembly.movers
            if any(self.copies[copy].group[0] == group for copy in mover.copies)
        }
        return tuple(sorted(found.items(), key=lambda item: natural(item[0])))

    def base(self) -> Parts:
        """Everything of the base that joints hold together."""
        return self.solid() & {c.id for c in self.copies.values() if c.group[0] == "base"}

    def carcass(self) -> Parts:
        """Everything that stands still and is jointed, but the base and what is bought."""
        still = (c for c in self.copies.values() if c.mover is None and c.group[0] != "base")
        return self.solid() & {copy.id for copy in still}

    def solid(self) -> Parts:
        """Copies that joints bind to others, loose pieces and edgings left out."""
        apart = (PartKind.LOOSE, PartKind.EDGING)
        return frozenset(c for c in self.joined() if self.part(c).kind not in apart)

    def edgings(self, stage: Stage) -> tuple[str, ...]:
        """The edgings that go on now, or after glue-up."""
        now = stage is Stage.NOW
        edgings = (copy for copy in self.copies if self.part(copy).kind is PartKind.EDGING)
        return self.ordered(c for c in edgings if (self.part(c).stage is Stage.NOW) == now)

    def bought(self, group: str | None, *, pins: bool = False) -> tuple[str, ...]:
        """Bought things that no joint names, on the movers of a group or on what stands still."""
        return self.ordered(
            copy.id
            for copy in self.copies.values()
            if self.part(copy.id).kind is PartKind.HARDWARE
            and copy.id not in self.joined()
            and (copy.group[0] if copy.mover is not None else None) == group
            and ("pin" in self.part(copy.id).name.split()) == pins
        )

    def shelves(self) -> tuple[str, ...]:
        """What lies loose inside: neither jointed, nor bought, nor moving."""
        return self.ordered(
            copy.id
            for copy in self.copies.values()
            if copy.mover is None
            and copy.id not in self.joined()
            and self.part(copy.id).kind in (PartKind.SHEET, PartKind.LUMBER)
        )

    def ordered(self, copies: Iterable[str]) -> tuple[str, ...]:
        """Copies in natural order."""
        return tuple(sorted(copies, key=natural))

    def between(self, parts: Parts) -> tuple[Joint, ...]:
        """The joints all of whose parts are among ``parts``."""
        return tuple(j for j in self.assembly.joints if set(j.parts) <= parts)
