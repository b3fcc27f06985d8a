"""Sections through what hides: where they are made, and how they come onto the sheet."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import partial

from drawings import polyhedron
from drawings.additions import Addition, Drawn, OnSheet
from drawings.clipping import hatching, scaled, segments, within_circle
from drawings.drafting import on_sheet
from drawings.fixing import flat
from drawings.lettering import text_width
from drawings.paper import LETTER, SCALES, TITLE_LETTER, Scale
from drawings.polyhedron import Body
from drawings.records import Align, Note, Pen, Ruled, Text, View
from drawings.room import Box
from ground.vectors import Plane, Vec, X, Y, Z, along, dot, neg
from models.parts.features import Channel, ChannelKind, Feature, Mortise, Waste, WasteKind
from models.parts.part import Part
from models.parts.views import Arc, LineView, Point, SectionCut, Stroke

MOST = 3
"""Sections on one sheet."""

LARGEST: Point = (90.0, 62.0)
"""A section is drawn no larger on paper, or only what is near the feature (mm)."""

SEEN = 3.0
"""A feature is at least so wide on paper, or only what is near it is drawn, larger (mm)."""

HATCH = 2.5
"""Hatching lines stand so far apart on paper."""

OPEN_KINDS = frozenset({ChannelKind.RABBET, ChannelKind.NOTCH})
"""Channels open to a side: every view along them shows their shape."""

AXES: tuple[tuple[Vec, Vec, Vec], ...] = ((X, Y, Z), (neg(Y), X, Z), (Z, X, Y))
"""Normals of cutting planes toward the eye, with what is to the right and what is up."""

TOUCH = 1e-3
"""A cut this near a side of the part comes out on it (mm)."""

SQUARE = 0.9
"""A cut runs along an axis of the part when their cosine is at least this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hidden:
    """A feature to be cut through: its middle, how it runs, its size across.

    ``ids`` are the features that it stands for.
    """

    at: Vec
    run: Vec
    width: float
    depth: float
    ids: tuple[str, ...]


def hidden_features(part: Part) -> tuple[Hidden, ...]:
    """Mortises, channels and dovetail sockets of a part, those that are alike once."""
    found: dict[tuple[str, float, float, bool], Hidden] = {}
    sockets = any(feature.kind is WasteKind.SOCKET for feature in part.features)
    body = polyhedron.base(part) if sockets else ()
    for feature in part.features:
        hidden = _socket(feature, body) if isinstance(feature, Waste) else _hidden(feature)
        if hidden is not None:
            slanted = max(abs(share) for share in feature_into(feature)) < 1.0 - 1e-6
            key = (str(feature.kind), round(hidden.width, 3), round(hidden.depth, 3), slanted)
            ids = (*found[key].ids, feature.id) if key in found else (feature.id,)
            found[key] = replace(found.get(key, hidden), ids=ids)
    return tuple(found.values())[:MOST]


def _socket(feature: Waste, body: Body) -> Hidden | None:
    """A dovetail socket, cut through across its tails; None where it shows on both faces."""
    if feature.kind is not WasteKind.SOCKET:
        return None
    bite = polyhedron.corners(polyhedron.bitten(body, feature.planes))
    whole = polyhedron.corners(body)
    if not bite:
        return None
    low, high = _box(bite), _box(whole)
    # it stands in a row along the axis on which neither of its walls is the part's own side
    free = [axis for axis in range(3) if _inside(low[axis], high[axis])]
    open_both = [axis for axis in range(3) if _all_through(low[axis], high[axis])]
    if not free or open_both:
        return None
    run = free[0]
    first, last = low[run]
    across = [low[axis][1] - low[axis][0] for axis in range(3) if axis != run]
    middle = tuple(sum(span) / 2 for span in low)
    return Hidden(
        at=(middle[0], middle[1], middle[2]),
        run=(X, Y, Z)[run],
        width=last - first,
        depth=max(across),
        ids=(feature.id,),
    )


