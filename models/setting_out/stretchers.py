"""Stretchers: boards on edge between two aprons, flush under the case."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from typing import assert_never

from ground.errors import Path
from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC, Finding, Severity
from ground.vectors import (
    ORIGIN,
    Frame,
    Plane,
    Vec,
    Z,
    angle,
    cross,
    dot,
    meet,
    neg,
    norm,
    scale,
    sub,
    unit,
)
from models.parts.features import TrimKind
from models.parts.part import PartKind, Stage
from models.setting_out.apron_joints import CLOSES
from models.setting_out.aprons import AXES, Apron
from models.setting_out.bench import Bench
from models.setting_out.draft import Draft, blank
from models.setting_out.holding import hold, reach
from models.setting_out.legs import Face, tight, trimmed
from models.setting_out.meeting import Closing, Meeting
from models.setting_out.softwood import is_hard
from models.setting_out.trouble import trouble
from specs.base import Runs, StretcherPlaces, Stretchers
from specs.joints import (
    DadoJoint,
    DowelJoint,
    LooseTenonJoint,
    MortiseAndTenonJoint,
    PocketScrewJoint,
    ScrewJoint,
    StoppedDadoJoint,
)
from specs.spec import Spec

MADE_BY = "base.stretchers"
FITTED = 2.0
"""mm left on a stretcher's length until the frame is glued (common practice, no source)."""
WAYS_AGREE = 0.1
"""degrees that two ways may differ and still be one: glue room (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """One stretcher: ``at`` is its middle along the aprons' axis (mm), ``number`` from one.

    ``asked`` is what the spec says of it, at ``path``.
    """

    number: int
    at: float
    aprons: tuple[Apron, Apron]
    asked: Stretchers
    path: Path

    @property
    def key(self) -> str:
        """The draft's key."""
        return f"base/stretcher {self.number}"

    @property
    def across(self) -> Vec:
        """The level way of its thickness, along the aprons."""
        return AXES[1 - self.aprons[0].axis]

    @property
    def reach(self) -> tuple[float, float]:
        """From where to where it stands along the aprons (mm)."""
        half = self.asked.thickness / 2
        return self.at - half, self.at + half

    def joint_of(self, apron: Apron) -> str:
        """The name of its joint with ``apron``."""
        return f"{self.key}/{apron.key.split()[-1]}"


def spans(
    bench: Bench,
    sets: tuple[Stretchers, ...],
    aprons: tuple[Apron, ...],
    dividers: tuple[float, ...],
) -> tuple[Span, ...]:
    """Where the stretchers stand, in their order: under the dividers, or evenly."""
    if not sets:
        return ()
    axis = 1 if sets[0].runs is Runs.FRONT_TO_BACK else 0
    first, second = (apron for apron in aprons if apron.axis == axis)
    counts = dict.fromkeys(StretcherPlaces, 0)
    for asked in sets:
        counts[asked.at] += asked.count
    under = counts[StretcherPlaces.DIVIDERS]
    if under and under != len(dividers):
        bench.find(_miscounted(under, len(dividers)))
    free = {
        StretcherPlaces.EVEN: iter(_even(first, counts[StretcherPlaces.EVEN])),
        StretcherPlaces.DIVIDERS: iter(dividers),
    }
    found: list[Span] = []
    for place, asked in enumerate(sets):
        steps: Path = (place,) if len(sets) > 1 else ()
        path: Path = ("base", "stretchers", *steps)
        found += [
            Span(number=number, at=at, aprons=(first, second), asked=asked, path=path)
            for number, at in enumerate(islice(free[asked.at], asked.count), len(found) + 1)
        ]
    return tuple(found)


def _even(apron: Apron, count: int) -> Iterator[float]:
    ends = sorted(corner[1 - apron.axis] for corner in apron.corners())
    lo, hi = ends[0], ends[-1]
    return (lo + (hi - lo) * place / (count + 1) for place in range(1, count + 1))


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


def must_fit(span: Span) -> None:
    """See that a stretcher is no higher than its aprons.

    Raises:
        SettingOutError: it is.
    """
    apron = span.aprons[0]
    if span.asked.height > apron.high - apron.low:
        raise trouble(
            (*span.path, "height"),
            f"is more than the aprons' {apron.high - apron.low:.1f} mm; make it lower",
        )


