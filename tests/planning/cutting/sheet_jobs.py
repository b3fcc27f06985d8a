"""Jobs for one sheet material, made up for tests."""

from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from models.parts.blank import Grain
from planning.cutting.needs import Need
from planning.cutting.records import Placed
from planning.cutting.sheets import Planned, plan_sheets
from planning.cutting.task import Effort
from specs.materials import Core, MaterialKind, Sheet, SheetGrain
from specs.shop import Shop
from tests.planning.cutting.checker import Rules, Wanted

QUICK = Effort(starts=20, rounds=60, tidy=40, proof=0)


def sheet(**keys) -> Sheet:
    usual: dict[str, Any] = {
        "kind": MaterialKind.SHEET,
        "core": Core.VENEER_PLYWOOD,
        "thickness": 18.0,
        "size": (2440.0, 1220.0),
        "grain": SheetGrain.LENGTH,
        "price": Decimal(100),
    }
    return Sheet(**(usual | keys))


def need(copy: str, length: float, width: float, grain: Grain = Grain.LENGTH) -> Need:
    placed = Placed(label=copy.partition(".")[0], name="panel", copy=copy)
    return Need(placed=placed, length=length, width=width, fine=(length, width), grain=grain)


def rules(needs, shop: Shop, sheet: Sheet) -> Rules:
    plain = sheet.grain is SheetGrain.NONE
    return Rules(
        kerf=shop.kerf,
        trim=shop.trim,
        levels=shop.levels,
        wanted={
            (n.placed.copy, n.placed.layer, n.placed.stave): Wanted(
                length=n.length,
                width=n.width,
                locked=not plain and n.grain is not Grain.NONE,
                across=n.grain is Grain.WIDTH,
            )
            for n in needs
        },
    )


def planned(needs, *, shop=None, material=None, matches=(), effort=QUICK) -> Planned:
    return plan_sheets(
        "panel", material or sheet(), shop or Shop(), tuple(needs), tuple(matches), effort
    )


SIZES = st.decimals(20, 1100, places=1).map(float)


@st.composite
def jobs(draw):
    """Needs, a shop and a sheet, all within what a shop meets."""
    number = draw(st.integers(1, 14))
    grains = st.sampled_from(list(Grain))
    needs = [need(f"P{i}.1", draw(SIZES), draw(SIZES), draw(grains)) for i in range(1, number + 1)]
    shop = Shop(
        kerf=draw(st.sampled_from([0.1, 2.2, 3.175, 3.2, 12.0])),
        trim=draw(st.sampled_from([0.0, 1.0, 9.525, 10.0])),
        levels=draw(st.integers(2, 4)),
    )
    material = sheet(
        size=draw(st.sampled_from([(2440.0, 1220.0), (1250.0, 2500.0), (1525.0, 1525.0)])),
        grain=draw(st.sampled_from(list(SheetGrain))),
    )
    return needs, shop, material
