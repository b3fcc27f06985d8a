"""The base: legs and what ties them, or a plinth, under the case and fixed to it."""

from collections.abc import Callable
from typing import assert_never

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, Vec, Z, dot, meet
from models.setting_out.apron_joints import Plan, join_aprons, plan_joints, tenon_ends
from models.setting_out.aprons import Apron, aprons, lay_apron
from models.setting_out.bearers import Bearer, Stretch
from models.setting_out.bench import Bench
from models.setting_out.corner_blocks import Bay, lay_block
from models.setting_out.feet import Standing, lay_feet
from models.setting_out.fixing import lay_fixing
from models.setting_out.legs import CORNERS, Corner, Leg, LegNumbers
from models.setting_out.numbers import CaseNumbers
from models.setting_out.plinth import lay_plinth
from models.setting_out.splayed import lay_splayed_leg, splayed_leg, splayed_numbers
from models.setting_out.straight import lay_straight_leg, straight_leg, straight_numbers
from models.setting_out.stretchers import Span, lay_stretcher, spans
from models.setting_out.tenon_walls import measure
from specs.base import Plinth, SplayedLegs, StraightLegs
from specs.spec import Spec

DIVIDER = 25.0
"""mm kept from a divider's middle: its dowels come down into the case's bottom (common practice,
no source)."""


def lay_base(
    bench: Bench, spec: Spec, case: CaseNumbers, dividers: tuple[tuple[str, float], ...]
) -> None:
    """Lay out the base and fix it to the case.

    ``dividers`` are the upright ones: key of the draft and X of its middle (mm). The case's bottom
    lies on the bench already.

    Raises:
        SettingOutError: no base can be set out from the numbers.
    """
    at = tuple(middle for _, middle in dividers)
    match spec.base:
        case Plinth():
            lay_plinth(bench, spec, spec.base, case, at)
        case SplayedLegs() as base:
            numbers = splayed_numbers(base)
            legs = _legs(base, case, lambda c, p: splayed_leg(c, p, numbers, base.legs.facet))
            rails = aprons(base.aprons, legs, case.outside.lo[2])
            for leg in legs:
                lay_splayed_leg(bench, base, leg)
            _tie(bench, spec, base, (legs, rails, numbers), at)
            _under_case(bench, legs, case)
        case StraightLegs() as base:
            numbers = straight_numbers(base)
            legs = _legs(base, case, lambda c, p: straight_leg(c, p, numbers, base))
            rails = aprons(base.aprons, legs, case.outside.lo[2])
            for leg in legs:
                lay_straight_leg(bench, base, leg, numbers)
            _tie(bench, spec, base, (legs, rails, numbers), at)
        case _:
            assert_never(spec.base)


def _legs(
    base: SplayedLegs | StraightLegs, case: CaseNumbers, make: Callable[[Corner, Vec], Leg]
) -> tuple[Leg, ...]:
    """The four legs, by the set-in of their outer top corners."""
    out, set_in = case.outside, base.set_in
    x = {-1: out.lo[0] + set_in.sides, 1: out.hi[0] - set_in.sides}
    y = {-1: out.lo[1] + set_in.front, 1: out.hi[1] - set_in.back}
    return tuple(make(corner, (x[corner.x], y[corner.y], out.lo[2])) for corner in CORNERS)


Legged = tuple[tuple[Leg, ...], tuple[Apron, ...], LegNumbers]


def _tie(
    bench: Bench,
    spec: Spec,
    base: SplayedLegs | StraightLegs,
    legged: Legged,
    dividers: tuple[float, ...],
) -> None:
    """Join the legs by aprons, stretchers and blocks; put feet under them and the case on top."""
    legs, rails, numbers = legged
    plan = plan_joints(rails, base.aprons, min(numbers.top), spec.units)
    for rail in rails:
        lay_apron(bench, base.aprons, rail, tenon_ends(plan, rail))
        _lands_on_leg(bench, rail, base.legs.ease or 0.0)
    join_aprons(bench, rails, plan)
    if plan is not None:
        measure(bench, plan, rails)
    stands = () if base.stretchers is None else spans(bench, base.stretchers, rails, dividers)
    for span in stands:
        if base.stretchers is not None:
            lay_stretcher(bench, spec, base.stretchers, span)
    if base.corner_blocks is not None:
        for leg in legs:
            lay_block(bench, base.corner_blocks, _bay(leg, rails, plan))
    if base.feet is not None:
        ease = base.legs.ease or 0.0
        room = min(numbers.foot) - 2 * ease
        lay_feet(
            bench,
            base.feet,
            tuple(Standing(host=leg.key, at=leg.foot_centre, room=room) for leg in legs),
        )
    bearers = tuple(_bearer(base, rail, plan, stands, dividers) for rail in rails)
    lay_fixing(bench, spec, base.fixing, bearers)


