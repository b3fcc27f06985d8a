"""Small pieces of lumber furniture for tests of board plans."""

from dataclasses import replace
from typing import Any

from ground.vectors import Frame
from models.parts.assembly import Assembly, Copy
from models.parts.blank import Blank, Grain
from models.parts.part import Part, PartKind
from planning.cutting.boards import plan_boards
from planning.cutting.sheets import Planned
from planning.cutting.task import Effort
from specs.materials import Board, Lumber, MaterialKind
from specs.shop import Milling, Shop
from specs.spec import Spec
from tests.helpers.small_piece import spec as small_spec
from tests.planning.cutting.checker import Rules, Wanted

QUICK = Effort(starts=20, rounds=60, tidy=30)
SHOP = Shop(kerf=3.2, trim=10.0, milling=Milling(length=30.0, width=6.0, thickness=4.0))


def part(
    label: str,
    size: tuple[float, float, float],
    *,
    name: str = "rail",
    kind: PartKind = PartKind.LUMBER,
    grain: Grain = Grain.LENGTH,
) -> Part:
    blank = Blank(length=size[0], width=size[1], thickness=size[2], grain=grain)
    return Part(label=label, name=name, kind=kind, material="oak", blank=blank)


def assembly(*parts: tuple[Part, int]) -> Assembly:
    copies = tuple(
        Copy(id=f"{p.label}.{n}", label=p.label, group=("base",), placement=Frame())
        for p, many in parts
        for n in range(1, many + 1)
    )
    return Assembly(name="test", parts=tuple(p for p, _ in parts), copies=copies)


def spec(boards: tuple[Board, ...] = (), *, shop: Shop = SHOP, **keys: Any) -> Spec:
    lumber = Lumber(kind=MaterialKind.LUMBER, species="white oak", boards=boards, **keys)
    materials = small_spec().materials | {"oak": lumber}
    return small_spec().model_copy(update={"materials": materials, "shop": shop})


def planned(found: Spec, piece: Assembly, effort: Effort = QUICK) -> Planned:
    plan = plan_boards(found, piece, "oak", effort)
    stock = tuple(replace(it, id=f"board-{n}") for n, it in enumerate(plan.stock, 1))
    return replace(plan, stock=stock)


def rules(wanted: dict[tuple[str, int, int], Wanted]) -> Rules:
    return Rules(kerf=SHOP.kerf, levels=9, wanted=wanted)
