"""What holds the case on its base: fasteners along the upper edges, clear of the base's joints."""

from dataclasses import replace
from typing import assert_never

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import Plane, Vec, Z, add, along, meet, neg, scale
from models.parts.features import Hole, TrimKind
from models.parts.joints.corner_block import (
    LEAST_HELD_IN,
    BlockScrew,
    block_screw,
    screwed_block,
)
from models.parts.joints.figure_eight import (
    LEAST_RIM,
    LEFT_ABOVE,
    LENGTHS,
    PLATE,
    RECESS,
    Edge,
    clip_body,
    figure_eight,
    plate_body,
    screw_length,
    slotted_clip,
)
from models.parts.joints.kit import Halves
from models.parts.part import PartKind
from models.setting_out.bearers import Bearer, places, shared
from models.setting_out.bench import Bench
from models.setting_out.draft import Draft, blank
from models.setting_out.legs import Face, tight, trimmed
from specs.base import Fixing, FixingKind
from specs.materials import Lumber
from specs.spec import Spec

MADE_BY = "base.fixing"
BOTTOM = "case/bottom"
BLOCK = 25.0
"""Height and depth of a screw block (mm; common practice, no source)."""
BLOCK_LENGTH = 70.0
"""Length of a screw block (mm; common practice, no source)."""
BLOCK_SCREW = 22.0
"""From a block's middle to either screw into the rail (mm; common practice, no source)."""
APART = 2.0
"""mm kept from whatever else is in the rail (common practice, no source)."""
PANEL_EDGE = 12.0
"""mm from a screw to the panel's edge at least: three shanks (common practice, no source)."""

_HALF = {
    FixingKind.FIGURE_EIGHT: RECESS / 2 + APART,
    FixingKind.SLOTTED_CLIP: 20.0 + APART,
    FixingKind.SCREW_BLOCK: BLOCK_LENGTH / 2 + APART,
    FixingKind.SCREW: 8.0,
}
"""Room that a fastener takes either way along its rail (mm)."""


def lay_fixing(bench: Bench, spec: Spec, fixing: Fixing, bearers: tuple[Bearer, ...]) -> None:
    """Spread the fasteners over the bearers (front, back, left, right) and fit each."""
    panel = _panel(bench)
    gap = panel[0][2] - bearers[0].high
    if gap > LENGTH_EPS:
        bench.find(_no_bearing(gap))
        return
    counts = shared(fixing.count, bearers)
    for bearer, count in zip(bearers, counts, strict=True):
        stands = places(bearer, count, _HALF[fixing.kind])
        if stands is None:
            bench.find(_no_place(fixing, bearer, count))
            continue
        for number, at in enumerate(stands, 1):
            _fasten(bench, spec, fixing, bearer, (number, at))


def _panel(bench: Bench) -> tuple[Vec, Vec]:
    """The lower and the upper corner of the case's bottom."""
    draft = bench.drafts[BOTTOM]
    one, other = draft.frame.point((0.0, 0.0, 0.0)), draft.frame.point(draft.blank.size)
    lo = (min(one[0], other[0]), min(one[1], other[1]), min(one[2], other[2]))
    hi = (max(one[0], other[0]), max(one[1], other[1]), max(one[2], other[2]))
    return lo, hi


def _fasten(
    bench: Bench, spec: Spec, fixing: Fixing, bearer: Bearer, place: tuple[int, float]
) -> None:
    number, at = place
    lo, hi = _panel(bench)
    name = f"{bearer.key}/{fixing.kind.value.replace(' ', '-')} {number}"
    edge = Edge(
        at=bearer.edge(at),
        out=bearer.out,
        run=bearer.run,
        rail=bearer.thickness,
        panel=hi[2] - lo[2],
    )
    match fixing.kind:
        case FixingKind.FIGURE_EIGHT:
            halves = _figure_eight(bench, bearer, edge)
        case FixingKind.SLOTTED_CLIP:
            halves = slotted_clip(edge, _short_screw(bench, bearer, edge), made_by=MADE_BY)
        case FixingKind.SCREW:
            halves = _screw_up(bench, bearer, edge)
        case FixingKind.SCREW_BLOCK:
            _block(bench, spec, fixing, bearer, (f"{name.replace('apron ', '')}", edge))
            return
        case _:
            assert_never(fixing.kind)
    _stays_in_panel(bench, halves, bearer)
    bench.join(name, BOTTOM, bearer.key, halves)
    bodies = {FixingKind.FIGURE_EIGHT: plate_body, FixingKind.SLOTTED_CLIP: clip_body}
    if fixing.kind in bodies:
        bench.loose(f"{name}/body", bodies[fixing.kind](edge), beside=bearer.key)


