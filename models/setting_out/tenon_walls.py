"""What is left round the tenons of a base, against what the trade leaves."""

from ground.findings import Finding, Severity
from models.parts.joints.walls import LEAST_WALL
from models.setting_out.apron_joints import Plan
from models.setting_out.aprons import Apron
from models.setting_out.bench import Bench
from models.setting_out.tenons import (
    LOWER_SHOULDER,
    NARROWEST,
    TOP_MARGIN,
    RailEnd,
    Slots,
    leg_walls,
    lower_margin,
    rail_wall,
    top_margin,
)
from specs.joints import LooseTenonJoint, MortiseAndTenonJoint

SOURCE = "check-values 7.3, common practice"
LEAST_LONG = 3.0
"""A tenon is at least this many times as long as thick (check-values 7.3)."""
LEAST_SHOULDER = 3.0
"""mm of shoulder on each face of an apron (check-values 7.3)."""


def measure(bench: Bench, plan: Plan, aprons: tuple[Apron, ...]) -> None:
    """Say how much wood is left in the legs and aprons, and whether that is enough."""
    legs = tuple(dict.fromkeys(leg.key for apron in aprons for leg in apron.legs))
    between, round_them = leg_walls(plan.ends, plan.slots)
    _wall(bench, "between the two mortises of a leg", between, LEAST_WALL, legs)
    if round_them < LEAST_WALL:
        _wall(bench, "behind or beside a mortise of a leg", round_them, LEAST_WALL, legs)
    for axis, which in ((1, "long"), (0, "side")):
        keys = tuple(apron.key for apron in aprons if apron.axis == axis)
        _rail(bench, plan, axis, f"the {which} aprons", keys)
        _margins(bench, plan.ends[axis], plan.slots[axis], f"the {which} aprons' tenons", legs)


def _rail(bench: Bench, plan: Plan, axis: int, which: str, keys: tuple[str, ...]) -> None:
    size, end = plan.slots[axis], plan.ends[axis]
    if isinstance(plan.joint, MortiseAndTenonJoint):
        cheek = (end.thick - size.thickness) / 2
        if cheek < LEAST_SHOULDER:
            _wall(bench, f"shoulder on each face of {which}", cheek, LEAST_SHOULDER, keys)
        long = size.depths[0] - 1.0
        if long < LEAST_LONG * size.thickness:
            _short(bench, which, long, LEAST_LONG * size.thickness, keys)
        return
    wall = rail_wall(end, size)
    if wall < LEAST_WALL:
        _wall(bench, f"beside a mortise of {which}", wall, LEAST_WALL, keys)
    count = plan.joint.count if isinstance(plan.joint, LooseTenonJoint) else None
    if count is not None and count > 1:
        width = (size.width - (count - 1) * size.thickness) / count
        least = NARROWEST * size.thickness
        if width < least:
            _narrow(bench, which, (width, least), count, keys)


def _margins(bench: Bench, end: RailEnd, size: Slots, what: str, keys: tuple[str, ...]) -> None:
    if size.haunch:
        return
    for where, left, least in (
        ("under the leg's top, the climb of the slot counted", top_margin(end, size), TOP_MARGIN),
        ("over the apron's lower edge", lower_margin(end, size), LOWER_SHOULDER),
    ):
        if left < least - 1e-6:
            _wall(bench, f"of {what} {where}", left, least, keys)


def _wall(bench: Bench, where: str, left: float, least: float, keys: tuple[str, ...]) -> None:
    sound = left >= least
    mend = "" if sound else "; make the tenons shallower, thinner or narrower"
    bench.find(
        Finding(
            code="joint.mortise_wall",
            severity=Severity.NOTE if sound else Severity.ERROR,
            subject="base",
            message=f"{left:.1f} mm of wood {where}, {least:g} mm at least{mend}",
            copies=keys,
            value=left,
            limit=least,
            unit="mm",
            source=SOURCE,
        )
    )


def _short(bench: Bench, which: str, long: float, least: float, keys: tuple[str, ...]) -> None:
    bench.find(
        Finding(
            code="joint.tenon_short",
            severity=Severity.NOTE,
            subject="base",
            message=f"the tenons of {which} are {long:.1f} mm long, less than three times their "
            f"thickness ({least:.1f} mm), so that the two mortises of a leg do not meet",
            copies=keys,
            value=long,
            limit=least,
            unit="mm",
            source=SOURCE,
        )
    )


def _narrow(
    bench: Bench, which: str, sizes: tuple[float, float], count: int, keys: tuple[str, ...]
) -> None:
    width, least = sizes
    bench.find(
        Finding(
            code="joint.tenon_narrow",
            severity=Severity.ERROR,
            subject="base",
            message=f"{count} tenons one over the other in {which} are {width:.1f} mm wide each, "
            f"{least:.1f} mm at least; ask for fewer",
            copies=keys,
            value=width,
            limit=least,
            unit="mm",
            source=SOURCE,
        )
    )
