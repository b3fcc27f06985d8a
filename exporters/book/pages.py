"""All that the plan book is made of, before any of it is worded."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from checks.finish import Finish
from ground.findings import Finding
from ground.vectors import Vec
from models.parts.assembly import Assembly
from planning.cutting.records import CutPlan
from planning.jigs.records import Jig
from planning.saw.records import SetUp
from planning.steps.records import Step
from specs.spec import Spec


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One drawing: its title, its picture (SVG), its paper (mm); ``label`` of the part it shows."""

    title: str
    picture: str
    size: tuple[float, float]
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pages:
    """All that the book is made of.

    ``sums`` are worded already. ``pictures`` (steps by number, ``cover``) are SVG.
    """

    spec: Spec
    assembly: Assembly
    findings: tuple[Finding, ...]
    steps: tuple[Step, ...]
    mass: float | None
    box: tuple[Vec, Vec] | None
    finish: Finish | None = None
    cuts: CutPlan | None = None
    set_ups: tuple[SetUp, ...] = ()
    jigs: tuple[Jig, ...] = ()
    sums: tuple[tuple[str, str], ...] = ()
    pictures: Mapping[str, str] = field(default_factory=dict)
    sheets: tuple[Sheet, ...] = ()
