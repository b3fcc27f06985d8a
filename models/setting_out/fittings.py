"""Bought fittings as simple solids of their own, so that a picture shows them and a check sees."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from ground.tolerances import LENGTH_EPS
from ground.vectors import Frame, Vec, X, Y, along, dot
from models.parts.blank import Blank
from models.parts.features import Channel, Feature, Hole
from models.parts.joints.dowel import rod
from models.parts.part import PartKind
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, Draft, blank, lying


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """What a fitting is called and what carries it; None: it stands still."""

    key: str
    name: str
    group: tuple[str, ...]
    mover: str | None = None


def between(one: Vec, other: Vec) -> Box:
    """The box between two opposite corners (piece axes)."""
    low, high = zip(*(sorted(pair) for pair in zip(one, other, strict=True)), strict=True)
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def lay_fitting(
    bench: Bench, it: Bought, body: Blank, frame: Frame, features: Iterable[Feature] = ()
) -> Draft:
    """Lay a bought fitting of any shape; ``features`` are in its own axes."""
    return bench.put(
        Draft(
            key=it.key,
            letter="H",
            name=it.name,
            group=it.group,
            kind=PartKind.HARDWARE,
            material=None,
            blank=body,
            frame=frame,
            features=list(features),
            made=False,
            mover=it.mover,
        )
    )


def lay_block(bench: Bench, it: Bought, box: Box, features: Iterable[Feature] = ()) -> Draft:
    """Lay a fitting that fills ``box`` but for ``features`` (piece axes)."""
    size = box.size
    longest = max(range(3), key=lambda axis: size[axis])
    length: Vec = (X, Y, (0.0, 0.0, 1.0))[longest]
    up: Vec = X if longest else Y
    dimensions, frame = lying(box, length=length, up=up)
    made = lay_fitting(bench, it, blank(dimensions), frame)
    bench.cut(made.key, features)
    return made


def lay_rod(bench: Bench, it: Bought, end: Vec, way: Vec, size: tuple[float, float]) -> Draft:
    """Lay a round fitting of ``size`` (diameter, length) from ``end`` along ``way``."""
    piece = rod(it.name, end, way, size)
    return lay_fitting(bench, it, piece.blank, piece.frame)


def edging_of(bench: Bench, host: str) -> tuple[Draft, ...]:
    """The strips glued to the part ``host``."""
    return tuple(d for key, d in bench.drafts.items() if key.startswith(f"{host}/edging"))


def bore(bench: Bench, host: str, hole: Hole) -> None:
    """Bore ``host`` from its surface (piece axes); where an edging lies there, through that first.

    A hole that only grazes an edging beside it takes its bite out of that as well.
    """
    rest = hole
    for strip in edging_of(bench, host):
        inside = _inside(strip, along(hole.seat.origin, hole.seat.into, LENGTH_EPS))
        thick = strip.blank.thickness
        square = abs(dot(strip.frame.z, hole.seat.into)) > 1 - LENGTH_EPS
        if inside and square:
            bench.cut(strip.key, (replace(hole, depth=None),))
            start = along(hole.seat.origin, hole.seat.into, thick)
            deep = None if hole.depth is None else hole.depth - thick
            rest = replace(hole, seat=replace(hole.seat, origin=start), depth=deep)
        elif grazes(strip, hole):
            bench.cut(strip.key, (hole,))
    bench.cut(host, (rest,))


def _inside(draft: Draft, point: Vec) -> bool:
    local = draft.frame.inverse().point(point)
    pairs = zip(local, draft.blank.size, strict=True)
    return all(-LENGTH_EPS < at < size + LENGTH_EPS for at, size in pairs)


def grazes(draft: Draft, hole: Hole) -> bool:
    """Tell whether a hole beside a strip reaches into it."""
    centre = along(hole.seat.origin, hole.seat.into, LENGTH_EPS)
    local = draft.frame.inverse().point(centre)
    outside = [max(-at, at - size, 0.0) for at, size in zip(local, draft.blank.size, strict=True)]
    return sum(gap * gap for gap in outside) < (hole.diameter / 2 - LENGTH_EPS) ** 2


def cut_edging(bench: Bench, host: str, features: Iterable[Channel]) -> None:
    """Cut ``features`` (piece axes) that reach over the edge of ``host`` from its edging too."""
    for strip in edging_of(bench, host):
        bench.cut(strip.key, features)
