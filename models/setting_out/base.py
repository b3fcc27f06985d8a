"""The base: legs and what ties them, or a plinth, under the case and fixed to it."""

from collections.abc import Callable
from typing import assert_never

from ground.vectors import Plane, Vec, X, Y, Z, meet
from models.setting_out.apron_joints import in_apron, join_aprons, plan_joints, tenon_ends
from models.setting_out.apron_screws import screw_aprons
from models.setting_out.aprons import Apron, aprons, lay_apron
from models.setting_out.base_fit import lands_on_leg, stand_free, under_case
from models.setting_out.bearers import Bearer, Stretch
from models.setting_out.bench import Bench
from models.setting_out.corner_blocks import Bay, lay_block
from models.setting_out.feet import Standing, lay_feet
from models.setting_out.fixing import lay_fixing
from models.setting_out.legs import CORNERS, Corner, Leg, LegNumbers
from models.setting_out.numbers import CaseNumbers
from models.setting_out.plinth import lay_plinth
from models.setting_out.softwood import is_hard
from models.setting_out.splayed import lay_splayed_leg, splayed_leg, splayed_numbers
from models.setting_out.straight import lay_straight_leg, straight_leg, straight_numbers
from models.setting_out.stretcher_dados import lay_housed
from models.setting_out.stretchers import Span, lay_jointed, must_fit, spans
from models.setting_out.tenon_walls import measure
from specs.base import Plinth, SplayedLegs, StraightLegs
from specs.joints import DadoJoint, StoppedDadoJoint
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
            under_case(bench, legs, case)
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
        lands_on_leg(bench, rail, base.legs.ease or 0.0)
    join_aprons(bench, rails, plan)
    screw_aprons(bench, rails, plan, base.aprons, hard=is_hard(spec, base.aprons.material))
    if plan is not None:
        measure(bench, plan, rails)
    deep = in_apron(plan, base.aprons)
    stands = _stretchers(bench, spec, base, rails, dividers)
    if base.corner_blocks is not None:
        for leg in legs:
            lay_block(bench, base.corner_blocks, _bay(leg, rails, deep))
    if base.feet is not None:
        room = min(numbers.foot) - 2 * (base.legs.ease or 0.0)
        feet = (Standing(host=leg.key, at=leg.foot_centre, room=room) for leg in legs)
        lay_feet(bench, base.feet, tuple(feet))
    bearers = tuple(_bearer(base, rail, deep, stands, dividers) for rail in rails)
    lay_fixing(bench, spec, base.fixing, bearers)


def _stretchers(
    bench: Bench,
    spec: Spec,
    base: SplayedLegs | StraightLegs,
    rails: tuple[Apron, ...],
    dividers: tuple[float, ...],
) -> tuple[Span, ...]:
    """Lay out the stretchers that are asked for, and say where they stand."""
    stands = spans(bench, base.stretchers, rails, dividers)
    for span in stands:
        must_fit(span)
        match span.asked.joint:
            case StoppedDadoJoint() | DadoJoint() as joint:
                lay_housed(bench, spec, joint, span)
            case _:
                lay_jointed(bench, spec, span)
    stand_free(bench, base, stands, rails)
    return stands


def _bay(leg: Leg, rails: tuple[Apron, ...], deep: float) -> Bay:
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
        low=side.low,
        high=side.high,
        room=min(_between_corners(rails, axis) for axis in (0, 1)),
        rail=side.thickness,
        taken=reach + deep,
    )


def _between_corners(rails: tuple[Apron, ...], axis: int) -> float:
    """Between the inner upper arrises of the two aprons that look along ``axis`` (mm)."""
    level, plumb = Plane(Z, rails[0].high), Plane((Y, X)[axis], 0.0)
    ends = [meet(rail.inner, level, plumb)[axis] for rail in rails if rail.axis == axis]
    return max(ends) - min(ends)


def _bearer(
    base: SplayedLegs | StraightLegs,
    rail: Apron,
    deep: float,
    stands: tuple[Span, ...],
    dividers: tuple[float, ...],
) -> Bearer:
    """An apron as what the case lies on, and what is taken of its edge."""
    top = [meet(rail.inner, Plane(Z, rail.high), rail.face_of(leg)) for leg in rail.legs]
    lo, hi = (rail.run(point) for point in top)
    taken: list[Stretch] = [(lo, lo + deep), (hi - deep, hi)]
    if base.corner_blocks is not None:
        past = base.corner_blocks.legs
        corners = [_corner(base, rail, leg) for leg in rail.legs]
        taken += [(lo, corners[0] + past), (corners[1] - past, hi)]
    along = rail.x[1 - rail.axis]
    for span in stands:
        if rail in span.aprons:
            half = span.asked.thickness / 2
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
