"""Whether the parts of a base stand clear of one another, on the legs and under the case."""

from itertools import pairwise

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, X, Y, Z, dot, meet
from models.setting_out.aprons import Apron
from models.setting_out.bench import Bench
from models.setting_out.legs import Leg
from models.setting_out.numbers import CaseNumbers
from models.setting_out.stretchers import Span
from specs.base import SplayedLegs, StraightLegs


def stand_free(
    bench: Bench,
    base: SplayedLegs | StraightLegs,
    stands: tuple[Span, ...],
    rails: tuple[Apron, ...],
) -> None:
    """See that stretchers are clear of one another, of the aprons' ends and of corner blocks."""
    for one, other in pairwise(sorted(stands, key=lambda span: span.at)):
        _clear(bench, other, other.reach[0] - one.reach[1], "another stretcher")
    for span in stands:
        rail = span.aprons[0]
        blocks = base.corner_blocks.legs if base.corner_blocks else 0.0
        across = 1 - rail.axis
        corners = sorted(
            meet(other.inner, Plane(Z, other.high), Plane((Y, X)[across], 0.0))[across]
            for other in rails
            if other.axis == across
        )
        legs = sorted(
            meet(rail.inner, Plane(Z, rail.high), rail.face_of(leg))[across] for leg in rail.legs
        )
        lowest = max(legs[0], corners[0] + blocks)
        highest = min(legs[1], corners[1] - blocks)
        free = min(span.reach[0] - lowest, highest - span.reach[1])
        _clear(bench, span, free, "a leg or a corner block")


def _clear(bench: Bench, span: Span, free: float, what: str) -> None:
    if free >= 0.0:
        return
    bench.find(
        Finding(
            code="fit.stretcher_place",
            severity=Severity.ERROR,
            subject=span.key,
            message=f"the stretcher runs {-free:.1f} mm into {what}; make the blocks shorter, or "
            "place fewer stretchers, and evenly",
            copies=(span.key,),
            value=free,
            limit=0.0,
            unit="mm",
            source=COMMON_PRACTICE,
        )
    )


def lands_on_leg(bench: Bench, rail: Apron, ease: float) -> None:
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


def under_case(bench: Bench, legs: tuple[Leg, ...], case: CaseNumbers) -> None:
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
