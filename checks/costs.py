"""What the wood comes to at the spec's prices, before any board is laid out."""

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import assert_never

from checks.placed import Piece
from ground.findings import FROM_THE_SPEC, Finding, Severity
from ground.quantities import Units
from models.parts.part import Part
from specs.materials import Lumber, Sheet
from specs.shop import Milling

BOARD_FOOT = 144 * 25.4**3
"""Volume of a board foot: 144 cubic inches (mm3)."""
CUBIC_METRE = 1e9
"""In mm3."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """How much of one material goes into the piece; ``price`` is of one ``unit``."""

    material: str
    quantity: float
    unit: str
    price: float | None

    @property
    def total(self) -> float | None:
        """What it comes to."""
        return None if self.price is None else self.quantity * self.price


def used(piece: Piece) -> tuple[Used, ...]:
    """Lumber by its rough volume, sheets by as many whole ones as hold the area at least."""
    amounts: dict[str, float] = defaultdict(float)
    for one in piece.placed:
        material = piece.material(one)
        if material is not None and one.part.made and one.part.material is not None:
            amounts[one.part.material] += _amount(piece, one.part, material)
    return tuple(
        _used(piece, key, amounts[key]) for key in piece.spec.materials if amounts.get(key)
    )


def _amount(piece: Piece, part: Part, material: Lumber | Sheet) -> float:
    """Rough volume of lumber (mm3), or area of a sheet (mm2)."""
    blank, over = part.blank, part.over
    long, wide, thick = (side + more for side, more in zip(blank.size, over, strict=True))
    match material:
        case Lumber():
            return _rough(
                (long, wide, thick), (blank.staves, blank.layers), piece.spec.shop.milling
            )
        case Sheet():
            return long * wide * blank.layers
    assert_never(material)


def _rough(size: tuple[float, float, float], glued: tuple[int, int], milling: Milling) -> float:
    """Volume of a part's boards before they are milled; each stave and layer has its own waste."""
    long, wide, thick = size
    staves, layers = glued
    return (
        (long + milling.length)
        * (wide + staves * milling.width)
        * (thick + layers * milling.thickness)
    )


def _used(piece: Piece, key: str, amount: float) -> Used:
    material = piece.spec.materials[key]
    price = None if material.price is None else float(material.price)
    match material:
        case Lumber():
            metric = piece.spec.units is Units.MM
            one = CUBIC_METRE if metric else BOARD_FOOT
            unit = "m3" if metric else "board feet"
            return Used(material=key, quantity=amount / one, unit=unit, price=price)
        case Sheet(size=(long, wide)):
            trim = 2 * piece.spec.shop.trim
            sheets = math.ceil(amount / ((long - trim) * (wide - trim)))
            unit = "sheet" if sheets == 1 else "sheets"
            return Used(material=key, quantity=sheets, unit=unit, price=price)
    assert_never(material)


def find_costs(piece: Piece) -> Iterator[Finding]:
    """Say what the wood comes to at least, and what is left to the maker to reckon."""
    lines = used(piece)
    priced = [(one, one.total) for one in lines if one.total is not None]
    unpriced = [one.material for one in lines if one.total is None]
    whole = sum(total for _, total in priced)
    told = "; ".join(f"{_amount_of(one)} x {one.price:g} = {total:.2f}" for one, total in priced)
    lacking = f"; no price is given of {', '.join(unpriced)}" if unpriced else ""
    sign = f" {piece.spec.currency}" if piece.spec.currency else ""
    sum_ = f"the wood comes to {whole:.2f}{sign} at least ({told})"
    first = sum_ if priced else "no price is given"
    if not priced:
        lacking = f" of {', '.join(unpriced)}" if unpriced else ""
    yield Finding(
        code="cost.wood",
        severity=Severity.NOTE,
        subject="the piece",
        message=f"{first}{lacking}; waste, whole boards and what is in the rack are counted by the "
        "buying list; fittings, finish and hours are the maker's own to reckon",
        value=round(whole, 6) if priced else None,
        unit=piece.spec.currency if priced else None,
        source=FROM_THE_SPEC,
    )


def _amount_of(one: Used) -> str:
    count = f"{one.quantity:.0f}" if one.unit.startswith("sheet") else f"{one.quantity:.3g}"
    return f"{one.material} {count} {one.unit}"
