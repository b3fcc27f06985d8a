"""Stretchers: boards on edge between two aprons, flush under the case."""

import math
from dataclasses import dataclass, replace

from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC, Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import ORIGIN, Frame, Plane, Vec, Z, add, angle, cross, meet, neg, scale
from models.parts.features import TrimKind
from models.parts.joints.kit import Halves
from models.parts.joints.loose_tenon import TenonSize, TenonWay, loose_tenons
from models.parts.joints.stretcher import Dado, let_in
from models.parts.part import PartKind, Stage
from models.setting_out.apron_joints import CLOSES
from models.setting_out.aprons import AXES, Apron
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, Draft, blank, lying
from models.setting_out.legs import Face, tight, trimmed
from models.setting_out.notes import not_made
from models.setting_out.tenons import nearest_cutter, usual_depth
from models.setting_out.trouble import trouble
from specs.base import Runs, StretcherPlaces, Stretchers
from specs.joints import DadoJoint, LooseTenonJoint, OpenSide, StoppedDadoJoint
from specs.spec import Spec

MADE_BY = "base.stretchers"
LEAST_HOUSED = 4.0
"""mm of a dado's depth at its shallowest (common practice, no source)."""
FITTED = 2.0
"""mm left on a stretcher's length until the frame is glued (common practice, no source)."""
EDGE_MARGIN = 10.0
"""mm between a stretcher's tenon and its edges (check-values 7.3)."""
WAYS_AGREE = 0.1
"""degrees that two ways may differ and still be one: glue room (common practice, no source)."""
LEFT_BEHIND = 5.0
"""mm of apron left behind a blind mortise (check-values 7.3)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """One stretcher: ``at`` is its middle along the aprons' axis (mm), ``number`` from one."""

    number: int
    at: float
    aprons: tuple[Apron, Apron]

    @property
    def key(self) -> str:
        """The draft's key."""
        return f"base/stretcher {self.number}"

    @property
    def across(self) -> Vec:
        """The level way of its thickness, along the aprons."""
        return AXES[1 - self.aprons[0].axis]


def spans(
    bench: Bench, spec: Stretchers, aprons: tuple[Apron, ...], dividers: tuple[float, ...]
) -> tuple[Span, ...]:
    """Where the stretchers stand: under the dividers, or evenly between the legs."""
    axis = 1 if spec.runs is Runs.FRONT_TO_BACK else 0
    pair = tuple(apron for apron in aprons if apron.axis == axis)
    places = _even(pair[0], spec.count)
    if spec.at is StretcherPlaces.DIVIDERS and axis == 1:
        places = dividers[: spec.count]
        if spec.count != len(dividers):
            bench.find(_miscounted(spec.count, len(dividers)))
    elif spec.at is StretcherPlaces.DIVIDERS:
        bench.find(not_made("stretchers side to side under dividers", "base.stretchers"))
    return tuple(
        Span(number=number, at=at, aprons=(pair[0], pair[1])) for number, at in enumerate(places, 1)
    )


def _even(apron: Apron, count: int) -> tuple[float, ...]:
    ends = sorted(corner[1 - apron.axis] for corner in apron.corners())
    lo, hi = ends[0], ends[-1]
    return tuple(lo + (hi - lo) * place / (count + 1) for place in range(1, count + 1))


def _miscounted(asked: int, there: int) -> Finding:
    return Finding(
        code="base.stretcher_count",
        severity=Severity.WARNING,
        subject="base.stretchers",
        message=f"{asked} stretchers are asked for at {there} dividers; "
        f"{min(asked, there)} stand, write count: {there} or at: even",
        value=float(asked),
        limit=float(there),
        source=FROM_THE_SPEC,
    )


