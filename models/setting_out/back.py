"""The back panel: in grooves (captive, or up from below), or laid into rabbets from behind."""

from typing import Final

from ground.vectors import Vec, X, Y, Z, neg
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.kit import Halves
from models.parts.part import Stage
from models.setting_out.bench import Bench
from models.setting_out.case import panel_draft
from models.setting_out.corner_ways import corner_way
from models.setting_out.draft import Box
from models.setting_out.edging import face_towards
from models.setting_out.numbers import CaseNumbers
from models.setting_out.trouble import trouble
from models.setting_out.weak import findings, housing, rabbet
from specs.case import CornerKind, Enters, GroovedBack, RabbetedBack
from specs.spec import Spec

SHORT_OF_FLOOR: Final = 0.5
"""A plywood back stops this far short of its grooves' floors (mm; check values 7.3: 0.5 to 1)."""

NEIGHBOURS = ("case/top", "case/bottom", "case/side left", "case/side right")


def lay_back(bench: Bench, spec: Spec, case: CaseNumbers) -> None:
    """Lay out the back and cut the grooves or rabbets that hold it."""
    back = spec.case.back
    match back:
        case GroovedBack():
            deep, below = back.groove_depth, back.enters is Enters.FROM_BELOW
        case RabbetedBack():
            deep, below = back.depth or case.panel / 2, False
    _weigh(bench, case, back, deep)
    reach = deep - SHORT_OF_FLOOR
    low = case.outside.lo[2] if below else case.clear.lo[2] - reach
    box = Box(
        (case.clear.lo[0] - reach, case.clear.hi[1], low),
        (
            case.clear.hi[0] + reach,
            case.groove_rear - (case.clear.hi[1] - case.groove_front),
            case.clear.hi[2] + reach,
        ),
    )
    draft = panel_draft(spec, back.material, "case/back", box, (X, neg(Y)))
    draft.stage = Stage.TO_FIT if below or isinstance(back, RabbetedBack) else Stage.NOW
    draft.note = "show face forward; fit to the grooves" if below else "show face forward"
    bench.put(draft)
    kept = [key for key in NEIGHBOURS if not (below and key == "case/bottom")]
    for key in kept:
        _channel(bench, spec, case, key, deep)
        bench.join(
            f"case/back in {key.split('/')[1]}",
            key,
            "case/back",
            Halves(
                kind="rabbeted back" if isinstance(back, RabbetedBack) else "grooved back",
                first=(),
                second=(),
                closes=_closes(back, key, below=below),
            ),
        )


def _weigh(bench: Bench, case: CaseNumbers, back: GroovedBack | RabbetedBack, deep: float) -> None:
    """Say what a deep groove or rabbet leaves of the panels.

    Raises:
        SettingOutError: it goes through them, or is too shallow to hold anything.
    """
    key = "groove_depth" if isinstance(back, GroovedBack) else "depth"
    if not SHORT_OF_FLOOR < deep < case.panel:
        raise trouble(
            ("case", "back", key),
            f"{deep:.1f} mm holds no back in panels {case.panel:.1f} mm thick; a third to half of "
            "that is usual",
        )
    weigh = housing if isinstance(back, GroovedBack) else rabbet
    room = weigh(f"the back's {'groove' if weigh is housing else 'rabbet'}", case.panel, deep)
    for finding in findings((room,), "case/back", NEIGHBOURS):
        bench.find(finding)


def _closes(back: GroovedBack | RabbetedBack, key: str, *, below: bool) -> Vec:
    """The way that the back comes home against the panel ``key``."""
    if isinstance(back, RabbetedBack):
        return neg(Y)
    if below:
        return Z
    return {"case/top": Z, "case/bottom": neg(Z), "case/side left": neg(X)}.get(key, X)


def _channel(bench: Bench, spec: Spec, case: CaseNumbers, key: str, deep: float) -> None:
    """The groove in one panel's inner face; it runs out only where the end is hidden."""
    rabbeted = isinstance(spec.case.back, RabbetedBack)
    front = case.groove_front
    rear = case.outside.hi[1] if rabbeted else case.groove_rear
    middle = (front + rear) / 2
    start, way, into, length = _run(spec, case, key, deep, middle)
    feature = Channel(
        kind=ChannelKind.RABBET if rabbeted else ChannelKind.GROOVE,
        seat=Seat(start, way, into),
        length=length,
        width=rear - front,
        depth=deep,
        made_by="case.back",
    )
    bench.cut(key, (feature,))
    tape = f"{key}/edging {face_towards(bench.drafts[key], Y)}"
    if rabbeted and tape in bench.drafts:
        bench.cut(tape, (feature,))


def _run(
    spec: Spec, case: CaseNumbers, key: str, deep: float, y: float
) -> tuple[Vec, Vec, Vec, float]:
    """Start, direction, depth direction and length of the groove in the panel ``key``."""
    clear, t = case.clear, case.panel
    if key in ("case/top", "case/bottom"):
        which = key.removeprefix("case/")
        corner = corner_way(spec.case, which, t)
        ends = (0.0, case.outside.hi[0]) if corner.kind is CornerKind.MITRE else None
        low, high = ends or _level_ends(case, corner.panel_inset(t), deep)
        z, into = (clear.hi[2], Z) if which == "top" else (clear.lo[2], neg(Z))
        return (low, y, z), X, into, high - low
    low_corner = corner_way(spec.case, "bottom", t)
    high_corner = corner_way(spec.case, "top", t)
    below = isinstance(spec.case.back, GroovedBack) and spec.case.back.enters is Enters.FROM_BELOW
    low = clear.lo[2] - deep
    if below or low_corner.kind is CornerKind.MITRE:
        low = case.outside.lo[2]
    high = case.outside.hi[2] if high_corner.kind is CornerKind.MITRE else clear.hi[2] + deep
    low = max(low, case.outside.lo[2] + low_corner.side_inset(t))
    high = min(high, case.outside.hi[2] - high_corner.side_inset(t))
    x, into = (clear.lo[0], neg(X)) if key.endswith("left") else (clear.hi[0], X)
    return (x, y, low), Z, into, high - low


def _level_ends(case: CaseNumbers, inset: float, deep: float) -> tuple[float, float]:
    """Where a level groove runs: to ends that are hidden, or no further than the back goes."""
    low = max(inset, case.clear.lo[0] - deep)
    return low, case.outside.hi[0] - low
