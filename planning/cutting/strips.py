"""A strip of matched grain that is longer than the sheet: broken at one corner.

Top and one side stay together. The other side is cut from the strip of the sheet beside theirs,
at the sheet's end: there the grain is nearest to what it would have been.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planning.cutting.layout import Bit, free, row
from planning.cutting.loads import Load, matched, single
from planning.cutting.matching import Match
from planning.cutting.needs import Need
from planning.cutting.records import Saw
from planning.cutting.task import Zone

ACROSS, ALONG = 0, 1
"""Axes of cuts that divide the length and the width."""
AFTER, BEFORE, BELOW = 1, 2, 3
"""Free pieces of the sheet: after the strip, before the lone side, the rest of the width."""
THREE = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A sheet with the strip on it: ``zones`` are its free pieces, to be cut further.

    ``kept`` and ``other`` are the strip and the lone side, ``size`` the trimmed sheet.
    """

    size: tuple[int, int, int]
    kept: Bit
    other: Bit
    kerf: int
    zones: tuple[Zone, ...]

    def filled(self, cells: Sequence[Bit | None]) -> Bit:
        """The sheet with what is cut from its free pieces."""
        pieces: dict[int, list[Bit]] = {AFTER: [], BEFORE: [], BELOW: []}
        for zone, cell in zip(self.zones, cells, strict=True):
            pieces[zone.kind].append(cell or free((zone.w, zone.h, self.size[2])))
        first = self._across([self.kept, *pieces[AFTER]])
        second = self._across([*pieces[BEFORE], self.other])
        return self._along([first, second, *pieces[BELOW]])

    def _across(self, bits: list[Bit]) -> Bit:
        size = (self.size[0], max(bit.size[1] for bit in bits), self.size[2])
        return row(size, Saw.ACROSS, bits, (self.kerf,) * len(bits))

    def _along(self, bits: list[Bit]) -> Bit:
        return row(self.size, Saw.ALONG, bits, (self.kerf,) * len(bits))


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip broken in two: the run that keeps its match, and the side that loses it."""

    kept: Load
    other: Load
    keeps: str
    loses: str

    @property
    def needs(self) -> tuple[Need, ...]:
        """Every piece of it."""
        return (*self.kept.needs, *self.other.needs)

    def template(self, sheet: Zone, kerf: int, thickness: int) -> Template | None:
        """The trimmed sheet with both on it, one strip beside the other; None: too narrow."""
        width = max(self.kept.bit.size[1], self.other.bit.size[1])
        if 2 * width + kerf > sheet.h or self.kept.bit.size[0] > sheet.w:
            return None
        zones: list[Zone] = []
        for kind, bit in ((AFTER, self.kept.bit), (BEFORE, self.other.bit)):
            rest = sheet.w - bit.size[0] - kerf
            if rest > 0:
                zones.append(Zone(w=rest, h=width, kind=kind, level=2, axis=ACROSS))
        below = sheet.h - 2 * (width + kerf)
        if below > 0:
            zones.append(Zone(w=sheet.w, h=below, kind=BELOW, level=1, axis=ALONG))
        return Template(
            size=(sheet.w, sheet.h, thickness),
            kept=_as_wide(self.kept.bit, width),
            other=_as_wide(self.other.bit, width),
            kerf=kerf,
            zones=tuple(zones),
        )


def _as_wide(bit: Bit, width: int) -> Bit:
    return bit if bit.size[1] == width else replace(bit, size=(bit.size[0], width, bit.size[2]))


def broken(match: Match, needs: Sequence[Need], thickness: int, kerf: float) -> Strip | None:
    """Break a strip of three so that ``match.keep`` stays with the one in the middle."""
    if len(needs) != THREE or match.keep is None:
        return None
    first = needs[0].placed.copy == match.keep
    together, alone = (needs[:2], needs[2]) if first else (needs[1:], needs[0])
    kept = matched(match, together, thickness, kerf)
    if kept is None:
        return None
    return Strip(
        kept=kept, other=single(alone, thickness), keeps=match.keep, loses=alone.placed.copy
    )
