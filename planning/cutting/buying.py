"""The buying list: sheets, boards, edging, loose pieces, spares and test pieces."""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from ground.order import natural
from ground.quantities import Units, length_text
from ground.tolerances import LENGTH_EPS
from models.parts.assembly import Assembly
from models.parts.blank import Section
from models.parts.part import Part, PartKind
from planning.cutting.bars import fewest_bars
from planning.cutting.cut_sizes import cut_sizes
from planning.cutting.layout import whole
from planning.cutting.records import NodeKind, Purchase, Stock, StockKind, leaves
from planning.cutting.steps import names
from planning.cutting.yard import WASTE, cubic_metres, tallied
from specs.materials import Lumber
from specs.spec import Spec

TAPE_OVER: Final = 1.1
"""Tape is bought a tenth longer than what is cut. Common practice, no source."""
TEST_LENGTH: Final = 300.0
"""A test piece is long enough to be held (mm). Common practice, no source."""
TEST_WIDTH: Final = 150.0
"""A test piece of a sheet or a wide board is no wider (mm). Common practice, no source."""
METRE: Final = 1000.0
ROD: Final = 1000.0
"""Length of a rod (mm). Common practice, no source."""
PIN: Final = "pin"
"""What is cut from rod; dowels are bought to length."""
SECTIONS: Final = (PartKind.LUMBER, PartKind.SHEET)
BORED: Final = ("hole", "recess", "counterbore", "cup")
"""Last words of the names of features that are drilled."""


@dataclass(slots=True, kw_only=True)
class _Offcut:
    """An offcut, or what is left of it, that small pieces may still come from (mm)."""

    stock: str
    name: str
    material: str
    length: float
    width: float
    thickness: float


def purchases(spec: Spec, assembly: Assembly, stock: Sequence[Stock]) -> tuple[Purchase, ...]:
    """Everything to buy but fittings, in the order of a walk round the yard."""
    left = _offcuts(stock)
    return (
        *_sheets(spec, stock),
        *_boards(spec, stock),
        *_tape(spec, assembly),
        *_loose(spec, assembly),
        *_spares(spec, assembly, left),
        *_test_pieces(spec, assembly, left),
    )


def _size(spec: Spec, *sides: float) -> str:
    mark = '"' if spec.units is Units.INCH else ""
    return " x ".join(f"{length_text(side, spec.units)}{mark}" for side in sides)


# ---- sheets and boards


def _sheets(spec: Spec, stock: Sequence[Stock]) -> Iterator[Purchase]:
    counts: dict[tuple[str, tuple[float, float, float], Decimal | None], int] = defaultdict(int)
    for piece in stock:
        if piece.kind is StockKind.SHEET and piece.new:
            counts[piece.material, piece.size, piece.price] += 1
    for (material, size, price), many in counts.items():
        yield Purchase(
            item="sheet",
            material=material,
            size=_size(spec, *size),
            quantity=Decimal(many),
            unit="sheet",
            price=price,
        )


def _boards(spec: Spec, stock: Sequence[Stock]) -> Iterator[Purchase]:
    """Boards by wood, thickness and length, and the allowance for waste apart."""
    for key, lumber in spec.materials.items():
        if not isinstance(lumber, Lumber):
            continue
        bought = [piece for piece in stock if piece.material == key and piece.new]
        sizes = sorted({(piece.size[2], piece.size[0], piece.size[1]) for piece in bought})
        total = Decimal(0)
        for thickness, length, width in sizes:
            many = sum(piece.size == (length, width, thickness) for piece in bought)
            quantity = volume(spec, [(thickness, width, length)] * many)
            total += quantity
            yield Purchase(
                item="board" if many == 1 else f"{many} boards",
                material=f"{key}, {lumber.species}",
                size=_size(spec, thickness, width, length),
                quantity=quantity,
                unit=unit(spec),
                price=lumber.price,
                note=COUNTED[spec.units],
            )
        if total:
            yield Purchase(
                item="allowance for waste",
                material=f"{key}, {lumber.species}",
                size="",
                quantity=(total * WASTE).quantize(Decimal("0.001")),
                unit=unit(spec),
                price=lumber.price,
                note=f"{WASTE * 100:.0f} % over, for what the boards turn out to be",
            )


COUNTED = {
    Units.MM: "rounded up to a litre",
    Units.INCH: "surface measure to the whole foot, times the thickness",
}


def unit(spec: Spec) -> str:
    """What lumber is sold by."""
    return "m3" if spec.units is Units.MM else "board foot"


def volume(spec: Spec, boards: Sequence[tuple[float, float, float]]) -> Decimal:
    """Boards (thickness, width, length in mm) as the yard counts them."""
    return cubic_metres(boards) if spec.units is Units.MM else tallied(boards)


# ---- edging and loose pieces


def _tape(spec: Spec, assembly: Assembly) -> Iterator[Purchase]:
    """Veneer tape by the metre: every strip with what is cut off flush, and a tenth over."""
    lengths: dict[tuple[float, float], float] = defaultdict(float)
    for part in assembly.parts:
        if part.made and part.kind is PartKind.EDGING and part.material is None:
            many = len(assembly.copies_of(part.label))
            width = part.blank.width + part.over[1]
            lengths[part.blank.thickness, width] += many * (part.blank.length + part.over[0])
    for (thickness, width), length in sorted(lengths.items()):
        metres = math.ceil(length * TAPE_OVER / METRE)
        yield Purchase(
            item="veneer tape",
            material="",
            size=_size(spec, thickness, width),
            quantity=Decimal(metres),
            unit="m",
            note=f"{length / METRE:.2f} m is cut",
        )


