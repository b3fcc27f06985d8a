"""What each corner of the case is, every default filled in: which panel runs, what it carries."""

from dataclasses import dataclass

from models.setting_out.holding import reach
from models.setting_out.trouble import trouble
from specs.case import (
    ButtCorner,
    ButtRuns,
    Carrier,
    Case,
    Corner,
    CornerKind,
    DadoCorner,
    MitreCorner,
    RabbetCorner,
)
from specs.joints import TongueAndGrooveJoint


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerWay:
    """How one corner is made, every default filled in.

    ``over``: a butted panel runs over the sides' ends. ``in_sides``: the sides carry the rabbet or
    dado. ``depth`` of it, and how far the other panel is ``lifted`` from the carrier's end (mm).
    ``tongue`` is how far a tongue goes from a butted end into the other panel (mm).
    """

    kind: CornerKind
    over: bool = False
    in_sides: bool = True
    depth: float = 0.0
    lifted: float = 0.0
    tongue: float = 0.0

    @property
    def level(self) -> bool:
        """Whether the corner closes with the side moving inward, not the panel up or down."""
        if self.kind is CornerKind.BUTT:
            return not self.over
        return self.in_sides

    @property
    def bare(self) -> bool:
        """Whether a barefaced tongue goes into a dado; a panel set in further is housed whole."""
        return self.kind is CornerKind.DADO and self.lifted == 0.0

    def side_inset(self, thickness: float) -> float:
        """How far a side stops short of the case's outside at this corner (mm)."""
        if self.kind is CornerKind.BUTT and self.over:
            return thickness - self.tongue
        let_in = self.kind in (CornerKind.RABBET, CornerKind.DADO)
        return thickness - self.depth if let_in and not self.in_sides else 0.0

    def panel_inset(self, thickness: float) -> float:
        """How far the top or bottom stops short of the case's outside at this corner (mm)."""
        match self.kind:
            case CornerKind.MITRE:
                return 0.0
            case CornerKind.BUTT:
                return 0.0 if self.over else thickness - self.tongue
            case CornerKind.RABBET | CornerKind.DADO:
                return thickness - self.depth if self.in_sides else 0.0


def corner_way(case: Case, which: str, thickness: float) -> CornerWay:
    """The corner at the ``which`` (top or bottom) of the case, its panels ``thickness`` thick.

    Raises:
        SettingOutError: a rabbet or dado goes through its panel.
    """
    corners = case.corners
    corner: Corner = corners.top if which == "top" else corners.bottom
    joint = case.joints.top if which == "top" else case.joints.bottom
    match corner:
        case ButtCorner():
            runs = corners.top_runs if which == "top" else corners.bottom_runs
            tongue = 0.0
            if isinstance(joint, TongueAndGrooveJoint):
                tongue = reach(joint, (thickness, thickness), thickness)
            return CornerWay(kind=corner.kind, over=runs is ButtRuns.OVER, tongue=tongue)
        case RabbetCorner():
            depth = thickness / 2 if corner.depth is None else corner.depth
            _must_leave(which, thickness, depth)
            return CornerWay(kind=corner.kind, in_sides=corner.in_ is Carrier.SIDES, depth=depth)
        case DadoCorner():
            depth = thickness / 3 if corner.depth is None else corner.depth
            _must_leave(which, thickness, depth)
            return CornerWay(
                kind=corner.kind,
                in_sides=corner.in_ is Carrier.SIDES,
                depth=depth,
                lifted=corner.set_in or 0.0,
            )
        case MitreCorner():
            return CornerWay(kind=corner.kind)


def _must_leave(which: str, thickness: float, depth: float) -> None:
    if depth >= thickness:
        raise trouble(
            ("case", "corners", which, "depth"),
            f"{depth:.1f} mm goes through a panel {thickness:.1f} mm thick; make it half of that",
        )
