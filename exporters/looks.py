"""How a part looks in a picture: one colour a species, core or face, chosen for this program.

The colours are our own choice, picked to tell materials apart on a screen; they measure nothing.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from models.parts.assembly import Assembly
from models.parts.part import Part, PartKind

RGB = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A colour (sRGB, 0 to 1) and how the surface takes light (0 to 1, as glTF means them).

    ``name`` is what the look is called in a file.
    """

    name: str
    colour: RGB
    roughness: float = 0.75
    metalness: float = 0.0

    @property
    def linear(self) -> RGB:
        """The colour in linear light, as glTF wants it (IEC 61966-2-1, the sRGB transfer)."""
        red, green, blue = self.colour
        return (_linear(red), _linear(green), _linear(blue))

    @property
    def octets(self) -> tuple[int, int, int]:
        """The colour in sRGB, each channel 0 to 255, as 3MF wants it."""
        red, green, blue = self.colour
        return (round(red * 255), round(green * 255), round(blue * 255))


def _linear(channel: float) -> float:
    if channel <= 0.04045:  # noqa: PLR2004 - IEC 61966-2-1, where the curve turns into a line
        return channel / 12.92
    return float(((channel + 0.055) / 1.055) ** 2.4)


_WOODS = {
    "alder": "c79468",
    "ash": "dcc7a0",
    "basswood": "e3d3b0",
    "beech": "d5ab82",
    "birch": "dfc79b",
    "butternut": "b98f63",
    "cedar": "b9785a",
    "cherry": "b0714a",
    "douglas fir": "cb955f",
    "elm": "bd9469",
    "fir": "d6b584",
    "hickory": "c79c69",
    "larch": "c99460",
    "mahogany": "93492f",
    "maple": "e6d2ac",
    "oak": "c3a06c",
    "pine": "e2bf85",
    "poplar": "cdc597",
    "red oak": "c98a68",
    "sapele": "8a4632",
    "spruce": "e4cb9b",
    "sweetgum": "b98a6c",
    "sycamore": "d9bd9b",
    "teak": "a5773f",
    "walnut": "5e4433",
    "yellow birch": "d8b583",
}
_PANELS = {
    "blockboard": "d6b98c",
    "hardboard": "7b5b3f",
    "hdf": "8a6a4a",
    "laminate": "e9e6dd",
    "lacquer": "eceae4",
    "linoleum": "55695f",
    "mdf": "b2946f",
    "melamine": "efede6",
    "particleboard": "c5ab80",
    "plywood": "d9bd8b",
    "softwood plywood": "dcb67c",
}
_KINDS = {
    PartKind.LUMBER: ("wood", "c8a576"),
    PartKind.SHEET: ("sheet", "d3b98f"),
    PartKind.EDGING: ("edging", "b98f5c"),
    PartKind.LOOSE: ("loose piece", "a9793f"),
    PartKind.HARDWARE: ("hardware", "9aa0a6"),
}


def look(kind: PartKind, seen: str | None = None) -> Look:
    """The look of a part of ``kind`` whose surface is ``seen``: a species, a face or a core.

    The longest known run of words in ``seen`` decides, so that white oak is an oak; a word that
    is not known leaves the look of the kind.
    """
    name, colour = _KINDS[kind]
    if kind is PartKind.HARDWARE:
        return Look(name=name, colour=_rgb(colour), roughness=0.45, metalness=0.8)
    known = _known(seen) if seen else None
    if seen is None or known is None:
        return Look(name=name, colour=_rgb(colour))
    return Look(name=seen, colour=_rgb(known))


def is_wood(seen: str) -> bool:
    """Tell whether ``seen`` is a species, with a figure of its own."""
    return _known(seen) in _WOODS.values()


def _known(seen: str) -> str | None:
    words = set(seen.casefold().replace(",", " ").replace("-", " ").split())
    fits = [
        (len(name.split()), table is _PANELS, name, colour)
        for table in (_WOODS, _PANELS)
        for name, colour in table.items()
        if words.issuperset(name.split())
    ]
    return max(fits)[-1] if fits else None


def _rgb(code: str) -> RGB:
    red, green, blue = bytes.fromhex(code)
    return (red / 255, green / 255, blue / 255)


def looks(assembly: Assembly, seen: Mapping[str, str]) -> dict[str, Look]:
    """The look of every part by label; ``seen`` says what a material's surface is, by its key."""
    return {part.label: _of_part(part, seen) for part in assembly.parts}


def _of_part(part: Part, seen: Mapping[str, str]) -> Look:
    return look(part.kind, seen.get(part.material) if part.material else None)