def lay_jointed(bench: Bench, spec: Spec, span: Span) -> None:
    """Cut a stretcher whose ends lie against its aprons' faces, and join it to both."""
    asked, joint = span.asked, span.asked.joint
    ends = tuple(_meeting(spec, span, apron) for apron in span.aprons)
    depths = tuple(
        reach(joint, (end.end_thickness, end.length), end.face_thickness) for end in ends
    )
    match joint:
        case ScrewJoint() | PocketScrewJoint() | StoppedDadoJoint() | DadoJoint():
            guided = False
        case LooseTenonJoint() | MortiseAndTenonJoint() | DowelJoint():
            guided = True
        case _:
            assert_never(joint)
    _between(bench, asked, span, depths, fitted=not guided)
    for apron, end in zip(span.aprons, ends, strict=True):
        closing = Closing(way=end.into_end)
        # Side aprons stand still while the frames close on them; the others go with their frame.
        if guided and apron.axis == 1:
            closing = Closing(way=CLOSES, each={apron.key: apron.home, span.key: ORIGIN})
            _two_ways(bench, span, apron, angle(end.into_end, apron.home))
        hold(bench, end, joint, closing)


def _meeting(spec: Spec, span: Span, apron: Apron) -> Meeting:
    """Where the stretcher's end stands against the apron's inner face."""
    upright = Plane(span.across, span.at)
    low, high = (
        meet(apron.inner, Plane(Z, level), upright)
        for level in (apron.high - span.asked.height, apron.high)
    )
    return Meeting(
        name=span.joint_of(apron),
        end=span.key,
        face=apron.key,
        start=low,
        way=unit(sub(high, low)),
        length=norm(sub(high, low)),
        into_end=apron.inner.normal,
        end_thickness=span.asked.thickness,
        face_thickness=apron.thickness,
        hidden=span.across,
        made_by=f"{MADE_BY}.joint",
        for_what="stretchers",
        hard=is_hard(spec, span.asked.material),
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
            message=f"the stretcher's {span.asked.joint.kind} joints ask the apron to close "
            f"{apart:.2f} degrees away from the way that its frame goes onto the side aprons; let "
            "the stretcher in from above in a stopped dado, or screw it",
            copies=(span.key, apron.key),
            value=apart,
            limit=0.0,
            unit="degrees",
            source=COMMON_PRACTICE,
        )
    )


def _between(
    bench: Bench, asked: Stretchers, span: Span, depths: tuple[float, ...], *, fitted: bool
) -> None:
    """A stretcher whose ends lie flat against the aprons' faces, or go ``depths`` into them."""
    first = span.aprons[0]
    ends = tuple(
        Plane(apron.inner.normal, apron.inner.offset - depth)
        for apron, depth in zip(span.aprons, depths, strict=True)
    )
    high, low = Plane(Z, first.high), Plane(neg(Z), asked.height - first.high)
    sides = tuple(
        Plane(scale(span.across, sign), sign * span.at + asked.thickness / 2)
        for sign in (-1.0, 1.0)
    )
    corners = tuple(
        meet(end, level, side) for end in ends for level in (low, high) for side in sides
    )
    size, frame = tight(corners, first.out, cross(span.across, first.out))
    faces = tuple(
        Face(name=f"end-{name}", kind=TrimKind.END, plane=end.flipped())
        for name, end in zip(("a", "b"), ends, strict=True)
    )
    cuts, _ = trimmed(faces, size, frame, MADE_BY)
    put(bench, span, (size, frame), fitted=fitted)
    bench.cut(span.key, cuts)


def put(bench: Bench, span: Span, place: tuple[Vec, Frame], *, fitted: bool) -> None:
    """Lay the stretcher's blank; one that is ``fitted`` waits for the glued frame."""
    size, frame = place
    bench.put(
        Draft(
            key=span.key,
            letter="B",
            name="stretcher",
            group=("base",),
            kind=PartKind.LUMBER,
            material=span.asked.material,
            blank=blank(size),
            frame=frame,
            over=(FITTED, 0.0, 0.0) if fitted else (0.0, 0.0, 0.0),
            stage=Stage.TO_FIT if fitted else Stage.NOW,
            note="cut to length from the glued frame" if fitted else "",
        )
    )


def leans(apron: Apron) -> float:
    """How far an apron leans out of plumb (degrees)."""
    return 90.0 - angle(apron.outer.normal, Z) if dot(apron.outer.normal, Z) else 0.0