def _figure_eight(bench: Bench, bearer: Bearer, edge: Edge) -> Halves:
    if edge.rim < LEAST_RIM:
        bench.find(_thin_rim(bearer, edge.rim))
    return figure_eight(edge, _short_screw(bench, bearer, edge), made_by=MADE_BY)


def _short_screw(bench: Bench, bearer: Bearer, edge: Edge) -> float:
    """The screw up into the panel; the shortest there is, and a finding, where all go through."""
    length = screw_length(edge.panel, PLATE)
    if length is not None:
        return length
    shortest = min(LENGTHS)
    bench.find(
        Finding(
            code="fit.fixing_screw",
            severity=Severity.ERROR,
            subject=bearer.key,
            message=f"the shortest screw goes {shortest - PLATE:.1f} mm into the case's bottom of "
            f"{edge.panel:.1f} mm and leaves less than {LEFT_ABOVE:g} mm over its point; make the "
            "bottom thicker",
            copies=(BOTTOM,),
            value=edge.panel - shortest + PLATE,
            limit=LEFT_ABOVE,
            unit="mm",
            source=COMMON_PRACTICE,
        )
    )
    return shortest


def _screw_up(bench: Bench, bearer: Bearer, edge: Edge) -> Halves:
    """Up through the rail from its lower edge, the head sunk deep."""
    place = BlockScrew(
        mouth=along(edge.at, bearer.out, bearer.thickness / 2),
        into_rail=bearer.up,
        rail=edge.panel,
        front=Plane(neg(Z), -bearer.low),
    )
    choice = block_screw(place)
    if choice is None:
        bench.find(_no_screw(bearer.key, "the case's bottom", place))
        return Halves(kind="screw", first=(), second=(), closes=Z)
    return screwed_block(place, choice, Z, made_by=MADE_BY, kind="screw")


def _block(
    bench: Bench, spec: Spec, fixing: Fixing, bearer: Bearer, place: tuple[str, Edge]
) -> None:
    """A block on the rail's inner face, screwed to it and up into the panel."""
    name, edge = place
    key = f"base/{name.removeprefix('base/')}"
    half = scale(bearer.run, BLOCK_LENGTH / 2)
    room = Plane.through(along(edge.at, bearer.out, -BLOCK), neg(bearer.out))
    low = Plane(neg(Z), BLOCK - bearer.high)
    ends = tuple(Plane.through(add(edge.at, way), way) for way in (half, neg(half)))
    corners = _corners((room, bearer.inner), (low, Plane(Z, bearer.high)), ends)
    size, frame = tight(corners, bearer.run, neg(bearer.out))
    back = Face(name="back-bevel", kind=TrimKind.BEVEL, plane=bearer.inner.flipped())
    cuts, _ = trimmed((back,), size, frame, MADE_BY)
    bench.put(
        Draft(
            key=key,
            letter="B",
            name="screw block",
            group=("base",),
            kind=PartKind.LUMBER,
            material=_block_lumber(spec, fixing),
            blank=blank(size),
            frame=frame,
        )
    )
    bench.cut(key, cuts)
    _block_screws(bench, bearer, edge, key, (room, low))


def _block_screws(
    bench: Bench, bearer: Bearer, edge: Edge, key: str, fronts: tuple[Plane, Plane]
) -> None:
    middle = along(along(edge.at, bearer.out, -BLOCK / 2), Z, -BLOCK / 2)
    up = BlockScrew(
        mouth=along(middle, Z, BLOCK / 2), into_rail=Z, rail=edge.panel, front=fronts[1]
    )
    into = neg(bearer.inner.normal)
    sides: list[Halves] = []
    for aside in (-BLOCK_SCREW, BLOCK_SCREW):
        start = along(middle, bearer.run, aside)
        deep = bearer.inner.height(start)
        mouth = along(start, into, deep)
        one = BlockScrew(mouth=mouth, into_rail=into, rail=bearer.thickness, front=fronts[0])
        choice = block_screw(one)
        if choice is not None:
            sides.append(
                screwed_block(one, choice, bearer.out, made_by=MADE_BY, kind="screw block")
            )
        else:
            bench.find(_no_screw(key, "the rail", one))
    bench.join(f"{key}/rail", bearer.key, key, _together(sides, bearer.out))
    choice = block_screw(up)
    if choice is None:
        bench.find(_no_screw(key, "the case's bottom", up))
        bench.join(f"{key}/bottom", BOTTOM, key, _together([], Z))
        return
    halves = screwed_block(up, choice, Z, made_by=MADE_BY, kind="screw block")
    _stays_in_panel(bench, halves, bearer)
    bench.join(f"{key}/bottom", BOTTOM, key, halves)