def lay_stretcher(bench: Bench, spec: Spec, asked: Stretchers, span: Span) -> None:
    """Cut one stretcher and join it to both aprons.

    Raises:
        SettingOutError: it is higher than the aprons.
    """
    apron = span.aprons[0]
    if asked.height > apron.high - apron.low:
        raise trouble(
            ("base", "stretchers", "height"),
            f"is more than the aprons' {apron.high - apron.low:.1f} mm; make it lower",
        )
    joint = asked.joint
    match joint:
        case StoppedDadoJoint() | DadoJoint():
            _housed(bench, asked, joint, span)
        case LooseTenonJoint():
            _tenoned(bench, spec, asked, joint, span)
        case _:
            _once(bench, not_made(f"{joint.kind} joint", "base.stretchers", apron.key))
            _butted(bench, asked, span)


def _once(bench: Bench, finding: Finding) -> None:
    """Keep a finding that all stretchers share a single time."""
    if all(known.code != finding.code for known in bench.findings):
        bench.find(finding)


def _housed(
    bench: Bench, asked: Stretchers, joint: StoppedDadoJoint | DadoJoint, span: Span
) -> None:
    """Drop the stretcher in from above: square ends against plumb floors."""
    if isinstance(joint, StoppedDadoJoint) and joint.open is not OpenSide.TOP:
        _once(bench, not_made(f"stopped dado open at the {joint.open}", "base.stretchers"))
    dadoes = tuple(_dado(asked, joint, span, apron) for apron in span.aprons)
    half = scale(span.across, asked.thickness / 2)
    corners = [add(dado.end, way) for dado in dadoes for way in (half, neg(half))]
    high = span.aprons[0].high
    lo = (min(c[0] for c in corners), min(c[1] for c in corners), high - asked.height)
    hi = (max(c[0] for c in corners), max(c[1] for c in corners), high)
    size, frame = lying(Box(lo, hi), length=AXES[span.aprons[0].axis], up=span.across)
    _put(bench, asked, span, (size, frame))
    for apron, dado in zip(span.aprons, dadoes, strict=True):
        halves = let_in(dado, made_by=f"{MADE_BY}.joint")
        bench.join(f"{span.key}/{apron.key.split()[-1]}", apron.key, span.key, halves)
        _check_dado(bench, asked, apron, dado.depth)


def _dado(asked: Stretchers, joint: StoppedDadoJoint | DadoJoint, span: Span, apron: Apron) -> Dado:
    """A third of the apron, and enough that something is left where its face has drawn away."""
    mouth = meet(apron.inner, Plane(Z, apron.high), Plane(span.across, span.at))
    wanted = max(apron.level_thickness / 3, LEAST_HOUSED + _drawn_away(asked, apron))
    stopped = isinstance(joint, StoppedDadoJoint)
    return Dado(
        mouth=mouth,
        out=apron.out,
        thickness=asked.thickness,
        length=asked.height if stopped else apron.high - apron.low,
        depth=joint.depth or float(math.ceil(wanted - LENGTH_EPS)),
        stopped=stopped,
    )


def _drawn_away(asked: Stretchers, apron: Apron) -> float:
    """How far the apron's face has drawn back at the stretcher's lower edge (mm)."""
    return asked.height * math.tan(math.asin(apron.outer.normal[2]))


def _check_dado(bench: Bench, asked: Stretchers, apron: Apron, depth: float) -> None:
    most = apron.level_thickness / 2
    shallow = depth - _drawn_away(asked, apron)
    if depth <= most + LENGTH_EPS and shallow >= LEAST_HOUSED - LENGTH_EPS:
        return
    too_deep = depth > most + LENGTH_EPS
    bench.find(
        Finding(
            code="joint.dado_depth",
            severity=Severity.ERROR if too_deep else Severity.WARNING,
            subject=apron.key,
            message=f"the stretcher's dado is {depth:.1f} mm deep at the top and {shallow:.1f} mm "
            f"at the bottom, for its floor is plumb; {most:.1f} mm at most and "
            f"{LEAST_HOUSED:g} mm at least: make the stretcher lower or the apron thicker",
            copies=(apron.key,),
            value=depth if too_deep else shallow,
            limit=most if too_deep else LEAST_HOUSED,
            unit="mm",
            source="check-values 7.3, common practice: never over half the panel",
        )
    )


