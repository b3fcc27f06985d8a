"""What each machine can do with one cut: every limit that it goes over.

The limits themselves are the shop's (``specs.machines``): common practice, no source.
"""

from dataclasses import dataclass

from planning.machines import Limit, Tool, heights, over, under
from planning.saw.settings import Keeps, Setting
from specs.machines import BandSaw, Machines, MitreSaw, TableSaw, TrackSaw


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One cut as a machine sees it (mm).

    How ``high`` it rises above the table, the piece's size along the fence (``long``) and off it
    (``wide``), how far the blade is to ``run``, and how wide the piece is square to that
    (``beside``).
    """

    setting: Setting
    high: float
    long: float
    wide: float
    run: float
    beside: float
    sheet: bool


def limits(tool: Tool, machines: Machines, cut: Cut) -> tuple[Limit, ...] | None:
    """Every limit of ``tool`` that ``cut`` goes over; None where it never makes such a cut."""
    match tool:
        case Tool.TABLE_SAW | Tool.SLED | Tool.GAUGE:
            return on_table_saw(tool, machines.table_saw, cut)
        case Tool.TRACK_SAW:
            return on_rail(machines.track_saw, cut)
        case Tool.MITRE_SAW:
            return mitre_saw(machines.mitre_saw, cut)
        case Tool.BAND_SAW:
            return band_saw(machines.band_saw, cut)
        case Tool.HAND_PLANE | Tool.HAND_SAW:
            return ()
        case _:
            return None


def on_table_saw(tool: Tool, saw: TableSaw, cut: Cut) -> tuple[Limit, ...] | None:
    """Along the fence, on the sled or at the gauge."""
    if not saw.owned:
        return None
    if tool is Tool.TABLE_SAW:
        return along_fence(saw, cut)
    return on_sled(saw, cut) if tool is Tool.SLED else at_gauge(saw, cut)


def panel(machine: str, saw: TableSaw, cut: Cut) -> tuple[Limit, ...]:
    """A sheet part must be small enough to feed."""
    if not cut.sheet:
        return ()
    return (*over(machine, "a sheet part is fed up to", max(cut.long, cut.wide), saw.largest),)


def along_fence(saw: TableSaw, cut: Cut) -> tuple[Limit, ...]:
    """A rip along the fence."""
    name = Tool.TABLE_SAW.value
    return (
        *heights(name, saw, cut.setting.tilt, cut.high),
        *under(name, "a piece runs along the fence from", cut.long, saw.shortest),
        *under(name, "between fence and blade goes", cut.setting.distance, saw.narrowest),
        *over(name, "the fence goes out to", cut.setting.distance, saw.rip),
        *panel(name, saw, cut),
    )


def on_sled(saw: TableSaw, cut: Cut) -> tuple[Limit, ...] | None:
    """A taper, or a short piece, clamped on a sled."""
    if cut.sheet:
        return None
    name = Tool.SLED.value
    return (
        *heights(name, saw, cut.setting.tilt, cut.high),
        *under(name, "the sled holds pieces from", cut.long, saw.shortest_held),
        *over(name, "the sled holds pieces up to", cut.long, saw.sled),
    )


def at_gauge(saw: TableSaw, cut: Cut) -> tuple[Limit, ...]:
    """A crosscut at the mitre gauge."""
    name = Tool.GAUGE.value
    return (
        *heights(name, saw, cut.setting.tilt, cut.high),
        *over(name, "the gauge turns to", cut.setting.mitre, saw.mitre, "degrees"),
        *under(name, "the gauge holds pieces from", cut.long, saw.shortest_held),
        *over(name, "the gauge crosscuts boards up to", cut.wide, saw.crosscut),
        *panel(name, saw, cut),
    )


def on_rail(saw: TrackSaw, cut: Cut) -> tuple[Limit, ...] | None:
    """A cut along a guide rail."""
    if not saw.owned:
        return None
    name = Tool.TRACK_SAW.value
    return (
        *heights(name, saw, cut.setting.tilt, cut.high),
        *over(name, "the rails reach", cut.run, saw.longest),
        *under(name, "the rail lies firm on pieces from", cut.beside, saw.narrowest),
        *under(name, "the rail lies firm on pieces from", cut.run, saw.narrowest),
    )


def mitre_saw(saw: MitreSaw, cut: Cut) -> tuple[Limit, ...] | None:
    """A crosscut on the mitre saw; never along a panel."""
    if not saw.owned:
        return None
    name = Tool.MITRE_SAW.value
    return (
        *heights(name, saw, cut.setting.tilt, cut.high),
        *over(name, "it turns to", cut.setting.mitre, saw.mitre, "degrees"),
        *over(name, "it crosscuts boards up to", cut.run, saw.width),
        *under(name, "it holds pieces from", held(cut), saw.shortest),
    )


def band_saw(saw: BandSaw, cut: Cut) -> tuple[Limit, ...] | None:
    """A cut to a line, or along the fence, planed afterwards."""
    if not saw.owned:
        return None
    name = Tool.BAND_SAW.value
    return (
        *heights(name, saw, cut.setting.tilt, cut.high),
        *over(name, "between fence and blade goes", cut.setting.distance, saw.throat),
        *under(name, "pieces may be held by hand from", cut.long, saw.shortest),
    )


def held(cut: Cut) -> float:
    """The length at the mitre saw's fence that stays with the piece (mm)."""
    return cut.setting.distance if cut.setting.keeps is Keeps.NEAR else cut.long