Span = tuple[float, float]


def _box(points: Iterable[Vec]) -> tuple[Span, Span, Span]:
    """How far points reach along each axis."""
    xs, ys, zs = zip(*points, strict=True)
    return ((min(xs), max(xs)), (min(ys), max(ys)), (min(zs), max(zs)))


def _inside(span: Span, whole: Span) -> bool:
    """Tell whether a span touches neither end of the whole."""
    return span[0] - whole[0] > TOUCH and whole[1] - span[1] > TOUCH


def _all_through(span: Span, whole: Span) -> bool:
    """Tell whether a span touches both ends of the whole."""
    return span[0] - whole[0] <= TOUCH and whole[1] - span[1] <= TOUCH


def feature_into(feature: Feature) -> Vec:
    """The way a tool goes in, where there is one."""
    return feature.seat.into if isinstance(feature, Channel | Mortise) else X


def _hidden(feature: Feature) -> Hidden | None:
    if not isinstance(feature, Mortise | Channel) or feature.kind in OPEN_KINDS:
        return None
    seat = feature.seat
    mouth = seat.origin
    if isinstance(feature, Channel):
        mouth = along(mouth, seat.along, feature.length / 2)
    middle = along(mouth, seat.into, feature.depth / 2)
    return Hidden(
        at=middle, run=seat.along, width=feature.width, depth=feature.depth, ids=(feature.id,)
    )


def wanted_cuts(part: Part) -> tuple[SectionCut, ...]:
    """The sections that a part's drawing wants, each square to the axis that a feature runs by."""
    cuts = []
    for place, hidden in enumerate(hidden_features(part)):
        normal, right, up = max(AXES, key=lambda axes: abs(dot(axes[0], hidden.run)))
        if abs(dot(normal, hidden.run)) < SQUARE:
            continue
        plane = Plane(normal, dot(normal, hidden.at))
        cuts.append(SectionCut(name=name_of(place), plane=plane, right=right, up=up))
    return tuple(cuts)


def name_of(place: int) -> str:
    """``A-A``, ``B-B`` ..."""
    letter = "ABCDEFGH"[place]
    return f"{letter}-{letter}"


def section_additions(part: Part, views: tuple[LineView, ...]) -> tuple[Addition, ...]:
    """Each section that was made, drawn; and its plane marked on a view."""
    made = {view.name: view for view in views if view.cut}
    found: list[Addition] = []
    for cut in wanted_cuts(part):
        if cut.name in made:
            hidden = hidden_features(part)["ABCDEFGH".index(cut.name[0])]
            found.append(partial(plane_marks, cut))
            found.append(partial(_section, made[cut.name], hidden))
    return tuple(found)


# ---- the section itself


def _section(view: LineView, hidden: Hidden, sheet: OnSheet) -> Drawn | None:
    """The whole section where it fits larger than the views, else what is near the feature."""
    low, high = extent_of(view)
    size = (high[0] - low[0], high[1] - low[1])
    to = sheet.frame[0][0], sheet.frame[1][1]
    for scale in larger(sheet.scale, size, LARGEST):
        if hidden.width * scale.factor < SEEN:
            break
        drawn = _enlarged(view, (low, high), scale, sheet.scale)
        placed = sheet.placed(drawn, _framed(size, scale, view.name), to)
        if placed is not None:
            return _seen(placed, hidden, scale, sheet)
    centre = flat(view, hidden.at)
    reach = max(1.3 * hidden.depth, 1.3 * hidden.width, 8.0)
    part = cropped(view, centre, reach)
    box = ((centre[0] - reach, centre[1] - reach), (centre[0] + reach, centre[1] + reach))
    for scale in larger(sheet.scale, (2 * reach, 2 * reach), (50.0, 50.0)):
        drawn = _enlarged(part, box, scale, sheet.scale)
        placed = sheet.placed(drawn, _framed((2 * reach, 2 * reach), scale, view.name), to)
        if placed is not None:
            return _seen(placed, hidden, scale, sheet)
    return None