def _bay(leg: Leg, rails: tuple[Apron, ...], plan: Plan | None) -> Bay:
    """The inner corner behind ``leg``."""
    side, front = (
        next(r for r in rails if r.axis == axis and r.side == leg.corner.sides[axis])
        for axis in (0, 1)
    )
    top = Plane(Z, side.high)
    inner = meet(leg.inner[0], leg.inner[1], top)
    point = meet(side.inner, front.inner, top)
    reach = max(abs(inner[0] - point[0]), abs(inner[1] - point[1]))
    return Bay(
        corner=leg.corner,
        faces=(side.inner, front.inner),
        keys=(side.key, front.key),
        leg=inner,
        high=side.high,
        rail=side.thickness,
        taken=reach + (plan.in_apron if plan else 0.0),
    )


def _bearer(
    base: SplayedLegs | StraightLegs,
    rail: Apron,
    plan: Plan | None,
    stands: tuple[Span, ...],
    dividers: tuple[float, ...],
) -> Bearer:
    """An apron as what the case lies on, and what is taken of its edge."""
    top = [meet(rail.inner, Plane(Z, rail.high), rail.face_of(leg)) for leg in rail.legs]
    lo, hi = (rail.run(point) for point in top)
    deep = plan.in_apron if plan else 0.0
    taken: list[Stretch] = [(lo, lo + deep), (hi - deep, hi)]
    if base.corner_blocks is not None:
        past = base.corner_blocks.legs
        corners = [_corner(base, rail, leg) for leg in rail.legs]
        taken += [(lo, corners[0] + past), (corners[1] - past, hi)]
    along = rail.x[1 - rail.axis]
    for span in stands:
        if rail in span.aprons and base.stretchers is not None:
            half = base.stretchers.thickness / 2
            taken.append((span.at * along - half, span.at * along + half))
    if rail.axis == 1:
        taken += [(x * along - DIVIDER, x * along + DIVIDER) for x in dividers]
    return Bearer(
        key=rail.key,
        run=rail.x,
        up=rail.y,
        out=rail.out,
        inner=rail.inner,
        thickness=rail.level_thickness,
        low=rail.low,
        high=rail.high,
        span=(lo, hi),
        taken=tuple(taken),
    )


def _corner(base: SplayedLegs | StraightLegs, rail: Apron, leg: Leg) -> float:
    """Where the inner faces of two aprons meet at ``leg``'s corner, along ``rail`` (mm)."""
    face = leg.outer[1 - rail.axis]
    behind = base.aprons.set_back + base.aprons.thickness
    other = Plane(face.normal, face.offset - behind)
    return rail.run(meet(rail.inner, Plane(Z, rail.high), other))


def _lands_on_leg(bench: Bench, rail: Apron, ease: float) -> None:
    """See that the whole of an apron's end lies on the flat of the leg's face."""
    lowest = Plane(Z, rail.low)
    for leg in rail.legs[:1]:
        outer = leg.outer[rail.axis]
        set_back = outer.offset - dot(outer.normal, meet(rail.outer, lowest, rail.face_of(leg)))
        inner = meet(rail.inner, lowest, rail.face_of(leg))
        left = -leg.inner[rail.axis].height(inner)
        for where, value in (("outer", set_back), ("inner", left)):
            if value >= ease - LENGTH_EPS:
                continue
            bench.find(
                Finding(
                    code="fit.apron_on_leg",
                    severity=Severity.ERROR,
                    subject=rail.key,
                    message=f"the apron's end lies {value:.1f} mm inside the leg's {where} "
                    f"arris at its lower edge, which is eased by {ease:.1f} mm; make the apron "
                    "thinner or change its set_back",
                    copies=(rail.key, leg.key),
                    value=value,
                    limit=ease,
                    unit="mm",
                    source=COMMON_PRACTICE,
                )
            )


def _under_case(bench: Bench, legs: tuple[Leg, ...], case: CaseNumbers) -> None:
    """Feet that stand out past the case are walked into, and past the wall at the back."""
    lo, hi = case.outside.lo, case.outside.hi
    for leg in legs:
        tip = meet(leg.outer[0], leg.outer[1], leg.hull[5])
        for axis, word in ((0, "side"), (1, "front or back")):
            past = max(lo[axis] - tip[axis], tip[axis] - hi[axis])
            if past <= LENGTH_EPS:
                continue
            bench.find(
                Finding(
                    code="base.feet_beyond_case",
                    severity=Severity.WARNING,
                    subject=leg.key,
                    message=f"the foot stands {past:.1f} mm past the case's {word}; splay the legs "
                    "less or set them in further",
                    copies=(leg.key,),
                    at=tip,
                    value=past,
                    limit=0.0,
                    unit="mm",
                    source=COMMON_PRACTICE,
                )
            )
