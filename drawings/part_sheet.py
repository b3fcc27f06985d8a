"""The shop drawing of one part: views, the whole size, and every feature fixed and worded.

The broad face worked most is the principal view; the edge at its foot is stacked under it (third
angle) or over it (first angle), the right end stands beside it where something is worked there.
Distances start at the left end, the front edge and the bottom, from which the maker registers.
"""

from collections import Counter, defaultdict
from dataclasses import replace
from functools import cache, partial

from drawings import polyhedron
from drawings.additions import Addition
from drawings.angles import angle_additions
from drawings.bites import SQUARE
from drawings.board_marks import board_additions
from drawings.choosing import laid_level, shown
from drawings.composing import Drafts, compose, general_note, issue_of, style
from drawings.details import detail_additions
from drawings.drafts import Draft, Place, Remark, places
from drawings.fixing import Fix, counts_up, extent, fixes
from drawings.in_place import in_place_additions
from drawings.laying import Laid, laid
from drawings.lettering import size
from drawings.notes import counted, easings_note
from drawings.records import Axis, Issue, Note, Sheet
from drawings.sections import section_additions
from drawings.standing import Standing
from ground.quantities import Units
from ground.vectors import Vec, angle
from models.parts.blank import Grain, Section
from models.parts.features import EasedEdge, Trim
from models.parts.part import Part, Stage
from models.parts.views import LineView
from specs.spec import Paper, Projection, Standard

PRINCIPAL, STACKED, BESIDE = range(3)

SHARED = (("x", "y"), ("x", "z"), ("z", "y"))
"""The part's axes along u and v of the principal, the stacked and the view beside."""

SHARED_LYING = (*SHARED[:BESIDE], ("y", "z"))
"""The same where the end lies level."""

REGISTERED = (("left", "right"), ("front", "back"), ("bottom", "top"))
"""From where distances count along each axis of the part, and where they count from far."""

HALF_TURN = 180.0

OVERALL: tuple[tuple[Axis, ...], ...] = ((Axis.U, Axis.V), (Axis.V,), ())
"""Whole sizes: length and width in the principal view, thickness in the one stacked with it."""


def part_sheet(
    part: Part,
    views: tuple[LineView, ...],
    *,
    units: Units,
    standard: Standard,
    paper: Paper,
    piece: str | Issue,
) -> Sheet:
    """Draw ``part`` from line views of the faces that ``wanted_views`` names."""
    issue = issue_of(piece)
    how = style(units, standard, paper, issue)
    chosen = shown(part, views).by_name()
    far = frozenset() if issue.standing is None else issue.standing.far
    third = how.projection is Projection.THIRD_ANGLE
    fixed = fixes(part, chosen, units, far)
    names = tuple(chosen)
    ended = len(names) > BESIDE and _needs_end(part, fixed, names[BESIDE])
    if len(names) > BESIDE and not ended:
        del chosen[names[BESIDE]]
    fixed = once(tuple(fix for fix in fixed if fix.view in chosen), names)
    drafts = _drafts(part, chosen, (fixed, far), third=third)
    seen = Drafts(
        principal=drafts[PRINCIPAL],
        stack=drafts[STACKED] if len(drafts) > STACKED else None,
        beside=drafts[BESIDE] if ended else None,
        lying=cache(partial(_lying, part, chosen, names, (units, far), third=third))
        if ended
        else None,
        loose=True,
        general=(*_general(part, units, far), *_paired(issue.standing), *_easings(part, units)),
        additions=(
            *angle_additions(part, tuple(chosen.values())),
            *_additions(part, views, drafts[PRINCIPAL], fixed, issue),
        ),
    )
    return compose(part.label, seen, how, issue, _fields(part, issue))


def _lying(
    part: Part,
    chosen: dict[str, LineView],
    names: tuple[str, ...],
    counted_in: tuple[Units, frozenset[int]],
    *,
    third: bool,
) -> Draft:
    """The view of a long part's end laid level, with what it fixes there."""
    units, far = counted_in
    end = laid_level(chosen[names[BESIDE]])
    views = {**{name: chosen[name] for name in names[:BESIDE]}, end.name: end}
    found = once(fixes(part, views, units, far), tuple(views), SHARED_LYING)
    return _drafts(part, views, (found, far), third=third)[BESIDE]


def _additions(
    part: Part,
    views: tuple[LineView, ...],
    principal: Draft,
    fixed: tuple[Fix, ...],
    issue: Issue,
) -> tuple[Addition, ...]:
    """What stands on the sheet besides the views: sections, board, details, the place."""
    return (
        *section_additions(part, views),
        *board_additions(part, principal.view, principal.extent),
        *detail_additions(part, fixed),
        *in_place_additions(issue.standing),
    )


def _fields(part: Part, issue: Issue) -> dict[str, str]:
    """What the title block says of a part."""
    return {
        "document type": "part drawing",
        "title": f"{part.label} {part.name}",
        "identification number": f"{issue.number} {part.label}".strip(),
        "material": part.material or str(part.kind),
    }


