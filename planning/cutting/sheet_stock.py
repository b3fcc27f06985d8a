"""The sheets of one material as they are planned: whole numbers, the grain along the first axis."""

from dataclasses import dataclass
from decimal import Decimal

from ground.findings import Finding
from planning.cutting.layout import whole
from planning.cutting.loads import Load
from planning.cutting.task import Effort, Zone
from specs.materials import Sheet, SheetGrain
from specs.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Sheets of one size, with the grain along x: whole numbers, trimmed off every edge."""

    length: int
    width: int
    trim: int
    new: bool
    count: int | None = None
    price: Decimal | None = None

    @property
    def zone(self) -> Zone:
        """What is left to cut from."""
        return Zone(w=max(0, self.length - 2 * self.trim), h=max(0, self.width - 2 * self.trim))

    @property
    def cost(self) -> Decimal:
        """What one costs; the area stands in where no price is known."""
        return Decimal(self.length * self.width) if self.price is None else self.price


@dataclass(slots=True, kw_only=True)
class SheetBench:
    """What is common to the planning of one material."""

    key: str
    sheet: Sheet
    shop: Shop
    effort: Effort
    findings: list[Finding]

    @property
    def kerf(self) -> int:
        """What the saw takes."""
        return whole(self.shop.kerf)

    @property
    def thickness(self) -> int:
        """The thickness that everything is worked from."""
        return whole(self.sheet.thickness_used)

    @property
    def across(self) -> bool:
        """Whether the grain runs along the sheet's width."""
        return self.sheet.grain is SheetGrain.WIDTH

    def sizes(self) -> tuple[list[Size], list[Size]]:
        """Offcuts in the rack, and the sizes that are sold."""
        trim = whole(self.shop.trim)
        cuts = [self._size((o.length, o.width), 0, None, count=o.count) for o in self.sheet.offcuts]
        bought = [(self.sheet.size, self.sheet.price)]
        bought += [(other.size, other.price) for other in self.sheet.sizes]
        return cuts, [self._size(size, trim, price) for size, price in bought]

    def _size(
        self,
        size: tuple[float, float],
        trim: int,
        price: Decimal | None,
        *,
        count: int | None = None,
    ) -> Size:
        long, wide = (size[1], size[0]) if self.across else size
        return Size(
            length=whole(long),
            width=whole(wide),
            trim=trim,
            new=count is None,
            count=count,
            price=price,
        )


def fits(load: Load, zone: Zone) -> bool:
    """Tell whether a piece lies in a zone, turned if it may be."""
    w, h = load.bit.size[:2]
    return (w <= zone.w and h <= zone.h) or (load.turns and h <= zone.w and w <= zone.h)
