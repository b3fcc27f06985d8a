"""Line views without the kernel: the edges of the convex base and the outlines of what is cut.

Nothing hides anything: more lines than a true view has, so a text clear of these is clear of all
that a true view shows of them.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import combinations, pairwise

from drawings import polyhedron
from drawings.apart_pictures import Apart
from drawings.assembly_sheet import piece_cut
from drawings.choosing import wanted_views
from drawings.exploding import apart, leaves
from drawings.fixing import flat, toward
from drawings.groups_sheet import Leaf, groups_sheet
from drawings.in_place import base_edges
from drawings.loops import Ellipse, Loop, as_loop
from drawings.records import Issue, Sheet
from drawings.worked import WorkedFace, worked_faces
from ground.vectors import ORIGIN, Vec, X, Z, add, cross, dot
from models.parts.assembly import Assembly, Copy
from models.parts.part import Part
from models.parts.views import ISOMETRIC_RIGHT, ISOMETRIC_UP, Arc, Curve, Line, LineView, Stroke
from specs.spec import Spec
from tests.helpers.sheets import AXES

STEPS = 24
"""Chords of a circle that is seen aslant."""


def flat_views(part: Part) -> tuple[LineView, ...]:
    """The views that a part's drawing wants."""
    return tuple(_view(part, name) for name in wanted_views(part))


def _view(part: Part, name: str) -> LineView:
    right, up = AXES[name]
    bare = LineView(name=name, right=right, up=up, visible=())
    eye = cross(right, up)
    body = polyhedron.base(part)
    sides = [
        Line(flat(bare, a), flat(bare, b))
        for facet in body
        if dot(facet.plane.normal, eye) > -1e-9
        for a, b in zip(facet.corners, (*facet.corners[1:], facet.corners[0]), strict=True)
    ]
    seen: list[Stroke] = [line for line in sides if line.start != line.end]
    hidden: list[Stroke] = []
    for face in worked_faces(part):
        strokes = seen if dot(face.frame.z, toward(bare)) > 1e-9 else hidden
        for mark in face.marks:
            strokes += _outline(face, mark.shape, bare)
    return LineView(name=name, right=right, up=up, visible=tuple(seen), hidden=tuple(hidden))


def _outline(face: WorkedFace, shape: Arc | Loop | Ellipse, view: LineView) -> list[Stroke]:
    """A mark's outline as it is seen in a view, chords for arcs."""
    if isinstance(shape, Arc) and abs(dot(face.frame.z, toward(view))) > 1.0 - 1e-9:
        centre = flat(view, face.frame.point((*shape.centre, 0.0)))
        return [Arc(centre, shape.radius, 0.0, 360.0)]
    points = list(as_loop(shape).points)
    if isinstance(shape, Arc):
        points = list(Ellipse(shape.centre, (shape.radius, 0.0), 1.0).points(STEPS))
    spots = tuple(flat(view, face.frame.point((*point, 0.0))) for point in points)
    return [Curve((*spots, spots[0]))]


def cube_picture(assembly: Assembly) -> tuple[Stroke, ...]:
    """A box as large as the piece in isometric view, for want of a true picture."""
    corners = [
        copy.placement.point(corner)
        for copy in assembly.copies
        for corner in polyhedron.corners(polyhedron.block(assembly.part(copy.label).blank))
    ]
    lows, highs = (
        tuple(pick(c[axis] for c in corners) for axis in range(3)) for pick in (min, max)
    )
    whole = LineView(name="", right=ISOMETRIC_RIGHT, up=ISOMETRIC_UP, visible=())
    spots = [
        (x, y, z)
        for x in (lows[0], highs[0])
        for y in (lows[1], highs[1])
        for z in (lows[2], highs[2])
    ]
    return tuple(
        Line(flat(whole, a), flat(whole, b))
        for a, b in combinations(spots, 2)
        if sum(one != other for one, other in zip(a, b, strict=True)) == 1
    )


def piece_views(assembly: Assembly) -> tuple[LineView, ...]:
    """The closed piece from the front, above and the right, and its section as seen from there.

    Every edge of every part that looks to the eye, whether or not another part stands before it.
    """
    found = []
    for name, (right, up) in (
        ("front", AXES["front"]),
        ("top", AXES["top"]),
        ("right", AXES["right"]),
    ):
        strokes = tuple(
            line
            for copy in assembly.copies
            if assembly.part(copy.label).made
            for line in base_edges(
                assembly.part(copy.label), copy.placement, (right, up), cross(right, up)
            )
        )
        found.append(LineView(name=name, right=right, up=up, visible=strokes))
    cut = piece_cut(assembly.openings)
    if cut is not None:
        side = found[-1]
        found.append(LineView(name=cut.name, right=side.right, up=side.up, visible=side.visible))
    return tuple(found)


def groups_sheets(asked: Spec, assembly: Assembly) -> Iterator[Sheet]:
    """The sheets on which the groups of a piece are taken apart."""
    for number, groups in enumerate(leaves(assembly), 1):
        pictures = []
        for group in groups:
            moves = apart(assembly, group)
            view = exploded_picture(assembly, moves, group.copies)
            pictures.append((group, Apart(view=view, moves=moves)))
        yield groups_sheet(
            assembly,
            Leaf(name=f"exploded-{number}", pictures=tuple(pictures)),
            units=asked.units,
            standard=asked.drawings.standard,
            paper=asked.drawings.paper,
            piece=replace(Issue.of(asked), sheet=2 + number, sheets=79),
        )


def exploded_picture(
    assembly: Assembly, moves: Mapping[str, Vec], copies: Iterable[Copy] | None = None
) -> LineView:
    """Copies of the piece, all of them if none are named, taken apart: every part as its base."""
    right, up = ISOMETRIC_RIGHT, ISOMETRIC_UP
    strokes = tuple(
        line
        for copy in (assembly.copies if copies is None else copies)
        if assembly.part(copy.label).made
        for line in base_edges(
            assembly.part(copy.label),
            replace(copy.placement, origin=add(copy.placement.origin, moves.get(copy.id, ORIGIN))),
            (right, up),
            cross(right, up),
        )
    )
    return LineView(name="exploded", right=right, up=up, visible=strokes)


def openings_front(assembly: Assembly) -> LineView:
    """The outlines of the openings and of the whole, as seen from the front."""
    lines = []
    for opening in assembly.openings:
        x, _, z = opening.corner
        corners = [(x, z), (x + opening.width, z), (x + opening.width, z + opening.height)]
        corners += [(x, z + opening.height), (x, z)]
        lines += [Line(a, b) for a, b in pairwise(corners)]
    return LineView(name="openings", right=X, up=Z, visible=tuple(lines))
