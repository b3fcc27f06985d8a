"""The page of jigs in words: what each is, what it is made by, which work it is for."""

from collections.abc import Iterable
from typing import Any, assert_never

from exporters.book.jig_pictures import picture
from exporters.book.tables import size, with_unit
from exporters.names import plain
from ground.quantities import STEEP, Units, angle_text, length_text, rise_in_100
from planning.jigs.records import (
    Bit,
    ClampWedge,
    GuideBlock,
    HoleStrip,
    Jig,
    LevellingWedge,
    MitreCaul,
    SledSetting,
    Spacer,
    TaperSled,
    Use,
)

BED = 80.0
"""How much longer than its piece a sled's bed is (mm). Common practice, no source."""

Words = tuple[str, str, list[list[str]]]
"""A jig's title, how it is made, and what it is for: where, and with which numbers."""


def told(jigs: Iterable[Jig], units: Units) -> tuple[list[dict[str, Any]], dict[str, str]]:
    """Every jig in words, and the pictures by name."""
    found: list[dict[str, Any]] = []
    pictures: dict[str, str] = {}
    for place, jig in enumerate(jigs, 1):
        name = f"jig-{place}.svg"
        pictures[name] = picture(jig, units)
        title, makes, rows = words(jig, units)
        found.append(
            {
                "number": place,
                "title": plain(title),
                "makes": plain(makes),
                "rows": [[plain(cell) for cell in row] for row in rows],
                "picture": name,
            }
        )
    return found, pictures


def words(jig: Jig, units: Units) -> Words:
    """One jig in words."""
    match jig:
        case LevellingWedge():
            return levelling(jig, units)
        case TaperSled():
            return sled(jig, units)
        case HoleStrip():
            return strip(jig, units)
        case GuideBlock():
            return guide(jig, units)
        case ClampWedge():
            return clamp_wedge(jig)
        case MitreCaul():
            return mitre_caul(jig, units)
        case Spacer():
            return spacer(jig, units)
        case _:
            assert_never(jig)


def slant(degrees: float) -> str:
    """An angle two ways: from square, and as a rise in 100."""
    said = f"{angle_text(degrees)}°"
    return said if degrees > STEEP else f"{said} ({rise_in_100(degrees):.1f} in 100)"


def places(uses: Iterable[Use]) -> str:
    """Where it is used: ``B1 no. 5, B2 no. 5``."""
    return ", ".join(
        f"{use.part} no. {' and '.join(map(str, use.orders))}" if use.orders else use.part
        for use in uses
    )


def in_steps(orders: Iterable[int]) -> str:
    """Which steps of assembly want it."""
    found = [str(order) for order in orders]
    return f"assembly, {'step' if len(found) == 1 else 'steps'} {' and '.join(found)}"


def bit_words(bit: Bit, units: Units) -> str:
    """A bit and how deep it goes; bits are sold by the millimetre."""
    across = f"\N{LATIN CAPITAL LETTER O WITH STROKE}{length_text(bit.diameter, Units.MM)}"
    if units is Units.INCH:
        across = f"{across} mm"
    deep = "through" if bit.depth is None else f"{with_unit(bit.depth, units)} deep"
    return f"{bit.kind} {across}, {deep}"


def bits(found: Iterable[Bit], units: Units) -> str:
    """Every bit that goes through a guide, as a sentence."""
    said = "; ".join(bit_words(bit, units) for bit in found)
    return f"{said[:1].upper()}{said[1:]}"


def levelling(jig: LevellingWedge, units: Units) -> Words:
    """A wedge under a workpiece."""
    makes = (
        f"Rises {with_unit(jig.rise, units)} over {with_unit(jig.length, units)}, "
        f"{with_unit(jig.wide, units)} wide: {jig.made_from}. It brings the face to be cut level."
    )
    return "Levelling wedge", makes, [[places(jig.uses), ""]]


def sled(jig: TaperSled, units: Units) -> Words:
    """A sled with its settings."""
    straight = all(setting.angle == 0 for setting in jig.settings)
    makes = (
        f"A flat bed at least {with_unit(jig.piece + BED, units)} long that slides along the "
        "fence; its edge at the blade is the cut. A cleat carries the piece, a stop takes its "
        "end, a toggle clamp holds it down. Trim the edge with the first cut."
    )
    if not straight:
        makes += (
            " Set the cleat by two sizes from that edge: a at the stop, b "
            f"{with_unit(jig.over, units)} further on. Hands mirror one another: the cleat leans "
            "the other way."
        )
    rows = [[places(setting.uses), sled_row(setting, units)] for setting in jig.settings]
    return "Taper sled", makes, rows


def sled_row(setting: SledSetting, units: Units) -> str:
    """One setting of the cleat."""
    blade = f"blade {slant(setting.tilt)}" if setting.tilt else "blade square"
    if setting.angle == 0:
        return f"parallel, a = b = {size(setting.near, units)}; {blade}"
    return (
        f"a {size(setting.near, units)}, b {size(setting.far, units)}; "
        f"{slant(setting.angle)}; {blade}"
    )


def strip(jig: HoleStrip, units: Units) -> Words:
    """A drilled strip."""
    makes = f"{len(jig.places)} holes. {bits(jig.bits, units)}."
    grouped: dict[tuple[str, str, str], list[str]] = {}
    for row in jig.rows:
        said = f"{size(row.aside, units)} from {row.beside}"
        grouped.setdefault((row.part, row.face, row.edge), []).append(said)
    alike: dict[str, list[str]] = {}
    for (part, face, edge), lines in grouped.items():
        said = f"lip on the {edge} edge; line {' and '.join(lines)}"
        alike.setdefault(said, []).append(f"{part} {face}")
    rows = [[", ".join(where), said] for said, where in alike.items()]
    return f"Drilling strip, used {jig.times} times", makes, rows


def guide(jig: GuideBlock, units: Units) -> Words:
    """A block for a slanted hole."""
    makes = (
        f"A hardwood block with one hole {slant(jig.lean)} from square. {bits(jig.bits, units)}."
    )
    return "Guide block for slanted holes", makes, [[places(jig.uses), ""]]


def clamp_wedge(jig: ClampWedge) -> Words:
    """Wedges under the jaws."""
    makes = (
        f"{jig.count} wedges of {slant(jig.angle)}, out of the offcuts of the parts that they "
        "press on; a dab of hide glue or tape holds them while the clamp goes on."
    )
    return "Wedges under the clamps", makes, [[in_steps(jig.steps), ""]]


def mitre_caul(jig: MitreCaul, units: Units) -> Words:
    """Strips beside mitres."""
    makes = (
        f"{jig.count} strips with one face at 45°, {with_unit(jig.length, units)} long: tape or "
        "glue them on with paper between, so that a clamp pulls square across the mitre."
    )
    return "Blocks for the mitres", makes, [[in_steps(jig.steps), ""]]


def spacer(jig: Spacer, units: Units) -> Words:
    """Sticks for gaps."""
    thick = with_unit(jig.thickness, units)
    makes = f"{jig.count} sticks planed to {thick}: the gap around the {jig.what}."
    return f"Spacers for the {jig.what}", makes, []
