"""A build under way: what every step of it reads and adds to."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from casewright.checking import Checked
from casewright.selection import of_part
from drawings.records import Sheet
from ground.findings import Finding, Severity
from ground.order import natural
from ground.vectors import Vec
from models.parts.assembly import Assembly
from models.parts.part import Part
from models.parts.scenes import Drawn
from models.parts.views import LineView

if TYPE_CHECKING:
    from exporters.looks import Look
    from exporters.package import Stage
    from models.solids.mesh_record import Mesh
    from models.solids.records import Made
    from planning.cutting.records import CutPlan
    from planning.saw.plan import SawPlan
    from planning.steps.records import Step


@dataclass(slots=True, kw_only=True)
class Works:
    """A build under way: what is to be written, what is made so far, what went wrong."""

    checked: Checked
    stage: "Stage"
    wanted: frozenset[str]
    names: Mapping[str, str]
    looks: Mapping[str, "Look"]
    cuts: "CutPlan"
    made: dict[str, "Made"] = field(default_factory=dict)
    files: dict[str, dict[str, str]] = field(default_factory=dict)
    known: tuple[Finding, ...] = ()
    failed: list[Finding] = field(default_factory=list)
    bounds: tuple[Vec, Vec] | None = None
    picture: "tuple[Mapping[str, Mesh], LineView] | None" = None
    whole: LineView | None = None
    scenes: dict[str, Drawn] = field(default_factory=dict)
    sheets: dict[str, Sheet] = field(default_factory=dict)
    saw: "SawPlan | None" = None
    steps: "tuple[Step, ...] | None" = None

    @property
    def assembly(self) -> Assembly:
        """The piece."""
        return self.checked.assembly

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say; what failed is in the order of labels, not of the clock."""
        failed = sorted(self.failed, key=lambda found: (natural(found.subject), found.message))
        return (*failed, *self.known)

    def fail(self, subject: str, message: str, *, code: str, copies: tuple[str, ...] = ()) -> None:
        """Keep that something could not be made."""
        self.failed.append(
            Finding(
                code=code,
                severity=Severity.ERROR,
                subject=subject,
                message=message,
                copies=copies,
                source="the solid itself",
            )
        )

    def files_of(self, part: Part) -> dict[str, str]:
        """The files to write for a part by kind; bought ones have none."""
        return of_part(self.names[part.label], self.wanted) if part.made else {}
