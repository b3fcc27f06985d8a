"""Stretchers in dadoes of their aprons: let in from above, or from below."""

import math

from ground.findings import FROM_THE_SPEC, Finding, Severity
from ground.tolerances import ANGLE_EPS, LENGTH_EPS
from ground.vectors import Plane, Vec, Z, add, meet, neg, scale
from models.parts.joints.stretcher import END_CLEARANCE, SIDE_CLEARANCE, Dado, Notch, let_in
from models.setting_out.aprons import AXES, Apron
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, lying
from models.setting_out.fastenings import helped
from models.setting_out.let_in import DADO_STOP
from models.setting_out.meeting import Closing, Meeting, put
from models.setting_out.softwood import is_hard
from models.setting_out.stretchers import MADE_BY, Span, leans
from models.setting_out.stretchers import put as put_stretcher
from models.setting_out.trouble import trouble
from specs.joints import DadoJoint, OpenSide, StoppedDadoJoint
from specs.spec import Spec

LEAST_HOUSED = 4.0
"""mm of a dado's depth at its shallowest (common practice, no source)."""

Housing = StoppedDadoJoint | DadoJoint


def lay_housed(bench: Bench, spec: Spec, joint: Housing, span: Span) -> None:
    """Let a stretcher with square ends into dadoes with plumb floors.

    Raises:
        SettingOutError: its dado stops where there is no stretcher, or helping screws would slant.
    """
    asked = span.asked
    worked = tuple(_dado(joint, span, apron) for apron in span.aprons)
    half = scale(span.across, asked.thickness / 2)
    corners = [add(dado.end, way) for dado, _ in worked for way in (half, neg(half))]
    high = span.aprons[0].high
    lo = (min(c[0] for c in corners), min(c[1] for c in corners), high - asked.height)
    hi = (max(c[0] for c in corners), max(c[1] for c in corners), high)
    place = lying(Box(lo, hi), length=AXES[span.aprons[0].axis], up=span.across)
    put_stretcher(bench, span, place, fitted=True)
    for apron, (dado, notch) in zip(span.aprons, worked, strict=True):
        halves = let_in(dado, made_by=f"{MADE_BY}.joint", notch=notch)
        bench.join(span.joint_of(apron), apron.key, span.key, halves)
        _check_dado(bench, span, apron, dado.depth)
        if dado.start + dado.length > asked.height + LENGTH_EPS:
            bench.find(_comes_out(span, apron))
        if joint.with_ is not None:
            _help(bench, spec, joint, span, (apron, dado))


def _dado(joint: Housing, span: Span, apron: Apron) -> tuple[Dado, Notch | None]:
    """A third of the apron, and enough that something is left where its face has drawn away."""
    asked = span.asked
    mouth = meet(apron.inner, Plane(Z, apron.high), Plane(span.across, span.at))
    wanted = max(apron.level_thickness / 3, LEAST_HOUSED + _drawn_away(asked.height, apron))
    depth = joint.depth or float(math.ceil(wanted - LENGTH_EPS))
    from_top, to_bottom, closes = _run(joint, span, apron)
    dado = Dado(
        mouth=mouth,
        out=apron.out,
        thickness=asked.thickness,
        start=from_top,
        length=to_bottom - from_top,
        depth=depth,
        stopped=isinstance(joint, StoppedDadoJoint),
        clearance=SIDE_CLEARANCE if joint.clearance is None else joint.clearance / 2,
        closes=closes,
    )
    if from_top > 0.0:
        return dado, _notch(apron, depth, 0.0, from_top)
    return dado, _notch(apron, depth, to_bottom, asked.height)


def _run(joint: Housing, span: Span, apron: Apron) -> tuple[float, float, Vec]:
    """Where a dado begins and ends under the apron's upper edge (mm), and the way home.

    Raises:
        SettingOutError: it stops where there is no stretcher.
    """
    whole, height = apron.high - apron.low, span.asked.height
    if isinstance(joint, DadoJoint):
        return 0.0, whole, neg(Z)
    if joint.open is OpenSide.BOTTOM:
        stop = DADO_STOP if joint.stop is None else joint.stop
        if stop >= height:
            raise trouble(
                (*span.path, "joint", "stop"),
                f"leaves nothing of the stretcher's {height:.1f} mm in the dado; write less",
            )
        return stop, whole, Z
    end = height if joint.stop is None else whole - joint.stop
    if not 0.0 < end <= height + LENGTH_EPS:
        raise trouble(
            (*span.path, "joint", "stop"),
            f"ends the dado {end:.1f} mm under the apron's upper edge, where the stretcher is "
            f"{height:.1f} mm high; write {whole - height:.1f} mm or somewhat more",
        )
    return 0.0, min(end, height), neg(Z)


def _notch(apron: Apron, depth: float, top: float, bottom: float) -> Notch | None:
    """What is cut off a stretcher's corner between two depths under the apron's upper edge (mm)."""
    back = depth - END_CLEARANCE - _drawn_away(top, apron)
    if bottom - top <= LENGTH_EPS or back <= LENGTH_EPS:
        return None
    return Notch(top=apron.high - top, bottom=apron.high - bottom, back=back)


def _drawn_away(down: float, apron: Apron) -> float:
    """How far the apron's face has drawn back ``down`` mm under its upper edge (mm)."""
    return down * math.tan(math.asin(apron.outer.normal[2]))


def _help(bench: Bench, spec: Spec, joint: Housing, span: Span, place: tuple[Apron, Dado]) -> None:
    """Screws that pull the stretcher to the dado's floor.

    Raises:
        SettingOutError: the apron leans, so that they would not be square to its face.
    """
    apron, dado = place
    if abs(leans(apron)) > ANGLE_EPS:
        raise trouble(
            (*span.path, "joint", "with"),
            f"would go through aprons that lean by {abs(leans(apron)):.1f} degrees, at a slant; "
            "leave it out, or write kind: screw in place of the dado",
        )
    low = (dado.mouth[0], dado.mouth[1], apron.high - span.asked.height)
    floor = Meeting(
        name=span.joint_of(apron),
        end=span.key,
        face=apron.key,
        start=low,
        way=Z,
        length=span.asked.height,
        into_end=apron.inner.normal,
        end_thickness=span.asked.thickness,
        face_thickness=apron.thickness,
        hidden=span.across,
        made_by=f"{MADE_BY}.joint",
        for_what="stretchers",
        hard=is_hard(spec, span.asked.material),
    ).deeper(dado.depth - END_CLEARANCE)
    put(bench, floor, helped(floor, joint.with_, None, 0.0), Closing(way=neg(dado.closes)))


def _comes_out(span: Span, apron: Apron) -> Finding:
    return Finding(
        code="joint.dado_shows",
        severity=Severity.NOTE,
        subject=span.key,
        message="this dado goes on under the stretcher and comes out on the apron's lower edge; "
        "make the stretcher as high as the apron, or write a stopped dado that is open at the top",
        copies=(span.key, apron.key),
        source=FROM_THE_SPEC,
    )


def _check_dado(bench: Bench, span: Span, apron: Apron, depth: float) -> None:
    most = apron.level_thickness / 2
    shallow = depth - _drawn_away(span.asked.height, apron)
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
