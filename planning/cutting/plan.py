"""The cut plan of a piece: sheets and boards, what to buy, what to say."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from ground.findings import Finding, Severity
from models.parts.assembly import Assembly
from planning.cutting.boards import plan_boards
from planning.cutting.buying import purchases
from planning.cutting.matching import matches
from planning.cutting.needs import sheet_materials, sheet_needs
from planning.cutting.records import Bound, CutPlan, Stock, Unmade
from planning.cutting.sheets import Planned, plan_sheets
from planning.cutting.task import Effort
from planning.cutting.telling import interrupted_told
from specs.materials import Lumber, Sheet
from specs.spec import Spec

Told = Callable[[str], None]


def _silent(_what: str) -> None:
    """Tell nobody."""


def cut_plan(
    spec: Spec, assembly: Assembly, effort: Effort | None = None, told: Told = _silent
) -> CutPlan:
    """Plan how every part comes out of its stock; ``told`` hears which material is in hand."""
    effort = effort or Effort()
    runs = matches(spec, assembly)
    plans: list[Planned] = []
    for key in sheet_materials(spec):
        needs = sheet_needs(spec, assembly, key)
        sheet = spec.materials[key]
        told(f"cut plan: {key}")
        if needs and isinstance(sheet, Sheet):
            mine = [run for run in runs if run.material == key]
            plans.append(plan_sheets(key, sheet, spec.shop, needs, mine, effort))
    for key, found in spec.materials.items():
        if isinstance(found, Lumber):
            told(f"cut plan: {key}")
            plans.append(plan_boards(spec, assembly, key, effort))
    bounds = tuple(plan.bound for plan in plans if plan.bound is not None)
    stock = _numbered([piece for plan in plans for piece in plan.stock])
    return CutPlan(
        stock=stock,
        bounds=bounds,
        purchases=purchases(spec, assembly, stock),
        unmade=_lost(plans),
        findings=(
            *([interrupted_told(assembly.name)] if effort.over() else []),
            *_joined(finding for plan in plans for finding in plan.findings),
            *(_told(bound) for bound in bounds),
        ),
    )


def _lost(plans: Sequence[Planned]) -> tuple[Unmade, ...]:
    """What could not be made, copies of one part together."""
    copies: dict[tuple[str, str], tuple[str, ...]] = {}
    for lost in (lost for plan in plans for lost in plan.unmade):
        key = (lost.label, lost.reason)
        copies[key] = tuple(dict.fromkeys((*copies.get(key, ()), *lost.copies)))
    return tuple(
        Unmade(label=label, copies=found, reason=reason)
        for (label, reason), found in copies.items()
    )


def _joined(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Say once what holds for several copies of a part."""
    first: dict[tuple[str, str, str], Finding] = {}
    for found in findings:
        key = (found.code, found.subject, found.message)
        before = first.get(key)
        copies = found.copies if before is None else (*before.copies, *found.copies)
        first[key] = replace(found, copies=tuple(dict.fromkeys(copies)))
    return iter(first.values())


def _numbered(stock: list[Stock]) -> tuple[Stock, ...]:
    """Give every sheet and board its id, counted from 1 for each kind."""
    counts: dict[str, int] = {}
    named: list[Stock] = []
    for piece in stock:
        kind = piece.kind.value
        counts[kind] = counts.get(kind, 0) + 1
        named.append(replace(piece, id=f"{kind}-{counts[kind]}"))
    return tuple(named)


def _told(bound: Bound) -> Finding:
    """How good the plan is, in plain words."""
    if bound.proved:
        message = f"{bound.used} bought; proved: no plan uses fewer {bound.kind.value}s{bound.of}"
    else:
        message = (
            f"{bound.used} bought; no plan can do with fewer than {bound.least}{bound.of}, and"
            f" whether one does with fewer than {bound.used} is not known"
        )
    return Finding(
        code="plan.bound",
        severity=Severity.NOTE,
        subject=bound.material,
        message=message,
        value=float(bound.used),
        limit=float(bound.least),
        unit=f"{bound.kind.value}s",
        source="bounds of area and of dual feasible functions",
    )
