"""The shop drawing of one part: views, the whole size, and every feature fixed and worded.

The broad face is the principal view; the front edge is stacked under it (third angle) or over it
(first angle), the right end stands beside it where something is worked there. Distances start at
the left end and the front edge, from which the maker registers.
"""

from collections import defaultdict
from dataclasses import replace

from drawings import polyhedron
from drawings.arranging import Draft, Place, Remark, places
from drawings.composing import Drafts, compose, general_note, issue_of, style
from drawings.fixing import Fix, extent, fixes
from drawings.lettering import size
from drawings.notes import counted, easings_note
from drawings.records import Axis, Issue, Note, Sheet
from ground.quantities import Units
from ground.vectors import neg
from models.parts.blank import Grain, Section
from models.parts.features import EasedEdge
from models.parts.part import Part, Stage
from models.parts.views import Arc, Curve, Line, LineView, Point, Stroke
from specs.spec import Paper, Projection, Standard

PRINCIPAL, STACKED, BESIDE = "top", "front", "right"

SHARED = {PRINCIPAL: ("x", "y"), STACKED: ("x", "z"), BESIDE: ("z", "y")}
"""The part's axes along u and v of each view; the end view is turned on the paper."""


def part_sheet(
    part: Part,
    views: tuple[LineView, ...],
    *,
    units: Units,
    standard: Standard,
    paper: Paper,
    piece: str | Issue,
) -> Sheet:
    """Draw ``part`` from its line views named top, front and right."""
    issue = issue_of(piece)
    how = style(units, standard, paper, issue)
    by_name = {view.name: view for view in views}
    if BESIDE in by_name:
        by_name[BESIDE] = turned(by_name[BESIDE])
    shown = {n: by_name[n] for n in (PRINCIPAL, STACKED, BESIDE) if n in by_name}
    fixed = fixes(part, shown, units)
    if not _needs_end(part, fixed):
        shown.pop(BESIDE, None)
        fixed = tuple(fix for fix in fixed if fix.view != BESIDE)
    fixed = once(fixed)
    drafts = _drafts(part, shown, fixed, third=how.projection is Projection.THIRD_ANGLE)
    fields = {
        "document type": "part drawing",
        "title": f"{part.label} {part.name}",
        "identification number": f"{issue.number} {part.label}".strip(),
        "material": part.material or str(part.kind),
    }
    general = (*_general(part, units), *_easings(part, units))
    return compose(
        part.label,
        Drafts(
            principal=drafts[PRINCIPAL],
            stack=drafts.get(STACKED),
            beside=drafts.get(BESIDE),
            general=general,
        ),
        how,
        issue,
        fields,
    )


def _needs_end(part: Part, fixed: tuple[Fix, ...]) -> bool:
    """The end view earns its place where something is worked on an end, or the section is round."""
    return part.blank.section is not Section.SQUARED or any(fix.view == BESIDE for fix in fixed)


def once(fixed: tuple[Fix, ...]) -> tuple[Fix, ...]:
    """No distance twice: views share an axis with their neighbour, the principal one gives it."""
    given: set[tuple[str, str, float]] = set()
    kept: list[Fix] = []
    for fix in sorted(fixed, key=lambda fix: (PRINCIPAL, STACKED, BESIDE).index(fix.view)):
        along_u, along_v = SHARED[fix.view]
        us = tuple(u for u in fix.us if _new(given, (fix.feature, along_u, u)))
        vs = tuple(v for v in fix.vs if _new(given, (fix.feature, along_v, v)))
        kept.append(replace(fix, us=us, vs=vs))
    return tuple(kept)


def _new(given: set[tuple[str, str, float]], place: tuple[str, str, float]) -> bool:
    """Tell whether a distance has not been given yet, and remember it."""
    feature, axis, at = place
    key = (feature, axis, round(abs(at), 3))
    if key in given:
        return False
    given.add(key)
    return True