def _tenoned(
    bench: Bench, spec: Spec, asked: Stretchers, joint: LooseTenonJoint, span: Span
) -> None:
    """Loose tenons square to the aprons: they go in as the frames close, if both ways agree."""
    _between(bench, asked, span)
    thick = joint.thickness or nearest_cutter(asked.thickness / 3, spec.units)
    room = asked.height - 2 * EDGE_MARGIN
    for apron in span.aprons:
        depth = joint.depth or min(usual_depth(thick), apron.thickness - LEFT_BEHIND)
        centre = meet(
            apron.inner,
            Plane(Z, apron.high - asked.height / 2),
            Plane(span.across, span.at),
        )
        size = TenonSize(
            thickness=thick,
            width=joint.width or min(5 * thick, room),
            depths=(depth, usual_depth(thick)),
        )
        way = TenonWay(into_first=neg(apron.inner.normal), slot=apron.y)
        halves = loose_tenons((centre,), way, size, made_by=f"{MADE_BY}.joint")
        closes = apron.home
        _two_ways(bench, span, apron, angle(way.into_first, neg(closes)))
        bench.join(
            f"{span.key}/{apron.key.split()[-1]}",
            apron.key,
            span.key,
            replace(halves, closes=CLOSES, each=(closes, ORIGIN)),
        )


def _two_ways(bench: Bench, span: Span, apron: Apron, apart: float) -> None:
    """The apron goes home with its frame, square to the legs' inner faces, not to its own."""
    if apart <= WAYS_AGREE:
        return
    bench.find(
        Finding(
            code="assembly.two_directions",
            severity=Severity.ERROR,
            subject=span.key,
            message=f"the stretcher's tenons ask the apron to close {apart:.2f} degrees away from "
            "the way that its frame goes onto the side aprons; let the stretcher in from above "
            "in a stopped dado instead",
            copies=(span.key, apron.key),
            value=apart,
            limit=0.0,
            unit="degrees",
            source=COMMON_PRACTICE,
        )
    )


def _between(bench: Bench, asked: Stretchers, span: Span) -> None:
    """A stretcher whose ends lie flat against the aprons' faces."""
    first, second = span.aprons
    high, low = Plane(Z, first.high), Plane(neg(Z), asked.height - first.high)
    sides = tuple(
        Plane(scale(span.across, sign), sign * span.at + asked.thickness / 2)
        for sign in (-1.0, 1.0)
    )
    corners = tuple(
        meet(apron.inner, level, side)
        for apron in (first, second)
        for level in (low, high)
        for side in sides
    )
    size, frame = tight(corners, first.out, cross(span.across, first.out))
    faces = tuple(
        Face(name=f"end-{name}", kind=TrimKind.END, plane=apron.inner.flipped())
        for name, apron in zip(("a", "b"), span.aprons, strict=True)
    )
    cuts, _ = trimmed(faces, size, frame, MADE_BY)
    _put(bench, asked, span, (size, frame))
    bench.cut(span.key, cuts)


def _butted(bench: Bench, asked: Stretchers, span: Span) -> None:
    """What cannot be joined yet stands between the aprons all the same."""
    _between(bench, asked, span)
    for apron in span.aprons:
        halves = Halves(kind="butt", first=(), second=(), closes=neg(Z))
        bench.join(f"{span.key}/{apron.key.split()[-1]}", apron.key, span.key, halves)


def _put(bench: Bench, asked: Stretchers, span: Span, place: tuple[Vec, Frame]) -> None:
    size, frame = place
    bench.put(
        Draft(
            key=span.key,
            letter="B",
            name="stretcher",
            group=("base",),
            kind=PartKind.LUMBER,
            material=asked.material,
            blank=blank(size),
            frame=frame,
            over=(FITTED, 0.0, 0.0),
            stage=Stage.TO_FIT,
            note="cut to length from the glued frame",
        )
    )
