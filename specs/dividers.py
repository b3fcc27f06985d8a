"""Dividers: the panels, upright or level, between the pieces of one opening."""

from collections.abc import Iterator

from pydantic import Field

from specs.edging import PanelEdging
from specs.fields import Length
from specs.joints import DividerJoint, OpenSide, StoppedDadoJoint
from specs.materials import thickness_faults
from specs.names import Names
from specs.records import Fault, Record
from specs.references import MaterialName


class Dividers(Record):
    """What stands between the pieces of one opening, all alike."""

    material: MaterialName = Field(description="material of the dividers")
    thickness: Length | None = Field(None, description="thickness, where they are lumber")
    joint: DividerJoint = Field(description="what holds a divider's ends")
    edging: PanelEdging | None = Field(None, description="what covers the edges that show")
    depth: Length | None = Field(
        None, description="from its front, edging included; else to the back panel"
    )

    def faults(self, names: Names) -> Iterator[Fault]:
        """Lumber has a thickness of its own; a dado across a panel runs out at front or back."""
        yield from thickness_faults(names, self.material, self.thickness)
        if isinstance(self.joint, StoppedDadoJoint):
            for where, message in self.joint.open_faults(
                (OpenSide.BACK, OpenSide.FRONT), "a divider's dado"
            ):
                yield ("joint", *where), message
