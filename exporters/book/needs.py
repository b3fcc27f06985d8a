"""What to have before the work begins: wood, hardware, tools, clamps."""

from collections import Counter
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from exporters.book import tables
from exporters.book.pages import Pages
from exporters.stock_tables import money
from ground.order import natural
from ground.quantities import Rounding, Units, length_text
from models.parts.features import Countersink, Hole
from planning.cutting.records import Purchase
from planning.machines import BY_HAND, Tool
from planning.saw.records import SetUp
from specs.spec import Spec


def needs(pages: Pages) -> dict[str, Any]:
    """What to have in the shop: materials by how much, loose pieces, tools, clamps by length."""
    return {
        "materials": materials(pages),
        "loose": loose(pages),
        "clamps": clamp_table(pages),
        "tools": tools(pages.set_ups),
        "bits": bits(pages),
    }


def materials(pages: Pages) -> dict[str, Any]:
    """Each material with how much of it is in the piece."""
    volumes: dict[str, float] = {}
    areas: dict[str, float] = {}
    for part in pages.assembly.parts:
        if part.made and part.material is not None:
            copies = len(pages.assembly.copies_of(part.label))
            length, width, thickness = part.blank.size
            volumes[part.material] = (
                volumes.get(part.material, 0.0) + copies * length * width * thickness
            )
            areas[part.material] = areas.get(part.material, 0.0) + copies * length * width
    said = tables.materials_told(pages.spec)
    columns = (
        tables.Column(head="material", share=1.0),
        tables.Column(head="what it is", share=1.6),
        tables.Column(head="net, without waste", number=True),
    )
    rows = (
        [key, said[key], net(key, volumes[key], areas[key], pages.spec)]
        for key in pages.spec.materials
        if key in volumes
    )
    return tables.table(columns, rows)


def net(key: str, volume: float, area: float, spec: Spec) -> str:
    """How much of a material is in the piece: square metres or feet of sheet, volume of lumber."""
    sheet = spec.materials[key].kind == "sheet"
    if spec.units is Units.MM:
        return f"{area / 1e6:.2f} m²" if sheet else f"{volume / 1e9:.4f} m³"
    foot = 12 * 25.4
    return f"{area / foot**2:.1f} sq ft" if sheet else f"{volume / (foot**2 * 25.4):.1f} board feet"


def loose(pages: Pages) -> dict[str, Any] | None:
    """Loose pieces by name."""
    count: Counter[str] = Counter()
    for name, many in tables.loose_kinds(pages.assembly):
        count[name] += many
    if not count:
        return None
    columns = (tables.Column(head="no.", number=True), tables.Column(head="piece", share=1.0))
    return tables.table(columns, ([str(count[name]), name] for name in sorted(count, key=natural)))


def clamp_table(pages: Pages) -> dict[str, Any] | None:
    """The most clamps of each length that any one step asks for."""
    most: dict[float, int] = {}
    for one in pages.steps:
        here: dict[float, int] = {}
        for clamp in one.clamps:
            here[clamp.opens] = here.get(clamp.opens, 0) + clamp.count
        for opens, count in here.items():
            most[opens] = max(most.get(opens, 0), count)
    if not most:
        return None
    columns = (
        tables.Column(head="no.", number=True),
        tables.Column(head="opening to at least", share=1.0),
    )
    units = pages.spec.units
    return tables.table(
        columns,
        ([str(most[opens]), tables.with_unit(opens, units, Rounding.UP)] for opens in sorted(most)),
    )


def tools(set_ups: Iterable[SetUp]) -> dict[str, Any] | None:
    """Every machine and hand tool that a set-up names, with how often and for which parts."""
    orders: dict[Tool, Counter[str]] = {}
    for one in set_ups:
        if one.machine is not Tool.BENCH:
            orders.setdefault(one.machine, Counter())[one.part] += 1
    if not orders:
        return None
    columns = (
        tables.Column(head="tool"),
        tables.Column(head="set-ups", number=True),
        tables.Column(head="parts", share=1.0),
    )
    inorder = sorted(orders, key=lambda tool: (tool in BY_HAND, list(Tool).index(tool)))
    return tables.table(
        columns,
        (
            [tool.value, str(orders[tool].total()), ", ".join(sorted(orders[tool], key=natural))]
            for tool in inorder
        ),
    )


def bits(pages: Pages) -> list[list[str]]:
    """Bits and cutters by what they are, each with its sizes; bits are sold by the millimetre."""
    drills: set[float] = set()
    sinks: set[float] = set()
    cutters: dict[str, set[float]] = {}
    for part in pages.assembly.parts:
        for feature in part.features if part.made else ():
            match feature:
                case Hole():
                    drills.add(feature.diameter)
                case Countersink():
                    sinks.add(feature.angle)
                case _:
                    continue
    for one in pages.set_ups:
        if one.cutter is not None and one.cutter.width is not None:
            cutters.setdefault(one.machine.value, set()).add(one.cutter.width)
    found = [["drill bits", ", ".join(length_text(each, Units.MM) for each in sorted(drills))]]
    found += [["countersink", ", ".join(f"{each:g}°" for each in sorted(sinks))]]
    found += [
        [f"slots cut, {name}", ", ".join(length_text(each, Units.MM) for each in sorted(sizes))]
        for name, sizes in cutters.items()
    ]
    return [[name, f"{said} mm" if "°" not in said else said] for name, said in found if said]


def buying(purchases: Iterable[Purchase], spec: Spec) -> dict[str, Any]:
    """What to buy but fittings, with prices where they are known."""
    columns = (
        tables.Column(head="no.", number=True),
        tables.Column(head="unit"),
        tables.Column(head="item", share=1.2),
        tables.Column(head="material"),
        tables.Column(head="size", share=1.1),
        tables.Column(head="cost", number=True),
        tables.Column(head="notes", share=1.3),
    )
    sign = f" {spec.currency}" if spec.currency else ""
    lines = tuple(purchases)
    rows = [
        [
            f"{line.quantity.normalize():f}",
            line.unit,
            line.item,
            line.material,
            line.size,
            "" if line.total is None else f"{money(line.total)}{sign}",
            line.note,
        ]
        for line in lines
    ]
    totals = [line.total for line in lines if line.total is not None]
    if totals:
        whole = f"{money(sum(totals, Decimal(0)))}{sign}"
        rows.append(["", "", "all that has a price", "", "", whole, ""])
    return tables.table(columns, rows)