def _drafts(
    part: Part, shown: dict[str, LineView], fixed: tuple[Fix, ...], *, third: bool
) -> dict[str, Draft]:
    """Each view with its places and notes; third angle puts the front edge below."""
    body = polyhedron.base(part)
    down, left = (-1, -1) if third else (1, 1)
    drafts: dict[str, Draft] = {}
    for name, view in shown.items():
        mine = [fix for fix in fixed if fix.view == name]
        drafts[name] = Draft(
            view=view,
            extent=extent(view, body),
            us=_places(mine, Axis.U),
            vs=_places(mine, Axis.V),
            remarks=_remarks(mine),
            overall={PRINCIPAL: (Axis.U, Axis.V), STACKED: (Axis.V,)}.get(name, ()),
            up=-down if name == STACKED else down,
            side=-left if name == BESIDE else left,
        )
    return drafts


def _places(mine: list[Fix], axis: Axis) -> tuple[Place, ...]:
    """The distances that one view gives along one axis."""
    return places(
        [(at, fix.feature) for fix in mine for at in (fix.us if axis is Axis.U else fix.vs)]
    )


def _remarks(mine: list[Fix]) -> tuple[Remark, ...]:
    """Notes, features that are alike worded once."""
    alike: dict[str, list[Fix]] = defaultdict(list)
    for fix in mine:
        alike[fix.note].append(fix)
    return tuple(
        Remark(
            text=counted(note, len(same)),
            spot=same[0].spot,
            states=tuple(fix.feature for fix in same),
        )
        for note, same in alike.items()
    )


def _general(part: Part, units: Units) -> list[Note]:
    """What no view says: the blank, grain, edging, the side on view, the stage it is cut at."""
    length, width, thickness = (size(value, units) for value in part.blank.size)
    grain = {
        Grain.LENGTH: "grain along the length",
        Grain.WIDTH: "grain across the length",
        Grain.NONE: "no grain",
    }[part.blank.grain]
    lines = [f"cut size {length} × {width} × {thickness}, {grain}"]
    if part.blank.layers > 1:
        lines.append(f"{part.blank.layers} layers face to face")
    if part.blank.staves > 1:
        lines.append(f"{part.blank.staves} staves edge to edge")
    if part.show is not None:
        lines.append(f"on view: {part.show}")
    if part.banded:
        lines.append(f"edging on: {', '.join(part.banded)} (sizes without it)")
    if part.stage is not Stage.NOW:
        lines.append(f"cut to final size {part.stage}")
    if part.note:
        lines.append(part.note)
    lines.append("distances from the left end and the front edge; all numbers finished sizes")
    return [general_note(line) for line in lines]


def _easings(part: Part, units: Units) -> list[Note]:
    """One line for all arrises eased alike."""
    alike: dict[tuple[str, float], list[EasedEdge]] = defaultdict(list)
    for feature in part.features:
        if isinstance(feature, EasedEdge):
            alike[(feature.kind, feature.size)].append(feature)
    return [
        general_note(easings_note(same, units), tuple(feature.id for feature in same))
        for same in alike.values()
    ]


# ---- an end view stands beside the principal one with its width upright


def turned(view: LineView) -> LineView:
    """The view turned a quarter counter-clockwise: what was to the right is up."""
    return LineView(
        name=view.name,
        right=neg(view.up),
        up=view.right,
        visible=tuple(_turned(stroke) for stroke in view.visible),
        hidden=tuple(_turned(stroke) for stroke in view.hidden),
    )


def _turned(stroke: Stroke) -> Stroke:
    match stroke:
        case Line(start=start, end=end):
            return Line(_quarter(start), _quarter(end))
        case Arc(centre=centre, radius=radius, start=start_angle, end=end_angle):
            if end_angle - start_angle >= 360.0:  # noqa: PLR2004 - a whole circle
                return Arc(_quarter(centre), radius, 0.0, 360.0)
            return Arc(_quarter(centre), radius, start_angle + 90.0, end_angle + 90.0)
        case Curve(points=points):
            return Curve(tuple(_quarter(point) for point in points))


def _quarter(point: Point) -> Point:
    return (0.0 - point[1], point[0])
