"""Glides and levellers: plain round feet that come off the height of what stands on them."""

from dataclasses import dataclass

from ground.vectors import Vec, X, Z, along
from models.parts.assembly import HardwareLine
from models.parts.features import Hole, HoleKind, Seat
from models.parts.joints.dowel import rod
from models.parts.joints.kit import Halves
from models.parts.part import PartKind
from models.setting_out.bench import Bench
from models.setting_out.draft import Draft
from models.setting_out.trouble import trouble
from specs.base import Feet, FootKind

MADE_BY = "base.feet"
USUAL = {FootKind.GLIDE: 20.0, FootKind.LEVELLER: 25.0}
"""Diameter of a glide and of a leveller's plate (mm; from memory)."""
RIM = 1.0
"""mm of wood round a foot's plate at least (common practice, no source)."""
HOLES = {
    FootKind.GLIDE: (HoleKind.PILOT, 2.0, 12.0),
    FootKind.LEVELLER: (HoleKind.FITTING, 10.0, 30.0),
}
"""What is bored for a glide's nail or a leveller's insert: kind, diameter, depth (mm; common
practice, no source)."""
LEAST = 6.0
"""Smallest plate that is sold (mm; from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a foot goes: ``host`` is the draft it is fixed to, ``at`` the middle of its face.

    ``room`` is the largest circle that the face holds (mm).
    """

    host: str
    at: Vec
    room: float


def lay_feet(bench: Bench, feet: Feet, places: tuple[Standing, ...]) -> None:
    """Put a foot under each place, and bore for it.

    Raises:
        SettingOutError: a foot is larger than what stands on it, or there is no room for any.
    """
    room = min(place.room for place in places) - 2 * RIM
    diameter = feet.diameter or min(USUAL[feet.kind], float(int(room)))
    if diameter > room or diameter < LEAST:
        raise trouble(
            ("base", "feet", "diameter") if feet.diameter else ("base", "feet"),
            f"a foot of {diameter:.1f} mm does not fit: {room:.1f} mm are flat under it, and "
            f"{LEAST:g} mm is the smallest sold; make the foot of the leg larger or ease it less",
        )
    for number, place in enumerate(places, 1):
        _foot(bench, feet, place, (f"{place.host}/{feet.kind.value} {number}", diameter))
    bench.hardware.append(
        HardwareLine(
            name=feet.kind.value,
            quantity=len(places),
            size=f"{diameter:g} mm across, {feet.thickness:.1f} mm high",
            for_what="feet",
        )
    )


def _foot(bench: Bench, feet: Feet, place: Standing, plate: tuple[str, float]) -> None:
    kind, bore, deep = HOLES[feet.kind]
    key, diameter = plate
    piece = rod(feet.kind.value, along(place.at, Z, -feet.thickness), Z, (diameter, feet.thickness))
    bench.put(
        Draft(
            key=key,
            letter="H",
            name=feet.kind.value,
            group=("base",),
            kind=PartKind.HARDWARE,
            material=None,
            blank=piece.blank,
            frame=piece.frame,
            made=False,
        )
    )
    hole = Hole(kind=kind, seat=Seat(place.at, X, Z), diameter=bore, depth=deep, made_by=MADE_BY)
    halves = Halves(kind=feet.kind.value, first=(hole,), second=(), closes=Z)
    bench.join(key, place.host, key, halves)
