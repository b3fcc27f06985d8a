"""The proof of a joint: both halves cut, made solid, placed, and taken apart again.

How to use it, with boards given in piece axes and what a joint function gave back::

    end = board((18, 0, 0), (98, 60, 18), length=X, up=Z)
    face = board((0, 0, -40), (18, 60, 60), length=Z, up=X)
    made = joined(end, face, dowelled(...))      # the first half belongs to ``end``
    goes_together(made)                          # no clash, nothing uncut, comes apart
    assert_play(made.loose[0], (made.first, made.second), Y, 0.05)

``laid(bench, "case/top", "case/side left")`` does the same for two drafts on a bench, with every
joint between them. Each part of a joint is proved by itself in ``assert_no_clash``,
``assert_nothing_uncut``, ``assert_comes_apart`` and ``assert_play``.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, product

import cadquery as cq

from ground.tolerances import close
from ground.vectors import Frame, Vec, add, dot, neg, norm, scale
from models.parts.blank import Blank
from models.parts.cuts import Bore, Cut, Slot
from models.parts.features import Feature
from models.parts.joints.kit import Halves, Loose
from models.parts.part import Part, PartKind, numbered
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, Draft, lying
from models.setting_out.draft import blank as blank_of
from models.solids.cutters import cuts_left
from models.solids.measure import faces
from models.solids.solid import solid, stock
from models.solids.tools import bench as cutters_bench
from models.solids.tools import tool

SHARED = 0.001
"""Two pieces of a joint may share less than this (mm3)."""
TRAVEL = 90.0
"""Nothing in a joint reaches further than this along its way out (mm)."""
STEPS = (0.1, 0.4, 1.0, 2.0, 3.5, 5.0, 7.0, 9.5, 12.5, 16.0, 20.0, 25.0, 31.0, 40.0, 55.0, TRAVEL)
"""How far apart the halves are looked at on the way out (mm): close together at first."""
PUSH = 0.01
"""A piece that has no more play bites when it is pushed this much further (mm)."""
SAME = 1e-6
"""Volumes this much of themselves apart are the same: the kernel integrates numerically."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A blank in its place, with what is cut from it already (``features`` in part axes)."""

    blank: Blank
    frame: Frame
    features: tuple[Feature, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Placed:
    """A made part in its place in the piece."""

    name: str
    part: Part
    frame: Frame
    shape: cq.Shape

    def shifted(self, by: Vec) -> "Placed":
        """The same part moved ``by`` (piece axes)."""
        return replace(self, shape=self.shape.moved(cq.Location(cq.Vector(*by))))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Joined:
    """A joint as it stands closed; ``ways`` is how the first and the second half come home."""

    first: Placed
    second: Placed
    loose: tuple[Placed, ...]
    ways: tuple[Vec, Vec]

    @property
    def pieces(self) -> tuple[Placed, ...]:
        """Both halves and all that is between them."""
        return (self.first, self.second, *self.loose)


def board(lo: Vec, hi: Vec, *, length: Vec, up: Vec) -> Board:
    """A board that fills the box from ``lo`` to ``hi``; its x along ``length``, its z ``up``."""
    size, frame = lying(Box(lo, hi), length=length, up=up)
    return Board(blank=blank_of(size), frame=frame)


def joined(first: Board, second: Board, *halves: Halves) -> Joined:
    """Cut both boards by every one of ``halves`` and make all solid; the first says the way."""
    return Joined(
        first=_cut(first, "first", [f for half in halves for f in half.first]),
        second=_cut(second, "second", [f for half in halves for f in half.second]),
        loose=tuple(_loose(piece) for half in halves for piece in half.loose),
        ways=_ways(halves[0].closes, halves[0].each),
    )


def laid(on: Bench, first: str, second: str) -> Joined:
    """Two drafts of a bench with everything cut from them, and the joints between the two.

    The way is that of the first of those joints, seen from ``first``.
    """
    between = [joint for joint in on.joints if set(joint.parts) == {first, second}]
    assert between, f"no joint between {first} and {second}"
    ways = _ways(between[0].closes, between[0].each)
    if between[0].parts[0] == second:
        ways = (ways[1], ways[0])
    return Joined(
        first=_drafted(on.drafts[first]),
        second=_drafted(on.drafts[second]),
        loose=tuple(_drafted(on.drafts[key]) for joint in between for key in joint.loose),
        ways=ways,
    )


def goes_together(made: Joined) -> None:
    """Assert all that holds for every joint: no clash, nothing uncut, it comes apart again."""
    assert_no_clash(made.pieces)
    for piece in made.pieces:
        assert_nothing_uncut(piece)
    assert_comes_apart(made)


def assert_no_clash(pieces: Sequence[Placed]) -> None:
    """Assert that no two of ``pieces`` share wood."""
    for one, other in combinations(pieces, 2):
        volume = shared(one, other)
        assert volume < SHARED, f"{one.name} and {other.name} share {volume:.4f} mm3"


def assert_nothing_uncut(piece: Placed) -> None:
    """Assert that the part is its stock less every one of its cuts, each cut in the wood.

    The volume is checked against the cuts without any overshoot, so a mouth that does not lie on a
    face is seen as well. A bore or slot square to a face must be whole: none comes out beside.
    """
    part = piece.part
    exact = cutters_bench(part, 0.0)
    base = cq.Solid(stock(part, exact))
    taken: list[cq.Shape] = []
    for feature, cut in cuts_left(part):
        cutter = tool(cut, exact)
        assert cutter is not None, f"{piece.name}: {feature.id} cuts nothing"
        waste = base.intersect(cq.Shape.cast(cutter))
        assert waste.Volume() > SHARED, f"{piece.name}: {feature.id} cuts nothing"
        nominal = _whole(part, cut)
        assert nominal is None or close(waste.Volume() / nominal, 1.0, SAME), (
            f"{piece.name}: {feature.id} takes {waste.Volume():.3f} of its {nominal:.3f} mm3"
        )
        taken.append(waste)
    gone = taken[0].fuse(*taken[1:]).Volume() if len(taken) > 1 else sum(t.Volume() for t in taken)
    left = piece.shape.Volume()
    assert close(left / (base.Volume() - gone), 1.0, SAME), (
        f"{piece.name}: {left:.3f} mm3 are left, {base.Volume() - gone:.3f} should be"
    )
    faces(solid(part), part)


def assert_comes_apart(made: Joined) -> None:
    """Assert that the halves part along the joint's own way, and touch nothing as they go.

    A loose piece stays in the half that it sits in; then it leaves that one along the same line or
    along its own length, either way.
    """
    out = tuple(neg(way) for way in made.ways)
    apart = norm(add(out[1], made.ways[0]))
    assert apart > 0.5, "the halves do not move against one another"
    stays = ([made.first], [made.second])
    for piece in made.loose:
        with_first = piece.shifted(scale(out[0], STEPS[0]))
        bites = shared(with_first, made.second.shifted(scale(out[1], STEPS[0]))) >= SHARED
        stays[bites].append(piece)
    for step in STEPS:
        one, other = (
            [piece.shifted(scale(way, step)) for piece in pieces]
            for pieces, way in zip(stays, out, strict=True)
        )
        for mine, yours in product(one, other):
            _clear(mine, yours, step)
    leaves = scale(add(out[1], made.ways[0]), 1 / apart)
    for half, *pieces in stays:
        for piece in pieces:
            lines = (leaves, piece.frame.x)
            stuck = [_hindered(piece, half, way) for it in lines for way in (it, neg(it))]
            assert None in stuck, f"{piece.name} cannot leave {half.name}: it bites at {stuck}"


def _hindered(piece: Placed, other: Placed, way: Vec) -> float | None:
    """How far out ``piece`` meets ``other``, moved along ``way`` (mm); None where it never does."""
    steps = (step for step in STEPS if shared(piece.shifted(scale(way, step)), other) >= SHARED)
    return next(steps, None)


def assert_play(piece: Placed, others: Sequence[Placed], way: Vec, play: float) -> None:
    """Assert that ``piece`` can move ``play`` (mm) along ``way`` before it meets ``others``."""
    if play > 0.0:
        free = piece.shifted(scale(way, play - PUSH / 10))
        for other in others:
            volume = shared(free, other)
            assert volume < SHARED, f"{piece.name} meets {other.name} within {play} mm"
    tight = piece.shifted(scale(way, play + PUSH))
    met = sum(shared(tight, other) for other in others)
    assert met > SHARED, f"{piece.name} has more play than {play} mm"


def shared(one: Placed, other: Placed) -> float:
    """How much wood two placed parts share (mm3)."""
    a, b = one.shape.BoundingBox(1e-4), other.shape.BoundingBox(1e-4)
    beside = (
        a.xmin > b.xmax or b.xmin > a.xmax,
        a.ymin > b.ymax or b.ymin > a.ymax,
        a.zmin > b.zmax or b.zmin > a.zmax,
    )
    if any(beside):
        return 0.0
    return float(one.shape.intersect(other.shape).Volume())


def _clear(one: Placed, other: Placed, step: float) -> None:
    volume = shared(one, other)
    assert volume < SHARED, f"{step} mm on its way {one.name} meets {other.name}: {volume:.4f} mm3"


def _ways(closes: Vec | str, each: tuple[Vec, ...]) -> tuple[Vec, Vec]:
    if isinstance(closes, str):
        assert len(each) == 2, f"the group {closes!r} does not say how each half moves"
        return each[0], each[1]
    return (0.0, 0.0, 0.0), closes


def _cut(it: Board, name: str, features: Sequence[Feature]) -> Placed:
    back = it.frame.inverse()
    own = (*it.features, *(feature.moved(back) for feature in features))
    return placed(name, it.blank, it.frame, own)


def _drafted(draft: Draft) -> Placed:
    return placed(draft.key, draft.blank, draft.frame, tuple(draft.features))


def _loose(piece: Loose) -> Placed:
    return placed(piece.name, piece.blank, piece.frame, piece.features)


def placed(name: str, blank: Blank, frame: Frame, features: tuple[Feature, ...]) -> Placed:
    """Make a part and put it where ``frame`` says."""
    part = Part(
        label="T1",
        name=name,
        kind=PartKind.LUMBER,
        material=None,
        blank=blank,
        features=numbered(features),
    )
    plane = cq.Plane(cq.Vector(*frame.origin), cq.Vector(*frame.x), cq.Vector(*frame.z))
    return Placed(name=name, part=part, frame=frame, shape=solid(part).moved(cq.Location(plane)))


def _whole(part: Part, cut: Cut) -> float | None:
    """What a bore or slot square to a face takes out when it comes out nowhere (mm3); else None."""
    match cut:
        case Bore(start=start, into=into, depth=depth):
            area = math.pi * cut.diameter**2 / 4
        case Slot(start=start, into=into, depth=depth):
            area = (cut.length - cut.width) * cut.width + math.pi * cut.width**2 / 4
        case _:
            return None
    return area * depth if any(_stops(part, start, into, depth)) else None


def _stops(part: Part, start: Vec, into: Vec, depth: float) -> Iterator[bool]:
    """Whether a hole begins square on a face of the base, and ends before it is through."""
    planes = part.base_planes().values()
    for plane in planes:
        if dot(plane.normal, into) < -1 + 1e-9 and close(plane.height(start), 0.0):
            floor = add(start, scale(into, depth))
            yield all(other.height(floor) < 0.0 for other in planes)


def all_laid(on: Bench) -> tuple[Placed, ...]:
    """Every part on a bench, made and in its place."""
    return tuple(_drafted(draft) for draft in on.drafts.values())