def _seen(drawn: Drawn, hidden: Hidden, scale: Scale, sheet: OnSheet) -> Drawn:
    """Keep which features are large enough on paper now."""
    if hidden.width * scale.factor >= SEEN:
        sheet.seen.update(hidden.ids)
    return drawn


def larger(than: Scale, size: Point, most: Point) -> list[Scale]:
    """Scales no smaller than another one at which ``size`` takes ``most`` paper, largest first."""
    return [
        scale
        for scale in SCALES
        if scale.factor >= than.factor
        and size[0] * scale.factor <= most[0]
        and size[1] * scale.factor <= most[1]
    ]


def cropped(view: LineView, centre: Point, reach: float) -> LineView:
    """What of a view lies within a circle, and the circle; hatching is kept in too."""
    kept = tuple(within_circle(view.visible, centre, reach))
    return LineView(
        name=view.name,
        right=view.right,
        up=view.up,
        visible=kept,
        hidden=(*within_circle(view.hidden, centre, reach), Arc(centre, reach, 0.0, 360.0)),
        cut=view.cut,
    )


def _enlarged(
    view: LineView,
    box: Box,
    scale: Scale,
    on: Scale,
    hatch: tuple[float, float] = (HATCH, 45.0),
) -> Drawn:
    """A section at its scale, its title over it; the lower left corner is (0, 0).

    ``hatch`` is the distance on paper and the slope (degrees) of hatching; every second face that
    is cut leans the other way.
    """
    by = scale.factor / on.factor
    frame = [stroke for stroke in view.hidden if isinstance(stroke, Arc)][-1:]
    lines = [
        line
        for place, region in enumerate(view.cut)
        for line in hatching(
            region, hatch[0] / scale.factor, hatch[1] if place % 2 else 180.0 - hatch[1]
        )
    ]
    inside: list[Stroke] = list(lines)
    if frame:
        inside = list(within_circle(lines, frame[0].centre, frame[0].radius))
    strokes = (
        *((Pen.THIN, scaled(stroke, by)) for stroke in (*inside, *frame)),
        *((Pen.VISIBLE, scaled(stroke, by)) for stroke in view.visible),
    )
    wide, tall, shift = title_room((box[1][0] - box[0][0], box[1][1] - box[0][1]), scale, view.name)
    at = (shift - box[0][0] * scale.factor, 0.0 - box[0][1] * scale.factor)
    return Drawn(
        views=(View(name=view.name, at=at, strokes=strokes),),
        notes=(title_note(f"{view.name} ({scale})", (wide / 2, tall - TITLE_LETTER - 1.0)),),
    )


def title_note(text: str, at: Point) -> Note:
    """A title over a section or a detail."""
    return Note(text=Text(at=at, text=text, height=TITLE_LETTER, align=Align.CENTRE))


def title_room(size: Point, scale: Scale, name: str) -> tuple[float, float, float]:
    """Width and height of an enlarged drawing with its title, and where it begins (mm)."""
    wide, tall = size[0] * scale.factor, size[1] * scale.factor
    title = text_width(f"{name} ({scale})", TITLE_LETTER)
    whole = max(wide, title)
    return whole, tall + 2.0 * TITLE_LETTER, (whole - wide) / 2


def _framed(size: Point, scale: Scale, name: str) -> Point:
    wide, tall, _ = title_room(size, scale, name)
    return wide, tall


def whole_section(view: LineView, sheet: OnSheet) -> Drawn | None:
    """The section of a whole piece at the sheet's own scale, or smaller where room is short."""
    box = extent_of(view)
    size = (box[1][0] - box[0][0], box[1][1] - box[0][1])
    for scale in SCALES:
        if scale.factor > 2.0 * sheet.scale.factor:
            continue
        drawn = _enlarged(view, box, scale, sheet.scale, (1.3, 135.0))
        placed = sheet.placed(drawn, _framed(size, scale, view.name), sheet.frame[0])
        if placed is not None:
            return placed
    return None


