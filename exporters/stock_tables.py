"""buying-list.csv and saw-list.csv: what to buy, and how to saw it up in order of work."""

from collections.abc import Iterator
from decimal import Decimal

from exporters.tables import Row, marked, table
from ground.quantities import Rounding, Units
from planning.cutting.records import CutPlan, Purchase
from specs.spec import Spec


def buying_list(spec: Spec, plan: CutPlan) -> bytes:
    """Everything to buy but fittings, with prices and the total where prices are known."""
    sign = f" ({spec.currency})" if spec.currency else ""
    head = ["item", "material", "size", "quantity", "unit", f"price{sign}", f"total{sign}", "notes"]
    rows = [_purchase_row(line, head) for line in plan.purchases]
    totals = [line.total for line in plan.purchases if line.total is not None]
    if totals:
        rows.append({"item": "all that has a price", head[6]: money(sum(totals, Decimal(0)))})
    return table(head, rows)


def _purchase_row(line: Purchase, head: list[str]) -> Row:
    return {
        "item": line.item,
        "material": line.material,
        "size": line.size,
        "quantity": f"{line.quantity.normalize():f}",
        "unit": line.unit,
        head[5]: "" if line.price is None else money(line.price),
        head[6]: "" if line.total is None else money(line.total),
        "notes": line.note,
    }


def money(amount: Decimal) -> str:
    """A sum of money to the hundredth."""
    return f"{amount.quantize(Decimal('0.01')):f}"


def saw_list(spec: Spec, plan: CutPlan) -> bytes:
    """Every cut of every sheet and board, in order of work."""
    fences = [f"fence ({unit.value})" for unit in dict.fromkeys((spec.units, Units.MM))]
    head = ["stock", "material", "number", "stage", "cut", *fences, "blade", "piece", "gives"]
    return table(head, _steps(spec, plan, fences))


def _steps(spec: Spec, plan: CutPlan, fences: list[str]) -> Iterator[Row]:
    units = list(dict.fromkeys((spec.units, Units.MM)))
    for piece in plan.stock:
        for step in piece.steps:
            settings = {
                fence: marked(step.setting, unit, Rounding.NEAREST)
                for fence, unit in zip(fences, units, strict=True)
            }
            yield {
                "stock": piece.id,
                "material": piece.material,
                "number": str(step.number),
                "stage": str(step.stage),
                "cut": step.saw.value,
                **settings,
                "blade": f"{step.tilt:g} degrees" if step.tilt else "square",
                "piece": step.of,
                "gives": step.gives,
            }