def _loose(spec: Spec, assembly: Assembly) -> Iterator[Purchase]:
    """Dowels, loose tenons, splines that no board of the spec gives, and a spare of each."""
    for part in sorted(assembly.parts, key=lambda part: natural(part.label)):
        if part.kind is PartKind.LOOSE and part.material is None:
            many = len(assembly.copies_of(part.label)) + _spare(spec)
            if part.blank.section is Section.ROUND and PIN in part.name.split():
                yield _rod(spec, part, many)
                continue
            yield Purchase(
                item=part.name,
                material="",
                size=_size(spec, *part.blank.size),
                quantity=Decimal(many),
                unit="piece",
                note=f"{part.label}; {_spare(spec)} of them spare",
            )


def _rod(spec: Spec, part: Part, many: int) -> Purchase:
    """Rods that pins are cut from."""
    size, kerf = whole(ROD), whole(spec.shop.kerf)
    bars = fewest_bars(size + kerf, [(whole(part.blank.length) + kerf, many)])
    return Purchase(
        item=f"rod for {part.name}",
        material="",
        size=_size(spec, ROD, part.blank.width),
        quantity=Decimal(len(bars.patterns)),
        unit="piece",
        note=f"{part.label}: {many} of {_size(spec, part.blank.length)}, {_spare(spec)} spare",
    )


def _spare(spec: Spec) -> int:
    return 1 if spec.shop.spare is None else spec.shop.spare


# ---- spares and test pieces


def _offcuts(stock: Sequence[Stock]) -> list[_Offcut]:
    left: list[_Offcut] = []
    for piece in stock:
        called = names(piece.root, {step.piece: step.number for step in piece.steps})
        left += [
            _Offcut(
                stock=piece.id,
                name=called[leaf.id],
                material=piece.material,
                length=leaf.l,
                width=leaf.w,
                thickness=piece.size[2],
            )
            for leaf in leaves(piece.root)
            if leaf.kind is NodeKind.OFFCUT
        ]
    return left


def _spares(spec: Spec, assembly: Assembly, left: list[_Offcut]) -> Iterator[Purchase]:
    """Spares of each part that is too short to mill alone."""
    for part in sorted(assembly.parts, key=lambda part: natural(part.label)):
        short = part.blank.length < spec.shop.shortest
        if part.made and part.kind is PartKind.LUMBER and short and _spare(spec):
            size = cut_sizes(part, spec.materials[part.material or ""], spec.shop, None).rough
            item = f"spare {part.label} {part.name}"
            yield _small(spec, _Small(part=part, item=item, size=size, many=_spare(spec)), left)


def _test_pieces(spec: Spec, assembly: Assembly, left: list[_Offcut]) -> Iterator[Purchase]:
    """Pieces of each section, one for each kind of cut that a saw or router is set up for on it."""
    kinds: dict[tuple[str, float, float], set[str]] = defaultdict(set)
    first: dict[tuple[str, float, float], Part] = {}
    for part in assembly.parts:
        if not part.made or part.material is None or part.kind not in SECTIONS:
            continue
        width = TEST_WIDTH
        if part.kind is PartKind.LUMBER:
            width = min(width, part.blank.width)
        section = (part.material, round(width, 1), round(part.blank.thickness, 1))
        kinds[section] |= {str(f.kind) for f in part.features if not _bored(str(f.kind))}
        first.setdefault(section, part)
    for section, found in kinds.items():
        if found:
            size = (TEST_LENGTH, section[1], first[section].blank.thickness)
            item = f"test piece: {', '.join(sorted(found))}"
            small = _Small(part=first[section], item=item, size=size, many=len(found))
            yield _small(spec, small, left)


def _bored(kind: str) -> bool:
    """Tell whether a feature is made by drilling, which scrap of any section tries out."""
    return kind.endswith(BORED)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Small:
    """Small pieces that may come from offcuts."""

    part: Part
    item: str
    size: tuple[float, float, float]
    many: int


def _small(spec: Spec, small: _Small, left: list[_Offcut]) -> Purchase:
    """Small pieces: out of offcuts that are large enough, the others to be bought."""
    found = [place for _ in range(small.many) if (place := _taken(spec, small, left))]
    lacking = small.many - len(found)
    notes = [f"out of {', '.join(dict.fromkeys(found))}"] if found else []
    notes += [f"no offcut is large enough for {lacking}"] if lacking else []
    return Purchase(
        item=small.item,
        material=small.part.material or "",
        size=_size(spec, *small.size),
        quantity=Decimal(small.many),
        unit="piece",
        note="; ".join(notes),
    )


def _taken(spec: Spec, small: _Small, left: list[_Offcut]) -> str | None:
    """Take one piece out of an offcut; where from."""
    length, width, thickness = small.size
    for offcut in left:
        fits = offcut.length >= length and offcut.width >= width
        thick = offcut.thickness >= thickness - LENGTH_EPS
        if offcut.material == small.part.material and fits and thick:
            left.append(replace(offcut, length=length, width=offcut.width - width - spec.shop.kerf))
            offcut.length -= length + spec.shop.kerf
            return f"{offcut.name} of {offcut.stock}"
    return None