def _together(sides: list[Halves], closes: Vec) -> Halves:
    """The screws of one side of a block as one joint; without any it is only glued."""
    if not sides:
        return Halves(kind="butt", first=(), second=(), closes=closes)
    first, *rest = sides
    return replace(
        first,
        first=first.first + tuple(f for h in rest for f in h.first),
        second=first.second + tuple(f for h in rest for f in h.second),
        hardware=first.hardware + tuple(line for h in rest for line in h.hardware),
    )


def _corners(
    faces: tuple[Plane, Plane], levels: tuple[Plane, Plane], ends: tuple[Plane, ...]
) -> tuple[Vec, ...]:
    return tuple(meet(face, level, end) for face in faces for level in levels for end in ends)


def _block_lumber(spec: Spec, fixing: Fixing) -> str | None:
    """The lumber named, else the first that the piece has: blocks come from offcuts."""
    if fixing.material is not None:
        return fixing.material
    return next((name for name, found in spec.materials.items() if isinstance(found, Lumber)), None)


def _stays_in_panel(bench: Bench, halves: Halves, bearer: Bearer) -> None:
    """A screw too near the edge of the case's bottom, or beyond it, holds nothing."""
    lo, hi = _panel(bench)
    for hole in (feature for feature in halves.first if isinstance(feature, Hole)):
        at = hole.seat.origin
        inside = min(at[0] - lo[0], hi[0] - at[0], at[1] - lo[1], hi[1] - at[1])
        if inside >= PANEL_EDGE:
            continue
        bench.find(
            Finding(
                code="fit.fixing_edge",
                severity=Severity.ERROR if inside < 0.0 else Severity.WARNING,
                subject=bearer.key,
                message=f"a screw into the case's bottom stands {inside:.1f} mm from its edge, "
                f"{PANEL_EDGE:g} mm at least; set the base in further",
                copies=(bearer.key, BOTTOM),
                at=at,
                value=inside,
                limit=PANEL_EDGE,
                unit="mm",
                source=COMMON_PRACTICE,
            )
        )


def _no_screw(key: str, what: str, place: BlockScrew) -> Finding:
    """Say what is too thin for a screw: what it should hold in, or what its head stands on."""
    left, least, which = place.in_block, place.least_block, "what the screw passes"
    if place.rail < LEAST_HELD_IN:
        left, least, which = place.rail, LEAST_HELD_IN, what
    return Finding(
        code="fit.fixing_screw",
        severity=Severity.ERROR,
        subject=key,
        message=f"no screw holds here: {which} is {left:.1f} mm thick on its way, {least:.1f} mm "
        "at least; make it thicker, or fix the case otherwise",
        copies=(key,),
        value=round(left, 6),
        limit=round(least, 6),
        unit="mm",
        source=COMMON_PRACTICE,
    )


def _no_bearing(gap: float) -> Finding:
    return Finding(
        code="fit.fixing_bearing",
        severity=Severity.ERROR,
        subject="base.fixing",
        message=f"the case's bottom stands {gap:.1f} mm above the base, so nothing reaches it; "
        "let the bottom lie level with the sides' ends",
        copies=(BOTTOM,),
        value=gap,
        limit=0.0,
        unit="mm",
        source=COMMON_PRACTICE,
    )


def _no_place(fixing: Fixing, bearer: Bearer, count: int) -> Finding:
    need = 2 * _HALF[fixing.kind] * count
    free = bearer.length - sum(b - a for a, b in bearer.taken)
    return Finding(
        code="fit.fixing_place",
        severity=Severity.ERROR,
        subject=bearer.key,
        message=f"{count} x {fixing.kind.value} need {need:.0f} mm of its edge, clear of joints "
        f"and blocks, and {free:.0f} mm are free in all; ask for fewer",
        copies=(bearer.key,),
        value=need,
        limit=free,
        unit="mm",
        source=COMMON_PRACTICE,
    )


def _thin_rim(bearer: Bearer, rim: float) -> Finding:
    return Finding(
        code="fit.recess_rim",
        severity=Severity.ERROR,
        subject=bearer.key,
        message=f"the recess of a figure-eight fastener leaves {rim:.1f} mm of the rail outside "
        f"it, {LEAST_RIM:g} mm at least; make the rail thicker or use slotted clips",
        copies=(bearer.key,),
        value=rim,
        limit=LEAST_RIM,
        unit="mm",
        source=COMMON_PRACTICE,
    )
