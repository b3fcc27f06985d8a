"""The assembly drawing: front, top and right of the closed piece with its whole sizes."""

from functools import partial
from math import cos, radians, sin

from drawings.additions import Addition
from drawings.composing import Drafts, compose, general_note, issue_of, style
from drawings.drafts import Draft, Place, places
from drawings.fixing import Extent
from drawings.records import Axis, Issue, Sheet
from drawings.sections import plane_marks, whole_section
from ground.quantities import Units
from ground.vectors import Plane, X, Y, Z
from models.parts.assembly import Opening
from models.parts.views import Arc, Line, LineView, Point, SectionCut, Stroke
from specs.spec import Paper, Projection, Standard

PRINCIPAL, STACKED, BESIDE = "front", "top", "right"


def assembly_sheet(
    views: tuple[LineView, ...],
    *,
    units: Units,
    standard: Standard,
    paper: Paper,
    piece: str | Issue,
    openings: tuple[Opening, ...] = (),
) -> Sheet:
    """Draw the closed piece from its line views named front, top and right, hidden edges left out.

    ``openings`` are fixed in the front view by their edges, from the left side and the floor.
    """
    issue = issue_of(piece)
    how = style(units, standard, paper, issue)
    drafts = _drafts(views, openings, third=how.projection is Projection.THIRD_ANGLE)
    fields = {
        "document type": "assembly drawing",
        "title": issue.piece,
        "supplementary title": "assembly",
        "identification number": issue.number or "assembly",
    }
    note = general_note("the closed piece; openings from the left side and from the floor")
    return compose(
        "assembly",
        Drafts(
            principal=drafts[PRINCIPAL],
            stack=drafts.get(STACKED),
            beside=drafts.get(BESIDE),
            general=(note,) if openings else (),
            additions=_sections(views, openings),
        ),
        how,
        issue,
        fields,
    )


SECTION = "A-A"


def piece_cut(openings: tuple[Opening, ...]) -> SectionCut | None:
    """A plumb section through the middle of the widest opening with drawers, or of the widest."""
    if not openings:
        return None
    best = max(openings, key=lambda opening: (opening.kind == "drawers", opening.width, opening.id))
    x = best.corner[0] + best.width / 2
    return SectionCut(name=SECTION, plane=Plane(X, x), right=Y, up=Z)


def _sections(views: tuple[LineView, ...], openings: tuple[Opening, ...]) -> tuple[Addition, ...]:
    """The section where it was made, and its plane marked on the front view."""
    cut = piece_cut(openings)
    made = [view for view in views if view.name == SECTION]
    if cut is None or not made:
        return ()
    return (partial(plane_marks, cut), partial(whole_section, made[0]))


def _drafts(
    views: tuple[LineView, ...], openings: tuple[Opening, ...], *, third: bool
) -> dict[str, Draft]:
    """Each view with its whole sizes, the front one with the edges of the openings."""
    shown = {view.name: view for view in views if view.name != SECTION}
    up, right = (1, 1) if third else (-1, -1)
    us, vs = _opening_places(openings, shown[PRINCIPAL])
    overall = {PRINCIPAL: (Axis.U, Axis.V), STACKED: (Axis.V,)}
    return {
        name: Draft(
            view=LineView(name=name, right=view.right, up=view.up, visible=view.visible),
            extent=strokes_extent(view),
            us=us if name == PRINCIPAL else (),
            vs=vs if name == PRINCIPAL else (),
            overall=overall.get(name, ()),
            up=-up if name == STACKED else up,
            side=-right,
        )
        for name, view in shown.items()
    }


def _opening_places(
    openings: tuple[Opening, ...], view: LineView
) -> tuple[tuple[Place, ...], tuple[Place, ...]]:
    """The edges of the openings along both axes of the front view."""
    (left, bottom), (right, top) = strokes_extent(view)
    us, vs = [], []
    for opening in openings:
        x, _, z = opening.corner
        us += [(x, opening.id), (x + opening.width, opening.id)]
        vs += [(z, opening.id), (z + opening.height, opening.id)]
    return (
        places([(u, name) for u, name in us if left < u < right]),
        places([(v, name) for v, name in vs if bottom < v < top]),
    )


def strokes_extent(view: LineView) -> Extent:
    """What the visible strokes of a view cover: nothing at all where it shows nothing."""
    points = [point for stroke in view.visible for point in _reach(stroke)] or [(0.0, 0.0)]
    return (
        (min(u for u, _ in points), min(v for _, v in points)),
        (max(u for u, _ in points), max(v for _, v in points)),
    )


def _reach(stroke: Stroke) -> tuple[Point, ...]:
    """Points that a stroke reaches: an arc is taken as its whole circle's box where it is one."""
    match stroke:
        case Line(start=start, end=end):
            return (start, end)
        case Arc():
            return _arc_reach(stroke)
        case _:
            return stroke.points


def _arc_reach(arc: Arc) -> tuple[Point, ...]:
    """The ends of an arc and where it is furthest left, right, up or down."""
    turns = [arc.start, arc.end]
    turns += [quarter * 90.0 for quarter in range(-4, 9) if arc.start < quarter * 90.0 < arc.end]
    (u, v), r = arc.centre, arc.radius
    return tuple((u + r * cos(radians(t)), v + r * sin(radians(t))) for t in turns)
