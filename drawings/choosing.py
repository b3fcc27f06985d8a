"""Which views a part's drawing shows, and how they are turned on the paper.

The broad face that is worked most is the principal view, its left end on the left. The edge at
its foot is stacked with it and its right end stands beside it, as projection has them.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from drawings.worked import worked_faces
from ground.vectors import neg
from models.parts.part import Part
from models.parts.views import Arc, Curve, Line, LineView, Point, Stroke

QUARTER, FULL = 90.0, 360.0

USUAL = ("top", "front", "right")
TURNED_OVER = ("bottom", "back", "right")
"""Principal, stacked and beside: seen from above, or with the bottom up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """Views turned as they stand on the paper; ``stacked`` and ``beside`` None where not made."""

    principal: LineView
    stacked: LineView | None
    beside: LineView | None

    def by_name(self) -> dict[str, LineView]:
        """The views that there are, the principal one first."""
        views = (self.principal, self.stacked, self.beside)
        return {view.name: view for view in views if view is not None}


def wanted_views(part: Part) -> tuple[str, str, str]:
    """Name the faces from which a part's drawing wants line views."""
    return TURNED_OVER if worked_faces(part)[0].name == "bottom" else USUAL


def shown(part: Part, views: tuple[LineView, ...]) -> Shown:
    """Pick the views and turn them; a part worked from below falls back to the usual ones.

    Raises:
        KeyError: there is not even a view of the top.
    """
    made = {view.name: view for view in views}
    names = wanted_views(part)
    if names[0] not in made:
        names = USUAL
    over = names == TURNED_OVER
    edge, end = made.get(names[1]), made.get(names[2])
    return Shown(
        principal=made[names[0]],
        stacked=half_turned(edge) if edge is not None and over else edge,
        beside=None if end is None else _beside(end, over=over),
    )


def _beside(end: LineView, *, over: bool) -> LineView:
    """The right end with its width upright: the face that is up lies toward the principal view."""
    turned = quarter_turned(end)
    return half_turned(turned) if over else turned


def laid_level(end: LineView) -> LineView:
    """The end of a part that stood upright beside it, its width level."""
    turned = quarter_turned(half_turned(end))
    return replace(turned, name=f"{end.name} end, lying")


def quarter_turned(view: LineView) -> LineView:
    """The view turned a quarter counter-clockwise: what was to the right is up."""
    return _turned(
        replace(view, right=neg(view.up), up=view.right), lambda p: (0.0 - p[1], p[0]), QUARTER
    )


def half_turned(view: LineView) -> LineView:
    """The view turned upside down."""
    return _turned(
        replace(view, right=neg(view.right), up=neg(view.up)),
        lambda p: (0.0 - p[0], 0.0 - p[1]),
        2 * QUARTER,
    )


def _turned(view: LineView, turn: Callable[[Point], Point], by: float) -> LineView:
    def stroke(old: Stroke) -> Stroke:
        match old:
            case Line(start=start, end=end):
                return Line(turn(start), turn(end))
            case Arc(centre=centre, radius=radius, start=start_angle, end=end_angle):
                if end_angle - start_angle >= FULL:
                    return Arc(turn(centre), radius, 0.0, FULL)
                return Arc(turn(centre), radius, start_angle + by, end_angle + by)
            case Curve(points=points):
                return Curve(tuple(turn(point) for point in points))

    return replace(
        view,
        visible=tuple(stroke(old) for old in view.visible),
        hidden=tuple(stroke(old) for old in view.hidden),
    )
