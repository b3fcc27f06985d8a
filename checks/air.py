"""The room's air through the year, and what it does to one board."""

from dataclasses import dataclass

from checks.moisture import VALID, change, coefficient, equilibrium
from checks.placed import Piece
from ground import wood
from ground.findings import Finding, Severity
from ground.wood import Movement
from specs.materials import Cut, Lumber


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Relative humidity (%) of the driest and dampest month, and the moisture they bring (%)."""

    dry_humidity: float
    damp_humidity: float
    dry: float
    damp: float

    @property
    def words(self) -> str:
        """The year in a few words."""
        told = (
            f"{self.dry_humidity:g} to {self.damp_humidity:g} % relative humidity, "
            f"{self.dry:.1f} to {self.damp:.1f} % moisture"
        )
        if self.dry < VALID[0] or self.damp > VALID[1]:
            told += f" (outside of {VALID[0]:g} to {VALID[1]:g} %, for which coefficients hold)"
        return told


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """What moves: a species' coefficients, the cut of the board, its moisture at milling (%)."""

    species: str
    movement: Movement
    cut: Cut
    milled: float

    def swells(self, width: float, air: Air, cut: Cut | None = None) -> float:
        """How much wider ``width`` is in the dampest month than at milling (mm)."""
        return change(width, coefficient(self.movement, cut or self.cut), self.milled, air.damp)

    def shrinks(self, width: float, air: Air, cut: Cut | None = None) -> float:
        """How much narrower ``width`` is in the driest month than at milling (mm)."""
        return -change(width, coefficient(self.movement, cut or self.cut), self.milled, air.dry)


def air_of(piece: Piece) -> Air:
    """The air that the spec gives the room."""
    dry, damp = piece.spec.shop.humidity
    celsius = piece.spec.shop.temperature
    return Air(
        dry_humidity=dry,
        damp_humidity=damp,
        dry=equilibrium(celsius, dry),
        damp=equilibrium(celsius, damp),
    )


def board(piece: Piece, material: str, cut: Cut = Cut.FLAT) -> Board | None:
    """How lumber of the spec moves; None for sheet goods and woods of which nothing is known."""
    found = piece.spec.materials[material]
    if not isinstance(found, Lumber):
        return None
    known = wood.movement(found.species)
    if known is None:
        return None
    return Board(species=found.species, movement=known, cut=cut, milled=found.moisture)


def unknown(piece: Piece) -> tuple[Finding, ...]:
    """A finding for every lumber of which no movement is known."""
    used = {one.part.material for one in piece.placed if one.wood}
    return tuple(
        Finding(
            code="movement.unknown",
            severity=Severity.NOTE,
            subject=name,
            message=f"no movement across the grain is known of {material.species}, so nothing of "
            "it is checked through the year; compare it with a wood of the tables",
            source="no published value at hand",
        )
        for name, material in piece.spec.materials.items()
        if name in used and isinstance(material, Lumber) and wood.movement(material.species) is None
    )