def _needs_end(part: Part, fixed: tuple[Fix, ...], end: str) -> bool:
    """The end view earns its place where something is worked on an end, or the section is round."""
    return part.blank.section is not Section.SQUARED or any(fix.view == end for fix in fixed)


def once(
    fixed: tuple[Fix, ...],
    names: tuple[str, ...],
    shared: tuple[tuple[str, str], ...] = SHARED,
) -> tuple[Fix, ...]:
    """No distance twice: views share an axis with their neighbour, the principal one gives it."""
    given: set[tuple[str, str, float]] = set()
    kept: list[Fix] = []
    for fix in sorted(fixed, key=lambda fix: names.index(fix.view)):
        along_u, along_v = shared[names.index(fix.view)]
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
    part: Part,
    chosen: dict[str, LineView],
    found: tuple[tuple[Fix, ...], frozenset[int]],
    *,
    third: bool,
) -> list[Draft]:
    """Each view with its places and notes; third angle stacks below and stands on the right."""
    fixed, far = found
    body = polyhedron.base(part)
    down, left = (-1, -1) if third else (1, 1)
    drafts: list[Draft] = []
    for role, (name, view) in enumerate(chosen.items()):
        mine = [fix for fix in fixed if fix.view == name]
        drafts.append(
            Draft(
                view=view,
                extent=extent(view, body),
                us=_places(mine, Axis.U),
                vs=_places(mine, Axis.V),
                remarks=_remarks(mine, above=(-down if role == STACKED else down) < 0),
                overall=OVERALL[role],
                from_high=_from_high(view, far),
                ends=_ends(part, view),
                up=-down if role == STACKED else down,
                side=-left if role == BESIDE else left,
            )
        )
    return drafts


def _from_high(view: LineView, far: frozenset[int]) -> tuple[Axis, ...]:
    """The axes of a view along which the part's registered edges lie far."""
    ways = ((Axis.U, view.right), (Axis.V, view.up))
    return tuple(axis for axis, way in ways if not counts_up(way, far))


def _ends(part: Part, view: LineView) -> tuple[tuple[Axis, str], ...]:
    """Cuts square to an axis of the view: mitres and tapers that come to nothing."""
    return tuple(
        (axis, feature.id)
        for feature in part.features
        if isinstance(feature, Trim)
        for axis, way in ((Axis.U, view.right), (Axis.V, view.up))
        if _off(feature.plane.normal, way) <= SQUARE
    )


def _off(normal: Vec, way: Vec) -> float:
    """Degrees between two directions, whichever way they point."""
    found = angle(normal, way)
    return min(found, HALF_TURN - found)


def _places(mine: list[Fix], axis: Axis) -> tuple[Place, ...]:
    """The distances that one view gives along one axis."""
    return places(
        [(at, fix.feature) for fix in mine for at in (fix.us if axis is Axis.U else fix.vs)]
    )


def _remarks(mine: list[Fix], *, above: bool) -> tuple[Remark, ...]:
    """Notes, features that are alike worded once, at the one nearest to where notes stand."""
    alike: dict[str, list[Fix]] = defaultdict(list)
    for fix in mine:
        alike[fix.note].append(fix)
    return tuple(
        Remark(
            text=counted(note, len(same)),
            spot=sorted(same, key=lambda fix: fix.spot[0][1], reverse=above)[0].spot,
            states=tuple(fix.feature for fix in same),
        )
        for note, same in alike.items()
    )


def _general(part: Part, units: Units, far: frozenset[int]) -> list[Note]:
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
        lines.append(f"on view when built: {part.show}")
    if part.banded:
        lines.append(f"edging on: {', '.join(part.banded)} (sizes without it)")
    if part.stage is not Stage.NOW:
        lines.append(f"cut to final size {part.stage}")
    if part.note:
        lines.append(part.note)
    lines += _templates(laid(part))
    end, edge, side = (pair[axis in far] for axis, pair in enumerate(REGISTERED))
    lines.append(f"distances from the {end} end, the {edge} edge and the {side}")
    return [general_note(line) for line in lines]


def _paired(standing: Standing | None) -> list[Note]:
    """What the other hand is, whether or not there is room to draw it."""
    if standing is None or standing.mate is None:
        return []
    other = standing.mate.part
    return [general_note(f"a pair with {other.label}: the same distances, mirrored")]


def _templates(found: tuple[Laid, ...]) -> list[str]:
    """Which cuts templates give, and the edge that each is laid on; those alike in one line."""
    alike: dict[tuple[str, str], list[str]] = defaultdict(list)
    for one in found:
        kinds = Counter(str(trim.kind) for trim in one.trims)
        given = ", ".join(
            kind if count == 1 else f"{count} {kind}s" for kind, count in kinds.items()
        )
        alike[(one.edge, given)].append(one.face)
    return [
        f"{'template' if len(faces) == 1 else 'templates'} of the {' and the '.join(faces)}, "
        f"laid on the {edge}: {given}"
        for (edge, given), faces in alike.items()
    ]


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
