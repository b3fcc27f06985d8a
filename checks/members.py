"""What bends under a load: panels, shelves, bottoms; what they rest on and what stiffens them."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from checks.beams import Strip
from checks.placed import GRAVITY, Piece, Placed
from ground import sheet_goods, wood
from ground.published import Sourced
from ground.vectors import X, Y
from models.parts.assembly import Opening
from models.parts.part import PartKind
from models.setting_out.densities import density
from models.setting_out.softwood import is_softwood
from specs.materials import Lumber, Sheet

PSF = 47.88026e-6
"""A pound-force a square foot in N/mm2."""
ASSUMED = 40 * PSF
ASSUMED_SOURCE = (
    "40 lb a square foot assumed, Architectural Woodwork Standards 1st ed. (2009) 1.2.21"
)
CLOTHES = 136.157
"""Contents of a drawer where the spec is silent, kg/m3 (8.5 lb a cubic foot; 16 CFR 1261)."""
ACROSS_SOLID = 1 / 15
"""Stiffness of solid wood across the grain (from memory: Wood Handbook Table 5-1, 1/12 to 1/20)."""
TOUCH = 3.0
"""A support this near the end of a panel carries it: a loose shelf has room at its ends (mm)."""
NEAR_FRONT = 12.0
"""A front this near under a panel is what it may jam (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to span: along X (0) or Y (1); ``places`` are the supports."""

    axis: int
    places: tuple[float, ...]

    @property
    def spans(self) -> tuple[float, ...]:
        """Clear lengths, from the middle of each inner support (mm)."""
        return tuple(b - a for a, b in pairwise(self.places))


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """A front that moves under a panel, ``gap`` mm below it."""

    front: Placed
    gap: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """Something that bends. ``pressure`` is N/mm2 besides its weight, ``point`` N at midspan."""

    code: str
    panel: Placed
    ways: tuple[Way, ...]
    pressure: float
    load: str
    point: float = 0.0
    lips: tuple[Placed, ...] = ()
    over: tuple[Over, ...] = ()
    plate: bool = False
    """Held along all four edges."""


def members(piece: Piece) -> Iterator[Member]:
    """Every panel of the piece that carries something."""
    for panel in piece.placed:
        if not panel.wood:
            continue
        if panel.name.startswith("drawer bottom"):
            yield _drawer_bottom(piece, panel)
        elif panel.thin_along(2) and panel.fixed:
            yield from _level(piece, panel)


def _level(piece: Piece, panel: Placed) -> Iterator[Member]:
    """A level panel of the case, if it is one that carries something."""
    loads = piece.spec.loads
    if panel.name == "top":
        yield _member(piece, panel, "sag.top", _spread(panel, loads.top), loads.top_point or 0)
    elif panel.name == "bottom":
        yield _member(piece, panel, "sag.bottom", _on_floor(piece, panel), 0)
    elif panel.name.startswith("shelf"):
        spread = _spread(panel, loads.shelf)
        yield _member(piece, panel, "sag.shelf", spread, loads.shelf_point or 0)
    elif panel.name.startswith("divider"):
        yield _member(piece, panel, "sag.divider", _on_floor(piece, panel), 0)


def _member(
    piece: Piece, panel: Placed, code: str, spread: tuple[float, str], point: float
) -> Member:
    lips = tuple(_lips(piece, panel))
    ways = tuple(way for axis in (0, 1) if (way := _way(piece, panel, axis)) is not None)
    return Member(
        code=code,
        panel=panel,
        ways=ways,
        pressure=spread[0],
        load=spread[1],
        point=point,
        lips=lips,
        over=tuple(_fronts_under(piece, panel, min([panel.lo[2], *(lip.lo[2] for lip in lips)]))),
    )


def _spread(panel: Placed, force: float | None) -> tuple[float, str]:
    """A force of the spec over a panel, or what a standard puts on a shelf."""
    if force is None:
        return (ASSUMED, ASSUMED_SOURCE)
    return (force / (panel.size[0] * panel.size[1]), f"{force:g} N spread evenly")


def _on_floor(piece: Piece, panel: Placed) -> tuple[float, str]:
    """What the openings that stand on a panel put on it; drawers hang on the sides."""
    loads = piece.spec.loads
    level = panel.name.startswith("divider")
    force = loads.shelf if level else loads.bottom
    above = [one for one in piece.assembly.openings if _stands_on(one, panel)]
    carrying = [one for one in above if one.kind != "drawers"]
    if above and not carrying:
        return (0.0, "nothing but its own weight: drawers hang on the sides")
    if force is None or not carrying:
        return (ASSUMED, ASSUMED_SOURCE)
    smallest = min(one.width * one.depth for one in carrying)
    return (force / smallest, f"{force:g} N in each opening")


def _stands_on(opening: Opening, panel: Placed) -> bool:
    x, _, z = opening.corner
    across = min(x + opening.width, panel.hi[0]) - max(x, panel.lo[0])
    return abs(z - panel.hi[2]) < TOUCH and across > opening.width / 2


def _drawer_bottom(piece: Piece, panel: Placed) -> Member:
    mover = panel.copy.mover or ""
    area = panel.size[0] * panel.size[1]
    force = piece.spec.loads.drawer
    if force is None:
        sides = [one for one in piece.on(mover) if one.name.startswith("drawer side")]
        deep = max((one.hi[2] for one in sides), default=panel.hi[2]) - panel.hi[2]
        force = area * deep * 1e-9 * CLOTHES * GRAVITY
        load = f"{force:.0f} N: its volume filled at 8.5 lb a cubic foot (16 CFR 1261)"
    else:
        load = f"{force:g} N spread evenly"
    ways = tuple(Way(axis=axis, places=(panel.lo[axis], panel.hi[axis])) for axis in (0, 1))
    return Member(
        code="sag.drawer_bottom",
        panel=panel,
        ways=ways,
        pressure=force / area,
        load=load,
        plate=True,
    )


def _way(piece: Piece, panel: Placed, axis: int) -> Way | None:
    """What a level panel rests on along ``axis``; None where there are not two supports."""
    other = 1 - axis
    found: list[tuple[float, float]] = []
    for one in piece.placed:
        if one is panel or not one.wood or not one.fixed or not one.thin_along(axis):
            continue
        shared = min(one.hi[other], panel.hi[other]) - max(one.lo[other], panel.lo[other])
        if shared < panel.size[other] / 2 or not _under(one, panel, axis):
            continue
        found.append((one.lo[axis], one.hi[axis]))
    found = [
        (lo, hi)
        for lo, hi in sorted(found)
        if hi > panel.lo[axis] - TOUCH and lo < panel.hi[axis] + TOUCH
    ]
    if len(found) < 2:  # noqa: PLR2004 - a beam rests on two supports
        return None
    inner = [(lo + hi) / 2 for lo, hi in found[1:-1]]
    return Way(axis=axis, places=(found[0][1], *inner, found[-1][0]))


def _under(one: Placed, panel: Placed, axis: int) -> bool:
    """Whether an upright part carries a panel: from below, or past its end."""
    underside, thick = panel.lo[2], panel.size[2]
    if one.copy.group[:1] == ("base",):
        return abs(one.hi[2] - underside) < TOUCH
    if axis == 1:
        return False  # a back or a front carries nothing
    return one.hi[2] >= underside - 0.5 and one.lo[2] <= underside + thick / 2


def _lips(piece: Piece, panel: Placed) -> Iterator[Placed]:
    """Solid edging along a panel's front or back, and a rail glued under it."""
    for one in piece.placed:
        along = min(one.hi[0], panel.hi[0]) - max(one.lo[0], panel.lo[0])
        if not one.fixed or along < 0.9 * panel.size[0] or one.part.material is None:
            continue
        edging = one.part.kind is PartKind.EDGING and one.lo[2] < panel.hi[2] - 1
        edging = edging and one.hi[2] > panel.lo[2] + 1 and one.thin_along(1)
        rail = one.name.startswith("rail") and abs(one.hi[2] - panel.lo[2]) < 1
        if edging or rail:
            yield one


def _fronts_under(piece: Piece, panel: Placed, underside: float) -> Iterator[Over]:
    for one in piece.placed:
        if one.fixed or not one.wood or not one.name.startswith(("drawer front", "door")):
            continue
        top = max(
            other.hi[2]
            for other in piece.on(one.copy.mover or "")
            if other.name.startswith(one.name.split()[0]) and other.lo[1] <= one.hi[1]
        )
        gap = underside - top
        inside = panel.lo[0] - TOUCH < one.middle[0] < panel.hi[0] + TOUCH
        if -1 < gap < NEAR_FRONT and inside and one.lo[1] < panel.lo[1] + panel.size[1] / 2:
            yield Over(front=one, gap=gap)


def stiffness(piece: Piece, panel: Placed, axis: int, thickness: float) -> Sourced | None:
    """E of a panel along an axis of the piece (MPa); None where no value is at hand."""
    way = X if axis == 0 else Y
    match piece.material(panel):
        case Lumber(species=species):
            known = wood.stiffness(species)
            if known is None or panel.grain_along(way):
                return known
            across = f"{known.source}, by 1/15 across the grain (from memory: its Table 5-1)"
            return Sourced(value=known.value * ACROSS_SOLID, source=across)
        case Sheet(core=core, face=face):
            faced = face is not None and not is_softwood(face)
            one = thickness / panel.part.blank.layers
            stiff = sheet_goods.stiffness(core.value, one, hardwood_faces=faced)
            if stiff is None:
                return None
            return stiff.along if panel.grain_along(way) else stiff.across
        case None:
            return None


def creep(piece: Piece, panel: Placed) -> Sourced | None:
    """k_def of what a panel is made of."""
    material = piece.material(panel)
    if isinstance(material, Sheet):
        return sheet_goods.creep(material.core.value)
    return sheet_goods.creep("lumber")


def own_weight(piece: Piece, panel: Placed, thickness: float) -> float:
    """Own weight of a panel by its area (N/mm2); none where no density is known."""
    material = piece.material(panel)
    known = None if material is None else density(material)
    return 0.0 if known is None else known.kg_m3 * 1e-9 * GRAVITY * thickness


def strips(piece: Piece, member: Member, thickness: float, modulus: float) -> tuple[Strip, ...]:
    """The panel and what stiffens it along X, as one section (down from the panel's top)."""
    panel = member.panel
    found = [Strip(wide=panel.size[1], high=thickness, down=thickness / 2, stiffness=modulus)]
    for lip in member.lips:
        material = piece.material(lip)
        known = wood.stiffness(material.species) if isinstance(material, Lumber) else None
        if known is not None:
            found.append(
                Strip(
                    wide=lip.size[1],
                    high=lip.size[2],
                    down=panel.hi[2] - lip.middle[2],
                    stiffness=known.value,
                )
            )
    return tuple(found)