def extent_of(view: LineView) -> Box:
    """What the strokes of a view cover."""
    points = [point for stroke in view.visible for line in segments(stroke) for point in line]
    points = points or [(0.0, 0.0)]
    us, vs = [u for u, _ in points], [v for _, v in points]
    return (min(us), min(vs)), (max(us), max(vs))


# ---- where it is taken

TICK = 5.0
"""Length of the wide end of a cutting plane's line."""

OFFS = (1.5, 10.0, 17.0, 24.0)
"""How far off the view the end may stand, tried in turn."""


def plane_marks(cut: SectionCut, sheet: OnSheet) -> Drawn | None:
    """The ends of the cutting plane with arrows the way one looks, on the view that is square."""
    for view in sheet.views:
        shown = sheet.shown.get(view.name)
        if shown is None:
            continue
        level = abs(dot(cut.plane.normal, shown.up)) > 1.0 - 1e-9
        if not level and abs(dot(cut.plane.normal, shown.right)) <= 1.0 - 1e-9:
            continue
        axis = shown.up if level else shown.right
        ahead = -1.0 if dot(cut.plane.normal, axis) > 0 else 1.0
        at = cut.plane.offset * dot(cut.plane.normal, axis)
        found = _ends(cut.name[0], view, at, sheet, (level, ahead))
        if found:
            return Drawn(
                ruled=tuple(line for one in found for line in one.ruled),
                notes=tuple(note for one in found for note in one.notes),
            )
    return None


def _ends(
    letter: str, view: View, at: float, sheet: OnSheet, turned: tuple[bool, float]
) -> list[Drawn]:
    """Both ends where there is room for them."""
    level, ahead = turned
    spots = [point for _, stroke in view.strokes for line in segments(stroke) for point in line]
    if not spots:
        return []
    index = 0 if level else 1
    found = []
    for way, edge in ((1.0, max(s[index] for s in spots)), (-1.0, min(s[index] for s in spots))):
        corner = on_sheet((edge, at) if level else (at, edge), view, sheet.scale)
        for off in OFFS:
            drawn, box = _tick(letter, corner, (level, ahead, way), off)
            if sheet.lines.is_free(box):
                sheet.take(box)
                found.append(drawn)
                break
    return found


def _tick(
    letter: str, corner: Point, turned: tuple[bool, float, float], off: float
) -> tuple[Drawn, Box]:
    """One end: a wide line away from the view, an arrow that touches it, the letter at its tail."""
    level, ahead, way = turned

    def spot(out: float, side: float) -> Point:
        out, side = way * out, ahead * side
        return (corner[0] + out, corner[1] + side) if level else (corner[0] + side, corner[1] + out)

    far = off + TICK
    middle = off + TICK / 2
    tip, tail = spot(middle, 0.0), spot(middle, -6.0)
    barbs = (spot(middle + 0.8, -2.4), spot(middle - 0.8, -2.4))
    ruled = (
        Ruled(pen=Pen.EDGED, start=spot(off, 0.0), end=spot(far, 0.0)),
        Ruled(pen=Pen.THIN, start=tail, end=tip),
        *(Ruled(pen=Pen.THIN, start=barb, end=tip) for barb in barbs),
    )
    wide = text_width(letter, LETTER)
    place = spot(middle, -6.0 - 1.8 - (LETTER / 2 if level else wide / 2))
    text = Text(
        at=(place[0], place[1] - LETTER / 2), text=letter, height=LETTER, align=Align.CENTRE
    )
    reach = 6.0 + 3.0 + (LETTER * 1.2 if level else wide)
    ends = [spot(off, 0.5), spot(far, 0.5), spot(off, -reach), spot(far, -reach)]
    low = (min(u for u, _ in ends), min(v for _, v in ends))
    high = (max(u for u, _ in ends), max(v for _, v in ends))
    return Drawn(ruled=ruled, notes=(Note(text=text),)), (low, high)
